package visit_test

import (
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// ends are a coil spring and an air spring as they are set, and readings of either.
func coilAndAir() (coil, air visit.Setting, ofCoil, ofAir []visit.Reading) {
	coil = visit.Setting{Sag: 0.3, Friction: 40,
		Curve: linkage.Spec{Table: &linkage.Table{Stroke: []units.Length{0, 0.02, 0.04, 0.06}, Travel: []units.Length{0, 0.058, 0.112, 0.16}}},
		Coil:  &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 80e3, SolidTravel: 0.07}, Preload: 0.002, Collar: fit.Collar{PreloadMin: 1e-3, PreloadMax: 5e-3, ThreadPitch: 1.5e-3}}}
	air = visit.Setting{Sag: 0.2, Friction: 20, Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 1.1, Travel: 0.16}},
		Air: &visit.AirSetting{MaxFill: 1e6, Spec: airspring.Spec{Bore: 0.036, Shaft: 0.01, Travel: 0.16, PositiveVolume: 230e-6, NegativeVolume: 50e-6,
			PortTravel: 0.008, SpacerVolume: 3e-6, Spacers: 1, Fill: 5e5, Ambient: 101325, Exponent: 1.3}}}
	return coil, air, []visit.Reading{{Stroke: 0.018, Error: 5e-4}, {Stroke: 0.0185, Error: 5e-4}}, []visit.Reading{{Stroke: 0.03, Error: 1e-3}, {Stroke: 0.032, Error: 1e-3}}
}

// Whatever is next to nothing or enormous, what a visit says has finite numbers, or it is refused.
func TestReportsAreFinite(t *testing.T) {
	coil, air, ofCoil, ofAir := coilAndAir()
	for _, load := range []units.Force{300, 800, 1300} { // too little, near the readings, too much
		unitstest.FiniteOrRefused(t, "coil", series{Setting: coil, Load: load, Readings: ofCoil}, series.Report)
		unitstest.FiniteOrRefused(t, "air", series{Setting: air, Load: load, Readings: ofAir}, series.Report)
	}
	type asked struct {
		Setting visit.Setting
		Load    units.Force
	}
	for _, s := range []visit.Setting{coil, air} {
		unitstest.FiniteOrRefused(t, "correction", asked{s, 700}, func(a asked) (visit.Correction, error) { return corrected(a.Setting, a.Load) })
	}
}

func TestChangesAreFinite(t *testing.T) {
	coil, air, _, _ := coilAndAir()
	from := sag.Masses{RiderMass: 80, BikeMass: 18, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), RearShare: 0.6}
	to := from
	to.RiderMass = 85
	unitstest.FiniteOrRefused(t, "change", change{
		From:  visit.Situation{Masses: from, Conditions: &airspring.Conditions{Temperature: 290, Altitude: 200}},
		To:    visit.Situation{Masses: to, Conditions: &airspring.Conditions{Temperature: 300, Altitude: 2000}},
		Front: &air, Rear: &coil,
	}, change.effect)
}

func TestRecordsAreFinite(t *testing.T) {
	job := sagtest.Job(t, sagtest.JobText)
	unitstest.FiniteOrRefused(t, "record", job, func(j setup.Job) (visit.Record, error) {
		s, err := setup.NewSheet(j)
		if err != nil {
			return visit.Record{}, err
		}
		return visit.NewRecord("2024-05-04", j, s)
	})
	r, err := visit.NewRecord("2024-05-04", job, sagtest.Sheet(t, job))
	if err != nil {
		t.Fatal(err)
	}
	r.Job = nil // of which the record has all that counts here
	r.Front.Readings, r.Rear.Readings = []visit.Reading{{Stroke: 0.03, Error: 1e-3}}, []visit.Reading{{Stroke: 0.018, Error: 1e-3}}
	heavier := job.Masses
	heavier.RiderMass = 85
	unitstest.FiniteOrRefused(t, "another rider", r, func(r visit.Record) (*changed, error) { return to(r, visit.Situation{Masses: heavier}).effect() })
	for _, axle := range []sag.Axle{sag.Front, sag.Rear} {
		unitstest.FiniteOrRefused(t, string(axle), r, func(r visit.Record) (*visit.Report, error) {
			a, err := r.Arrive(axle, r.Situation, 0)
			if err != nil {
				return nil, err
			}
			return a.Report(a.Now.Load, map[sag.Axle]*visit.EndRecord{sag.Front: r.Front, sag.Rear: r.Rear}[axle].Readings)
		})
	}
}

// A friction or a load of next to nothing has no relative change, as one of 0 has none.
func TestExplanationsOfNextToNothing(t *testing.T) {
	_, air, _, ofAir := coilAndAir()
	for _, stated := range []units.Force{0, 1e-310, 1e-9, 1e-3} {
		air.Friction = stated
		report, err := series{Setting: air, Load: 300, Readings: ofAir}.Report()
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range report.Explanations {
			if e.Cause == visit.CauseFriction && (e.Relative != 0) != (stated == 1e-3) {
				t.Errorf("%v: relative change %v", stated, e.Relative)
			}
		}
	}
}
