package setup_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// found is the result of the step of a name; the test fails where there is none.
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

// same checks results against the values that they must be to the last bit.
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

// balance checks the two sides of the proof against each other.
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

// titles are the names of steps, in order.
func titles(steps []units.Step) []string {
	var list []string
	for _, s := range steps {
		list = append(list, s.Name)
	}
	return list
}

var (
	toTarget = []string{"load of the wheel", "load on the spring, at the wheel", "travel at the target", "stroke there", "lever ratio there", "force that the spring must carry"}
	toRest   = []string{"stroke where it rests", "lever ratio there", "force of the spring there, which proves it", "travel of the wheel there", "sag"}
	toBounce = []string{"wheel rate there", "bounce frequency"}
	toGas    = []string{"spring rate over a fast stroke"}
	toCollar = []string{"preload that this spring wants", "preload to set"}
)

// Every result is the sheet's own, and what can be worked by hand is.
func TestWorkingHasTheNumbersOfTheSheet(t *testing.T) {
	s := sheet(t, readJob(t, jobText))
	rear, front := s.Working(sag.Rear), s.Working(sag.Front)
	same(t, rear, map[string]any{
		"load of the wheel": s.Rear.WheelLoad, "load on the spring, at the wheel": s.Rear.Load, "exact spring": s.Rear.Coil.IdealRate,
	})
	same(t, front, map[string]any{
		"load of the wheel": s.Front.WheelLoad, "load on the spring, at the wheel": s.Front.Load, "fill": s.Front.Fill().FillWanted,
	})
	// By hand: 0.58·98.8 kg·g₀ = 561.9603 N, less 3.2 kg·g₀ = 530.5790 N.
	near(t, "wheel", float64(rear[0].Result.Quantity.(units.Force)), 0.58*98.8*g0, 1e-12)
	near(t, "sprung", float64(rear[1].Result.Quantity.(units.Force)), (0.58*98.8-3.2)*g0, 1e-12)
	near(t, "front wheel", float64(front[0].Result.Quantity.(units.Force)), 0.42*98.8*g0, 1e-12)

	for _, steps := range [][]units.Step{front, rear} { // and what is put in gives it
		q, rider, bike := steps[0].Given[0].Quantity.(float64), steps[0].Given[1].Quantity.(units.Mass), steps[0].Given[2].Quantity.(units.Mass)
		near(t, "wheel, from what is put in", float64(steps[0].Result.Quantity.(units.Force)), q*float64(rider+bike)*g0, 1e-12)
		m := steps[1].Given[1].Quantity.(units.Mass)
		near(t, "sprung, from what is put in", float64(steps[1].Result.Quantity.(units.Force)), (q*float64(rider+bike)-float64(m))*g0, 1e-12)
	}

	best := s.Rear.Spring()
	r := s.Rear.Rest
	rests := s.RestWorking(sag.Rear)
	same(t, rests, map[string]any{
		"preload that this spring wants": best.PreloadWanted, "preload to set": best.Preload,
		"stroke where it rests": r.Stroke, "lever ratio there": r.LeverRatio, "travel of the wheel there": r.Travel, "sag": r.Sag,
		"wheel rate there": s.Rear.FastWheelRate, "bounce frequency": s.Rear.FastFrequency,
	})
	f := s.Front.Rest
	rests = s.RestWorking(sag.Front)
	same(t, rests, map[string]any{
		"stroke where it rests": f.Stroke, "lever ratio there": f.LeverRatio, "sag": f.Sag,
		"spring rate over a fast stroke": s.Front.FastSpringRate, "wheel rate there": s.Front.FastWheelRate, "bounce frequency": s.Front.FastFrequency,
	})
	balance(t, rests)
}

// The steps in their order, by hand from the plain job: 28 % of 150 mm and 25 % of
// 160 mm.
func TestWorkingInItsOrder(t *testing.T) {
	j := plainJob(t)
	j.Front.Coil, j.Front.Air = nil, &fit.Chamber{
		NegativeChamber: fit.None,
		Spec:            airspring.Spec{Bore: 0.035, PositiveVolume: 260e-6, Exponent: 1.3, Ambient: 98e3}, MaxFill: units.BarGauge(10)}
	s := sheet(t, j)
	rear, front := s.Working(sag.Rear), s.Working(sag.Front)
	force := 57 * g0 * 2.5
	near(t, "travel", float64(found(t, rear, "travel at the target").(units.Length)), 0.28*0.15, 1e-12)
	near(t, "stroke", float64(found(t, rear, "stroke there").(units.Length)), 0.28*0.06, 1e-12)
	near(t, "force", float64(found(t, rear, "force that the spring must carry").(units.Force)), force, 1e-12)
	near(t, "rate", float64(found(t, rear, "exact spring").(units.Stiffness)), force/(0.28*0.06+0.001), 1e-12)
	if exact := rear[len(rear)-1]; exact.Source != "a linear spring, with the collar's least preload" || exact.Given[2].Quantity != 1*units.Millimetre {
		t.Errorf("exact spring by %q with %v", exact.Source, exact.Given[2])
	}
	near(t, "stroke in front", float64(found(t, front, "stroke there").(units.Length)), 0.25*0.16, 1e-12)
	for _, test := range []struct {
		what  string
		steps []units.Step
		want  [][]string
	}{
		{"rear", rear, [][]string{toTarget, {"exact spring"}}},
		{"rear at rest", s.RestWorking(sag.Rear), [][]string{toCollar, toRest, toBounce}},
		{"front at rest", s.RestWorking(sag.Front), [][]string{toRest, toGas, toBounce}},
	} {
		if diff := cmp.Diff(slices.Concat(test.want...), titles(test.steps)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.what, diff)
		}
	}
	if got := titles(front); !slices.Equal(got[:len(toTarget)], toTarget) || got[len(got)-1] != "fill" {
		t.Errorf("front: %v", got)
	}
}

