package visit

import (
	"errors"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Choices of this package: how far apart settings are that a rider tells apart, as a fraction of the
// wheel's travel, and how far apart rates are where no shelf is known.
const (
	sagStep  = 0.02
	rateStep = 0.05
)

// current returns an end's setting with the gas that is in it now.
func (e *end) current() Setting {
	s := e.set
	if s.Air != nil {
		air := *s.Air
		air.Spec = e.gas
		air.Exponent = s.Air.Exponent
		s.Air = &air
	}
	return s
}

// With returns a setting with the fill or the preload of a correction that was made for it.
func (s Setting) With(a Correction) Setting {
	if a.Coil != nil {
		coil := *s.Coil
		coil.Preload = a.Coil.Preload
		s.Coil = &coil
	} else {
		air := *s.Air
		air.Fill = a.Air.Fill
		s.Air = &air
	}
	return s
}

// corrected returns the end with the fill or the preload for its target under a load, and reports
// whether there is one.
func (s Setting) corrected(load units.Force) (*end, bool) {
	c := units.Checker{Package: "sag"}
	e := s.end(&c)
	if !c.OK() {
		return nil, false
	}
	a, err := e.correction(sag.Target{Load: load, Sag: s.Sag})
	if err != nil {
		return nil, false
	}
	e = s.With(a).end(&c)
	return e, c.OK()
}

// options returns what a drop that used a part of the travel would use of an end that passed all
// checks: with the fill or the preload for the target, unless that is set, and then with a step of
// each kind harder, or softer. A step that can't be taken is left out, and one that changes nothing
// for the better.
func (e *end) options(load units.Force, drop units.Length, used float64, softer bool, job *setup.EndJob) []RideOption {
	list := []RideOption{}
	// add adds an option unless it is what is set; one that is a step, only if it helps.
	add := func(what Adjustment, step bool, s Setting) {
		next, ok := s.corrected(load)
		if !ok {
			return
		}
		o := RideOption{Adjustment: what}
		if air := next.set.Air; air != nil {
			o.Fill, o.Spacers = air.Fill, air.Spacers
			ok = air.Fill != e.gas.Fill || air.Spacers != e.gas.Spacers
		} else {
			now := e.set.Coil // on the same collar
			o.Rate, o.Preload = next.coil.RateAt(e.atTarget()+now.PreloadMin), next.set.Coil.Preload
			ok = o.Rate != e.rate() || o.Preload != now.Preload || next.set.Coil.SolidTravel != now.SolidTravel
		}
		if !ok || next.use(&o, load, drop) != nil {
			return
		}
		switch {
		case !step:
			used = o.Used
		case o.Used == 1: // by how much it helps can't be told
		case softer && !(o.Used > used), !softer && !(o.Used < used):
			return
		}
		list = append(list, o)
	}
	s, more := e.current(), 1
	if softer {
		more = -1
	}
	moved := s
	moved.Sag -= sagStep * float64(more)
	if s.Air != nil {
		add(AdjustFill, false, s)
		air := *s.Air
		air.Spacers += more
		s.Air = &air
		if air.Spacers >= 0 && air.SpacerVolume > 0 && (job == nil || job.Air == nil || job.Air.MaxSpacers == 0 || air.Spacers <= job.Air.MaxSpacers) {
			add(AdjustSpacers, true, s)
		}
		add(AdjustFill, true, moved)
		return list
	}
	add(AdjustPreload, false, s)
	coil := *s.Coil
	s.Coil = &coil
	if job == nil || job.Coil == nil {
		one := e.coil.Scaled(1 + rateStep*float64(more))
		one.SolidTravel = 0
		coil = coil.set(one)
		add(AdjustRate, true, s)
	} else if beside := e.besideOnShelf(softer, job.Coil.Springs); beside != nil {
		coil = coil.set(*beside)
		add(AdjustRate, true, s)
	}
	add(AdjustPreload, true, moved)
	return list
}

// atTarget returns the stroke of the target.
func (e *end) atTarget() units.Length {
	return e.Curve.StrokeAt(units.Length(e.set.Sag) * e.Curve.Travel())
}

// rate returns that of the fitted spring; of one whose rate varies, up to the target at the collar's least
// preload.
func (e *end) rate() units.Stiffness { return e.coil.RateAt(e.atTarget() + e.set.Coil.PreloadMin) }

// besideOnShelf returns the spring of a shelf whose rate is next to that of the fitted one on one side; nil
// if there is none.
func (e *end) besideOnShelf(softer bool, shelf []fit.ShelfSpring) *fit.ShelfSpring {
	fitted, at := e.rate(), e.atTarget()+e.set.Coil.PreloadMin
	var best *fit.ShelfSpring
	var near units.Stiffness
	for i := range shelf {
		rate := shelf[i].RateAt(at)
		if softer && rate < fitted && (best == nil || rate > near) || !softer && rate > fitted && (best == nil || rate < near) {
			best, near = &shelf[i], rate
		}
	}
	return best
}

// use sets where an option rests, what a drop uses of its travel, and its reserve. The travel w is the
// greater solution of E(w) = load·(drop + w), or where the load rests over a fast stroke if there is
// none.
func (e *end) use(o *RideOption, load units.Force, drop units.Length) error {
	moving, state, err := e.under(load)
	if err != nil {
		return err
	}
	_, fast, err := moving.Wheel()
	if err != nil {
		return err
	}
	least, err := spring.Settle(fast, load)
	switch {
	case errors.Is(err, spring.ErrToppedOut):
		least = 0
	case errors.Is(err, spring.ErrBottomedOut):
		least = fast.Travel()
	case err != nil:
		return err
	}
	left := func(w float64) float64 {
		return float64(fast.Energy(units.Length(w))) - float64(load)*(float64(drop)+w)
	}
	low, high := float64(least), float64(fast.Travel())
	w := low
	switch {
	case !(left(high) > 0):
		w = high
	case left(low) < 0:
		if w, err = root.Find(left, low, high, 1e-12*high); err != nil {
			return err
		}
	}
	o.Sag, o.Reserve, o.Used = state.Rest.Sag, state.Reserve.DropHeight, w/float64(e.Curve.Travel())
	return nil
}
