package sag

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/diff/fd"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

// What handJob's rear wheel carries, and the force that this is at its spring.
const (
	handLoad  = (tShare*(tRider+tBike) - tUnsprungRear) * tG
	handForce = handLoad * tRatio
)

// A coil that binds before the shock bottoms ends the travel there, by hand at
// t = solid − p of the stroke:
//
//	E = k·(solid² − p²)/2,  F = k·solid/LR,  h = E/load − LR·t
//
// so that more preload takes away travel: ∂E/∂p = −k·p, ∂F/∂p = 0, ∂t/∂p = −1,
// and as the rest moves with it, ∂(t − s)/∂p = 0.
func TestPropagateGoesSolid(t *testing.T) {
	const solid, u = 0.05, 2e-4
	const energy = tRate * (solid*solid - tPreload*tPreload) / 2
	j := handJob()
	j.Rear.Coil.Shelf[0].SolidTravel = solid
	e := propagate(t, j, Uncertainty{Rear: EndUncertainty{Preload: u}}).Rear
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

// Where one side of the difference has no rest, only the other counts: the
// stroke at rest is (load·LR − f)/k − p, just more than 0 or just less than all.
func TestPropagateNextToAnEnd(t *testing.T) {
	for name, s := range map[string]float64{"top": 1e-7, "bottom": tStroke - 1e-7} {
		j := handJob()
		rate := handForce / (s + tPreload) // N/m
		j.Rear.Coil.Shelf[0] = ShelfSpring{Rate: units.Stiffness(rate)}
		e := propagate(t, j, Uncertainty{RiderMass: 2}).Rear
		require.NotNil(t, e.Stroke, name)
		near(t, name+": stroke", float64(e.Stroke.Value), s, 1e-6)
		near(t, name+": effect", effectOf(t, e.Stroke), 2*tShare*tG*tRatio/rate, 1e-6)
		near(t, name+": effect on travel", effectOf(t, e.TravelLeft), -2*tShare*tG*tRatio*tRatio/rate, 1e-6)
	}
	// No rest is told of an end that has none, even with every input exact.
	for name, preload := range map[string]units.Length{"top": 0.03, "bottom": 0} {
		j := handJob()
		j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = preload, preload
		if preload == 0 {
			j.Rear.Coil.Shelf[0] = ShelfSpring{Rate: 10e3}
		}
		b := propagate(t, j, Uncertainty{})
		e := b.Rear
		if e.Sag != nil || e.ShockSag != nil || e.Travel != nil || e.Stroke != nil || e.StrokeReading != nil || e.TravelLeft != nil || e.EnergyLeft != nil || e.WheelRate != nil || e.FastFrequency != nil || b.FrequencyRatio != nil {
			t.Errorf("%s: a rest: %+v", name, e)
		}
		if e.Load == nil || e.Energy == nil || b.Front.Sag == nil {
			t.Errorf("%s: what needs no rest is missing: %+v", name, e)
		}
	}
}

// The difference goes over a ten-thousandth of the input's size, 1 for an
// exponent, and at the edge of 1 upwards alone: of r^n, (r^1.0001 − r)/0.0001.
func TestPropagateStep(t *testing.T) {
	const u, step = 0.05, 1e-4
	j := handJob()
	j.Front.Air.Exponent = 1
	e := propagate(t, j, Uncertainty{Front: EndUncertainty{Exponent: u}}).Front
	area := math.Pi / 4 * tBore * tBore
	r := (tVolume - tOil) / (tVolume - tOil - area*tFork)
	p0 := float64(sheet(t, j).Front.Air.Options[0].Fill) + tAmbient
	near(t, "full force", effectOf(t, e.FullForce), area*p0*(math.Pow(r, 1+step)-r)/step/math.Sin(tAngle)*u, 1e-9)
}

// The share is (a + δ)/(L + δ′): more of a puts more on the rear wheel, more of
// L less. A scale that reads too little stands for too light a wheel.
func TestPropagateMassesHaveASign(t *testing.T) {
	const l, a = 1.25, 0.75
	j := handJob()
	j.Masses.RearShare, j.Masses.Wheelbase, j.Masses.MassCentreBehindFrontAxle = 0, l, a
	b := propagate(t, j, Uncertainty{MassCentreBehindFrontAxle: 0.02})
	near(t, "mass centre, rear", effectOf(t, b.Rear.Load), 0.02/l*100*tG, 1e-9)
	near(t, "mass centre, front", effectOf(t, b.Front.Load), -0.02/l*100*tG, 1e-9)
	b = propagate(t, j, Uncertainty{Wheelbase: 0.01})
	near(t, "wheelbase, rear", effectOf(t, b.Rear.Load), -0.01*a/(l*l)*100*tG, 1e-7)
	near(t, "wheelbase, front", effectOf(t, b.Front.Load), 0.01*a/(l*l)*100*tG, 1e-7)
	j = handJob()
	j.Masses.RearShare, j.Masses.RiderMass, j.Masses.FrontScale, j.Masses.RearScale = 0, 0, 40, 60
	b = propagate(t, j, Uncertainty{FrontScale: 0.3})
	near(t, "front scale", effectOf(t, b.Front.Load), 0.3*tG, 1e-9)
	near(t, "on the rear", effectOf(t, b.Rear.Load), 0, 0)
	b = propagate(t, j, Uncertainty{RearScale: 0.4})
	near(t, "rear scale", effectOf(t, b.Rear.Load), 0.4*tG, 1e-9)
}

// No bike stands on a spring that carries nothing, nor on a curve without travel.
func TestModelOfWhatCannotBe(t *testing.T) {
	j := handJob()
	j.Masses.RearShare, j.Masses.RiderMass, j.Masses.FrontScale, j.Masses.RearScale = 0, 0, 40, 60
	for name, spoil := range map[string]func(*deviations){
		"no load":          func(d *deviations) { d.scale[1] = -57 }, // of 60 kg less 3 kg
		"less than none":   func(d *deviations) { d.scale[1] = -58 },
		"no travel":        func(d *deviations) { d.end[1].ratio = -1 },
		"a travel below 0": func(d *deviations) { d.end[1].ratio = -1.5 },
	} {
		m := modelFor(t, j, Uncertainty{})
		spoil(&m.off)
		o := m.work(1)
		if o.state != impossible {
			t.Errorf("%s: state %d", name, o.state)
		}
		for k, x := range o.answer {
			if !math.IsNaN(x) {
				t.Errorf("%s: answer %d is %v", name, k, x)
			}
		}
	}
	m := modelFor(t, j, Uncertainty{})
	m.off.scale[1] = -56.5
	if o := m.work(1); o.state != toppedOut {
		t.Errorf("next to no load: state %d", o.state)
	}
}

// However low its wheel rate, a wheel has a frequency √(k_w·g/load)/2π.
func TestPropagateHardlyAnyRate(t *testing.T) {
	const rate = 5.0 // N/m: 0.8 N/m at the wheel, and 280 m of preload
	const preload = handForce/rate - tSag*tStroke
	j := handJob()
	j.Rear.Coil.Shelf[0] = ShelfSpring{Rate: rate}
	j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = preload, preload
	e := propagate(t, j, Uncertainty{}).Rear
	require.NotNil(t, e.Frequency)
	near(t, "wheel rate", float64(e.WheelRate.Value), rate/(tRatio*tRatio), 1e-12)
	near(t, "frequency", float64(e.Frequency.Value), math.Sqrt(rate/(tRatio*tRatio)*tG/handLoad)/(2*math.Pi), 1e-12)
}

// Gas that is warmer by a part δ of its absolute temperature has that much
// more of its absolute pressure, in both chambers: against differences of
// springs filled by hand to p + δ·(p + p_a).
func TestPropagateWarmsBothChambers(t *testing.T) {
	const travel, u = 0.065, 0.02
	j := readJob(t, jobText)
	j.Rear.Coil = nil
	j.Rear.Air = &AirChoice{MaxFill: units.BarGauge(40), Spec: airspring.Spec{
		Bore: bore, Travel: travel, PositiveVolume: volume, SecondVolume: 30e-6, SecondFill: units.BarGauge(22), Exponent: fast,
	}}
	s, c := sheet(t, j).Rear, curveOf(t, j.Rear)
	fill := float64(s.Air.Options[0].Fill)
	spec := func(d, exponent float64) *airspring.Spring {
		spec := j.Rear.Air.Spec
		spec.Ambient, spec.Exponent = j.Ambient, exponent
		spec.Fill = units.GaugePressure(fill + d*(fill+float64(j.Ambient)))
		spec.SecondFill = units.GaugePressure(22e5 + d*(22e5+float64(j.Ambient)))
		law, err := airspring.New(spec)
		require.NoError(t, err)
		return law
	}
	h := &fd.Settings{Formula: fd.Central, Step: u / 30}
	stroke := fd.Derivative(func(d float64) float64 {
		r, err := Settle(c, spec(d, 1), s.Load, 0)
		require.NoError(t, err)
		return float64(r.Stroke)
	}, 0, h)
	full := fd.Derivative(func(d float64) float64 { return float64(spec(d, fast).Force(travel)) / c.LeverRatio(travel) }, 0, h)
	e := propagate(t, j, Uncertainty{Rear: EndUncertainty{GasTemperature: u}}).Rear
	near(t, "stroke", effectOf(t, e.Stroke), stroke*u, 1e-4)
	near(t, "full force", effectOf(t, e.FullForce), full*u, 1e-6)
}
