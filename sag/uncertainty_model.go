package sag

import (
	"errors"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// What is answered at each end, and where in an [outcome] it stands.
const (
	aLoad = iota
	aIdealRate
	aPreloadWanted
	aFillWanted
	// From here on an answer depends on what is fitted,
	aEnergy
	aDropHeight
	aFullForce
	aFullRatio
	// and from here on on where it comes to rest with it.
	aSag
	aShockSag
	aTravel
	aStroke
	aStrokeReading
	aTravelLeft
	aEnergyLeft
	aWheelRate
	aFrequency
	aFastWheelRate
	aFastFrequency
	answers

	aRest     = aSag
	aRates    = aWheelRate
	aRatio    = 2 * answers // the frequency ratio, after both ends' answers
	allOfThem = aRatio + 1
)

// model is a job with what its sheet recommends held as it is, to be worked
// out again with its inputs off by some deviations.
type model struct {
	job    Job
	ends   [2]prepared
	fit    [2]fitted
	off    deviations
	inputs []input
	exact  []string
}

// fitted is what a sheet recommends for one end.
type fitted struct {
	rate    units.Stiffness // of the spring as marked
	index   int             // of it on the shelf
	preload units.Length
	solid   units.Length // its solid travel; 0 where unknown
	fill    units.GaugePressure
	spacers int
}

// newModel checks a job and the uncertainty of its inputs, and works the sheet out.
func newModel(job Job, u Uncertainty) (*model, error) {
	c := units.Checker{Package: "sag"}
	job.Uncertainty = nil // u is in its place
	sheet, err := NewSheet(job)
	c.Add("", err)
	return modelOf(&c, job, u, sheet), c.Err()
}

// modelOf checks the uncertainty of a job's inputs. The sheet is the job's, nil
// where that is at fault, of which nothing more is said.
func modelOf(c *units.Checker, job Job, u Uncertainty, sheet *Sheet) *model {
	m := &model{job: job, exact: []string{}}
	var said units.Checker
	m.ends[0] = job.Front.prepare(&said, "front", job.Ambient)
	m.ends[1] = job.Rear.prepare(&said, "rear", job.Ambient)
	if sheet != nil {
		m.fit[0].from(&m.ends[0], &sheet.Front)
		m.fit[1].from(&m.ends[1], &sheet.Rear)
	}
	in := units.Checker{Package: "sag"}
	m.declare(&in, u)
	c.Add("uncertainty", in.Err())
	return m
}

func (f *fitted) from(p *prepared, e *EndSheet) {
	if e.Coil == nil {
		f.fill, f.spacers = e.Air.Options[0].Fill, e.Air.Options[0].Spacers
		return
	}
	best := &e.Coil.Candidates[0]
	f.rate, f.preload = best.Rate, best.Preload
	if best.SolidKnown {
		f.solid = best.SolidReserve + best.Preload + p.curve.Stroke()
	}
	for i, s := range p.Coil.Shelf {
		if s.Rate == f.rate {
			f.index = i
			break
		}
	}
}

// outcome is what comes of one end; answers that it does not have are NaN.
type outcome struct {
	answer [answers]float64
	state  state
	// What a choice of springs would have to go by: the curve as it is, and the
	// load on it that amounts to the true load on the true curve.
	curve *linkage.Curve
	load  units.Force
}

type state int

const (
	rests state = iota
	toppedOut
	bottomedOut
	impossible // such a bike, such a curve or such an air spring can't be
)

// load is the sprung load at one end.
func (m *model) load(end int) float64 {
	d, j := &m.off, &m.job.Masses
	q, unsprung, scale := j.RearShare+d.share, j.UnsprungRear, j.RearScale
	if a := float64(j.MassCentreBehindFrontAxle); a != 0 {
		q = (a + d.centre) / (float64(j.Wheelbase) + d.wheelbase)
	}
	if end == 0 {
		q, unsprung, scale = 1-q, j.UnsprungFront, j.FrontScale
	}
	wheel := q * (float64(j.RiderMass+j.BikeMass) + d.rider + d.bike)
	if j.scaled() {
		wheel = float64(scale) + d.scale[end]
	}
	return (wheel - float64(unsprung) - d.unsprung[end]) * units.StandardGravity
}

// work works out one end with the deviations as they are.
//
// A curve that is too high by a factor c everywhere, over the same stroke,
// needs no curve of its own: with F_w = F_s/(c·LR), load and shock are in
// balance where a load c times as large would be on the nominal one. Travels
// are then c times, forces 1/c and rates 1/c² times those of the nominal curve.
func (m *model) work(end int) outcome {
	p, f, d := &m.ends[end], &m.fit[end], &m.off.end[end]
	o := outcome{state: impossible}
	for i := range o.answer {
		o.answer[i] = math.NaN()
	}
	load, c := m.load(end), d.stretch(p)
	curve := d.curve(p)
	if !(load > 0) || !(c > 0) || curve == nil {
		return o
	}
	o.curve, o.load = curve, units.Force(load*c)
	target := Target{Load: o.load, Sag: p.Sag}
	a := &o.answer
	a[aLoad] = load
	s, force := target.atSpring(curve)
	if p.Coil != nil {
		a[aIdealRate] = float64(force) / float64(s+p.Coil.PreloadMin)
		a[aPreloadWanted] = float64(force)/(float64(f.rate)*(1+d.rates[f.index])) - float64(s)
	} else {
		spec := d.air(p.Air.Spec, m.off.ambient)
		spec.Spacers, spec.Exponent = f.spacers, 1
		if fill, err := airspring.FillFor(spec, force, s); err == nil {
			a[aFillWanted] = float64(fill)
		}
	}
	slow, fast, exponent, ok := m.springs(end, curve)
	if !ok {
		return o
	}
	wheel, err := linkage.AtWheel(curve, fast)
	if err != nil {
		return o
	}
	full := wheel.Travel()
	energy := wheel.Energy(full)
	a[aEnergy] = float64(energy)
	a[aDropHeight] = float64(energy)/load - c*float64(full)
	a[aFullForce] = float64(wheel.Force(full)) / c
	a[aFullRatio] = a[aFullForce] / load

	over := strokeLaw{curve: curve, law: slow, stroke: wheel.Stroke(full), shift: units.Force(d.friction)}
	s, err = spring.Settle(over, o.load)
	switch {
	case err == nil:
		o.state = rests
	case errors.Is(err, spring.ErrToppedOut):
		o.state, s = toppedOut, 0
	case errors.Is(err, spring.ErrBottomedOut):
		o.state, s = bottomedOut, over.stroke
	default:
		return o
	}
	w := curve.TravelAt(s)
	a[aSag] = float64(w / curve.Travel())
	a[aShockSag] = float64(s / curve.Stroke())
	a[aTravel] = c * float64(w)
	a[aStroke] = float64(s)
	a[aStrokeReading] = float64(s) + d.reading
	a[aTravelLeft] = c * float64(full-w)
	a[aEnergyLeft] = float64(energy - wheel.Energy(w))
	if o.state != rests {
		return o
	}
	rates := func(rate, frequency int, k units.Stiffness) {
		wheelRate := wheelRate(k, slow.Force(s), curve.LeverRatio(s), curve.LeverRatioSlope(s)) / units.Stiffness(c*c)
		a[rate] = float64(wheelRate)
		if wheelRate > 0 {
			a[frequency] = float64(Frequency(wheelRate, units.Force(load)))
		}
	}
	k := slow.Rate(s)
	rates(aWheelRate, aFrequency, k)
	rates(aFastWheelRate, aFastFrequency, units.Stiffness(exponent)*k)
	return o
}

// springs are the laws of what is fitted, at rest and over a fast stroke.
func (m *model) springs(end int, curve *linkage.Curve) (slow, fast spring.Law, exponent float64, ok bool) {
	p, f, d := &m.ends[end], &m.fit[end], &m.off.end[end]
	if p.Coil != nil {
		// Preload as a force of its own: a difference about a preload of 0 takes
		// it below.
		rate, preload := float64(f.rate)*(1+d.rates[f.index]), float64(f.preload)+d.preload
		travel := curve.Stroke()
		if f.solid > 0 {
			travel = min(travel, f.solid-units.Length(preload))
		}
		coil, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: travel})
		law := pressed{coil, units.Force(rate * preload)}
		return law, law, 1, err == nil
	}
	spec := d.air(p.Air.Spec, m.off.ambient)
	spec.Spacers = f.spacers
	warmed := func(fill units.GaugePressure) units.GaugePressure {
		return fill + units.GaugePressure(d.warmth)*(fill+units.GaugePressure(spec.Ambient))
	}
	spec.Fill = warmed(f.fill + units.GaugePressure(d.fill))
	spec.SecondFill = warmed(spec.SecondFill)
	if spec.SecondVolume == 0 {
		spec.SecondFill = 0
	}
	exponent = spec.Exponent
	quick, err := airspring.New(spec)
	spec.Exponent = 1
	still, _ := airspring.New(spec) // good if it was with another exponent
	return still, quick, exponent, err == nil
}

// pressed is a law with a constant force added.
type pressed struct {
	spring.LinearSpring
	by units.Force
}

func (l pressed) Force(x units.Length) units.Force { return l.LinearSpring.Force(x) + l.by }

func (l pressed) Energy(x units.Length) units.Energy {
	return l.LinearSpring.Energy(x) + units.Energy(float64(l.by)*float64(spring.Clamp(x, l.Travel())))
}

// answersOf joins the answers of both ends and their frequency ratio.
func answersOf(ends *[2]outcome) (v [allOfThem]float64) {
	copy(v[:], ends[0].answer[:])
	copy(v[answers:], ends[1].answer[:])
	v[aRatio] = ends[0].answer[aFastFrequency] / ends[1].answer[aFastFrequency]
	return v
}
