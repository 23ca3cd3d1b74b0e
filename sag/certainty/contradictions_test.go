package certainty_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// drawnShelfJob is the demonstration with a drawn rider, shelf, collar and friction behind.
func drawnShelfJob(t *testing.T, r *rand.Rand) setup.Job {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	either := func(v float64) float64 { return v * float64(r.IntN(2)) }
	j := demoJob(t)
	j.Front = nil
	j.Masses.RiderMass = units.Mass(between(55, 110))
	j.Rear.Friction = units.Force(either(between(5, 60)))
	s := &fit.Shelf{Collar: fit.Collar{PreloadMin: units.Length(either(1e-3)), ThreadPitch: units.Length(either(1.5e-3))}}
	s.PreloadMax = s.PreloadMin + units.Length(either(between(0, 8e-3)))
	for rate := between(45e3, 70e3); rate < 120e3; rate *= between(1.02, 1.2) {
		s.Springs = append(s.Springs, fit.ShelfSpring{Rate: units.Stiffness(rate), SolidTravel: 0.08})
	}
	r.Shuffle(len(s.Springs), func(i, k int) { s.Springs[i], s.Springs[k] = s.Springs[k], s.Springs[i] })
	j.Rear.Coil = s
	return j
}

// Of any bike the edges lie on both sides of the exact rate, each rival is less probable than
// the recommended spring beside it, and a rider so much lighter or heavier that the exact rate
// is just beyond the edge gets the rival recommended: the sheet of such a rider says so itself.
func TestRivalsNeverContradictTheRanking(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 5))
	rivals := 0
	for range 60 {
		j := drawnShelfJob(t, r)
		u := certainty.Uncertainty{RiderMass: 4, Rear: certainty.EndUncertainty{SpringRate: 0.03, Reading: 5e-4}}
		j.Uncertainty = &u
		s := sheet(t, j)
		b, best := s.Uncertainty.Rear, s.Rear.Spring()
		total := 0.0
		for _, rival := range b.Rivals {
			rivals++
			total += rival.Probability
			softer := rival.EdgeRate < b.IdealRate.Value
			if rival.Recommended != best.Rate || rival.Probability > 0.5 || rival.Probability > 1-rival.Probability {
				t.Fatalf("%+v beside %v of %v", rival, best.Rate, b.IdealRate.Value)
			}
			for _, side := range []struct {
				factor float64
				want   units.Stiffness
			}{{1e-6, rival.Rate}, {-1e-6, best.Rate}} {
				beyond := side.factor
				if softer {
					beyond = -beyond
				}
				at := float64(rival.EdgeRate/b.IdealRate.Value) * (1 + beyond)
				got := sheet(t, otherLoad(j, s.Rear.Load*units.Force(at)))
				near(t, "ideal", float64(got.Rear.Coil.IdealRate), float64(b.IdealRate.Value)*at, 1e-9)
				if got.Rear.Spring().Rate != side.want {
					t.Errorf("at %v of the edge of %+v: %v, want %v", 1+beyond, rival, got.Rear.Spring().Rate, side.want)
				}
			}
		}
		if total > 1 {
			t.Errorf("%v together: %+v", total, b.Rivals)
		}
		require.LessOrEqual(t, len(b.Rivals), 2)
	}
	if rivals < 60 {
		t.Errorf("%d rivals show too little", rivals)
	}
}

// otherLoad is a job with the rider who puts a sprung load on the rear.
func otherLoad(j setup.Job, load units.Force) setup.Job {
	j.Masses.RiderMass = (units.Mass(float64(load)/9.80665)+*j.Masses.UnsprungRear)/units.Mass(j.Masses.RearShare) - j.Masses.BikeMass
	return j
}

// With errors far below the steps of the shelf the recommended spring is the one to fit in most
// draws, and the share of each rival is its probability.
func TestRecommendedSpringHasTheGreatestShare(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 6))
	for range 6 {
		j := drawnShelfJob(t, r)
		u := certainty.Uncertainty{RiderMass: 1.5}
		j.Uncertainty = &u
		s := sheet(t, j)
		const draws = 1500
		shares := simulate(t, j, u, draws, 7).Rear.Counts.Springs
		own := shares[s.Rear.Spring().Index].Share
		for _, rival := range s.Uncertainty.Rear.Rivals {
			for _, one := range shares {
				if one.Rate == rival.Rate && math.Abs(one.Share-rival.Probability) > 4*math.Sqrt(0.25/draws) {
					t.Errorf("%+v in %v of the draws", rival, one.Share)
				}
				if one.Rate == rival.Rate && one.Share > own+4*math.Sqrt(0.5/draws) {
					t.Errorf("%v in %v of the draws, the recommended one in %v", one.Rate, one.Share, own)
				}
			}
		}
	}
}
