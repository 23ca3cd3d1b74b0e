package certainty

import (
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Setup is a bike with the choice made for each of its ends.
type Setup struct {
	Masses      sag.Masses
	Front, Rear *EndSetup // nil for an end that has no spring
}

// EndSetup is one end of a [Setup]. The first candidate or option of its choice is what is fitted.
type EndSetup struct {
	Spec   fit.Spec       // that of the [fit.Options] that the choice was made from
	Curve  *linkage.Curve // that of the same options
	Choice fit.Choice
	Drop   sag.Drop // to land, with the damping as set; none if its height is 0
}

// landingTolerance is that of the landings of a model: over a difference of 1e-4 an error of 1e-9 is some 1e-5 of
// a slope.
const landingTolerance = 1e-9

// model is a copy of a setup whose inputs can be moved.
type model struct {
	masses    sag.Masses
	couples   bool    // both ends settle together
	tolerance float64 // of a landing
	ends      [2]end
	stated    Uncertainty
	inputs    []input

	exact   []string
	notUsed []Leftover
}

// end is one end of a model.
type end struct {
	EndSetup
	name string // "front" or "rear"; empty for an end that the setup does not have
	// The inputs as moved. The air spring has the chosen fill and spacers.
	fork  linkage.Fork
	table linkage.Table
	shelf fit.Shelf
	gas   airspring.Spec
	// Inputs that the spec does not have.
	preload       units.Length
	ratio, warmth float64      // lever ratio and gas temperature, over those stated
	damping       float64      // over that set
	stuck         units.Force  // friction left at the spring
	misread       units.Length // error of the reading

	fitted int  // index of the chosen spring; -1 for none
	filled bool // an air spring with a chosen fill

	// Of a spring known by its gauge: what is known of it, its rider's mass as stated, and the error of
	// the fill that the readings give.
	gauge   fit.Gauge
	rider   units.Mass
	misfill units.GaugePressure
}

func newModel(s Setup, u Uncertainty) *model {
	m := &model{masses: s.Masses, tolerance: landingTolerance, stated: u, exact: []string{}}
	m.masses.UnsprungFront, m.masses.UnsprungRear = new(s.Masses.Unsprung(sag.Front)), new(s.Masses.Unsprung(sag.Rear))
	if offset := s.Masses.ForkOffset; offset != nil {
		m.masses.ForkOffset = new(*offset)
	}
	for i, setup := range []*EndSetup{s.Front, s.Rear} {
		if setup != nil {
			m.ends[i] = end{EndSetup: *setup, name: string(axles[i]), ratio: 1, warmth: 1, damping: 1, fitted: -1}
			m.ends[i].copy()
			m.ends[i].rider = s.Masses.Rider()
		}
	}
	j := &m.masses
	m.couples = m.ends[0].known() && m.ends[1].known() && !j.Scaled() && j.Wheelbase > 0 && j.MassCentreHeight > 0 && j.Radius(sag.Front) > 0 && j.Radius(sag.Rear) > 0
	return m
}

// known reports whether enough is known of an end's spring for both ends to settle together.
func (e *end) known() bool {
	g := e.Choice.Gauge
	return e.name != "" && (e.Spec.Gauge == nil || g != nil && g.Chambers != nil)
}

// copy copies the inputs of an end, so that moving them leaves the setup as it is.
func (e *end) copy() {
	if f := e.Spec.Curve.Fork; f != nil {
		e.fork = *f
	}
	if t := e.Spec.Curve.Table; t != nil {
		e.table = *t
		e.table.Travel = slices.Clone(t.Travel)
	}
	if s := e.Spec.Coil; s != nil && len(s.Springs) <= sag.MostSprings {
		e.shelf = *s
		e.shelf.Springs = slices.Clone(s.Springs)
		for k := range e.shelf.Springs {
			if one := &e.shelf.Springs[k]; e.Curve != nil { // of a setup without faults
				*one = one.Compiled()
			}
		}
		if c := e.Choice.Coil; c != nil && len(c.Candidates) > 0 {
			e.fitted, e.preload = c.Candidates[0].Index, c.Candidates[0].Preload
		}
	}
	if a := e.Spec.Air; a != nil {
		e.gas = a.Spec
		if c := e.Choice.Air; c != nil && len(c.Options) > 0 {
			e.gas.Fill, e.gas.Spacers, e.filled = c.Options[0].Fill, c.Options[0].Spacers, true
		}
	}
	if g := e.Spec.Gauge; g != nil {
		e.gauge, e.gas.Ambient, e.gas.Exponent = *g, g.Ambient, g.Exponent
		e.gauge.Readings = slices.Clone(g.Readings)
		if c := e.Choice.Gauge; c != nil {
			e.gas.Fill, e.filled = c.Fill, true
		}
	}
}

// check returns the model of a setup, and records what is wrong with the setup or the uncertainty.
func check(c *units.Checker, s Setup, u Uncertainty) *model {
	m := newModel(s, u)
	if s.Front == nil && s.Rear == nil {
		c.Fail("front", nil, "an end with its curve, and the choice that was made for it", units.ErrMissing)
	}
	for i := range m.ends {
		e := &m.ends[i]
		if e.name == "" {
			continue
		}
		coil := e.fitted >= 0 && e.fitted < len(e.shelf.Springs)
		if e.Curve == nil || e.Choice.End().Law == nil && e.Spec.Gauge == nil || coil == e.filled {
			c.Fail(e.name, nil, "an end with its curve, and the choice that was made for it", units.ErrMissing)
		}
	}
	m.declare(c)
	return m
}

// axles are those of the ends of a model.
var axles = [2]sag.Axle{sag.Front, sag.Rear}

// load returns the sprung load at one end.
func (m *model) load(i int) units.Force { return m.masses.SprungLoad(axles[i], m.masses.Total()) }

// curve returns the curve of an end with its inputs as moved; nil if there is no such curve.
func (e *end) curve() *linkage.Curve {
	curve, spec := e.Curve, e.Spec.Curve
	table, fork := spec.Table != nil && !slices.Equal(spec.Table.Travel, e.table.Travel), spec.Fork != nil && *spec.Fork != e.fork
	if table {
		spec.Table = &e.table
	}
	if fork {
		spec.Fork = &e.fork
	}
	if table || fork {
		curve, _ = linkage.New(spec)
	}
	if curve != nil && e.ratio != 1 {
		curve, _ = curve.Scaled(e.ratio)
	}
	return curve
}

// stands returns the end with its spring, without friction. An air spring is filled and then warmed.
func (e *end) stands(curve *linkage.Curve) (sag.End, error) {
	if e.fitted >= 0 {
		law, err := e.shelf.Springs[e.fitted].Preloaded(curve.Stroke(), e.preload)
		return sag.End{Curve: curve, Law: law}, err
	}
	spec, warmer := e.gas, units.GaugePressure(e.warmth-1)
	spec.Fill += warmer * (spec.Fill + units.GaugePressure(spec.Ambient))
	if spec.SecondVolume > 0 {
		spec.SecondFill += warmer * (spec.SecondFill + units.GaugePressure(spec.Ambient))
	}
	return sag.AirEnd(curve, spec)
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
