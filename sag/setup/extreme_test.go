package setup_test

import (
	"testing"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// full is the plain job with all that a sheet can have.
func full(t *testing.T) setup.Job {
	j := plainJob(t)
	j.Masses.Wheelbase, j.Masses.MassCentreHeight, j.Masses.BikeRearShare = 1.2, 1.05, 0.5
	j.Stances = []setup.NamedStance{{Name: "seated", RearShare: 0.7}}
	j.Front.Friction, j.Front.Damping, j.Front.DropHeight = 40, 300, 1
	j.Rear.Friction, j.Rear.DampingRatio, j.Rear.DropHeight = 60, 0.3, 1
	j.Uncertainty = &certainty.Uncertainty{RiderMass: 2, BikeMass: 0.5,
		Front: certainty.EndUncertainty{SpringRate: 0.02, Preload: 2e-4, Friction: 10, Reading: 1e-3},
		Rear:  certainty.EndUncertainty{SpringRate: 0.02, Preload: 2e-4, Friction: 5, LeverRatio: 0.01}}
	return j
}

// Whatever is next to nothing or enormous in a job, its sheet has finite numbers, as data and as
// text, or the job is refused.
func TestSheetsAreFinite(t *testing.T) {
	answer := func(j setup.Job) ([]any, error) {
		s, err := setup.NewSheet(j)
		if err != nil {
			return nil, err
		}
		return []any{s, s.Working(sag.Front), s.Working(sag.Rear)}, nil
	}
	air := readJob(t, jobText)
	air.Front.Damping, air.Front.DropHeight = 300, 0.5
	air.Masses.BikeRearShare = 0.55
	unitstest.FiniteOrRefused(t, "coils", full(t), answer)
	unitstest.FiniteOrRefused(t, "air in front", air, answer)
	one, two := fork.reading(78, 46, ""), fork.reading(78, 24, "")
	unitstest.FiniteOrRefused(t, "two readings", gaugeJob(t, one, two), answer)
	unitstest.FiniteOrRefused(t, "one reading", gaugeJob(t, one), answer)
	b := template(t)
	unitstest.FiniteOrRefused(t, "rider", 80*units.Kilogram, func(rider units.Mass) (*setup.Sheet, error) { return b.Sheet(rider) })
}

func TestSimulationsAreFinite(t *testing.T) {
	if !unitstest.Long() {
		t.Skip("the draws of every job take the time of a long run")
	}
	unitstest.FiniteOrRefused(t, "draws", full(t), func(j setup.Job) (*certainty.Budget, error) {
		s, err := setup.NewSheet(j)
		if err != nil {
			return nil, err
		}
		return certainty.Simulate(s.Setup(), *j.Uncertainty, 100, 1)
	})
}

// A spring so soft that no preload makes it carry the load is refused by its rate, and lengths beyond a
// kilometre are refused by name.
func TestShelfBeyondAnySpring(t *testing.T) {
	for field, change := range map[string]func(*setup.Job){
		"rear.coil.shelf[0].rate":         func(j *setup.Job) { j.Rear.Coil.Springs[0].Rate = 5e-324 },
		"rear.coil.shelf[0].solid_travel": func(j *setup.Job) { j.Rear.Coil.Springs[0].SolidTravel = 1001 },
		"rear.coil.preload_max":           func(j *setup.Job) { j.Rear.Coil.PreloadMax = 1001 },
	} {
		j := plainJob(t)
		change(&j)
		_, err := setup.NewSheet(j)
		if got := names(err); len(got) != 1 || got[0] != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}
