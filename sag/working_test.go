package sag

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
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

// Every result is the sheet's own, and what can be worked by hand is.
func TestSheetWorking(t *testing.T) {
	j := readJob(t, jobText)
	s := sheet(t, j)
	rear, front := s.Working(j, RearEnd), s.Working(j, FrontEnd)
	same(t, rear, map[string]any{
		"load of the wheel": s.Rear.WheelLoad, "load on the spring, at the wheel": s.Rear.Load, "exact spring": s.Rear.Coil.IdealRate,
	})
	same(t, front, map[string]any{
		"load of the wheel": s.Front.WheelLoad, "load on the spring, at the wheel": s.Front.Load, "fill": s.Front.Air.Options[0].FillWanted,
	})
	if last := rear[len(rear)-1]; last.Name != "exact spring" {
		t.Errorf("the rear ends with %v", last)
	}
	if last := front[len(front)-1]; last.Name != "fill" {
		t.Errorf("the front ends with %v", last)
	}
	// By hand: 0.58·98.8 kg·g₀ = 561.9603 N, less 3.2 kg·g₀ = 530.5790 N.
	near(t, "wheel", float64(rear[0].Result.Quantity.(units.Force)), 0.58*98.8*9.80665, 1e-12)
	near(t, "sprung", float64(rear[1].Result.Quantity.(units.Force)), (0.58*98.8-3.2)*9.80665, 1e-12)
	near(t, "front wheel", float64(front[0].Result.Quantity.(units.Force)), 0.42*98.8*9.80665, 1e-12)

	for _, steps := range [][]units.Step{front, rear} { // and what is put in gives it
		q, rider, bike := steps[0].Given[0].Quantity.(float64), steps[0].Given[1].Quantity.(units.Mass), steps[0].Given[2].Quantity.(units.Mass)
		near(t, "wheel, from what is put in", float64(steps[0].Result.Quantity.(units.Force)), q*float64(rider+bike)*9.80665, 1e-12)
		m := steps[1].Given[1].Quantity.(units.Mass)
		near(t, "sprung, from what is put in", float64(steps[1].Result.Quantity.(units.Force)), (q*float64(rider+bike)-float64(m))*9.80665, 1e-12)
	}

	best := &s.Rear.Coil.Candidates[0]
	r := s.Rear.Rest
	rests := s.RestWorking(j, RearEnd)
	same(t, rests, map[string]any{
		"preload that this spring wants": best.PreloadWanted, "preload to set": best.Preload,
		"stroke where it rests": r.Stroke, "lever ratio there": r.LeverRatio, "travel of the wheel there": r.Travel, "sag": r.Sag,
		"wheel rate there": s.Rear.FastWheelRate, "bounce frequency": s.Rear.FastFrequency,
	})
	f := s.Front.Rest
	rests = s.RestWorking(j, FrontEnd)
	same(t, rests, map[string]any{
		"stroke where it rests": f.Stroke, "lever ratio there": f.LeverRatio, "sag": f.Sag,
		"spring rate over a fast stroke": s.Front.FastSpringRate, "wheel rate there": s.Front.FastWheelRate, "bounce frequency": s.Front.FastFrequency,
	})
	balance(t, rests)

	var none Sheet
	for _, end := range []End{RearEnd, FrontEnd, "middle"} {
		if none.Working(j, end) != nil || none.RestWorking(j, end) != nil {
			t.Error("the working of nothing")
		}
	}
	if s.Working(j, "middle") != nil || s.RestWorking(j, "middle") != nil {
		t.Error("the working of an end that there is not")
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

// Where the marking limits the fill the steps say so; where nothing balances
// they stop before.
func TestSheetWorkingAtItsLimits(t *testing.T) {
	low := readJob(t, strings.Replace(jobText, `"max_fill": "10 bar"`, `"max_fill": "4 bar"`, 1))
	s := sheet(t, low)
	steps := s.Working(low, FrontEnd)
	same(t, steps, map[string]any{"fill": s.Front.Air.Options[0].FillWanted, "fill to set": units.BarGauge(4)})
	balance(t, s.RestWorking(low, FrontEnd))

	soft := readJob(t, strings.NewReplacer(`"350 lbf/in"`, `"20 lbf/in"`, `"400 lbf/in"`, `"21 lbf/in"`, `"450 lbf/in"`, `"22 lbf/in"`, `"500 lbf/in"`, `"23 lbf/in"`).Replace(jobText))
	s = sheet(t, soft)
	if !has(s.Rear.Coil.Candidates[0].Findings, Collapses) {
		t.Fatalf("findings %v", s.Rear.Coil.Candidates[0].Findings)
	}
	if steps := s.RestWorking(soft, RearEnd); len(steps) != 2 || steps[1].Result.Quantity != s.Rear.Coil.Candidates[0].Preload {
		t.Errorf("%v", steps)
	}
	light := readJob(t, strings.Replace(jobText, `"rear_share": 0.58`, `"rear_share": 0.94`, 1))
	s = sheet(t, light)
	if !has(s.Front.Air.Options[0].Findings, FillImpossible) {
		t.Fatalf("findings %v", s.Front.Air.Options[0].Findings)
	}
	if steps := s.Working(light, FrontEnd); steps[len(steps)-1].Name != "force that the spring must carry" {
		t.Errorf("%v", steps)
	}
}

// A constant ratio and a linear spring, by hand: 520 N at 2.6 are 1352 N, at
// 28 % of 156 mm the stroke is 16.8 mm; with 1 mm of preload 1352/17.8 N/mm; and
// a spring of 80 N/mm wants 1352/80 − 16.8 = 0.1 mm. With 1 mm on it that one
// rests at 1352/80 − 1 = 15.9 mm, where 80/2.6² N/mm bounce 520 N/g₀.
func TestTargetAndSettleWorking(t *testing.T) {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.6, Travel: 156 * units.Millimetre})
	if err != nil {
		t.Fatal(err)
	}
	target := Target{Load: 520 * units.Newton, Sag: 0.28}
	k, err := RequiredRate(curve, target, units.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	steps, err := RequiredRateWorking(curve, target, units.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	same(t, steps, map[string]any{"stroke there": k.Stroke, "force that the spring must carry": k.SpringForce, "exact spring": k.Rate})
	unitstest.Near(t, "rate", found(t, steps, "exact spring").(units.Stiffness), 1352/17.8*units.NewtonPerMillimetre, unitstest.Rel(1e-12))

	p, err := RequiredPreload(curve, target, 80*units.NewtonPerMillimetre)
	if err != nil {
		t.Fatal(err)
	}
	steps, err = RequiredPreloadWorking(curve, target, 80*units.NewtonPerMillimetre)
	if err != nil {
		t.Fatal(err)
	}
	same(t, steps, map[string]any{"preload that this spring wants": p})
	unitstest.Near(t, "preload", p, 0.1*units.Millimetre, unitstest.Rel(1e-12))

	law := linear(t, 80*units.NewtonPerMillimetre, 0.060, 0.001)
	r, err := Settle(curve, law, target.Load, 0)
	if err != nil {
		t.Fatal(err)
	}
	steps, err = SettleWorking(curve, law, target.Load)
	if err != nil {
		t.Fatal(err)
	}
	same(t, steps, map[string]any{
		"stroke where it rests": r.Stroke, "lever ratio there": r.LeverRatio, "travel of the wheel there": r.Travel, "sag": r.Sag,
		"wheel rate there": r.WheelRate, "bounce frequency": r.Frequency,
	})
	balance(t, steps)
	unitstest.Near(t, "stroke", found(t, steps, "stroke where it rests").(units.Length), 15.9*units.Millimetre, unitstest.Rel(1e-9))
	near(t, "sag", found(t, steps, "sag").(float64), 15.9*2.6/156, 1e-9)
	near(t, "frequency", float64(found(t, steps, "bounce frequency").(units.Frequency)), math.Sqrt(80000/2.6/2.6*9.80665/520)/(2*math.Pi), 1e-9)

	for _, working := range []func() ([]units.Step, error){
		func() ([]units.Step, error) { return RequiredRateWorking(nil, target, 0) },
		func() ([]units.Step, error) { return RequiredPreloadWorking(curve, target, -1) },
		func() ([]units.Step, error) { return SettleWorking(curve, law, 1e6) },
	} {
		if steps, err := working(); err == nil || steps != nil {
			t.Errorf("%v, %v", steps, err)
		}
	}
}

// On a curve that bends, the formulas shown give what stands under them.
func TestBounceWorkingOnABend(t *testing.T) {
	j := readJob(t, jobText)
	s := sheet(t, j)
	for _, s := range s.RestWorking(j, RearEnd) {
		if s.Name != "wheel rate there" {
			continue
		}
		k, lr := float64(s.Given[0].Quantity.(units.Stiffness)), s.Given[1].Quantity.(float64)
		f, slope := float64(s.Given[2].Quantity.(units.Force)), float64(s.Given[3].Quantity.(units.RatioSlope))
		near(t, s.Formula, float64(s.Result.Quantity.(units.Stiffness)), k/lr/lr-f*slope/lr/lr/lr, 1e-12)
		if !(slope < 0) {
			t.Errorf("the slope is %v, so this curve tests nothing", slope)
		}
		return
	}
	t.Error("no wheel rate")
}

// Worked by hand above.
func ExampleRequiredPreloadWorking() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.6, Travel: 156 * units.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	steps, err := RequiredPreloadWorking(curve, Target{Load: 520 * units.Newton, Sag: 0.28}, 80*units.NewtonPerMillimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range steps[3:] {
		fmt.Print(s)
	}
	// Output:
	// force that the spring must carry
	//   F_s = F_w·LR
	//   [virtual work: what the wheel does is done on the spring]
	//     F_w = 520 N; LR = 2.6
	//   → F_s = 1352 N
	// preload that this spring wants
	//   preload = F_s/k − s
	//   [a linear spring; below 0 it is too hard for any]
	//     F_s = 1352 N; k = 80 N/mm; s = 16.8 mm
	//   → preload = 0.1 mm
}

// Worked by hand above: 1352 N on 16.8 mm and 1 mm of preload are 75.9551 N/mm.
func ExampleRequiredRateWorking() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.6, Travel: 156 * units.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	steps, err := RequiredRateWorking(curve, Target{Load: 520 * units.Newton, Sag: 0.28}, units.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(steps[len(steps)-1])
	// Output:
	// exact spring
	//   k = F_s/(s + preload)
	//   [a linear spring]
	//     F_s = 1352 N; s = 16.8 mm; preload = 1 mm
	//   → k = 75.9551 N/mm
}

// Worked by hand above: 80 N/mm with 1 mm of preload come to rest at 15.9 mm,
// where 80/2.6² = 11.8343 N/mm at the wheel bounce √(11 834.3·g₀/520)/(2·π) =
// 2.37766 times a second.
func ExampleSettleWorking() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.6, Travel: 156 * units.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	law, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre, Preload: units.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	steps, err := SettleWorking(curve, law, 520*units.Newton)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range steps {
		fmt.Printf("%-43s %s\n", s.Name, s.Result)
	}
	// Output:
	// stroke where it rests                       s = 15.9 mm
	// lever ratio there                           LR = 2.6
	// force of the spring there, which proves it  F_s = 1352 N
	// travel of the wheel there                   w = 41.34 mm
	// sag                                         sag = 0.265
	// wheel rate there                            k_w = 11.8343 N/mm
	// bounce frequency                            f = 2.37766 Hz
}
