package main

import (
	"fmt"
	"math"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/units"
)

// answer is how the settings ride.
type answer struct {
	Note    string       `json:"note,omitempty"`
	Granted []string     `json:"granted,omitempty"` // what was taken for granted
	Ahead   units.Length `json:"ahead"`             // of the front axle before the mass centre of what the springs carry
	Behind  units.Length `json:"behind"`            // of the rear axle behind it
	Rides   []result     `json:"rides"`
}

// result is how one setting rides.
type result struct {
	Name         string      `json:"name"`
	Front        endResult   `json:"front"`
	Rear         endResult   `json:"rear"`
	Acceleration float64     `json:"acceleration"` // the most, of the mass centre, upward, in g₀
	Shaking      float64     `json:"shaking"`      // root of the mean square of that, in g₀
	PitchLow     units.Angle `json:"pitch_low"`    // nose down, from the rest
	PitchHigh    units.Angle `json:"pitch_high"`   // nose up
	Modes        []mode      `json:"modes"`        // about the rest
	Response     []answerAt  `json:"response"`     // over frequency
	trace        trace       // over time
}

// endResult is what one end does.
type endResult struct {
	Rest       units.Length `json:"rest"`        // travel of the wheel at rest
	Sag        float64      `json:"sag"`         // Rest over full travel
	Travel     units.Length `json:"travel"`      // the most, in the stop beyond full travel
	Used       float64      `json:"used"`        // Travel over full travel
	Bottoms    bool         `json:"bottoms"`     // the stop at full travel is touched
	Ground     units.Force  `json:"ground"`      // the most that the ground pushes on the wheel
	Light      units.Time   `json:"light"`       // for which the wheel is off the ground, or the ground would have to pull it
	DamperWork units.Energy `json:"damper_work"` // that the damper takes
}

// answerAt is the response at a frequency: the amplitude over that of the ground.
type answerAt struct {
	Frequency units.Frequency `json:"frequency"`
	Front     float64         `json:"front"`      // of the body above the front axle
	Rear      float64         `json:"rear"`       // of the body above the rear axle
	FrontLoad units.Stiffness `json:"front_load"` // of the wheel's load
	RearLoad  units.Stiffness `json:"rear_load"`
}

// trace is a ride at even times.
type trace struct {
	time, acceleration, pitch []float64    // s, g₀, °
	travel, ground            [2][]float64 // mm and N, front and rear
}

