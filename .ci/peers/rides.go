package main

import (
	"errors"
	"math"
	"slices"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// end is one end of an invented bike, all at the wheel, in SI units.
type end struct {
	Rate     float64 `json:"rate"`
	Preload  float64 `json:"preload"`
	Travel   float64 `json:"travel"`
	Stops    float64 `json:"stops"`
	Damping  float64 `json:"damping"`
	Unsprung float64 `json:"unsprung"`
	Tyre     float64 `json:"tyre"`
}

// corner is the end on the ground.
func (e end) corner(ground motion.Ground) (motion.Corner, error) {
	c := motion.Corner{
		Stops: units.Stiffness(e.Stops), Damping: units.Damping(e.Damping), Unsprung: units.Mass(e.Unsprung), Tyre: units.Stiffness(e.Tyre), Ground: ground,
	}
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: units.Length(e.Travel)})
	if err != nil {
		return c, err
	}
	law, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(e.Rate), Travel: units.Length(e.Travel), Preload: units.Length(e.Preload / e.Rate)})
	if err != nil {
		return c, err
	}
	c.Spring, err = linkage.AtWheel(curve, law)
	return c, err
}

// The bump is half a sine; the bike meets it at a speed.
const (
	speed, first, height, length = 6., 0.6, 0.08, 1.2

	mass, gyration, ahead, behind = 82., 0.42, 0.68, 0.52
)

func bump(delay float64) motion.Ground {
	return func(t float64) (units.Length, units.Speed) {
		x := speed*(t-delay) - first
		if !(x > 0 && x < length) {
			return 0, 0
		}
		return units.Length(height * math.Sin(math.Pi*x/length)), units.Speed(height * math.Pi / length * speed * math.Cos(math.Pi*x/length))
	}
}

// rides follows a bike over a bump, both wheels leaving the ground behind it: heave, pitch and the
// axles' heights at 12 times. The right ones are those of SciPy's DOP853 at a tolerance of 1e-12. Every
// method is measured at the first tolerance, down from 1e-2, at which it is within 1 µm and 1 µrad of
// these; the evaluations are of the slope.
func rides() (comparison, error) {
	const finer = 1.25 // each tolerance, than the one before
	c := comparison{work: "ride of 1.2 s over a bump", within: 1e-6}
	front := end{Rate: 7e3, Preload: 60, Travel: 0.16, Stops: 150e3, Damping: 420, Unsprung: 3.2, Tyre: 90e3}
	rear := end{Rate: 9.5e3, Preload: 90, Travel: 0.15, Stops: 170e3, Damping: 560, Unsprung: 4.1, Tyre: 110e3}
	delay := (ahead + behind) / speed
	b := motion.TwoEnds{Mass: mass, Gyration: gyration, Ahead: ahead, Behind: behind}
	var err, rearErr error
	b.Front, err = front.corner(bump(0))
	b.Rear, rearErr = rear.corner(bump(delay))
	if err != nil || rearErr != nil {
		return c, errors.Join(err, rearErr)
	}
	rest, err := b.Rest()
	if err != nil {
		return c, err
	}
	times := make([]float64, 12)
	for i := range times {
		times[i] = 0.1 * float64(i+1)
	}
	if c.peers, err = askSciPy("ride", map[string]any{
		"mass": mass, "gyration": gyration, "ahead": ahead, "behind": behind, "front": front, "rear": rear,
		"speed": speed, "first": first, "height": height, "length": length,
		"times": times, "scale": b.Scale(), "within": c.within, "finer": finer,
	}); err != nil {
		return c, err
	}
	c.want = c.peers["reference"].Values
	delete(c.peers, "reference")

	kinks := []float64{first / speed, first/speed + delay, (first + length) / speed, (first+length)/speed + delay, times[len(times)-1]}
	slices.Sort(kinks)
	for tolerance := 1e-2; ; tolerance /= finer {
		calls := 0
		slope := func(t float64, y, slope []float64) { calls++; b.Slope(t, y, slope) }
		s, err := motion.NewSolver(motion.Problem{Slope: slope, Scale: b.Scale(), Events: b.Kinks(), Tolerance: tolerance})
		if err != nil {
			return c, err
		}
		y := make([]float64, motion.TwoEndStates)
		follow := func() ([]float64, int) {
			calls = 0
			s.Start(0, rest, 1e-3)
			var values []float64
			next := 0
			for _, stop := range kinks {
				for s.Step(stop) {
					for ; next < len(times) && times[next] <= s.Time(); next++ {
						s.At(times[next], y)
						values = append(values, y[:4]...)
					}
				}
			}
			return values, calls
		}
		if c.ours.Values, _ = follow(); c.apart(c.ours) <= c.within {
			c.ours = timed(follow)
			return c, nil
		}
	}
}
