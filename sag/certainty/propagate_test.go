package certainty_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

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
		t.Run(test.name, func(t *testing.T) {
			e := propagate(t, handJob(), test.u).Rear
			at := func(what string, got, want float64) {
				t.Helper()
				near(t, what, got, want*test.by, 1e-7)
			}
			x := test.want
			at("load", effectOf(t, e.Load), x.load)
			at("ideal rate", effectOf(t, e.IdealRate), x.ideal)
			at("preload wanted", effectOf(t, e.PreloadWanted), x.wanted)
			at("stroke", effectOf(t, e.Stroke), x.s)
			at("shock sag", effectOf(t, e.ShockSag), x.s/tStroke)
			at("sag", effectOf(t, e.Sag), x.s/tStroke)
			at("travel", effectOf(t, e.Travel), x.w)
			at("wheel rate", effectOf(t, e.WheelRate), x.kw)
			at("fast wheel rate", effectOf(t, e.FastWheelRate), x.kw)
			at("frequency", effectOf(t, e.Frequency), x.freq)
			at("fast frequency", effectOf(t, e.FastFrequency), x.freq)
			at("energy left", effectOf(t, e.EnergyLeft), x.left)
			at("energy", effectOf(t, e.Energy), x.energy)
			at("drop height", effectOf(t, e.DropHeight), x.drop)
			at("full force", effectOf(t, e.FullForce), x.full)
			at("full ratio", effectOf(t, e.FullRatio), x.ratio)
			reading, travelLeft := x.s, -x.w
			switch test.name {
			case "rear.reading":
				reading = 1
			case "rear.lever_ratio":
				travelLeft += tRatio * tStroke
			}
			at("reading", effectOf(t, e.StrokeReading), reading)
			at("travel left", effectOf(t, e.TravelLeft), travelLeft)
			if e.FillWanted != nil {
				t.Error("a coil has no fill")
			}
		})
	}
}

// Worked by hand: with u(m) = 2 kg, u(q) = 0.01, u(k)/k = 3 % and u(p) = 0.5 mm,
// in mm at the shock,
//
//	rider  2·0.6·g·2.5/85e3   = 0.346117 mm
//	share  0.01·100·g·2.5/85e3 = 0.288431 mm
//	rate   0.03·1397.4476/85e3 = 0.493217 mm
//	preload                    = 0.5 mm
//
// u² = 0.119797 + 0.083192 + 0.243263 + 0.25 = 0.696252 mm², u = 0.834417 mm.
func TestContributionsAddBySquares(t *testing.T) {
	u := certainty.Uncertainty{RiderMass: 2, RearShare: 0.01, Rear: certainty.EndUncertainty{SpringRate: 0.03, Preload: 5e-4}}
	a := propagate(t, handJob(), u).Rear.Stroke
	near(t, "stroke", float64(a.Uncertainty), 0.834417e-3, 1e-6)
	if a.Dominant != "rear.preload" {
		t.Errorf("dominant %q", a.Dominant)
	}
	wants := []struct {
		input         string
		effect, share float64
	}{
		{"rear.preload", -0.5e-3, 0.25 / 0.696252}, {"rear.spring_rate", -0.493217e-3, 0.243263 / 0.696252},
		{"rider_mass", 0.346117e-3, 0.119797 / 0.696252}, {"rear_share", 0.288431e-3, 0.083192 / 0.696252},
	}
	require.Len(t, a.Contributions, len(wants))
	total := 0.0
	for i, want := range wants {
		got := a.Contributions[i]
		if got.Input != want.input {
			t.Errorf("contribution %d is %q, want %q", i, got.Input, want.input)
		}
		near(t, want.input, float64(got.Effect), want.effect, 3e-6)
		near(t, want.input+" share", got.Share, want.share, 1e-5)
		total += got.Share
	}
	near(t, "shares", total, 1, 1e-14)
	// To first order, twice the errors are twice the uncertainty.
	u = certainty.Uncertainty{RiderMass: 4, RearShare: 0.02, Rear: certainty.EndUncertainty{SpringRate: 0.06, Preload: 1e-3}}
	near(t, "doubled", float64(propagate(t, handJob(), u).Rear.Stroke.Uncertainty), 2*float64(a.Uncertainty), 1e-14)
}

