package main

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// What a ride is followed with.
const (
	tolerance = 1e-7
	mostSteps = 200_000
	evenTimes = 4000 // for peaks; every tenth is drawn
)

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
	s, err := motion.NewSolver(motion.Problem{Slope: b.Slope, Scale: b.Scale(), Events: b.Kinks(), Tolerance: tolerance})
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
	l, err := linearise(b)
	if err != nil {
		return err
	}
	r.Modes = l.modes()
	for i := range 196 { // from 0.5 to 20 Hz
		f := units.Frequency(0.5 + 0.1*float64(i))
		one, err := l.response(f, units.Time(delay))
		if err != nil {
			return err
		}
		r.Response = append(r.Response, answerAt{
			f, cmplx.Abs(one.FrontBody), cmplx.Abs(one.RearBody), units.Stiffness(cmplx.Abs(one.FrontLoad)), units.Stiffness(cmplx.Abs(one.RearLoad)),
		})
	}
	return nil
}
