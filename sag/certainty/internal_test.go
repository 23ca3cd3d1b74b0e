package certainty

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// at returns where an answer stands in a vector: that of the front end.
func at(t *testing.T, field string) int {
	t.Helper()
	for k := range answers {
		if answers[k].field == field {
			return k
		}
	}
	t.Fatalf("no answer %s", field)
	return 0
}

// Effects add as the root of their squares and stand largest first, those alike in
// the order of the inputs; those of 0 and of less than a billionth of the whole are left out.
func TestEffectsAddBySquares(t *testing.T) {
	k := at(t, "Sag")
	l := results{names: []string{"a", "b", "c", "d", "e", "f"}, effects: make([]vector, 6)}
	l.value[k] = 0.3
	for i, effect := range []float64{-2, 0, 4, 2, -1, -4e-9} { // 4 + 16 + 4 + 1 = 5²
		l.effects[i][k] = effect
	}
	want := Answer[float64]{Value: 0.3, Uncertainty: 5, Dominant: "c", Contributions: []Contribution[float64]{
		{"c", 4, 16.0 / 25}, {"a", -2, 4.0 / 25}, {"d", 2, 4.0 / 25}, {"e", -1, 1.0 / 25},
	}}
	l.sum()
	var got Answer[float64]
	got.make(&l, k)
	if diff := cmp.Diff(want, got, unitstest.Approx(1e-15)); !l.has(k) || diff != "" {
		t.Errorf("%v (-want +got):\n%s", l.has(k), diff)
	}
	want, k = Answer[float64]{Contributions: []Contribution[float64]{}}, at(t, "Load")
	if got.make(&l, k); !l.has(k) || cmp.Diff(want, got) != "" {
		t.Errorf("an answer of 0 that nothing moves: %v (-want +got):\n%s", l.has(k), cmp.Diff(want, got))
	}
}

// There is no answer where its value or its uncertainty is not finite.
func TestAnswersAreFinite(t *testing.T) {
	const most = math.MaxFloat64
	inf, nan := math.Inf(1), math.NaN()
	for _, test := range []struct {
		value, effect float64
		has           bool
	}{
		{1, 1, true}, {most, most, true}, {-most, -most, true},
		{inf, 1, false}, {-inf, 1, false}, {nan, 1, false}, {1, inf, false}, {1, -inf, false}, {1, nan, false},
	} {
		l := results{names: []string{"a"}, effects: make([]vector, 1)}
		l.value[0], l.effects[0][0] = test.value, test.effect
		if l.sum(); l.has(0) != test.has {
			t.Errorf("%+v: %v", test, l.has(0))
		}
	}
}

// Of inputs that decide alike the first is named, and the rates last. Where nothing is
// uncertain nothing decides, even at the edge itself. By hand: Φ(−1) = 0.158655254.
func TestRivalIsDecidedByTheLargestShare(t *testing.T) {
	for _, test := range []struct {
		effect, rates, edge units.Stiffness // N/m, of an ideal rate of 100
		probability         float64
		input               string
		share               float64
	}{
		{-4, 3, 95, 0.158655254, "a", 0.64}, {-3, 4, 105, 0.158655254, "mark", 0.64}, {3, 3, 100, 0.5, "a", 0.5}, {0, 0, 101, 0, "", 0}, {0, 0, 100, 0, "", 0},
	} {
		answer := &Answer[units.Stiffness]{Value: 100, Uncertainty: units.Stiffness(math.Abs(float64(test.effect))), Contributions: []Contribution[units.Stiffness]{{Input: "a", Effect: test.effect}}}
		r := Rival{EdgeRate: test.edge}
		r.decide(answer, "mark", float64(test.rates)/100)
		want := Rival{EdgeRate: test.edge, Probability: test.probability, Input: test.input, Share: test.share}
		if diff := cmp.Diff(want, r, unitstest.Approx(1e-8)); diff != "" {
			t.Errorf("%+v (-want +got):\n%s", test, diff)
		}
	}
}

