package setup

import (
	"fmt"
	"slices"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// loaded returns the spec of an end with the load of every reading of its gauge: as stated, or that of its rider.
// If a load can't be told, the readings are checked one by one, and the spec has only the first.
func (e *EndJob) loaded(c *units.Checker, axle sag.Axle, m sag.Masses, good bool) fit.Spec {
	spec := e.Spec
	if spec.Gauge == nil {
		return spec
	}
	spec.Gauge = copied(spec.Gauge)
	list := slices.Clone(spec.Gauge.Readings)
	own, known := c.Child(string(axle)), good
	for i := range list {
		r := &list[i]
		one := own.Element("gauge.readings", i)
		switch {
		case r.Load != nil && r.RiderMass != nil:
			one.Fail("load", *r.Load, units.Without("rider_mass").With("or the load alone"), units.ErrConflict)
			known = false
		case r.Load == nil:
			load, ok := readingLoad(c, &one, axle, m, r.RiderMass, good)
			r.Load, known = &load, known && ok
			if r.RiderMass == nil {
				r.RiderMass = new(m.Rider())
			}
		}
	}
	for i := 1; i < len(list) && !known; i++ {
		one := own.Element("gauge.readings", i)
		list[i].Check(&one, nil)
	}
	if spec.Gauge.Readings = list; !known {
		spec.Gauge.Readings = list[:min(1, len(list))]
	}
	return spec
}

// readingLoad returns the sprung load of a rider at an axle, the job's own for nil, and whether it can be told.
func readingLoad(c, reading *units.Checker, axle sag.Axle, m sag.Masses, rider *units.Mass, good bool) (units.Force, bool) {
	own := m.Rider()
	switch {
	case rider != nil:
		own = *rider
	case own == 0 && good && !c.Bad("masses.rider_mass"): // of a template
		masses := c.Child("masses")
		masses.Fail("rider_mass", nil, "the mass of the rider who made the readings of the gauge", units.ErrMissing)
	}
	loads, err := m.LoadsWith(own)
	if good && rider != nil && err != nil {
		reading.Fail("rider_mass", *rider, "a rider, or 0 for nobody, with whom both springs carry a load", units.ErrConflict)
	}
	return loads.Load(axle), err == nil && (rider != nil || own != 0)
}

// WithReading returns a job with one more reading of gauge and ring at an end whose spring is known by
// such readings. Its sheet has the next step. The error names the end if there is no such spring.
func (j Job) WithReading(axle sag.Axle, r fit.GaugeReading) (Job, error) {
	for _, e := range j.ends() {
		if e.axle != axle || e.Gauge == nil {
			continue
		}
		own := e.clone()
		own.Gauge.Readings = append(slices.Clone(own.Gauge.Readings), r)
		*sag.AtAxle(axle, &j.Front, &j.Rear) = own
		return j, nil
	}
	return j, &units.FieldError{Package: "sag", Field: string(axle), Want: units.Want{Text: "front or rear, with a spring known by readings of its gauge"}, Class: units.ErrMissing}
}

// Settled returns where an end rests under its sprung load: the rest of its State, or of its Gauge if it
// has no State. It is nil if the readings of the gauge don't tell.
func (e *EndSheet) Settled() *sag.Rest {
	switch {
	case e.State != nil:
		return &e.Rest
	case e.Gauge != nil:
		return e.Gauge.Rest
	}
	return nil
}

// known reports whether there is an end and it has a State.
func (e *EndSheet) known() bool { return e != nil && e.State != nil }

// load returns the sprung load at the wheel.
func (e *EndSheet) load() units.Force {
	if e.State == nil {
		return e.Gauge.Load
	}
	return e.Load
}

// measure returns what to read on the stand, or where the target is if the rest can't be told.
func (e *EndSheet) measure() []Measurement {
	if r := e.Settled(); r != nil {
		return []Measurement{{"stroke", r.Stroke, r.StrokeLow, r.StrokeHigh}, {"wheel", r.Travel, r.TravelLow, r.TravelHigh}}
	}
	s, w := e.Gauge.Stroke, units.Length(e.TargetSag)*e.Travel
	return []Measurement{{"stroke", s, s, s}, {"wheel", w, w, w}}
}

// gaugeWarnings adds what a technician must know about a spring known by readings.
func (e *EndSheet) gaugeWarnings(found func(sag.Finding) bool, add func(code, value, limit, format string, args ...any)) {
	g, spec := e.Gauge, e.options.Spec().Gauge
	if found(sag.FillAtMax) && spec.MaxFill > 0 {
		add("fill_at_max", "", g.Fill.String(), "The target would need more than the marking permits, %s; this sheet stops at the marking.", spec.MaxFill.Both())
	} else if found(sag.FillAtMax) {
		add("fill_at_max", "", g.Fill.String(), "The target would need more than the highest fill that was read, %s. Nobody said what the marking on the part permits, so this sheet stops there.", g.Fill.Both())
	}
	if found(sag.BoreDiffers) {
		add("bore_differs", g.Bore.String(), spec.OutsideDiameter.String(),
			"The readings give a bore of %s, %s is stated. A spring with a negative chamber does that, and so does a wrong gauge.", g.Bore.Both(), spec.OutsideDiameter.Both())
	}
	for _, m := range g.Misfits {
		add("readings_disagree", m.Stroke.String(), m.StandardError.String(),
			"Reading %d of gauge and ring is %s off the spring that all readings give, more than their errors explain: a leak, another temperature, other spacers between the readings, or a slip.",
			m.Reading+1, max(m.Stroke, -m.Stroke).Both())
	}
}

// addGauge notes what is not known, or taken for granted, of a spring that is known by readings.
func (s *Sheet) addGauge(e SheetEnd, stated *fit.Gauge) {
	s.take(e.State == nil, e.Axle, "chambers", "END.gauge.readings", "What the spring at the END does far from the readings: force at full travel, what is left for the ride, fast strokes, other spacers, landings, other stances. That depends on the chambers, which the readings don't tell: add readings over more of the travel.")
	s.take(e.State != nil && stated.Exponent == 0, e.Axle, "exponent", "END.gauge.exponent",
		fmt.Sprintf("Over a fast stroke the gas at the END is taken to have no time to give off heat, exponent %g.", fit.DefaultExponent),
		func() []Effect {
			end, full := e.End(), e.Stroke
			slow := float64(end.Law.Force(full)) / end.Curve.LeverRatio(full) / float64(e.Load)
			return []Effect{{End: e.Axle, With: "all the time it needs, exponent 1,", FullRatio: slow - e.FullRatio}}
		})
	s.take(stated.MaxFill == 0, e.Axle, "max_fill", "END.gauge.max_fill", "What the marking on the part at the END permits is not stated, so no fill above the highest of the readings is offered. Read the marking before any air is pumped in.")
	s.take(stated.RingError == 0 && e.options.Spec().Reading == 0, e.Axle, "ring_error", "END.gauge.ring_error",
		fmt.Sprintf("The ring at the END is taken to be read to %s, one standard error.", fit.DefaultRingError))
	s.take(stated.GaugeError == 0, e.Axle, "gauge_error", "END.gauge.gauge_error", "The gauge at the END is taken as exact. A fill depends only on what the same gauge showed before, so a gauge that is off by a steady fraction or amount does little harm.")
}

// gaugeSteps is the step to the fill that readings of gauge and ring give, if they do.
func (e *EndSheet) gaugeSteps() []units.Step {
	g := e.Gauge
	if g == nil || g.FillWanted == 0 {
		return nil
	}
	stroke, force := e.target().AtSpring(e.Curve())
	w := units.Symbols{"g": g.FillWanted, "F_s": force, "s": stroke, "p_a": g.Ambient}
	return []units.Step{w.Step("fill from the readings", "g = (F_s + A_o·p_a)·y(s) − p_a",
		"Boyle's law and the balance of forces; y = (g + p_a)/(F_s + A_o·p_a) of each reading, the same curve over the stroke for all", "g", "F_s", "s", "p_a")}
}