// The share is (a + δ)/(L + δ′): more of a puts more on the rear wheel, more of L
// less, and u(q)² = (u(a)/L)² + (a·u(L)/L²)².
func TestMassCentreErrorsSetTheShare(t *testing.T) {
	const l, a = 1.25, 0.75
	j := centreJob(l, a)
	b := propagate(t, j, certainty.Uncertainty{Wheelbase: 0.01, MassCentreBehindFrontAxle: 0.02})
	q := math.Hypot(0.02/l, a*0.01/(l*l))
	near(t, "rear", float64(b.Rear.Load.Uncertainty), q*100*tG, 1e-7)
	near(t, "front", float64(b.Front.Load.Uncertainty), q*100*tG, 1e-7)
	b = propagate(t, j, certainty.Uncertainty{MassCentreBehindFrontAxle: 0.02})
	near(t, "mass centre, rear", effectOf(t, b.Rear.Load), 0.02/l*100*tG, 1e-9)
	near(t, "mass centre, front", effectOf(t, b.Front.Load), -0.02/l*100*tG, 1e-9)
	b = propagate(t, j, certainty.Uncertainty{Wheelbase: 0.01})
	near(t, "wheelbase, rear", effectOf(t, b.Rear.Load), -0.01*a/(l*l)*100*tG, 1e-7)
	near(t, "wheelbase, front", effectOf(t, b.Front.Load), 0.01*a/(l*l)*100*tG, 1e-7)
}

