package sag_test

import (
	"fmt"
	"log"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// found returns the result of the step of a name.
func found(t *testing.T, steps []units.Step, name string) any {
	t.Helper()
	for _, s := range steps {
		if s.Name == name {
			return s.Result.Quantity
		}
	}
	t.Fatalf("no step %q", name)
	return nil
}

// same checks results to the last bit, and that every step is complete.
func same(t *testing.T, steps []units.Step, want map[string]any) {
	t.Helper()
	for name, q := range want {
		if got := found(t, steps, name); got != q {
			t.Errorf("%s: %v, want %v", name, got, q)
		}
	}
	for i, s := range steps {
		if s.Name == "" || s.Formula == "" || s.Source == "" || len(s.Given) == 0 || s.Result.Quantity == nil {
			t.Errorf("step %d: %+v", i, s)
		}
	}
}

// balance checks that the spring pushes with what the load asks of it.
func balance(t *testing.T, steps []units.Step) {
	t.Helper()
	for _, s := range steps {
		if strings.HasPrefix(s.Name, "force of the spring there") {
			near(t, s.Name, float64(s.Result.Quantity.(units.Force)), float64(s.Given[1].Quantity.(units.Force)), 1e-9)
			return
		}
	}
	t.Fatal("nothing proves the rest position")
}

// working returns the steps to where an end rests under a load.
func working(e sag.End, load units.Force) ([]units.Step, error) {
	s, err := e.Under(load)
	if err != nil {
		return nil, err
	}
	return e.WorkingAt(s), nil
}

// A constant ratio and a linear spring, by hand: 520 N at 2.6 are 1352 N, at
// 28 % of 156 mm the stroke is 16.8 mm; with 1 mm of preload 1352/17.8 N/mm; and
// a spring of 80 N/mm wants 1352/80 − 16.8 = 0.1 mm. With 1 mm on it that one
// rests at 1352/80 − 1 = 15.9 mm, where 80/2.6² N/mm bounce 520 N/g₀.
func TestWorkingEndsInTheAnswers(t *testing.T) {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.6, Travel: 156 * units.Millimetre})
	require.NoError(t, err)
	target := sag.Target{Load: 520 * units.Newton, Sag: 0.28}
	k, err := sag.RequiredRate(curve, target, units.Millimetre)
	require.NoError(t, err)
	steps := target.Working(curve)
	same(t, steps, map[string]any{"travel at the target": units.Length(target.Sag) * curve.Travel(), "stroke there": k.Stroke, "force that the spring must carry": k.SpringForce})
	unitstest.Near(t, "rate", k.Rate, 1352/17.8*units.NewtonPerMillimetre, unitstest.Rel(1e-12))
	p, err := sag.RequiredPreload(curve, target, 80*units.NewtonPerMillimetre)
	require.NoError(t, err)
	unitstest.Near(t, "preload", p, 0.1*units.Millimetre, unitstest.Rel(1e-12))

	law := linear(t, 80*units.NewtonPerMillimetre, 0.060, 0.001)
	r, err := settle(curve, law, target.Load, 0)
	require.NoError(t, err)
	steps, err = working(sag.End{Curve: curve, Law: law}, target.Load)
	require.NoError(t, err)
	same(t, steps, map[string]any{
		"stroke where it rests": r.Stroke, "lever ratio there": r.LeverRatio, "travel of the wheel there": r.Travel, "sag": r.Sag,
		"wheel rate there": r.WheelRate, "bounce frequency": r.Frequency,
	})
	balance(t, steps)
	unitstest.Near(t, "stroke", found(t, steps, "stroke where it rests").(units.Length), 15.9*units.Millimetre, unitstest.Rel(1e-9))
	near(t, "sag", found(t, steps, "sag").(float64), 15.9*2.6/156, 1e-9)
	near(t, "frequency", float64(found(t, steps, "bounce frequency").(units.Frequency)), math.Sqrt(80000/2.6/2.6*9.80665/520)/(2*math.Pi), 1e-9)

	if steps, err := working(sag.End{Curve: curve}, 600); err == nil || steps != nil {
		t.Errorf("%v, %v", steps, err)
	}
	// At an end of the travel, and without an end, nothing balances.
	if steps := (sag.End{}).WorkingAt(sag.State{Load: 600}); steps != nil {
		t.Errorf("%v", steps)
	}
	for _, load := range []units.Force{1e6, 1} {
		if steps, err := working(sag.End{Curve: curve, Law: law}, load); err != nil || steps != nil {
			t.Errorf("%v: %v, %v", load, steps, err)
		}
	}
}

// On a curve that bends the formulas shown give what stands under them, and a gas has
// its fast rate before the wheel's.
func TestWorkingOfTheWheelRate(t *testing.T) {
	for _, end := range []sag.End{{Curve: bent(t), Law: linear(t, 79e3, 0.065, 1e-3)}, made(sag.AirEnd(progressive(t), single(units.BarGauge(11), 1.3)))} {
		steps, err := working(end, 600)
		require.NoError(t, err)
		balance(t, steps)
		s := made(end.Under(600))
		same(t, steps, map[string]any{"stroke where it rests": s.Rest.Stroke, "sag": s.Rest.Sag, "wheel rate there": s.FastWheelRate, "bounce frequency": s.FastFrequency})
		if end.Fast != nil {
			same(t, steps, map[string]any{"spring rate over a fast stroke": s.FastSpringRate})
		}
		i := slices.IndexFunc(steps, func(s units.Step) bool { return s.Name == "wheel rate there" })
		given := steps[i].Given
		k, lr := float64(given[0].Quantity.(units.Stiffness)), given[1].Quantity.(float64)
		f, slope := float64(given[2].Quantity.(units.Force)), float64(given[3].Quantity.(units.RatioSlope))
		near(t, steps[i].Formula, float64(steps[i].Result.Quantity.(units.Stiffness)), k/lr/lr-f*slope/lr/lr/lr, 1e-12)
		if !(slope < 0) {
			t.Errorf("the slope is %v, so this curve tests nothing", slope)
		}
		if gas := len(steps) == 8; gas != (end.Fast != nil) {
			t.Errorf("%d steps", len(steps))
		}
	}
}

// By hand: 1500 N of 80 N/mm with 2 mm of preload at 16.75 mm, and √(12 800·g₀/600)/2π Hz.
func ExampleEnd_WorkingAt() {
	s, err := rear().Under(600 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	for _, step := range rear().WorkingAt(s) {
		fmt.Printf("%-43s %s\n", step.Name, step.Result)
	}
	// Output:
	// stroke where it rests                       s = 16.75 mm
	// lever ratio there                           LR = 2.5
	// force of the spring there, which proves it  F_s = 1500 N
	// travel of the wheel there                   w = 41.875 mm
	// sag                                         sag = 0.279167
	// wheel rate there                            k_w = 12.8 N/mm
	// bounce frequency                            f = 2.30202 Hz
}
