package linkage

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Roots and extremes of a polynomial made of its roots: by hand.
func TestRootsWithin(t *testing.T) {
	for _, test := range []struct {
		name string
		c    []float64
		want []float64
	}{
		{"nothing", nil, nil},
		{"zero", []float64{0, 0, 0}, nil},
		{"constant", []float64{3}, nil},
		{"line", []float64{-1, 4}, []float64{0.25}},
		{"line outside", []float64{1, 4}, nil},
		{"line with zeros above", []float64{-1, 4, 0, 0}, []float64{0.25}},
		// (t − ¼)(t − ¾)
		{"parabola", []float64{3. / 16, -1, 1}, []float64{0.25, 0.75}},
		// (t − ½)(t + ½)
		{"parabola, one inside", []float64{-0.25, 0, 1}, []float64{0.5}},
		{"parabola without", []float64{1, -1, 1}, nil},
		// (t − ½)² touches and does not change its sign
		{"touching", []float64{0.25, -1, 1}, nil},
		// (t − ¼)(t − ½)(t − ¾) = t³ − 1½t² + 11/16 t − 3/32
		{"cubic", []float64{-3. / 32, 11. / 16, -1.5, 1}, []float64{0.25, 0.5, 0.75}},
		// (t − ½)(t² + 1)
		{"cubic, one", []float64{-0.5, 1, -0.5, 1}, []float64{0.5}},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := rootsWithin(test.c, nil)
			if len(got) != len(test.want) {
				t.Fatalf("roots %v, want %v", got, test.want)
			}
			for i := range got {
				if math.Abs(got[i]-test.want[i]) > 1e-15 {
					t.Errorf("root %v, want %v", got[i], test.want[i])
				}
			}
		})
	}
}

// randomPiece is a rising quintic: its ratio is a sum of squares plus a little.
func randomPiece(rng *rand.Rand) (piece, float64) {
	h := math.Pow(10, -4+4*rng.Float64())
	a, b, c := rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()
	// ratio over t = u/h: (a + bt + ct²)² + ε
	q := [5]float64{a*a + 0.05, 2 * a * b, b*b + 2*a*c, 2 * b * c, c * c}
	p := piece{start: rng.Float64()}
	p.c[0] = 2 * p.start
	scale := 1.0
	for k := range q {
		p.c[k+1] = q[k] * scale / float64(k+1)
		scale /= h
	}
	return p, h
}

func TestPieceStroke(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		p, h := randomPiece(rng)
		top := p.travel(h)
		for range 20 {
			u := h * rng.Float64()
			w := p.travel(u)
			got := p.stroke(w, h, top)
			if !(got >= 0 && got <= h) {
				t.Fatalf("%v outside 0 to %v", got, h)
			}
			if back := p.travel(got); math.Abs(back-w) > 4*0x1p-52*(w+p.ratio(u)*(p.start+u)) {
				t.Fatalf("travel %v gives %v, and that %v", w, got, back)
			}
		}
		if got := p.stroke(p.c[0], h, top); got != 0 {
			t.Errorf("travel %v gives %v, want 0", p.c[0], got)
		}
		if below := p.c[0] - 1e-14*top; below < p.c[0] { // a hair below: along the tangent
			if got, want := p.stroke(below, h, top), (below-p.c[0])/p.ratio(0); got != want {
				t.Errorf("travel %v gives %v, want %v", below, got, want)
			}
		}
		for _, w := range []float64{top, 2 * top, math.Inf(1)} {
			if got := p.stroke(w, h, top); got != h {
				t.Errorf("travel %v gives %v, want %v", w, got, h)
			}
		}
	}
}

// A piece may stand still almost everywhere; Newton's method alone would jump
// out of it.
func TestPieceStrokeNearlyFlat(t *testing.T) {
	for _, flat := range []float64{1e-9, 1e-30} {
		p := piece{c: [6]float64{0, flat, 0, 0, 0, 1}}
		for _, u := range []float64{1e-12, 1e-6, 1e-3, 0.01, 0.1, 0.5, 0.9, 1 - 1e-12} {
			w := p.travel(u)
			if got := p.stroke(w, 1, p.travel(1)); math.Abs(p.travel(got)-w) > 1e-15*w {
				t.Errorf("travel of %v gives %v", u, got)
			}
		}
	}
}

// Extremes against the closest look that samples can give.
func TestPieceExtremes(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	inside := 0
	for range 300 {
		p, h := randomPiece(rng)
		least, greatest := p.extremes(h)
		seenLeast, seenGreatest := math.Inf(1), math.Inf(-1)
		const n = 2000
		for i := range n + 1 {
			r := p.ratio(h * float64(i) / n)
			seenLeast, seenGreatest = min(seenLeast, r), max(seenGreatest, r)
		}
		// A sample may miss an extreme by half a step, so by curvature·h²/8n².
		slack := 0.0
		for k := 3; k < 6; k++ {
			slack += float64(k*(k-1)*(k-2)) * math.Abs(p.c[k]) * math.Pow(h, float64(k-1))
		}
		slack /= 8 * n * n
		if !(least <= seenLeast+1e-13 && least >= seenLeast-slack-1e-13) ||
			!(greatest >= seenGreatest-1e-13 && greatest <= seenGreatest+slack+1e-13) {
			t.Fatalf("%+v over %v: %v to %v, samples %v to %v", p, h, least, greatest, seenLeast, seenGreatest)
		}
		if least < min(p.ratio(0), p.ratio(h)) {
			inside++
		}
	}
	if inside < 50 {
		t.Errorf("only %d of 300 pieces had their least ratio inside: the test looks at too little", inside)
	}
}

// The cubic of Hermite: w = 3u² − 2u³ on [0, 1] has slopes 0 at both ends, by
// hand.
func TestHermite(t *testing.T) {
	p := hermite(5, 1, 0, 1, 0, 0)
	if want := [6]float64{0, 0, 3, -2}; p.c != want || p.start != 5 {
		t.Errorf("hermite %+v, want coefficients %v", p, want)
	}
	p = hermite(0, 2, 7, 9, 0.5, 3)
	for _, v := range []struct{ got, want float64 }{
		{p.travel(0), 7}, {p.travel(2), 9}, {p.ratio(0), 0.5}, {p.ratio(2), 3},
		{p.slope(0), 2 * p.c[2]}, {p.slope(2), 2*p.c[2] + 12*p.c[3]},
	} {
		if math.Abs(v.got-v.want) > 1e-14 {
			t.Errorf("%v, want %v", v.got, v.want)
		}
	}
}

// A piece that stands still in the middle, dw/du = ε + (u − ½)²·(1.05 − u), and
// beyond its end turns back: a search that leaves it finds another root.
func TestPieceStrokeFlatInTheMiddle(t *testing.T) {
	for _, flat := range []float64{1e-9, 1e-30} {
		p := piece{c: [6]float64{0, 0.2625 + flat, -0.65, 2.05 / 3, -0.25}}
		top := p.travel(1)
		for i := 1; i < 1000; i++ {
			u := float64(i) / 1000
			w := p.travel(u)
			got := p.stroke(w, 1, top)
			if !(got >= 0 && got <= 1) || math.Abs(p.travel(got)-w) > 2e-16 { // the rounding of terms of a half
				t.Fatalf("travel of %v gives %v", u, got)
			}
		}
	}
}
