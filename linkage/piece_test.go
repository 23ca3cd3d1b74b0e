package linkage

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/linkage/internal/hermite"
)

// randomPiece is a rising quintic: its ratio is a sum of squares plus a little.
func randomPiece(rng *rand.Rand) (piece, float64) {
	h := math.Pow(10, -4+4*rng.Float64())
	a, b, c := rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()
	// ratio over t = u/h: (a + bt + ct²)² + ε
	q := [5]float64{a*a + 0.05, 2 * a * b, b*b + 2*a*c, 2 * b * c, c * c}
	p := piece{start: rng.Float64()}
	p.Quintic[0] = 2 * p.start
	scale := 1.0
	for k := range q {
		p.Quintic[k+1] = q[k] * scale / float64(k+1)
		scale /= h
	}
	p.end = p.start + h
	p.top = p.Value(p.length())
	return p, p.length()
}

func TestStrokeInvertsAPiece(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		p, h := randomPiece(rng)
		top := p.top
		for range 20 {
			u := h * rng.Float64()
			w := p.Value(u)
			got := p.stroke(w)
			if !(got >= 0 && got <= h) {
				t.Fatalf("%v outside 0 to %v", got, h)
			}
			if back := p.Value(got); math.Abs(back-w) > 4*0x1p-52*(w+p.Slope(u)*(p.start+u)) {
				t.Fatalf("travel %v gives %v, and that %v", w, got, back)
			}
		}
		if got := p.stroke(p.Quintic[0]); got != 0 {
			t.Errorf("travel %v gives %v, want 0", p.Quintic[0], got)
		}
		if below := p.Quintic[0] - 1e-14*top; below < p.Quintic[0] { // a hair below: along the tangent
			if got, want := p.stroke(below), (below-p.Quintic[0])/p.Slope(0); got != want {
				t.Errorf("travel %v gives %v, want %v", below, got, want)
			}
		}
		for _, w := range []float64{top, 2 * top, math.Inf(1)} {
			if got := p.stroke(w); got != h {
				t.Errorf("travel %v gives %v, want %v", w, got, h)
			}
		}
	}
}

// A piece may be nearly flat, where Newton's method alone would jump out of it:
// almost everywhere, or in the middle, dw/du = ε + (u − ½)²·(1.05 − u), where it
// turns back beyond its end.
func TestStrokeOfANearlyFlatPiece(t *testing.T) {
	for _, flat := range []float64{1e-9, 1e-30} {
		for q, rounding := range map[hermite.Quintic]func(w float64) float64{
			{0, flat, 0, 0, 0, 1}:                      func(w float64) float64 { return 1e-15 * w },
			{0, 0.2625 + flat, -0.65, 2.05 / 3, -0.25}: func(float64) float64 { return 2e-16 }, // of terms of a half
		} {
			p := piece{end: 1, Quintic: q}
			p.top = p.Value(1)
			strokes := []float64{1e-12, 1e-6, 1 - 1e-12}
			for i := 1; i < 1000; i++ {
				strokes = append(strokes, float64(i)/1000)
			}
			for _, u := range strokes {
				w := p.Value(u)
				if got := p.stroke(w); !(got >= 0 && got <= 1) || math.Abs(p.Value(got)-w) > rounding(w) {
					t.Fatalf("%v: travel of %v gives %v", q, u, got)
				}
			}
		}
	}
}

// Extremes against the closest look that samples can give.
func TestExtremesOfAPieceAreNeverMissed(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	inside := 0
	for range 300 {
		p, h := randomPiece(rng)
		if k := rng.IntN(4); k > 0 { // a cubic or a quartic now and then, as of tables and readings
			p.Quintic[5] = 0
			p.Quintic[4] *= []float64{0, 1, 1e-19}[k-1]
		}
		p.start, p.end = 0, h
		of := Progression{Min: math.Inf(1), Max: math.Inf(-1)}
		p.extremes(&of)
		least, greatest, low, high := of.Min, of.Max, float64(of.MinAt), float64(of.MaxAt)
		if p.Slope(low) != least || p.Slope(high) != greatest || min(low, high) < 0 || max(low, high) > h {
			t.Fatalf("%+v over %v: the extremes %+v are not where they are said to be", p, h, of)
		}
		seenLeast, seenGreatest := math.Inf(1), math.Inf(-1)
		const n = 2000
		for i := range n + 1 {
			r := p.Slope(h * float64(i) / n)
			seenLeast, seenGreatest = min(seenLeast, r), max(seenGreatest, r)
		}
		// A sample may miss an extreme by half a step, so by curvature·h²/8n².
		slack := 0.0
		for k := 3; k < 6; k++ {
			slack += float64(k*(k-1)*(k-2)) * math.Abs(p.Quintic[k]) * math.Pow(h, float64(k-1))
		}
		slack /= 8 * n * n
		if !(least <= seenLeast+1e-13 && least >= seenLeast-slack-1e-13) ||
			!(greatest >= seenGreatest-1e-13 && greatest <= seenGreatest+slack+1e-13) {
			t.Fatalf("%+v over %v: %v to %v, samples %v to %v", p, h, least, greatest, seenLeast, seenGreatest)
		}
		if least < min(p.Slope(0), p.Slope(h)) {
			inside++
		}
	}
	if inside < 50 {
		t.Errorf("only %d of 300 pieces had their least ratio inside: the test looks at too little", inside)
	}
}
