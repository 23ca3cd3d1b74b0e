package certainty_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/diff/fd"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Behind any curve, implicit differentiation of F_w(w) = load gives
// dw = dload/k_w, and a force at the spring counts 1/LR at the wheel. The second
// end is an air spring with a negative chamber.
func TestTravelIsMovedByTheLoadOverTheWheelRate(t *testing.T) {
	j := demoJob(t)
	s := sheet(t, j)
	q := j.Masses.RearShare
	rear, front, best := &s.Rear.Rest, &s.Front.Rest, &s.Rear.Coil.Candidates[0]
	kw, lr, k := float64(rear.WheelRate), rear.LeverRatio, float64(best.Rate)
	travel := func(u certainty.Uncertainty) float64 { return effectOf(t, propagate(t, j, u).Rear.Travel) }
	near(t, "rider mass", travel(certainty.Uncertainty{RiderMass: 3}), 3*q*tG/kw, 1e-6)
	near(t, "friction", travel(certainty.Uncertainty{Rear: certainty.EndUncertainty{Friction: 20}}), -20/lr/kw, 1e-6)
	near(t, "preload", travel(certainty.Uncertainty{Rear: certainty.EndUncertainty{Preload: 1e-3}}), -1e-3*k/lr/kw, 1e-6)
	near(t, "rate", travel(certainty.Uncertainty{Rear: certainty.EndUncertainty{SpringRate: 0.05}}), -0.05*float64(s.Rear.Load)/kw, 1e-6)
	// w = c·w₀(c·load).
	near(t, "ratio", travel(certainty.Uncertainty{Rear: certainty.EndUncertainty{LeverRatio: 0.01}}), 0.01*(float64(rear.Travel)+float64(s.Rear.Load)/kw), 1e-6)

	b := propagate(t, j, certainty.Uncertainty{RiderMass: 3})
	near(t, "front", effectOf(t, b.Front.Travel), 3*(1-q)*tG/float64(front.WheelRate), 1e-6)
	b = propagate(t, j, certainty.Uncertainty{Front: certainty.EndUncertainty{Friction: 8}})
	near(t, "front friction", effectOf(t, b.Front.Travel), -8/front.LeverRatio/float64(front.WheelRate), 1e-6)

	// The rates are those of the spring where the friction lets the wheel rest: the
	// friction itself has no part in them.
	end := s.Rear.End()
	rate := func(s float64) float64 {
		x := units.Length(s)
		return float64(sag.WheelRate(end.Law.Rate(x), end.Law.Force(x), end.Curve.LeverRatio(x), end.Curve.LeverRatioSlope(x)))
	}
	e := propagate(t, j, certainty.Uncertainty{Rear: certainty.EndUncertainty{Friction: 20}}).Rear
	bend := fd.Derivative(rate, float64(rear.Stroke), &fd.Settings{Formula: fd.Central, Step: 1e-5})
	near(t, "wheel rate under friction", effectOf(t, e.WheelRate), bend*effectOf(t, e.Stroke), 1e-5)
	near(t, "frequency under friction", effectOf(t, e.Frequency)/float64(e.Frequency.Value), effectOf(t, e.WheelRate)/kw/2, 1e-5)
}

// A curve of pivots, invented, is stretched without being solved anew: of
// w = c·w₀(c·load), ideal = c·load·LR(s*)/(s* + p), k_w a derivative by w.
func TestLeverRatioScalesAMechanism(t *testing.T) {
	j := handJob()
	j.Rear.Curve = linkage.Spec{Mechanism: &mechanism.Spec{
		Points: map[string]mechanism.Point{"P": {0.012, 0.072}, "A": {-0.438, 0.028}, "S1": {-0.092, 0.238}, "S2": {0.112, 0.292}},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "swingarm": {"P", "A", "S1"}}, Axle: "A", Shock: [2]string{"S1", "S2"}, Stroke: 0.0575,
	}}
	s := sheet(t, j).Rear
	e := propagate(t, j, certainty.Uncertainty{Rear: certainty.EndUncertainty{LeverRatio: 0.01}}).Rear
	near(t, "travel", effectOf(t, e.Travel), 0.01*float64(s.Rest.Travel+units.Length(s.Load)/units.Length(s.Rest.WheelRate)), 1e-5)
	near(t, "ideal rate", effectOf(t, e.IdealRate), 0.01*float64(s.Coil.IdealRate), 1e-9)
	near(t, "full force", effectOf(t, e.FullForce), -0.01*float64(s.Reserve.FullForce), 1e-7)
}

// A table of two points is a constant ratio, and an error of its last travel
// one of the ratio.
func TestTableOfTwoIsAConstantRatio(t *testing.T) {
	j := handJob()
	whole := propagate(t, j, certainty.Uncertainty{Rear: certainty.EndUncertainty{LeverRatio: 0.01}}).Rear
	table(&j, 0, tRatio*tStroke)
	off := propagate(t, j, certainty.Uncertainty{Rear: certainty.EndUncertainty{TableTravel: 0.01 * tRatio * tStroke}}).Rear
	if diff := cmp.Diff(effects(t, *whole), effects(t, *off), unitstest.Approx(1e-6)); diff != "" {
		t.Errorf("(-ratio +table):\n%s", diff)
	}
}

// A smooth table of four points is the cubic through them, so that an error δ
// of one travel adds δ·ℓ(s) with ℓ Lagrange's polynomial of the point. On a
// straight table, with w* = 0.28·w₃ the target,
//
//	ds* = (0.28·δ₃ − Σδᵢℓᵢ(s*))/LR,  dLR = Σδᵢℓᵢ′(s*)
//	ideal = load·LR/(s* + p)
func TestTableErrorsAddLagrangePolynomials(t *testing.T) {
	const h, u, n = tStroke / 3, 0.4e-3, 4
	j := handJob()
	table(&j, 0, tRatio*h, 2*tRatio*h, 3*tRatio*h)
	const load, target = handLoad, tSag * tStroke
	variance := 0.0
	for i := 1; i < n; i++ {
		lagrange := func(x float64) float64 { // in steps of h
			l := 1.0
			for k := range n {
				if k != i {
					l *= (x - float64(k)) / float64(i-k)
				}
			}
			return l
		}
		l, slope := lagrange(target/h), fd.Derivative(lagrange, target/h, &fd.Settings{Formula: fd.Central, Step: 1e-4})/h
		ds := -l / tRatio
		if i == n-1 {
			ds += tSag / tRatio
		}
		effect := load*slope/(target+tPreload) - load*tRatio/math.Pow(target+tPreload, 2)*ds
		variance += math.Pow(effect*u, 2)
	}
	b := propagate(t, j, certainty.Uncertainty{Rear: certainty.EndUncertainty{TableTravel: u}})
	near(t, "ideal rate", effectOf(t, b.Rear.IdealRate), math.Sqrt(variance), 1e-6)
	if got := b.Rear.IdealRate.Dominant; got != "rear.table_travel" {
		t.Errorf("dominant %q", got)
	}
}
