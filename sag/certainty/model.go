package certainty

import (
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
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

// Setup is what is set up, and what was chosen for it: what uncertainties are told
// of.
type Setup struct {
	Masses      sag.Masses
	Front, Rear EndSetup
}

// End is one end of a [Setup]: what can be fitted to it, and what is.
type EndSetup struct {
	Spec    fit.Spec // with its blanks filled in
	Options *fit.Options
	Choice  fit.Choice // of Options
}

// model is a bike with what is fitted held as it is, to be worked out again with
// its inputs off by some deviations.
type model struct {
	masses sag.Masses
	ends   [2]EndSetup
	set    [2]setting
	off    deviations
	inputs []input
	exact  []string
}

// setting is what is fitted to one end.
type setting struct {
	rate    units.Stiffness // of the spring as marked
	index   int             // of it on the shelf
	preload units.Length
	solid   units.Length // its solid travel; 0 where unknown
	fill    units.GaugePressure
	spacers int
}

// Check records what is wrong with an uncertainty of a bike's inputs, such as
// rear.preload. The ends need no choice; their options are nil where they are at
// fault, of which nothing more is said.
func (u Uncertainty) Check(c *units.Checker, b Setup) { newModel(c, b, u) }

func newModel(c *units.Checker, b Setup, u Uncertainty) *model {
	m := &model{masses: b.Masses, ends: [2]EndSetup{b.Front, b.Rear}, exact: []string{}}
	for i := range m.ends {
		m.set[i] = m.ends[i].setting()
	}
	m.declare(c, u)
	return m
}

func (e *EndSetup) setting() (s setting) {
	switch {
	case e.Choice.Air != nil:
		best := &e.Choice.Air.Options[0]
		s.fill, s.spacers = best.Fill, best.Spacers
	case e.Choice.Coil != nil:
		best := &e.Choice.Coil.Candidates[0]
		s.rate, s.preload, s.index = best.Rate, best.Preload, best.Index
		s.solid = e.Spec.Coil.Springs[best.Index].SolidTravel
	}
	return s
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
	d, j := &m.off, &m.masses
	q, unsprung, scale := j.RearShare+d.share, j.UnsprungRear, j.RearScale
	if a := float64(j.MassCentreBehindFrontAxle); a != 0 {
		q = (a + d.centre) / (float64(j.Wheelbase) + d.wheelbase)
	}
	if end == 0 {
		q, unsprung, scale = 1-q, j.UnsprungFront, j.FrontScale
	}
	wheel := q * (float64(j.RiderMass+j.BikeMass) + d.rider + d.bike)
	if j.Scaled() {
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
	p, f, d := &m.ends[end], &m.set[end], &m.off.end[end]
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
	target := sag.Target{Load: o.load, Sag: p.Spec.Sag}
	a := &o.answer
	a[aLoad] = load
	s, force := target.AtSpring(curve)
	if p.Spec.Coil != nil {
		a[aIdealRate] = float64(force) / float64(s+p.Spec.Coil.PreloadMin)
		a[aPreloadWanted] = float64(force)/(float64(f.rate)*(1+d.rates[f.index])) - float64(s)
	} else {
		spec := d.air(p.Spec.Air.Spec, m.off.ambient)
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

	rest, finding, err := sag.End{Curve: curve, Law: offset{slow, units.Force(d.friction)}}.SettleWithin(o.load)
	if err != nil {
		return o
	}
	s = rest.Stroke
	switch finding {
	case sag.HeldAtTop:
		o.state = toppedOut
	case sag.Collapses:
		o.state = bottomedOut
	default:
		o.state = rests
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
		wheelRate := sag.WheelRate(k, slow.Force(s), curve.LeverRatio(s), curve.LeverRatioSlope(s)) / units.Stiffness(c*c)
		a[rate] = float64(wheelRate)
		if wheelRate > 0 {
			a[frequency] = float64(sag.Frequency(wheelRate, units.Force(load)))
		}
	}
	k := slow.Rate(s)
	rates(aWheelRate, aFrequency, k)
	rates(aFastWheelRate, aFastFrequency, units.Stiffness(exponent)*k)
	return o
}

// springs are the laws of what is fitted, at rest and over a fast stroke.
func (m *model) springs(end int, curve *linkage.Curve) (slow, fast spring.Law, exponent float64, ok bool) {
	p, f, d := &m.ends[end], &m.set[end], &m.off.end[end]
	if p.Spec.Coil != nil {
		// Preload as a force of its own: a difference about a preload of 0 takes
		// it below.
		rate, preload := float64(f.rate)*(1+d.rates[f.index]), float64(f.preload)+d.preload
		travel := curve.Stroke()
		if f.solid > 0 {
			travel = min(travel, f.solid-units.Length(preload))
		}
		coil, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: travel})
		law := offset{coil, units.Force(rate * preload)}
		return law, law, 1, err == nil
	}
	spec := d.air(p.Spec.Air.Spec, m.off.ambient)
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

// offset is a law with a constant force added.
type offset struct {
	spring.Law
	by units.Force
}

func (l offset) Force(x units.Length) units.Force { return l.Law.Force(x) + l.by }

func (l offset) Energy(x units.Length) units.Energy {
	return l.Law.Energy(x) + units.Energy(float64(l.by)*float64(spring.Clamp(x, l.Travel())))
}

// answersOf joins the answers of both ends and their frequency ratio.
func answersOf(ends *[2]outcome) (v [allOfThem]float64) {
	copy(v[:], ends[0].answer[:])
	copy(v[answers:], ends[1].answer[:])
	v[aRatio] = ends[0].answer[aFastFrequency] / ends[1].answer[aFastFrequency]
	return v
}
