package certainty

import (
	"math"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// work returns what a bike does with its inputs as moved: what depends on them is worked out again, and
// the rest is as in b.
func (m *model) work(again moves, b bike) bike {
	for i := range b.ends {
		if again.ends[i] {
			landing := b.ends[i].landing
			if b.ends[i] = m.workEnd(i, again.landing); !again.landing {
				b.ends[i].landing = landing
			}
		}
	}
	if b.stands {
		var err error
		b.stance, err = sag.Bike{Masses: m.masses, Front: b.ends[0].held, Rear: b.ends[1].held}.Stance()
		b.stands = err == nil
	}
	return b
}

// workEnd returns what end i does with its inputs as moved.
func (m *model) workEnd(i int, landing bool) outcome {
	e, none := &m.ends[i], math.NaN()
	o := outcome{idealRate: units.Stiffness(none), preloadWanted: units.Length(none), fillWanted: units.GaugePressure(none), misread: e.misread}
	if e.name == "" {
		return o
	}
	load, curve := m.load(i), e.curve()
	if !(load > 0) || curve == nil { // as for an end that the setup does not have
		return o
	}
	o.curve = curve
	target := sag.Target{Load: load, Sag: e.Spec.Sag}
	if e.Spec.Gauge != nil {
		m.workGauge(i, &o, landing)
		return o
	}
	if e.fitted >= 0 {
		if k, err := sag.RequiredRate(curve, target, e.shelf.PreloadMin); err == nil {
			o.idealRate = k.Rate
		}
		stroke, force := target.AtSpring(curve)
		o.preloadWanted = e.shelf.Springs[e.fitted].PreloadFor(force, stroke)
	} else {
		still := e.gas
		still.Exponent = 1
		if p, err := sag.RequiredFill(curve, target, still); err == nil {
			o.fillWanted = p
		}
	}
	if stands, err := e.stands(curve); err == nil {
		if e.rest(&o, stands, load); landing {
			e.land(&o, stands, m.tolerance)
		}
	}
	return o
}

// land sets how an end with its spring takes the drop.
func (e *end) land(o *outcome, stands sag.End, tolerance float64) {
	if o.stage == nothing || !(e.Drop.Height > 0) {
		return
	}
	drop := e.Drop
	drop.Damping *= units.Damping(e.damping)
	// With an error the height stays 0, and the answers of a landing are missing.
	o.landing, _ = stands.LandWithin(o.state.Load, drop, tolerance)
}

// rest sets where an end with its spring rests under a load, and what it does there.
func (e *end) rest(o *outcome, stands sag.End, load units.Force) {
	// Friction left at the spring moves the rest. The rates and the reserve are those of the spring
	// without it.
	held := stands
	held.Law = offset{stands.Law, e.stuck}
	rest, finding, err := held.SettleWithin(load)
	if err != nil {
		return
	}
	o.held = sag.End{Curve: held.Curve, Law: held.Law}
	o.state = stands.StateAt(stands.RestAt(rest.Stroke, load), load)
	o.stage, o.state.Finding = sprung, finding
	if finding == "" {
		o.stage = resting
	}
}
