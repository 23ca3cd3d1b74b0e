package certainty_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

const demoText = sagtest.JobText

var near, named, names, sheet = sagtest.Near, sagtest.Named, sagtest.Names, sagtest.Sheet

func demoJob(t testing.TB) setup.Job { return sagtest.Job(t, demoText) }

// What handJob is made of, in SI units: 100 kg of which 60 % stand behind, a
// constant ratio there over 60 mm, a fork with one chamber in front.
const (
	tG                             = 9.80665
	tRider, tBike, tShare          = 80.0, 20.0, 0.6
	tUnsprungFront, tUnsprungRear  = 2.0, 3.0
	tRatio, tStroke, tSag          = 2.5, 0.060, 0.28
	tRate, tPreload                = 85e3, 0.004
	tBore, tVolume, tOil, tAmbient = 0.035, 260e-6, 10e-6, 98e3
	tFork, tForkSag, tExponent     = 0.160, 0.2, 1.3
	tAngle                         = 64 * math.Pi / 180
)

// What handJob's rear wheel carries, the force that this is at its spring, and the
// rate that is wanted there: 1397.4476 N over 20.8 mm.
const (
	handLoad  = (tShare*(tRider+tBike) - tUnsprungRear) * tG
	handForce = handLoad * tRatio
	handIdeal = handForce / (tSag*tStroke + tPreload)
)

// handJob has closed forms for every answer. The collar stands at tPreload
// whatever is wanted.
func handJob() setup.Job {
	return setup.Job{
		Schema:  setup.JobSchema,
		Masses:  sag.Masses{RiderMass: tRider, BikeMass: tBike, UnsprungFront: new(units.Mass(tUnsprungFront)), UnsprungRear: new(units.Mass(tUnsprungRear)), RearShare: tShare},
		Ambient: tAmbient,
		Front: &setup.EndJob{Spec: fit.Spec{
			Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: tAngle, Travel: tFork}}, Sag: tForkSag,
			Air: &fit.Chamber{NegativeChamber: fit.None, Spec: airspring.Spec{Bore: tBore, PositiveVolume: tVolume, OilVolume: tOil, Exponent: tExponent}, MaxFill: units.BarGauge(10)},
		}},
		Rear: &setup.EndJob{Spec: fit.Spec{
			Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: tRatio, Travel: tRatio * tStroke}}, Sag: tSag,
			Coil: &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: tRate, SolidTravel: 0.07}}, Collar: fit.Collar{PreloadMin: tPreload, PreloadMax: tPreload}},
		}},
	}
}

// shelfJob is handJob with a shelf whose springs all get the same preload.
func shelfJob(rates ...units.Stiffness) setup.Job {
	j := handJob()
	j.Rear.Coil.Springs = nil
	for _, k := range rates {
		j.Rear.Coil.Springs = append(j.Rear.Coil.Springs, fit.ShelfSpring{Rate: k, SolidTravel: 0.08})
	}
	return j
}

// centreJob and scaleJob are handJob with its loads said in other ways.
func centreJob(wheelbase, centre units.Length) setup.Job {
	j := handJob()
	j.Masses.RearShare, j.Masses.Wheelbase, j.Masses.MassCentreBehindFrontAxle = 0, wheelbase, centre
	return j
}

func scaleJob(front, rear units.Mass) setup.Job {
	j := handJob()
	j.Masses.RearShare, j.Masses.RiderMass, j.Masses.FrontScale, j.Masses.RearScale = 0, 0, front, rear
	return j
}

// What wholeJob adds to handJob: the geometry of the whole bike, and a drop onto each end.
const (
	tWheelbase, tHeight         = 1.24, 1.05
	tFrontRadius, tRearRadius   = 0.372, 0.351
	tOffset, tBracket, tStay    = 0.044, 0.345, 0.442
	tFrontDrop, tRearDrop       = 0.15, 0.25
	tFrontDamping, tRearDamping = 300.0, 700.0 // N·s/m
)

// wholeJob is handJob with both ends settled together and landing.
func wholeJob() setup.Job {
	j := handJob()
	m := &j.Masses
	m.Wheelbase, m.MassCentreHeight, m.FrontWheelRadius, m.RearWheelRadius = tWheelbase, tHeight, tFrontRadius, tRearRadius
	m.ForkOffset, m.BottomBracketHeight, m.ChainstayLength = new(units.Length(tOffset)), tBracket, tStay
	j.Front.DropHeight, j.Front.Damping = tFrontDrop, tFrontDamping
	j.Rear.DropHeight, j.Rear.Damping = tRearDrop, tRearDamping
	return j
}

// table makes the rear curve of a job a smooth table of points.
func table(j *setup.Job, travel ...units.Length) {
	t := &linkage.Table{Travel: travel}
	for i := range travel {
		t.Stroke = append(t.Stroke, tStroke*units.Length(i)/units.Length(len(travel)-1))
	}
	if len(travel) > 3 {
		t.Method = linkage.Smooth
	}
	j.Rear.Curve = linkage.Spec{Table: t}
}

// demoUncertainty is of most inputs of demoText, invented.
func demoUncertainty() certainty.Uncertainty {
	return certainty.Uncertainty{
		RiderMass: 0.5, BikeMass: 0.1, UnsprungFront: 0.2, UnsprungRear: 0.2, RearShare: 0.005, Ambient: 300,
		Front: certainty.EndUncertainty{HeadAngle: 0.005, Fill: 5e3, PositiveVolume: 2e-6, NegativeVolume: 1e-6, GasTemperature: 0.005, Friction: 5},
		Rear:  certainty.EndUncertainty{SpringRate: 0.02, Preload: 3e-4, TableTravel: 2e-4, LeverRatio: 0.002, Friction: 15, Reading: 5e-4},
	}
}

// airJob is the demonstration with an air spring of the spec behind, over its 65 mm.
func airJob(t testing.TB, spec airspring.Spec) setup.Job {
	j := demoJob(t)
	spec.Bore, spec.Travel, spec.PositiveVolume, spec.Exponent = 0.045, 0.065, 190e-6, 1.4
	j.Rear.Coil, j.Rear.Air = nil, &fit.Chamber{Spec: spec, MaxFill: units.BarGauge(40)}
	if spec.NegativeVolume == 0 {
		j.Rear.Air.NegativeChamber = fit.None
	}
	return j
}

func propagate(t testing.TB, j setup.Job, u certainty.Uncertainty) *certainty.Budget {
	t.Helper()
	b, err := certainty.Propagate(sheet(t, j).Setup(), u)
	require.NoError(t, err)
	return b
}

func simulate(t testing.TB, j setup.Job, u certainty.Uncertainty, n int, seed uint64) *certainty.Budget {
	t.Helper()
	s, err := certainty.Simulate(sheet(t, j).Setup(), u, n, seed)
	require.NoError(t, err)
	return s
}

// effectOf is what a single uncertain input does to an answer, 0 for nothing.
func effectOf[Q ~float64](t *testing.T, a *certainty.Answer[Q]) float64 {
	t.Helper()
	require.NotNil(t, a)
	switch len(a.Contributions) {
	case 0:
		near(t, "uncertainty of no contributions", float64(a.Uncertainty), 0, 0)
		return 0
	case 1:
		near(t, "uncertainty of one contribution", float64(a.Uncertainty), math.Abs(float64(a.Contributions[0].Effect)), 1e-15)
		near(t, "its share", a.Contributions[0].Share, 1, 1e-15)
		return float64(a.Contributions[0].Effect)
	}
	t.Errorf("more than one input contributes: %+v", a.Contributions)
	return math.NaN()
}
