package airspring

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// fittingOf makes readings of a spring at eight travels and seeks what is 0 in
// the spec that is known.
func fittingOf(t *testing.T, made, known Spec, off float64) *fitting {
	t.Helper()
	var r spring.Readings
	law := newSpring(&made, float64(made.Fill)+float64(made.Ambient))
	for i := range 8 {
		x := made.Travel * units.Length(i) / 7
		r.Travel, r.Force = append(r.Travel, x), append(r.Force, law.Force(x)+units.Force(off*float64(i%2)))
	}
	c := units.Checker{Package: "airspring"}
	f := checkFit(&c, known, r)
	if err := c.Err(); err != nil {
		t.Fatal(err)
	}
	return f
}

func pulledIn() Spec {
	return Spec{
		Bore: 0.034, Shaft: 0.01, Travel: 0.15, PositiveVolume: 190e-6, NegativeVolume: 25e-6, PortTravel: 0.005,
		Fill: 6e5, Ambient: SeaLevel, Exponent: 1.2,
	}
}

// The force is linear in the absolute fill p, F = p·G − outside, so the best one is
// Σ G·(F + outside)/Σ G², here with G from New at a fill of 1 Pa; without scatter
// it is the spring's own. The sum of squares that comes back is that of the misses.
func TestBestFill(t *testing.T) {
	made := pulledIn()
	known := made
	known.Fill = 0
	for _, off := range []float64{0, 40} {
		f := fittingOf(t, made, known, off)
		at := f.at
		sum := f.project(&at)
		vacuum := newSpring(&made, 0)
		outside := -float64(vacuum.Force(0))
		unit := newSpring(&made, 1)
		top, bottom := 0.0, 0.0
		for i, x := range f.x {
			g := float64(unit.Force(units.Length(x))) + outside
			top += g * (f.f[i] + outside)
			bottom += g * g
		}
		best := top / bottom
		unitstest.Near(t, "fill", at[fill], best, unitstest.Rel(1e-9))
		if off == 0 {
			unitstest.Near(t, "fill", at[fill], 6e5+101325, unitstest.Rel(1e-9))
		}
		want := 0.0
		filled := newSpring(&made, best)
		for i, x := range f.x {
			miss := f.f[i] - float64(filled.Force(units.Length(x)))
			want += miss * miss
		}
		unitstest.Near(t, "squares", sum, want, unitstest.Rel(1e-9), unitstest.Abs(1e-15))
	}
	// Forces that would need less than vacuum get a fill that has a logarithm.
	f := fittingOf(t, made, known, 0)
	for i := range f.f {
		f.f[i] = -1e6
	}
	at := f.at
	f.project(&at)
	unitstest.Near(t, "thousandth", at[fill], 101.325, unitstest.Rel(1e-15))
}

// The shares that the travel sweeps of the volumes tried: from 0.9991 down to
// 0.0009, alike at both ends, each a step of 14/47 in the logarithm of what is
// left over what is swept.
func TestVolumesTried(t *testing.T) {
	made := pulledIn()
	known := made
	known.PositiveVolume = 0
	f := fittingOf(t, made, known, 0)
	volumes := f.volumes()
	odds := func(v float64) float64 { return math.Log(v/f.model.swept - 1) }
	unitstest.Near(t, "first", odds(volumes[0]), -7, unitstest.Abs(1e-9))
	unitstest.Near(t, "last", odds(volumes[len(volumes)-1]), 7, unitstest.Abs(1e-9))
	for i := 1; i < len(volumes); i++ {
		unitstest.Near(t, "step", odds(volumes[i])-odds(volumes[i-1]), 14.0/47, unitstest.Abs(1e-9))
	}
	known = made
	known.Fill = 0
	given := fittingOf(t, made, known, 0)
	if v := given.volumes(); len(v) != 1 || v[0] != 190e-6 {
		t.Errorf("the volume is given, %v is tried", v)
	}
	if n := given.exponents(); len(n) != 1 || n[0] != 1.2 {
		t.Errorf("the exponent is given, %v is tried", n)
	}
}

// The search alone finds each spring that lies on its grid, where the readings
// are without scatter: one of 0.8 to 2.5, which New would not take, too.
func TestSearchFindsItsGrid(t *testing.T) {
	made := pulledIn()
	known := made
	known.Fill, known.PositiveVolume, known.Exponent = 0, 0, 0
	for _, n := range []float64{0.8, 0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.7, 2, 2.5} {
		for _, i := range []int{14, 20} {
			f := fittingOf(t, made, known, 0)
			own := made
			own.Exponent, own.PositiveVolume = n, units.Volume(f.volumes()[i])
			f = fittingOf(t, own, known, 0)
			f.search()
			unitstest.Near(t, "exponent", f.at[exponent], n, unitstest.Rel(1e-12))
			unitstest.Near(t, "volume", f.at[volume], float64(own.PositiveVolume), unitstest.Rel(1e-12))
			unitstest.Near(t, "fill", f.at[fill], 6e5+101325, unitstest.Rel(1e-9))
		}
	}
}