// solve checks a job and lets every setting ride.
func solve(j job) (*answer, error) {
	c := units.Checker{Package: "ride"}
	bike, a := j.bike(&c)
	rigid := !(j.Front.Tyre > 0 && j.Rear.Tyre > 0)
	ground := c.Child("ground")
	j.Ground.check(&ground, rigid)
	front, rear := c.Child("front"), c.Child("rear")
	curves := [2]*linkage.Curve{j.Front.curve(&front), j.Rear.curve(&rear)}
	if n := len(j.Settings); n < 1 || n > picture.MaxLines {
		c.Fail("settings", n, units.From(1, picture.MaxLines).Count("settings"), nil)
		return nil, c.Err()
	}
	bikes := make([]motion.TwoEnds, len(j.Settings))
	for i, s := range j.Settings {
		at := c.Element("settings", i)
		bikes[i] = bike
		for k, end := range []struct {
			name string
			fitted
			to *motion.Corner
		}{{"front", s.Front, &bikes[i].Front}, {"rear", s.Rear, &bikes[i].Rear}} {
			part := at.Child(end.name)
			end.fit(&part, curves[k], end.to)
			if end.Damper.Damping == 0 && len(end.Damper.Compression) == 0 {
				a.Granted = append(a.Granted, fmt.Sprintf("%s: no damper is stated for the %s, and none is taken. A bike without one swings on and on.", s.Name, end.name))
			}
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	if g := j.Ground; g.Step != nil && g.Step.Height > 0 {
		a.Granted = append(a.Granted, "A wheel is a point, and meets the step all at once, so that the peaks are far too high. A real one climbs it over a part of its radius: draw that as a profile.")
	}
	for i := range bikes {
		at := c.Element("settings", i)
		r, err := follow(&bikes[i], j.Ground)
		if err != nil {
			at.Fail("", j.Settings[i].Name, err.Error(), units.ErrRange)
			continue
		}
		r.Name = j.Settings[i].Name
		a.Rides = append(a.Rides, r)
	}
	return a, c.Err()
}

// bike returns what all settings have in common.
func (j job) bike(c *units.Checker) (motion.TwoEnds, *answer) {
	a := &answer{Note: j.Note}
	loads := j.Masses.Check(c)
	j.Masses.CheckStated(c, "front")
	j.Masses.CheckStated(c, "rear")
	units.Between(c, "wheelbase", j.Wheelbase, 100*units.Millimetre, 10)
	if j.Gyration != 0 {
		units.Between(c, "gyration", j.Gyration, 10*units.Millimetre, 10)
	}
	if !c.OK() {
		return motion.TwoEnds{}, a
	}
	weight := loads.Front + loads.Rear
	a.Behind = j.Wheelbase * units.Length(loads.Front/weight)
	a.Ahead = j.Wheelbase - a.Behind
	gyration := j.Gyration
	if gyration == 0 {
		gyration = units.Length(math.Sqrt(float64(a.Ahead * a.Behind)))
		a.Granted = append(a.Granted, fmt.Sprintf("The radius of gyration is not stated: %.0f is taken, with which neither end feels the other. A true one, from swinging the bike with its rider, moves every answer.", gyration))
	}
	b := motion.TwoEnds{Mass: weight.Mass(), Gyration: gyration, Ahead: a.Ahead, Behind: a.Behind}
	for _, end := range []struct {
		name     string
		of       side
		unsprung units.Mass
		to       *motion.Corner
	}{{"front", j.Front, j.Masses.Unsprung("front"), &b.Front}, {"rear", j.Rear, j.Masses.Unsprung("rear"), &b.Rear}} {
		end.to.Tyre, end.to.Stops, end.to.Unsprung = end.of.Tyre, end.of.Stops, end.unsprung
		if end.of.Tyre == 0 {
			a.Granted = append(a.Granted, fmt.Sprintf("The %s wheel has no tyre: it is rigid and held to the ground, and its unsprung mass moves nothing.", end.name))
		}
		if end.of.Stops == 0 {
			end.to.Stops = usualStops
			a.Granted = append(a.Granted, fmt.Sprintf("The rate of the %s stops is not stated: %v at the wheel is taken. It decides how hard bottoming out is.", end.name, usualStops))
		}
	}
	return b, a
}

// curve returns the curve of a side.
func (s side) curve(c *units.Checker) *linkage.Curve {
	curve, err := linkage.New(s.Curve)
	c.Add("curve", err)
	units.Between(c, "tyre", s.Tyre, 0, 1e7)
	units.Between(c, "stops", s.Stops, 0, 1e7)
	return curve
}

// fit puts what is fitted behind a curve. A linear or an air spring without a travel has the stroke's.
func (f fitted) fit(c *units.Checker, curve *linkage.Curve, to *motion.Corner) {
	spec := f.Spring
	if curve != nil && spec.Linear != nil && spec.Linear.Travel == 0 {
		one := *spec.Linear
		one.Travel, spec.Linear = curve.Stroke(), &one
	}
	if curve != nil && spec.Air != nil && spec.Air.Travel == 0 {
		one := *spec.Air
		one.Travel, spec.Air = curve.Stroke(), &one
	}
	at := c.Child("spring")
	made := spec.Build(&at)
	damper := c.Child("damper")
	to.Damper = f.Damper.build(&damper)
	if curve == nil || !c.OK() {
		return
	}
	var err error
	to.Spring, err = linkage.AtWheel(curve, made)
	c.Add("spring", err)
}