// With scales under the wheels each end's load errs by itself, and a scale that reads
// too little stands for too light a wheel.
func TestScalesErrByThemselves(t *testing.T) {
	j := scaleJob(40, 60)
	b := propagate(t, j, certainty.Uncertainty{FrontScale: 0.3, RearScale: 0.4, UnsprungRear: 0.3})
	near(t, "front", float64(b.Front.Load.Uncertainty), 0.3*tG, 1e-9)
	near(t, "rear", float64(b.Rear.Load.Uncertainty), 0.5*tG, 1e-9)
	near(t, "rear load", float64(b.Rear.Load.Value), 57*tG, 1e-12)
	b = propagate(t, j, certainty.Uncertainty{FrontScale: 0.3})
	near(t, "front scale", effectOf(t, b.Front.Load), 0.3*tG, 1e-9)
	near(t, "on the rear", effectOf(t, b.Rear.Load), 0, 0)
	b = propagate(t, j, certainty.Uncertainty{RearScale: 0.4})
	near(t, "rear scale", effectOf(t, b.Rear.Load), 0.4*tG, 1e-9)
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

// The values are those of the sheet.
func TestValuesAreThoseOfTheSheet(t *testing.T) {
	swapped := demoJob(t)
	swapped.Front.Coil, swapped.Front.Air = swapped.Rear.Coil, nil
	swapped.Rear.Coil, swapped.Rear.Air = nil, &fit.Chamber{Spec: airspring.Spec{Bore: 0.045, PositiveVolume: 190e-6, Exponent: 1.4, SecondVolume: 40e-6, SecondFill: units.BarGauge(25)}, MaxFill: units.BarGauge(40)}
	for name, j := range map[string]setup.Job{"air in front": demoJob(t), "coil in front": swapped, "plain": handJob()} {
		t.Run(name, func(t *testing.T) {
			s, b := sheet(t, j), propagate(t, j, certainty.Uncertainty{})
			for i, e := range []*certainty.EndBudget{&b.Front, &b.Rear} {
				w := []*setup.EndSheet{&s.Front, &s.Rear}[i]
				is := func(what string, got, want float64) {
					t.Helper()
					near(t, fmt.Sprint(i, " ", what), got, want, 1e-11)
				}
				is("load", float64(e.Load.Value), float64(w.Load))
				is("sag", e.Sag.Value, w.Rest.Sag)
				is("shock sag", e.ShockSag.Value, w.Rest.ShockSag)
				is("travel", float64(e.Travel.Value), float64(w.Rest.Travel))
				is("stroke", float64(e.Stroke.Value), float64(w.Rest.Stroke))
				is("reading", float64(e.StrokeReading.Value), float64(w.Measure[0].Expected))
				is("wheel rate", float64(e.WheelRate.Value), float64(w.Rest.WheelRate))
				is("frequency", float64(e.Frequency.Value), float64(w.Rest.Frequency))
				is("fast wheel rate", float64(e.FastWheelRate.Value), float64(w.FastWheelRate))
				is("fast frequency", float64(e.FastFrequency.Value), float64(w.FastFrequency))
				is("travel left", float64(e.TravelLeft.Value), float64(w.TravelLeft))
				is("energy left", float64(e.EnergyLeft.Value), float64(w.EnergyLeft))
				is("energy", float64(e.Energy.Value), float64(w.Reserve.Energy))
				is("drop height", float64(e.DropHeight.Value), float64(w.Reserve.DropHeight))
				is("full force", float64(e.FullForce.Value), float64(w.Reserve.FullForce))
				is("full ratio", e.FullRatio.Value, w.FullRatio)
				if w.Coil != nil {
					is("ideal rate", float64(e.IdealRate.Value), float64(w.Coil.IdealRate))
					is("preload wanted", float64(e.PreloadWanted.Value), float64(w.Coil.Candidates[0].PreloadWanted))
				} else {
					is("fill wanted", float64(e.FillWanted.Value), float64(w.Air.Options[0].FillWanted))
				}
				if e.Load.Uncertainty != 0 || e.Load.Dominant != "" || len(e.Load.Contributions) != 0 {
					t.Errorf("everything exact, yet %+v", e.Load)
				}
			}
		})
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
	for _, test := range []struct {
		name    string
		preload units.Length
		rate    units.Stiffness
	}{{"topped out", 0.03, tRate}, {"bottomed out", 0, 10e3}} {
		t.Run(test.name, func(t *testing.T) {
			j := handJob()
			j.Rear.Coil.Springs[0] = fit.ShelfSpring{Rate: test.rate}
			j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = test.preload, test.preload
			for _, u := range []certainty.Uncertainty{{}, {RiderMass: 1}} {
				b := propagate(t, j, u)
				e := b.Rear
				if e.Sag != nil || e.ShockSag != nil || e.Travel != nil || e.Stroke != nil || e.StrokeReading != nil || e.TravelLeft != nil || e.EnergyLeft != nil ||
					e.WheelRate != nil || e.Frequency != nil || e.FastWheelRate != nil || e.FastFrequency != nil || b.FrequencyRatio != nil {
					t.Errorf("a rest: %+v", e)
				}
				near(t, "load", effectOf(t, e.Load), float64(u.RiderMass)*tShare*tG, 1e-9)
				if e.IdealRate == nil || e.PreloadWanted == nil || e.Energy == nil || e.DropHeight == nil || e.FullForce == nil || e.FullRatio == nil || b.Front.Sag == nil {
					t.Errorf("what needs no rest is missing: %+v", e)
				}
			}
		})
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
	near(t, "energy", float64(e.Energy.Value), energy, 1e-12)
	near(t, "full force", float64(e.FullForce.Value), tRate*solid/tRatio, 1e-12)
	near(t, "full ratio", e.FullRatio.Value, tRate*solid/tRatio/handLoad, 1e-12)
	near(t, "drop height", float64(e.DropHeight.Value), energy/handLoad-tRatio*(solid-tPreload), 1e-11)
	near(t, "travel left", float64(e.TravelLeft.Value), tRatio*(solid-handForce/tRate), 1e-12)
	near(t, "effect on energy", effectOf(t, e.Energy), -tRate*tPreload*u, 1e-7)
	near(t, "effect on drop height", effectOf(t, e.DropHeight), (-tRate*tPreload/handLoad+tRatio)*u, 1e-7)
	for what, effect := range map[string]float64{
		"full force": effectOf(t, e.FullForce) / tRate, "travel left": effectOf(t, e.TravelLeft), "energy left": effectOf(t, e.EnergyLeft) / tRate,
	} {
		if math.Abs(effect) > 1e-8*u {
			t.Errorf("%s: effect %v, want none", what, effect)
		}
	}
	// The sheet has the same.
	s := sheet(t, j).Rear
	near(t, "energy of the sheet", float64(s.Reserve.Energy), energy, 1e-12)
}

// However low its wheel rate, a wheel has a frequency √(k_w·g/load)/2π.
func TestFrequencyOfHardlyAnyRate(t *testing.T) {
	const rate = 5.0 // N/m: 0.8 N/m at the wheel, and 280 m of preload
	const preload = handForce/rate - tSag*tStroke
	j := handJob()
	j.Rear.Coil.Springs[0] = fit.ShelfSpring{Rate: rate}
	j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = preload, preload
	e := propagate(t, j, certainty.Uncertainty{}).Rear
	require.NotNil(t, e.Frequency)
	near(t, "wheel rate", float64(e.WheelRate.Value), rate/(tRatio*tRatio), 1e-12)
	near(t, "frequency", float64(e.Frequency.Value), math.Sqrt(rate/(tRatio*tRatio)*tG/handLoad)/(2*math.Pi), 1e-12)
}
