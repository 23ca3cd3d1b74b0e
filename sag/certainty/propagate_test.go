package certainty_test

import (
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// answers returns the answers that an end has, by field and as plain numbers.
func answers(end any) map[string]*certainty.Answer[float64] {
	list, v := map[string]*certainty.Answer[float64]{}, reflect.Indirect(reflect.ValueOf(end))
	for i := range v.NumField() {
		if f := v.Field(i); f.Kind() == reflect.Pointer && !f.IsNil() && v.Type().Field(i).Name != "Counts" {
			one := new(certainty.Answer[float64])
			bare(reflect.ValueOf(one).Elem(), f.Elem())
			list[v.Type().Field(i).Name] = one
		}
	}
	return list
}

// bare copies a value into one of the same shape whose quantities are plain numbers.
func bare(to, from reflect.Value) {
	switch from.Kind() {
	case reflect.Struct:
		for i := range from.NumField() {
			bare(to.Field(i), from.Field(i))
		}
	case reflect.Slice:
		to.Set(reflect.MakeSlice(to.Type(), from.Len(), from.Len()))
		for i := range from.Len() {
			bare(to.Index(i), from.Index(i))
		}
	case reflect.Pointer:
		if !from.IsNil() {
			to.Set(reflect.New(to.Type().Elem()))
			bare(to.Elem(), from.Elem())
		}
	default:
		to.Set(from.Convert(to.Type()))
	}
}

// effects returns what a single uncertain input does to each answer that an end has.
func effects(t *testing.T, end certainty.EndBudget) map[string]float64 {
	all := map[string]float64{}
	for name, a := range answers(end) {
		all[name] = effectOf(t, a)
	}
	return all
}

// The derivatives of every answer behind a constant ratio with a linear spring,
// by hand from
//
//	load = (q·m − m_u)·g
//	s = (load·LR − f)/k − p,  w = LR·s,  k_w = k/LR²
//	ideal = load·LR/(s* + p_min),  wanted = load·LR/k − s*,  s* = 0.28·60 mm
//	E = k·L·(L/2 + p),  h = E/load − LR·L,  F = k·(L + p)/LR
//
// with f a force left at the spring, 0 here.
func TestCoilDerivativesAreTheClosedForms(t *testing.T) {
	const (
		mass   = tRider + tBike
		load   = (tShare*mass - tUnsprungRear) * tG
		force  = load * tRatio
		target = tSag * tStroke
		s      = force/tRate - tPreload
		w      = tRatio * s
		kw     = tRate / (tRatio * tRatio)
		energy = tRate * tStroke * (tStroke/2 + tPreload)
		left   = energy - tRate*s*(s/2+tPreload)
		full   = tRate * (tStroke + tPreload) / tRatio
		ideal  = force / (target + tPreload)
	)
	freq := math.Sqrt(kw*tG/load) / (2 * math.Pi)
	// d holds the derivatives with respect to one input.
	type d struct{ load, ideal, wanted, s, w, kw, freq, left, energy, drop, full, ratio float64 }
	// Those that come by way of the load.
	loadD := d{
		load: 1, ideal: ideal / load, wanted: tRatio / tRate, s: tRatio / tRate, w: tRatio * tRatio / tRate,
		freq: -freq / (2 * load), left: -tRate * (s + tPreload) * tRatio / tRate, drop: -energy / (load * load), ratio: -full / (load * load),
	}
	times := func(k float64) d {
		return d{k * loadD.load, k * loadD.ideal, k * loadD.wanted, k * loadD.s, k * loadD.w, 0, k * loadD.freq, k * loadD.left, 0, k * loadD.drop, 0, k * loadD.ratio}
	}
	const dLeft = -tRate * (s + tPreload) // of the energy left with s
	for _, test := range []struct {
		name string
		u    certainty.Uncertainty
		by   float64
		want d
	}{
		{"rider_mass", certainty.Uncertainty{RiderMass: 2}, 2, times(tShare * tG)},
		{"bike_mass", certainty.Uncertainty{BikeMass: 0.5}, 0.5, times(tShare * tG)},
		{"unsprung_rear", certainty.Uncertainty{UnsprungRear: 0.3}, 0.3, times(-tG)},
		{"unsprung_front", certainty.Uncertainty{UnsprungFront: 0.3}, 0.3, d{}},
		{"rear_share", certainty.Uncertainty{RearShare: 0.01}, 0.01, times(mass * tG)},
		{"ambient", certainty.Uncertainty{Ambient: 1e3}, 1e3, d{}},
		{"rear.spring_rate", certainty.Uncertainty{Rear: certainty.EndUncertainty{SpringRate: 0.03}}, 0.03, d{
			wanted: -force / tRate, s: -force / tRate, w: -tRatio * force / tRate, kw: kw, freq: freq / 2,
			left: left + dLeft*(-force/tRate), energy: energy, drop: energy / load, full: full, ratio: full / load}},
		{"rear.preload", certainty.Uncertainty{Rear: certainty.EndUncertainty{Preload: 5e-4}}, 5e-4, d{
			s: -1, w: -tRatio, left: tRate*(tStroke-s) - dLeft, energy: tRate * tStroke, drop: tRate * tStroke / load, full: tRate / tRatio, ratio: tRate / tRatio / load}},
		{"rear.lever_ratio", certainty.Uncertainty{Rear: certainty.EndUncertainty{LeverRatio: 0.02}}, 0.02, d{
			ideal: ideal, wanted: force / tRate, s: force / tRate, w: w + tRatio*force/tRate, kw: -2 * kw, freq: -freq,
			left: dLeft * force / tRate, drop: -tRatio * tStroke, full: -full, ratio: -full / load}},
		{"rear.friction", certainty.Uncertainty{Rear: certainty.EndUncertainty{Friction: 20}}, 20, d{s: -1 / tRate, w: -tRatio / tRate, left: -dLeft / tRate}},
		{"rear.reading", certainty.Uncertainty{Rear: certainty.EndUncertainty{Reading: 1e-3}}, 1e-3, d{}},
	} {
		x, reading := test.want, test.want.s
		travelLeft := -x.w
		switch test.name {
		case "rear.reading":
			reading = 1
		case "rear.lever_ratio":
			travelLeft += tRatio * tStroke
		}
		want := map[string]float64{ // a coil has no fill
			"Load": x.load, "IdealRate": x.ideal, "PreloadWanted": x.wanted,
			"Sag": x.s / tStroke, "ShockSag": x.s / tStroke, "Travel": x.w, "Stroke": x.s, "StrokeReading": reading,
			"WheelRate": x.kw, "FastWheelRate": x.kw, "Frequency": x.freq, "FastFrequency": x.freq,
			"TravelLeft": travelLeft, "EnergyLeft": x.left, "Energy": x.energy, "DropHeight": x.drop, "FullForce": x.full, "FullRatio": x.ratio,
		}
		for name := range want {
			want[name] *= test.by
		}
		if diff := cmp.Diff(want, effects(t, *propagate(t, handJob(), test.u).Rear), unitstest.Approx(1e-7)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// The share is (a + δ)/(L + δ′): more of a puts more on the rear wheel, more of L
// less. With scales under the wheels each end's load errs by itself, less what is
// unsprung there.
func TestLoadsErrWithTheShareOrTheScales(t *testing.T) {
	const l, a = 1.25, 0.75
	centre, scales := centreJob(l, a), scaleJob(40, 60)
	for _, test := range []struct {
		j           setup.Job
		u           certainty.Uncertainty
		front, rear float64 // kg
	}{
		{centre, certainty.Uncertainty{MassCentreBehindFrontAxle: 0.02}, -0.02 / l * 100, 0.02 / l * 100},
		{centre, certainty.Uncertainty{Wheelbase: 0.01}, 0.01 * a / (l * l) * 100, -0.01 * a / (l * l) * 100},
		{scales, certainty.Uncertainty{FrontScale: 0.3}, 0.3, 0},
		{scales, certainty.Uncertainty{RearScale: 0.4}, 0, 0.4},
		{scales, certainty.Uncertainty{UnsprungRear: 0.2}, 0, -0.2},
	} {
		b := propagate(t, test.j, test.u)
		near(t, fmt.Sprintf("front by %+v", test.u), effectOf(t, b.Front.Load), test.front*tG, 1e-7)
		near(t, fmt.Sprintf("rear by %+v", test.u), effectOf(t, b.Rear.Load), test.rear*tG, 1e-7)
	}
	near(t, "rear load", float64(propagate(t, scales, certainty.Uncertainty{}).Rear.Load.Value), 57*tG, 1e-12)
}

// The frequency ratio is √(front k_w/load)/√(rear k_w/load): a share moves the
// two loads against each other. ln r = ½(ln(k_f/load_f) − ln(k_r/load_r)), and
// the rear rate is constant; what the front's does is its own answer.
func TestFrequencyRatioTakesBothEnds(t *testing.T) {
	b := propagate(t, handJob(), certainty.Uncertainty{RearShare: 0.01})
	front, rear := b.Front.FastFrequency, b.Rear.FastFrequency
	want := b.FrequencyRatio.Value * (effectOf(t, front)/float64(front.Value) - effectOf(t, rear)/float64(rear.Value))
	near(t, "ratio", effectOf(t, b.FrequencyRatio), want, 1e-6)
	near(t, "value", b.FrequencyRatio.Value, sheet(t, handJob()).FrequencyRatio, 1e-12)
}

// The values are those of the sheet, and every answer of a budget is one of a coil or of air.
// However low its wheel rate, a wheel has a frequency.
func TestValuesAreThoseOfTheSheet(t *testing.T) {
	swapped, seen := demoJob(t), map[string]bool{"Rivals": true, "Counts": true}
	swapped.Front.Coil, swapped.Front.Air = swapped.Rear.Coil, nil
	swapped.Rear.Coil, swapped.Rear.Air = nil, &fit.Chamber{NegativeChamber: fit.None, Spec: airspring.Spec{Bore: 0.045, PositiveVolume: 190e-6, Exponent: 1.4, SecondVolume: 40e-6, SecondFill: units.BarGauge(25)}, MaxFill: units.BarGauge(40)}
	floating := shelfJob(5) // N/m, 0.8 N/m at the wheel, and 280 m of preload
	floating.Rear.Coil.PreloadMin = handForce/5 - tSag*tStroke
	floating.Rear.Coil.PreloadMax, floating.Rear.Coil.Springs[0].SolidTravel = floating.Rear.Coil.PreloadMin, 0
	for name, j := range map[string]setup.Job{"air in front": demoJob(t), "coil in front": swapped, "plain": handJob(), "hardly any rate": floating, "whole": wholeJob()} {
		s, b := sheet(t, j), propagate(t, j, certainty.Uncertainty{})
		for i, e := range []certainty.EndBudget{*b.Front, *b.Rear} {
			w := []*setup.EndSheet{s.Front, s.Rear}[i]
			want := map[string]float64{
				"Load": float64(w.Load), "Sag": w.Rest.Sag, "ShockSag": w.Rest.ShockSag, "Travel": float64(w.Rest.Travel),
				"Stroke": float64(w.Rest.Stroke), "StrokeReading": float64(w.Measure[0].Expected),
				"WheelRate": float64(w.Rest.WheelRate), "Frequency": float64(w.Rest.Frequency),
				"FastWheelRate": float64(w.FastWheelRate), "FastFrequency": float64(w.FastFrequency),
				"TravelLeft": float64(w.TravelLeft), "EnergyLeft": float64(w.EnergyLeft), "Energy": float64(w.Reserve.Energy),
				"DropHeight": float64(w.Reserve.DropHeight), "FullForce": float64(w.Reserve.FullForce), "FullRatio": w.FullRatio,
			}
			if l := w.Landing; l != nil {
				want["LandingTravel"], want["LandingUsed"], want["LandingPeakForce"] = float64(l.Travel), l.Used, float64(l.PeakForce)
				want["LandingDamperWork"], want["LandingTime"], want["LandingEnergyLeft"] = float64(l.DamperWork), float64(l.Time), float64(l.EnergyLeft)
			}
			if w.Coil != nil {
				want["IdealRate"], want["PreloadWanted"] = float64(w.Coil.IdealRate), float64(w.Coil.Candidates[0].PreloadWanted)
			} else {
				want["FillWanted"] = float64(w.Air.Options[0].FillWanted)
			}
			got := map[string]float64{}
			for answer, a := range answers(e) {
				got[answer], seen[answer] = a.Value, true
				if a.Uncertainty != 0 || a.Dominant != "" || len(a.Contributions) != 0 {
					t.Errorf("everything exact, yet %+v", a)
				}
			}
			if diff := cmp.Diff(want, got, unitstest.Approx(1e-11)); diff != "" {
				t.Errorf("%s, end %d (-sheet +budget):\n%s", name, i, diff)
			}
		}
		if (b.Coupled == nil) != (s.Coupled == nil) {
			t.Errorf("%s: settled together on the sheet %+v, in the budget %+v", name, s.Coupled, b.Coupled)
		} else if c := s.Coupled; c != nil {
			want := map[string]float64{
				"FrontSag": c.FrontSag, "RearSag": c.RearSag, "FrontStroke": float64(c.FrontStroke), "RearStroke": float64(c.RearStroke),
				"Pitch": float64(c.Pitch), "RearShare": c.RearShare, "Wheelbase": float64(c.Wheelbase), "HeadAngle": float64(c.HeadAngle),
				"Trail": float64(c.Trail), "BottomBracketHeight": float64(c.BottomBracketHeight),
			}
			got := map[string]float64{}
			for answer, a := range answers(b.Coupled) {
				got[answer] = a.Value
			}
			if diff := cmp.Diff(want, got, unitstest.Approx(1e-11)); diff != "" {
				t.Errorf("%s (-sheet +budget):\n%s", name, diff)
			}
		}
	}
	if n := reflect.TypeFor[certainty.EndBudget]().NumField(); len(seen) != n {
		t.Errorf("%d answers of %d: %v", len(seen), n, seen)
	}
}

// What is not stated is listed as exact, and only what the job has.
func TestExactInputsAreListed(t *testing.T) {
	b := propagate(t, handJob(), certainty.Uncertainty{RiderMass: 1, Front: certainty.EndUncertainty{Fill: 1e3}, Rear: certainty.EndUncertainty{SpringRate: 0.01}})
	want := []string{"bike_mass", "unsprung_front", "unsprung_rear", "rear_share", "ambient",
		"front.head_angle", "front.friction", "front.reading", "front.gas_temperature", "front.bore", "front.positive_volume", "front.oil_volume", "front.exponent",
		"rear.lever_ratio", "rear.friction", "rear.reading", "rear.preload"}
	if diff := cmp.Diff(want, b.Exact); diff != "" {
		t.Errorf("exact (-want +got):\n%s", diff)
	}
}

// An end that the load tops or bottoms out has no first-order rest, with all inputs
// exact too; what needs no rest it has.
func TestEndThatDoesNotRestHasNoRest(t *testing.T) {
	for name, one := range map[string]struct {
		preload units.Length
		rate    units.Stiffness
	}{"topped out": {0.03, tRate}, "bottomed out": {0, 10e3}} {
		j := handJob()
		j.Rear.Coil.Springs[0] = fit.ShelfSpring{Rate: one.rate}
		j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = one.preload, one.preload
		for _, u := range []certainty.Uncertainty{{}, {RiderMass: 1}} {
			b := propagate(t, j, u)
			got := slices.Sorted(maps.Keys(answers(b.Rear)))
			if diff := cmp.Diff([]string{"DropHeight", "Energy", "FullForce", "FullRatio", "IdealRate", "Load", "PreloadWanted"}, got); diff != "" {
				t.Errorf("%s (-want +got):\n%s", name, diff)
			}
			near(t, "load", effectOf(t, b.Rear.Load), float64(u.RiderMass)*tShare*tG, 1e-9)
			if b.FrequencyRatio != nil || b.Front.Sag == nil {
				t.Errorf("%s: ratio %v, sag in front %v", name, b.FrequencyRatio, b.Front.Sag)
			}
		}
	}
}

// Where one side of the difference has no rest, only the other counts: the
// stroke at rest is (load·LR − f)/k − p, just more than 0 or just less than all.
func TestDifferenceIsOneSidedNextToAnEnd(t *testing.T) {
	for name, s := range map[string]float64{"top": 1e-7, "bottom": tStroke - 1e-7} {
		j := handJob()
		rate := handForce / (s + tPreload) // N/m
		j.Rear.Coil.Springs[0] = fit.ShelfSpring{Rate: units.Stiffness(rate)}
		e := propagate(t, j, certainty.Uncertainty{RiderMass: 2}).Rear
		require.NotNil(t, e.Stroke, name)
		near(t, name+": stroke", float64(e.Stroke.Value), s, 1e-6)
		near(t, name+": effect", effectOf(t, e.Stroke), 2*tShare*tG*tRatio/rate, 1e-6)
		near(t, name+": effect on travel", effectOf(t, e.TravelLeft), -2*tShare*tG*tRatio*tRatio/rate, 1e-6)
	}
}

// At the edge of what an input can be the difference is one-sided.
func TestDifferenceIsOneSidedAtALimit(t *testing.T) {
	j := handJob()
	j.Front.Air.Exponent = 1
	e := propagate(t, j, certainty.Uncertainty{Front: certainty.EndUncertainty{Exponent: 0.05}}).Front
	near(t, "fast wheel rate", effectOf(t, e.FastWheelRate), float64(e.WheelRate.Value)*0.05, 1e-7)
	// From one side, a step of a ten-thousandth of the size, 1 for an exponent, leaves
	// an error of its own size in what bends: of rⁿ, (r^1.0001 − r)/0.0001.
	area := math.Pi / 4 * tBore * tBore
	r := (tVolume - tOil) / (tVolume - tOil - area*tFork)
	p0 := float64(sheet(t, j).Front.Air.Options[0].Fill) + tAmbient
	near(t, "full force", effectOf(t, e.FullForce), area*p0*r*math.Log(r)/math.Sin(tAngle)*0.05, 2e-4)
	near(t, "step", effectOf(t, e.FullForce), area*p0*(math.Pow(r, 1.0001)-r)/1e-4/math.Sin(tAngle)*0.05, 1e-9)

	j.Front.Air.Exponent = 2
	e = propagate(t, j, certainty.Uncertainty{Front: certainty.EndUncertainty{Exponent: 0.05}}).Front
	near(t, "fast wheel rate at the other edge", effectOf(t, e.FastWheelRate), float64(e.WheelRate.Value)*0.05, 1e-7)

	j = handJob()
	j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = 0, 0
	near(t, "no preload", effectOf(t, propagate(t, j, certainty.Uncertainty{Rear: certainty.EndUncertainty{Preload: 1e-3}}).Rear.Stroke), -1e-3, 1e-9)
}

// A coil that binds before the shock bottoms ends the travel there, by hand at
// t = solid − p of the stroke:
//
//	E = k·(solid² − p²)/2,  F = k·solid/LR,  h = E/load − LR·t
//
// so that more preload takes away travel: ∂E/∂p = −k·p, ∂F/∂p = 0, ∂t/∂p = −1,
// and as the rest moves with it, ∂(t − s)/∂p = 0.
func TestPreloadTakesTravelFromASolidSpring(t *testing.T) {
	const solid, u = 0.05, 2e-4
	const energy = tRate * (solid*solid - tPreload*tPreload) / 2
	j := handJob()
	j.Rear.Coil.Springs[0].SolidTravel = solid
	e := propagate(t, j, certainty.Uncertainty{Rear: certainty.EndUncertainty{Preload: u}}).Rear
	got := answers(e)
	for name, want := range map[string]struct{ value, effect, scale float64 }{ // and what the effect of none is to be small beside
		"Energy":     {energy, -tRate * tPreload * u, 0},
		"FullForce":  {tRate * solid / tRatio, 0, tRate * u},
		"FullRatio":  {tRate * solid / tRatio / handLoad, 0, tRate * u / handLoad},
		"DropHeight": {energy/handLoad - tRatio*(solid-tPreload), (-tRate*tPreload/handLoad + tRatio) * u, 0},
		"TravelLeft": {tRatio * (solid - handForce/tRate), 0, u},
		"EnergyLeft": {tRate * (solid*solid - math.Pow(handForce/tRate, 2)) / 2, 0, tRate * u},
	} {
		near(t, name, got[name].Value, want.value, 1e-11)
		if d := effectOf(t, got[name]) - want.effect; !(math.Abs(d) <= 1e-7*math.Abs(want.effect)+1e-8*want.scale) {
			t.Errorf("%s: effect %v, want %v", name, effectOf(t, got[name]), want.effect)
		}
	}
}