// The pitch of the collar is shown where it is known.
func TestWorkingShowsThePitch(t *testing.T) {
	for _, pitch := range []units.Length{0, 1.5e-3} {
		j := plainJob(t)
		j.Rear.Coil.ThreadPitch = pitch
		steps := sheet(t, j).RestWorking(sag.Rear)
		var got any
		for _, g := range steps[1].Given {
			if g.Symbol == "pitch" {
				got = g.Quantity
			}
		}
		if (got != nil) != (pitch > 0) || got != nil && got != pitch {
			t.Errorf("a pitch of %v is shown as %v", pitch, got)
		}
	}
}

// Where the marking limits the fill the steps say so; where no fill does it they end
// with what the spring must carry.
func TestWorkingAtTheLimitsOfTheFill(t *testing.T) {
	s := sheet(t, readJob(t, strings.Replace(jobText, `"max_fill": "10 bar"`, `"max_fill": "4 bar"`, 1)))
	same(t, s.Working(sag.Front), map[string]any{"fill": s.Front.Fill().FillWanted, "fill to set": units.BarGauge(4)})
	balance(t, s.RestWorking(sag.Front))

	s = sheet(t, readJob(t, strings.Replace(jobText, `"rear_share": 0.58`, `"rear_share": 0.94`, 1)))
	if !fit.Has(s.Front.Findings(), sag.FillImpossible) {
		t.Fatalf("findings %v", s.Front.Findings())
	}
	if diff := cmp.Diff(toTarget, titles(s.Working(sag.Front))); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// Where no balance holds nothing is said of rest: of a coil only its preload, of air
// nothing. By hand, 30 mm of preload on 80 N/mm hold 2400 N, and 57 kg at 2.5 press
// with 1397 N; 20 lbf/in are far too soft; and with 0.1 bar at the most, 108 kPa
// absolute, 962 mm² carry at the end, 1.63 times compressed, (1.63·108 − 98) kPa·962 mm²
// = 75 N, while 373 N press on them.
func TestWorkingWithoutARest(t *testing.T) {
	top := plainJob(t)
	top.Rear.Coil.PreloadMin, top.Rear.Coil.PreloadMax = 0.03, 0.03
	soft := plainJob(t)
	soft.Rear.Coil.Springs[0].Rate = 20 * units.PoundForcePerInch
	low := plainJob(t)
	low.Rear.Curve.ConstantRatio.Ratio, low.Rear.Curve.ConstantRatio.Travel, low.Rear.Coil = 1, 0.16, nil
	low.Rear.Air = &fit.Chamber{NegativeChamber: fit.None, Spec: airspring.Spec{Bore: 0.035, PositiveVolume: 400e-6, Exponent: 1.3, Ambient: 98e3}, MaxFill: 1e4}
	for _, test := range []struct {
		job     setup.Job
		finding sag.Finding
		want    []string
	}{{top, sag.HeldAtTop, toCollar}, {soft, sag.Collapses, toCollar}, {low, sag.Collapses, nil}} {
		s := sheet(t, test.job)
		if !fit.Has(s.Rear.Findings(), test.finding) {
			t.Fatalf("findings %v", s.Rear.Findings())
		}
		if diff := cmp.Diff(test.want, titles(s.RestWorking(sag.Rear))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.finding, diff)
		}
	}
}

// Where a program has changed a sheet, the steps stop where they can't be shown.
func TestWorkingOfAChangedSheetStops(t *testing.T) {
	for name, test := range map[string]struct {
		change func(e *setup.EndSheet)
		want   []string // at the least
	}{
		"no candidates":   {func(e *setup.EndSheet) { e.Coil, e.Air = &fit.CoilAnswer{}, &fit.AirAnswer{} }, toTarget},
		"nothing to fit":  {func(e *setup.EndSheet) { e.Coil, e.Air = nil, nil }, toTarget},
		"the other kind":  {func(e *setup.EndSheet) { e.Coil, e.Air = nil, &fit.AirAnswer{Options: make([]fit.AirOption, 1)} }, toTarget},
		"both kinds":      {func(e *setup.EndSheet) { e.Coil = &fit.CoilAnswer{Candidates: make([]fit.CoilCandidate, 1)} }, toTarget},
		"a load of NaN":   {func(e *setup.EndSheet) { e.Load = units.Force(math.NaN()) }, toTarget},
		"a target of NaN": {func(e *setup.EndSheet) { e.TargetSag = math.NaN() }, toTarget},
		"an empty choice": {func(e *setup.EndSheet) { e.Choice = fit.Choice{} }, toTarget},
		"an empty end":    {func(e *setup.EndSheet) { *e = setup.EndSheet{} }, nil},
	} {
		s := sheet(t, readJob(t, jobText))
		test.change(s.Front)
		test.change(s.Rear)
		for _, axle := range []sag.Axle{sag.Front, sag.Rear} {
			got := titles(s.Working(axle))
			if diff := cmp.Diff(test.want, got[:min(len(got), len(test.want))]); diff != "" {
				t.Errorf("%s, %s (-want +got):\n%s", name, axle, diff)
			}
			same(t, s.RestWorking(axle), nil)
		}
	}
}
