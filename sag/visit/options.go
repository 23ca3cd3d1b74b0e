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

// options returns what a drop that used a part of the travel would use: with the fill or the preload for
// the target, unless that is set, and then with a step of each kind harder, or softer. A step that can't
// be taken is left out, and one that changes nothing for the better.
func (e *Assembly) options(load units.Force, drop units.Length, used float64, softer bool, job *setup.EndJob) []RideOption {
	list := []RideOption{}
	// add adds an option unless it is what is set; one that is a step, only if it helps.
	add := func(what Adjustment, step bool, change func(*Assembly)) {
		other := *e
		change(&other)
		next, err := other.corrected(load)
		if err != nil {
			return
		}
		o, same := RideOption{Adjustment: what}, false
		if air := e.set.Air; air != nil {
			o.Fill, o.Spacers = next.gas.Fill, next.gas.Spacers
			same = o.Fill == e.gas.Fill && o.Spacers == e.gas.Spacers
		} else {
			now := e.set.Coil // on the same collar
			o.Rate, o.Preload = next.coil.RateAt(e.atTarget()+now.PreloadMin), next.set.Coil.Preload
			same = o.Rate == e.rate() && o.Preload == now.Preload && next.coil.SolidTravel == e.coil.SolidTravel
		}
		if same || next.use(&o, load, drop) != nil {
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
	more := 1
	if softer {
		more = -1
	}
	as := func(*Assembly) {}
	moved := func(other *Assembly) { other.set.Sag -= sagStep * float64(more) }
	if air := e.set.Air; air != nil {
		add(AdjustFill, false, as)
		if n := e.gas.Spacers + more; n >= 0 && air.SpacerVolume > 0 && (job == nil || job.Air == nil || job.Air.MaxSpacers == 0 || n <= job.Air.MaxSpacers) {
			add(AdjustSpacers, true, func(other *Assembly) { other.gas.Spacers = n })
		}
		add(AdjustFill, true, moved)
		return list
	}
	add(AdjustPreload, false, as)
	if one := e.beside(softer, job); one != nil {
		add(AdjustRate, true, func(other *Assembly) { other.coil = *one })
	}
	add(AdjustPreload, true, moved)
	return list
}

// corrected returns the end with the fill or the preload for its target under a load.
func (e *Assembly) corrected(load units.Force) (*Assembly, error) {
	a, err := e.Correction(sag.Target{Load: load, Sag: e.set.Sag})
	if err != nil {
		return nil, err
	}
	return e.with(a)
}

// rate returns that of the fitted spring; of one whose rate varies, up to the target at the collar's least
// preload.
func (e *Assembly) rate() units.Stiffness {
	return e.coil.RateAt(e.atTarget() + e.set.Coil.PreloadMin)
}

// beside returns the spring of the job's shelf whose rate is next to that of the fitted one on one side,
// nil if there is none; without a shelf, a spring whose rate is a step away.
func (e *Assembly) beside(softer bool, job *setup.EndJob) (best *fit.ShelfSpring) {
	if job == nil || job.Coil == nil {
		step := rateStep
		if softer {
			step = -step
		}
		one := e.coil.Scaled(1 + step)
		one.SolidTravel = 0
		return &one
	}
	fitted, at := e.rate(), e.atTarget()+e.set.Coil.PreloadMin
	var near units.Stiffness
	for _, one := range job.Coil.Springs {
		rate := one.RateAt(at)
		if softer && rate < fitted && (best == nil || rate > near) || !softer && rate > fitted && (best == nil || rate < near) {
			made := one.Compiled()
			best, near = &made, rate
		}
	}
	return best
}

// use sets where an option rests, what a drop uses of its travel, and its reserve. The travel w is the
// greater solution of E(w) = load·(drop + w), or where the load rests over a fast stroke if there is
// none.
func (e *Assembly) use(o *RideOption, load units.Force, drop units.Length) error {
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
	o.Sag, o.Reserve, o.Used = state.Rest.Sag, state.Reserve.DropHeight, w/float64(e.end.Curve.Travel())
	return nil
}
