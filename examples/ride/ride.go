package main

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/spring"
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
	Name         string        `json:"name"`
	Front        endResult     `json:"front"`
	Rear         endResult     `json:"rear"`
	Acceleration float64       `json:"acceleration"` // the most, of the mass centre, upward, in g₀
	Shaking      float64       `json:"shaking"`      // root of the mean square of that, in g₀
	PitchLow     units.Angle   `json:"pitch_low"`    // nose down, from the rest
	PitchHigh    units.Angle   `json:"pitch_high"`   // nose up
	Modes        []motion.Mode `json:"modes"`        // about the rest
	Response     []answerAt    `json:"response"`     // over frequency
	trace        trace         // over time
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

// What a ride is followed with.
const (
	tolerance = 1e-7
	mostSteps = 200_000
	evenTimes = 4000 // for peaks; every tenth is drawn
)

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
		c.Fail("settings", n, fmt.Sprintf("1 to %d settings", picture.MaxLines), nil)
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
		}
	}
	if !c.OK() {
		return nil, c.Err()
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
	var err error
	to.Damper, err = motion.NewDamper(f.Damper)
	c.Add("damper", err)
	if curve == nil || !c.OK() {
		return
	}
	to.Spring, err = linkage.AtWheel(curve, made)
	c.Add("spring", err)
}

// follow lets a bike ride.
func follow(b *motion.TwoEnds, g ground) (result, error) {
	delay := 0.0
	list := g.pieces()
	back := list
	if g.Drop == nil {
		delay = float64(b.Ahead+b.Behind) / float64(g.Speed)
		back = later(list, delay)
	}
	b.Front.Ground, b.Rear.Ground = under(list), under(back)
	rest, err := b.Rest()
	if err != nil {
		return result{}, fmt.Errorf("a bike that stands on its springs: %w", err)
	}
	r := result{}
	front, rear := b.Forces(0, rest)
	full := [2]units.Length{b.Front.Spring.Travel(), b.Rear.Spring.Travel()}
	for i, end := range []*endResult{&r.Front, &r.Rear} {
		end.Rest = []units.Length{front.Travel, rear.Travel}[i]
		end.Sag = float64(end.Rest / full[i])
	}
	start := slices.Clone(rest)
	if g.Drop != nil {
		falling(b, start, math.Sqrt(2*units.StandardGravity*float64(g.Drop.Height)))
	}
	if err := r.record(b, g, rest, start, list, back); err != nil {
		return result{}, err
	}
	r.Front.Used, r.Rear.Used = float64(r.Front.Travel/full[0]), float64(r.Rear.Travel/full[1])
	r.Front.Bottoms, r.Rear.Bottoms = r.Front.Used > 1, r.Rear.Used > 1
	return r, r.linear(b, delay)
}

// falling writes the state of a bike that touches the ground with a speed, its wheels hanging free.
func falling(b *motion.TwoEnds, y []float64, speed float64) {
	hang := func(e *motion.Corner) float64 {
		if f := e.Spring.Force(0); f >= 0 {
			return -float64(f) / float64(e.Stops)
		}
		travel, err := spring.Settle(e.Spring, 0) // an air spring that pulls in
		if err != nil {
			return 0
		}
		return float64(travel)
	}
	front, rear := -hang(&b.Front), -hang(&b.Rear)
	base := float64(b.Ahead + b.Behind)
	clear(y)
	y[motion.Pitch] = (front - rear) / base
	y[motion.Heave] = rear + float64(b.Behind)*y[motion.Pitch]
	for _, i := range []int{motion.HeaveSpeed, motion.FrontAxleSpeed, motion.RearAxleSpeed} {
		y[i] = -speed
	}
}

// record follows the equations of motion and keeps what is asked for at even times.
func (r *result) record(b *motion.TwoEnds, g ground, rest, start []float64, front, rear []piece) error {
	s, err := motion.NewSolver(motion.Problem{Slope: b.Slope, Scale: b.Scale(), Kinks: b.Kinks(), Tolerance: tolerance})
	if err != nil {
		return err
	}
	end := float64(g.Duration)
	// Steps end where the ground changes.
	var ends []float64
	for _, p := range append(slices.Clone(front), rear...) {
		if p.from > 0 && p.from < end {
			ends = append(ends, p.from)
		}
	}
	slices.Sort(ends)
	ends = append(slices.Compact(ends), end)
	y, slope := make([]float64, motion.TwoEndStates), make([]float64, motion.TwoEndStates)
	taken, sum := 0, 0.0
	keep := func(t float64, draw bool) {
		b.Slope(t, y, slope)
		f, back := b.Forces(t, y)
		up, pitch := slope[motion.HeaveSpeed]/units.StandardGravity, units.Angle(y[motion.Pitch]-rest[motion.Pitch])
		for i, one := range []motion.Forces{f, back} {
			e := []*endResult{&r.Front, &r.Rear}[i]
			e.Travel, e.Ground = max(e.Travel, one.Travel), max(e.Ground, one.Ground)
			if one.Ground <= 0 {
				e.Light += g.Duration / evenTimes
			}
		}
		r.Acceleration, sum = max(r.Acceleration, up), sum+up*up
		r.PitchLow, r.PitchHigh = min(r.PitchLow, pitch), max(r.PitchHigh, pitch)
		if draw {
			r.trace.add(t, up, pitch.Degrees(), f, back)
		}
	}
	s.Start(0, start, 1e-4)
	steps := 0
	for _, until := range ends {
		for s.Step(until) {
			if steps++; steps > mostSteps {
				return fmt.Errorf("a bike that moves less fast than its masses on these springs, dampers and tyres: more than %d steps", mostSteps)
			}
			for taken <= evenTimes && end*float64(taken)/evenTimes <= s.Time() {
				at := end * float64(taken) / evenTimes
				s.At(at, y)
				keep(at, taken%10 == 0)
				taken++
			}
		}
		if s.Time() < until {
			return fmt.Errorf("a bike that can be followed: its motion is without bound after %.3g s", s.Time())
		}
		s.Start(math.Nextafter(until, math.Inf(1)), s.State(), 1e-4)
	}
	last := s.State()
	r.Front.DamperWork, r.Rear.DamperWork = units.Energy(last[motion.FrontWork]), units.Energy(last[motion.RearWork])
	r.Shaking = math.Sqrt(sum / float64(taken))
	return nil
}

// add adds a time to a trace.
func (t *trace) add(at, up, pitch float64, front, rear motion.Forces) {
	t.time, t.acceleration, t.pitch = append(t.time, at), append(t.acceleration, up), append(t.pitch, pitch)
	for i, f := range []motion.Forces{front, rear} {
		t.travel[i] = append(t.travel[i], f.Travel.Millimetres())
		t.ground[i] = append(t.ground[i], f.Ground.Newtons())
	}
}

// linear adds what the bike does about its rest.
func (r *result) linear(b *motion.TwoEnds, delay float64) error {
	l, err := b.Linearise()
	if err != nil {
		return err
	}
	r.Modes = l.Modes()
	for i := range 81 { // from 0.5 to 20 Hz, even in octaves
		f := units.Frequency(0.5 * math.Pow(40, float64(i)/80))
		one, err := l.Response(f, units.Time(delay))
		if err != nil {
			return err
		}
		r.Response = append(r.Response, answerAt{
			f, cmplx.Abs(one.FrontBody), cmplx.Abs(one.RearBody), units.Stiffness(cmplx.Abs(one.FrontLoad)), units.Stiffness(cmplx.Abs(one.RearLoad)),
		})
	}
	return nil
}
