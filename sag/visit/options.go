package visit

import (
	"math"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
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
// the target, and then with a step of each kind. The way is 1 for a harder end and −1 for a softer one. What
// changes nothing for the better is left out, and a step that can't be taken.
func (e *Assembly) options(load units.Force, drop units.Length, used, way float64, job *setup.EndJob) []RideOption {
	list := []RideOption{}
	add := func(what Adjustment, step bool, change func(*Assembly)) {
		next := *e
		change(&next)
		if next.correct(load) != nil {
			return
		}
		o := e.option(what, &next)
		if o == e.option(what, e) || next.use(&o, load, drop) != nil {
			return
		}
		switch {
		case !step:
			used = o.Used
		case o.Used < 1 && !(way*(used-o.Used) > 0): // of 1 it can't be told by how much it helps
			return
		}
		list = append(list, o)
	}
	as := func(*Assembly) {}
	moved := func(next *Assembly) { next.set.Sag -= sagStep * way }
	if air := e.set.Air; air != nil {
		add(AdjustFill, false, as)
		if n := e.gas.Spacers + int(way); n >= 0 && air.SpacerVolume > 0 && (job == nil || job.Air == nil || job.Air.MaxSpacers == 0 || n <= job.Air.MaxSpacers) {
			add(AdjustSpacers, true, func(next *Assembly) { next.gas.Spacers = n })
		}
		add(AdjustFill, true, moved)
		return list
	}
	add(AdjustPreload, false, as)
	if one := e.beside(way, job); one != nil {
		add(AdjustRate, true, func(next *Assembly) { next.coil = *one })
	}
	add(AdjustPreload, true, moved)
	return list
}

// option returns how an end is set that differs from e by its setting alone.
func (e *Assembly) option(what Adjustment, next *Assembly) RideOption {
	if e.set.Air != nil {
		return RideOption{Adjustment: what, Fill: next.gas.Fill, Spacers: next.gas.Spacers}
	}
	return RideOption{Adjustment: what, Rate: e.rateOf(next.coil), Preload: next.set.Coil.Preload}
}

// correct sets the fill or the preload for the target under a load.
func (e *Assembly) correct(load units.Force) error {
	a, err := e.Correction(sag.Target{Load: load, Sag: e.set.Sag})
	if err != nil {
		return err
	}
	if e.set = e.set.With(a); a.Coil != nil {
		e.end.Law, err = e.coil.Preloaded(e.end.Curve.Stroke(), a.Coil.Preload)
		return err
	}
	e.gas.Fill = a.Air.Fill
	return e.inflate()
}

// rateOf returns that of a spring; of one whose rate varies, up to the target at the collar's least preload.
func (e *Assembly) rateOf(one fit.ShelfSpring) units.Stiffness {
	return one.RateAt(e.atTarget() + e.set.Coil.PreloadMin)
}

// beside returns the spring of the job's shelf whose rate is next to that of the fitted one on one side,
// nil if there is none; without a shelf, a spring whose rate is a step away.
func (e *Assembly) beside(way float64, job *setup.EndJob) (best *fit.ShelfSpring) {
	if job == nil || job.Coil == nil {
		one := e.coil.Scaled(1 + way*rateStep)
		one.SolidTravel = 0
		return &one
	}
	nearest := math.Inf(1)
	for _, one := range job.Coil.Springs {
		if apart := way * float64(e.rateOf(one)-e.rateOf(e.coil)); apart > 0 && apart < nearest {
			made := one.Compiled()
			best, nearest = &made, apart
		}
	}
	return best
}

// use sets where an option rests, what a drop uses of its travel, and its reserve. The travel w is the
// greater solution of E(w) = load·(drop + w), or where the load rests over a fast stroke if there is
// none.
func (e *Assembly) use(o *RideOption, load units.Force, drop units.Length) error {
	state, err := e.end.Under(load)
	if err != nil {
		return err
	}
	_, fast, _ := e.end.Wheel() // no error, as Under had none
	rest, _, err := sag.End{Curve: e.end.Curve, Law: fast.Spring()}.SettleWithin(load)
	if err != nil {
		return err
	}
	left := func(w float64) float64 {
		return float64(fast.Energy(units.Length(w))) - float64(load)*(float64(drop)+w)
	}
	w, full := float64(rest.Travel), float64(fast.Travel())
	switch {
	case !(left(full) > 0):
		w = full
	case left(w) < 0:
		if w, err = root.Find(left, w, full, 1e-12*full); err != nil {
			return err
		}
	}
	o.Sag, o.Reserve, o.Used = state.Rest.Sag, state.Reserve.DropHeight, w/float64(e.end.Curve.Travel())
	return nil
}
