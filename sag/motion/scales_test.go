package motion_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/units"
)

// By hand: the forces at full travel are 60 N + 7 N/mm·160 mm and 90 N + 9.5 N/mm·150 mm.
func TestScales(t *testing.T) {
	bike := rider(t)
	got := bike.Scale()
	const front, rear = 1180 / 0.16, 1515 / 0.15
	heave := 0.15 * math.Sqrt((front+rear)/82)
	for i, want := range []float64{
		0.15, 0.15 / 1.2, 0.16, 0.15, heave, heave / 1.2, 0.16 * math.Sqrt((front+90e3)/3.2), 0.15 * math.Sqrt((rear+110e3)/4.1), 1180 * 0.16, 1515 * 0.15,
	} {
		near(t, fmt.Sprintf("state %d", i), got[i], want, 1e-12)
	}
	bike.Front.Tyre = 0
	require.True(t, math.IsInf(bike.Scale()[motion.FrontAxle], 1) && math.IsInf(bike.Scale()[motion.FrontAxleSpeed], 1))
}

// Kinks are the travel, the travel beyond its end and the tyre's deflection, of a wheel without a tyre
// the first two. By hand from a state over ground of 20 mm in front and level ground behind.
func TestKinks(t *testing.T) {
	bike := rider(t)
	bike.Front.Ground = func(float64) (units.Length, units.Speed) { return 0.02, 0 }
	state := make([]float64, motion.TwoEndStates)
	state[motion.Heave], state[motion.Pitch], state[motion.FrontAxle], state[motion.RearAxle] = -0.05, 0.1, 0.03, -0.01
	const front, rear = 0.03 - (-0.05 + 0.068), -0.01 - (-0.05 - 0.052)
	want := []float64{front, front - 0.16, 0.02 - 0.03, rear, rear - 0.15, 0 + 0.01}
	kinks := bike.Kinks()
	require.Len(t, kinks, len(want))
	for i, kink := range kinks {
		near(t, fmt.Sprintf("kink %d", i), kink(0, state), want[i], 1e-12)
	}
	bike.Front.Tyre = 0
	kinks = bike.Kinks()
	require.Len(t, kinks, 5)
	near(t, "rigid", kinks[0](0, state), 0.02-(-0.05+0.068), 1e-12)
}

// On ground that is higher the bike rests higher, on tyres or without, and not otherwise.
func TestRestOnHigherGround(t *testing.T) {
	high := func(float64) (units.Length, units.Speed) { return 0.3, 0 }
	for _, tyre := range []units.Stiffness{0, 9e4} {
		bike := rider(t)
		bike.Front.Tyre, bike.Rear.Tyre = tyre, tyre
		level, err := bike.Rest()
		require.NoError(t, err)
		bike.Front.Ground, bike.Rear.Ground = high, high
		up, err := bike.Rest()
		require.NoError(t, err)
		for _, i := range []int{motion.Heave, motion.FrontAxle, motion.RearAxle} {
			within(t, "height", up[i], level[i]+0.3, 1e-12)
		}
		within(t, "pitch", up[motion.Pitch], level[motion.Pitch], 1e-12)
		front, rear := bike.Forces(0, up)
		near(t, "front", float64(front.Spring), 82*g0*0.52/1.2, 1e-9)
		near(t, "rear", float64(rear.Spring), 82*g0*0.68/1.2, 1e-9)
	}
}

// The limits themselves are accepted, and what is just beyond them is not.
func TestLimitsOfCorners(t *testing.T) {
	for _, test := range []struct {
		field  string
		limits []float64
		set    func(e *motion.Corner, v float64)
	}{
		{"damping", []float64{0, 1e9}, func(e *motion.Corner, v float64) { e.Damping = units.Damping(v) }},
		{"stops", []float64{0, 1e12}, func(e *motion.Corner, v float64) { e.Stops = units.Stiffness(v) }},
		{"tyre", []float64{0, 1e12}, func(e *motion.Corner, v float64) { e.Tyre = units.Stiffness(v) }},
		{"unsprung", []float64{1e-6, 1e6}, func(e *motion.Corner, v float64) { e.Unsprung = units.Mass(v) }},
	} {
		for i, limit := range test.limits {
			for _, beyond := range []bool{false, true} {
				e := rider(t).Front
				v := limit
				if beyond {
					v = math.Nextafter(limit, math.Inf(2*i-1))
				}
				test.set(&e, v)
				c := units.Checker{Package: "motion"}
				e.Check(&c)
				if c.Bad(test.field) != beyond || c.OK() == beyond {
					t.Errorf("%s of %v: %v", test.field, v, c.Err())
				}
			}
		}
	}
}

func TestEndsRefuse(t *testing.T) {
	nan := math.NaN()
	bad := motion.Corner{Damping: -1, Stops: units.Stiffness(nan), Tyre: units.Stiffness(math.Inf(1))}
	fields := func(err error) (list []string) {
		for _, f := range units.Fields(err) {
			list = append(list, f.Field)
		}
		return list
	}
	two := motion.TwoEnds{Mass: -1, Gyration: 0, Ahead: -1, Behind: units.Length(nan), Front: bad, Rear: bad}
	_, err := two.Rest()
	require.Equal(t, []string{"mass", "gyration", "ahead", "behind", "front.spring", "front.damping", "front.stops", "front.tyre",
		"rear.spring", "rear.damping", "rear.stops", "rear.tyre"}, fields(err))
	two = rider(t)
	two.Rear.Unsprung = 0
	_, err = two.Rest()
	require.Equal(t, []string{"rear.unsprung"}, fields(err))
	two = rider(t)
	two.Ahead, two.Behind = 0, 0
	_, err = two.Rest()
	require.Equal(t, []string{"behind"}, fields(err))
}
