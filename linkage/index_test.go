package linkage

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// An index must find what a plain search from the left finds.
func TestIndexFindsThePiece(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for trial := range 400 {
		n := 1 + rng.IntN(60)
		length := math.Pow(10, -5+7*rng.Float64())
		starts := make([]float64, n)
		for i := 1; i < n; i++ {
			switch trial % 3 {
			case 0: // even
				starts[i] = length * float64(i) / float64(n)
			case 1: // anywhere
				starts[i] = length * rng.Float64()
			default: // crowded at the beginning
				starts[i] = length * math.Pow(rng.Float64(), 20)
			}
		}
		slices.Sort(starts)
		x := newIndex(slices.Clone(starts), length)
		look := func(v float64) {
			if !(v >= 0 && v <= length) {
				return
			}
			want := 0
			for want+1 < n && starts[want+1]-snap*length <= v {
				want++
			}
			if got := x.find(v); got != want {
				t.Fatalf("%v of %v among %v: piece %d, want %d", v, length, starts, got, want)
			}
		}
		for _, s := range starts {
			for _, v := range []float64{s, math.Nextafter(s, 0), math.Nextafter(s, length), s - snap*length, s - 2*snap*length} {
				look(v)
			}
		}
		look(length)
		for range 200 {
			look(length * rng.Float64())
		}
	}
}

// Of pieces of even length the bucket alone says which it is, but for the one
// border that lies in it: there is next to nothing to search.
func TestIndexOfEvenPiecesNeedsNoSearch(t *testing.T) {
	for n := 1; n <= 300; n++ {
		for _, length := range []float64{1e-6, 0.0575, 1, 3.7, 1e3} {
			starts := make([]float64, n)
			for i := range starts {
				starts[i] = length * float64(i) / float64(n)
			}
			x := newIndex(starts, length)
			for i := range n {
				b := x.bucket(length * (float64(i) + 0.5) / float64(n))
				if span := x.first[b+1] - x.first[b]; span > 1 {
					t.Fatalf("%d pieces of %v: %d to search at the middle of piece %d", n, length, span, i)
				}
			}
			if got := x.find(length); got != n-1 {
				t.Fatalf("%d pieces of %v: piece %d at the end", n, length, got)
			}
		}
	}
}
