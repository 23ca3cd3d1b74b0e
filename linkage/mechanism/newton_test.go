package mechanism

import (
	"math"
	"testing"

	"example.com/wheelrate/units"
)

// turning is an arm about the origin and its topology; its only coordinate
// is the turn.
func turning(t *testing.T) (*Mechanism, func(s float64) float64) {
	t.Helper()
	const a, d, phi = 0.08, 0.25, 1.4
	k, err := follow(Spec{
		Points: map[string]Point{"P": {0, 0}, "S1": {units.Length(a * math.Cos(phi)), units.Length(a * math.Sin(phi))}, "S2": {d, 0}, "A": {-0.4, -0.05}},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "S1", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 0.05,
	}, false, steps)
	if err != nil {
		t.Fatal(err)
	}
	full := math.Sqrt(a*a + d*d - 2*a*d*math.Cos(phi))
	return k, func(s float64) float64 {
		length := full - s*k.t.size
		return math.Acos((a*a+d*d-length*length)/(2*a*d)) - phi
	}
}

// Newton's method comes to the same place from far off on either side.
func TestNewtonFromEitherSide(t *testing.T) {
	k, turn := turning(t)
	for _, s := range []float64{0.1, 0.5, 0.9} {
		for _, from := range []float64{s - 0.1, s - 0.01, s + 0.01, s + 0.1} {
			var m motion
			sys := system{lu: make([]float64, 1)}
			q := coordinates{turn(from * k.t.stroke)}
			if !k.t.newton(s*k.t.stroke, &q, &m, &sys) {
				t.Errorf("%v from %v: no end", s, from)
			} else if want := turn(s * k.t.stroke); math.Abs(q[0]-want) > 1e-13 {
				t.Errorf("%v from %v: turned by %v, want %v", s, from, q[0], want)
			}
		}
	}
	// From where there is no way to it, it says so.
	var m motion
	sys := system{lu: make([]float64, 1)}
	q := coordinates{math.NaN()}
	if k.t.newton(0.5*k.t.stroke, &q, &m, &sys) {
		t.Error("from nowhere it came to an end")
	}
}

// The rates are those of the place itself, though the search for it started as
// much as the last step may be long away from it.
func TestRatesOfThePlaceItself(t *testing.T) {
	k, turn := turning(t)
	for _, s := range []float64{0.2, 0.5, 0.8} {
		s *= k.t.stroke
		h := 1e-3 * k.t.stroke
		central := func(h float64) float64 { return (turn(s+h) - turn(s-h)) / (2 * h) }
		want := (4*central(h/2) - central(h)) / 3
		for _, off := range []float64{0, 5e-10, -5e-10, 1e-12, 1e-5} {
			var m motion
			sys := system{lu: make([]float64, 1)}
			q := coordinates{turn(s) + off}
			if !k.t.newton(s, &q, &m, &sys) {
				t.Fatal(off)
			}
			if math.Abs(m[1].w-want) > 2e-11*math.Abs(want) {
				t.Errorf("%v off: turns by %v, want %v", off, m[1].w, want)
			}
		}
	}
}

// Matrices by hand. Rows 2, 3 and 4 long at right angles, two of them swapped:
// the determinant is −24, and no row says anything of what another does.
func TestFactor(t *testing.T) {
	sys := system{n: 3, lu: []float64{0, 2, 0, 3, 0, 0, 0, 0, 4}}
	if !sys.factor() || sys.sign != -1 || sys.least != 1 {
		t.Errorf("sign %v, least pivot %v", sys.sign, sys.least)
	}
	b := coordinates{2, 6, 12}
	if sys.solve(&b); b != (coordinates{2, 1, 3}) {
		t.Errorf("solution %v", b[:3])
	}
	// Rows (3, 4), 5 long, and (6, 8): no inverse.
	sys = system{n: 2, lu: []float64{3, 4, 6, 8}}
	if sys.factor() || sys.sign != 0 || sys.least != 0 {
		t.Errorf("sign %v, least pivot %v of parallel rows", sys.sign, sys.least)
	}
	// Rows of determinants 16, −16 and 16, 5 and 13 long. The first pivot is 5 of
	// 13, the second 4 − 3·12/5 = −16/5 of 5; or 12 of 13 and 3 − 4·5/12 = 4/3 of 5.
	for _, test := range []struct {
		rows        []float64
		sign, least float64
	}{
		{[]float64{3, 4, 5, 12}, 1, 5. / 13},
		{[]float64{5, 12, 3, 4}, -1, 5. / 13},
		{[]float64{12, 5, 4, 3}, 1, 4. / 15},
		{[]float64{4, 3, 12, 5}, -1, 4. / 15},
		{[]float64{-4, 3, -12, 5}, 1, 4. / 15},
	} {
		// As great as numbers are, and as small: only the rows' ratios count.
		for _, scale := range []float64{1, 1e-100, 1e100} {
			sys = system{n: 2, lu: make([]float64, 4)}
			for i, v := range test.rows {
				sys.lu[i] = v * scale
			}
			if !sys.factor() || sys.sign != test.sign || math.Abs(sys.least-test.least) > 1e-15 {
				t.Errorf("%v times %v: sign %v, least pivot %v", test.rows, scale, sys.sign, sys.least)
			}
		}
	}
	sys = system{n: 2, lu: []float64{3, 4, 5, 12}}
	sys.factor()
	b = coordinates{11, 29}
	if sys.solve(&b); math.Abs(b[0]-1) > 1e-14 || math.Abs(b[1]-2) > 1e-14 {
		t.Errorf("solution %v", b[:2])
	}
	// A factor of 1/2 for a row that has a 1 below the pivot.
	sys = system{n: 2, lu: []float64{2, 1, 1, 3}}
	b = coordinates{4, 7}
	if sys.factor(); sys.lu[2] != 0.5 || sys.lu[3] != 2.5 {
		t.Errorf("factors %v", sys.lu)
	}
	if sys.solve(&b); b[0] != 1 || b[1] != 2 {
		t.Errorf("solution %v", b[:2])
	}
	sys = system{n: 2, lu: []float64{math.Inf(1), 0, 0, 1}}
	if sys.factor() {
		t.Error("an infinite matrix is factored")
	}
}