// Half the sum of squares over that of F + outside, by hand; its gradient is that
// of central differences, and its second derivatives those of the gradient, at a
// point near enough the least to be convex where the residuals count none the less.
// Farther away they are those of the linear part, which is convex everywhere.
func TestProblemDerivatives(t *testing.T) {
	made := pulledIn()
	known := made
	known.Fill, known.PositiveVolume, known.Exponent = 0, 0, 0
	f := fittingOf(t, made, known, 60)
	f.at = [unknowns]float64{7.0e5, 191e-6, 1.205}
	problem, x, unknownsAt := f.problem()
	outside := math.Pi / 4 * 0.01 * 0.01 * 101325
	other := made
	other.PositiveVolume, other.Exponent = 191e-6, 1.205
	law := newSpring(&other, 7.0e5)
	top, bottom := 0.0, 0.0
	for i, travel := range f.x {
		miss := float64(law.Force(units.Length(travel))) - f.f[i]
		top += miss * miss
		bottom += (f.f[i] + outside) * (f.f[i] + outside)
	}
	unitstest.Near(t, "value", problem.Func(x), top/bottom/2, unitstest.Rel(1e-10))
	back := unknownsAt(x)
	for i := range unknowns {
		unitstest.Near(t, "unknown", back[i], f.at[i], unitstest.Rel(1e-13))
	}
	central := &fd.Settings{Formula: fd.Central, Step: 1e-6}
	grad := make([]float64, len(x))
	problem.Grad(grad, x)
	for i, want := range fd.Gradient(nil, problem.Func, x, central) {
		unitstest.Near(t, "gradient", grad[i], want, unitstest.Rel(1e-6))
	}
	hess := mat.NewSymDense(len(x), nil)
	problem.Hess(hess, x)
	for i := range x {
		for j := range x {
			want := fd.Derivative(func(d float64) float64 {
				at := append([]float64(nil), x...)
				at[i] += d
				problem.Grad(grad, at)
				return grad[j]
			}, 0, central)
			unitstest.Near(t, "second derivative", hess.At(i, j), want, unitstest.Rel(1e-6))
		}
	}
	near, far := f.model.variables(f.at), f.model.variables([unknowns]float64{8.2e5, 175e-6, 1.45})
	var weight [unknowns]float64
	for i := range far {
		weight[i] = x[i] / near[i]
		far[i] *= weight[i]
	}
	problem.Hess(hess, far[:])
	for i := range x {
		for j := range x {
			want := 0.0
			for _, travel := range f.x {
				l := f.model.look(travel, unknownsAt(far[:]))
				want += l.first[i] * l.first[j] / bottom
			}
			unitstest.Near(t, "linear part", hess.At(i, j), want/weight[i]/weight[j], unitstest.Rel(1e-9))
		}
	}
	// The weights make the linear part at the start 1 in each variable.
	for i := range x {
		sum := 0.0
		for _, travel := range f.x {
			first := f.model.look(travel, f.at).first[i]
			sum += first * first / bottom
		}
		unitstest.Near(t, "weighted", sum/weight[i]/weight[i], 1, unitstest.Rel(1e-9))
	}
	// Where the force would be no number there is no value to go to.
	if v := problem.Func([]float64{28 * weight[0], x[1], x[2]}); !math.IsInf(v, 1) { // e^28 Pa
		t.Errorf("%v beyond every spring", v)
	}
}

// A chamber keeps a billionth at least, and what is tried for one stays where
// forces are numbers.
func TestSensible(t *testing.T) {
	if !outlasts(1, 1-1e-9) || outlasts(1, math.Nextafter(1-1e-9, 1)) || outlasts(-1, 0.5) {
		t.Error("outlasts")
	}
	m := fitModel{swept: 1 - 1e-9}
	for _, c := range []struct {
		at   [unknowns]float64
		good bool
	}{
		{[unknowns]float64{5e5, 2, 1.3}, true},
		{[unknowns]float64{0.9e12, 2, 1.3}, true}, {[unknowns]float64{1e12, 2, 1.3}, false}, {[unknowns]float64{1.2e12, 2, 1.3}, false},
		{[unknowns]float64{5e5, 1, 1.3}, true}, {[unknowns]float64{5e5, 0.9999999, 1.3}, false},
		{[unknowns]float64{5e5, 0.9e6, 1.3}, true}, {[unknowns]float64{5e5, 1e6, 1.3}, false}, {[unknowns]float64{5e5, 1.2e6, 1.3}, false},
		{[unknowns]float64{5e5, 2, 0.11}, true}, {[unknowns]float64{5e5, 2, 0.1}, false}, {[unknowns]float64{5e5, 2, 0.05}, false},
		{[unknowns]float64{5e5, 2, 9.9}, true}, {[unknowns]float64{5e5, 2, 10}, false}, {[unknowns]float64{5e5, 2, 12}, false},
		{[unknowns]float64{math.NaN(), 2, 1.3}, false}, {[unknowns]float64{5e5, math.NaN(), 1.3}, false}, {[unknowns]float64{5e5, 2, math.NaN()}, false},
	} {
		if got := m.sensible(c.at); got != c.good {
			t.Errorf("%v: %v", c.at, got)
		}
	}
	m.swept = 3 // with a volume of 2: more than all
	if m.sensible([unknowns]float64{5e5, 2, 1.3}) {
		t.Error("a chamber swept away")
	}
}