// The truncated normal against its own density, integrated. A number may be as
// near to 0 or 1 as the generator gives it, and the value is finite and as far out
// as that: Φ⁻¹(2⁻⁵³) = −8.2095 (gonum).
func TestTruncatedNormalHasTheDensityWithinItsBounds(t *testing.T) {
	inf := math.Inf(1)
	for _, test := range []struct{ u, lo, hi float64 }{
		{1, -inf, inf}, {2, -1, inf}, {0.5, -0.4, 0.9}, {3, -1, 1}, {1, 0, 2}, {1, -3, 0}, {1e-3, -80, inf}, {1, 0, 1e-18}, {1, -1e-18, 0},
	} {
		lo, hi := max(test.lo, -9*test.u), min(test.hi, 9*test.u)
		density := distuv.Normal{Mu: 0, Sigma: test.u}.Prob
		mass := quad.Fixed(density, lo, hi, 200, nil, 0)
		for _, p := range []float64{0, 0x1p-53, 0.001, 0.2, 0.5, 0.77, 0.999, 1 - 0x1p-53, 1} {
			x := truncatedNormal(p, test.u, test.lo, test.hi)
			if !(x >= test.lo && x <= test.hi) || math.IsInf(x, 0) {
				t.Errorf("%v of %+v gives %v", p, test, x)
			}
			if part := quad.Fixed(density, lo, x, 200, nil, 0) / mass; p >= 0.001 && p <= 0.999 && hi-lo > 1e-9 {
				unitstest.Near(t, "part below", part, p, unitstest.Rel(1e-9))
			}
		}
	}
	for p, like := range map[float64]float64{0: 0x1p-53, 0x1p-53: 0x1p-53, 0x1p-52: 0x1p-52} {
		z := distuv.UnitNormal.Quantile(like)
		unitstest.Near(t, "next to the least", truncatedNormal(p, 2, -inf, inf), 2*z, unitstest.Rel(1e-9))
		unitstest.Near(t, "next to the most", truncatedNormal(1-p, 2, -inf, inf), -2*z, unitstest.Rel(1e-9))
	}
}

// What is not a number is left out, and so is what overflows. The largest number
// there is counts, but there is no spread whose mean or deviation overflows.
func TestSpreadsAreFinite(t *testing.T) {
	sag, load, travel := at(t, "Sag"), at(t, "Load"), at(t, "Travel")
	var d draws
	for _, x := range []float64{math.NaN(), math.Inf(1), 3, math.Inf(-1), -1, 1} {
		var v vector
		v[sag], v[load] = x, -math.MaxFloat64
		d.add(v)
	}
	made := func(k int) (a Answer[float64], has bool) {
		r := d.results()
		a.make(r, k)
		return a, r.has(k)
	}
	s, has := made(sag)
	if !has || s.Spread.Draws != 3 || s.Value != 1 || s.Uncertainty != 2 { // by hand: −1, 1 and 3
		t.Errorf("%+v", s)
	}
	unitstest.Near(t, "low", s.Spread.Low, -1, unitstest.Rel(1e-12)) // 2.5 % of three draws are less than one
	unitstest.Near(t, "high", s.Spread.High, 3-2*3*0.025, unitstest.Rel(1e-12))
	if len(d[load]) != 6 {
		t.Errorf("%d of the largest numbers", len(d[load]))
	}
	if s, has := made(load); has {
		t.Errorf("overflows to %+v", s)
	}
	for _, list := range [][]float64{{-1e200, 1e200}, {1e200, 1.1e308, 1.7e308}} { // no sum of squares, nor a sum
		d[travel] = list
		if s, has := made(travel); has {
			t.Errorf("overflows to %+v", s)
		}
	}
	if s, has := made(ratioAnswer); !has || s.Value != 0 || s.Uncertainty != 0 {
		t.Errorf("six zeros: %+v", s)
	}
	d = draws{}
	if d.results().has(sag) {
		t.Errorf("of nothing %+v", d.results().value[sag])
	}
	d[sag] = []float64{math.MaxFloat64} // of a single one nothing is added or squared
	if s, has := made(sag); !has || s.Value != math.MaxFloat64 || s.Uncertainty != 0 || s.Spread.Low != s.Value || s.Spread.High != s.Value {
		t.Errorf("one of the largest: %+v", s)
	}
}
