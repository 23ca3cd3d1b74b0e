// Package springtest tests implementations of [spring.Law], as testing/fstest does file systems.
//
// Not modelled: whether a law describes a real spring.
package springtest

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// TestLaw checks that a law keeps the contract of [spring.Law], and returns an error that says what it
// breaks and where:
//
//   - travel is finite and more than 0
//   - force, rate and energy are finite at every travel; arguments outside [0, Travel], and NaN, are
//     clamped
//   - force does not fall, except by rounding: 1e-9 of itself and 1e-12 of the largest force
//   - the rate is not negative, and is the slope of the force within 1e-4 of itself and 4e-5 of the
//     largest force over the travel
//   - energy is 0 at travel 0, and the integral of the force from there within 1e-9 of the largest force
//     times the travel
//   - the segments of a [spring.Polyline], if it has any, agree with its force
//
// The law is evaluated about 1000 times, and more often where it is not smooth. At the kinks given,
// Rate must be the right-hand slope, at full travel the left-hand one; other kinks and jumps do not
// disturb the test. A law that is nil or panics is an error as well.
func TestLaw(law spring.Law, kinks ...units.Length) (err error) {
	if law == nil {
		return errors.New("springtest: the law is nil")
	}
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("springtest: the law panics: %v", p)
		}
	}()
	t := tester{law: law, full: law.Travel()}
	if !(t.full > 0 && finite(float64(t.full))) {
		return fmt.Errorf("springtest: travel is %v, want it finite and more than 0", t.full)
	}
	for i := range samples + 1 {
		t.at = append(t.at, t.full*units.Length(i)/samples)
	}
	for _, x := range kinks {
		t.at = append(t.at, spring.Clamp(x, t.full))
	}
	slices.Sort(t.at)
	t.at = slices.Compact(t.at)
	t.largest = max(-t.force(0), t.force(float64(t.full)))
	if err := t.numbers(); err != nil {
		return err // the rest would say it again
	}
	return errors.Join(t.clamps(), t.slopes(kinks), t.work(), t.segments())
}

// samples is the number of steps of travel a law is evaluated at, at least; mostHalvings that of the
// intervals halved to integrate its force.
const samples, mostHalvings = 64, 50_000

type tester struct {
	law      spring.Law
	full     units.Length
	at       []units.Length // in order
	largest  float64        // magnitude of force, in N
	halvings int
}

func finite(v float64) bool { return v-v == 0 }

func (t *tester) force(x float64) float64 { return float64(t.law.Force(units.Length(x))) }

// numbers tests that the answers are finite, and that force does not fall.
func (t *tester) numbers() error {
	before := t.force(0)
	for _, x := range t.at {
		f, k, e := t.law.Force(x), t.law.Rate(x), t.law.Energy(x)
		switch {
		case !finite(float64(f)) || !finite(float64(k)) || !finite(float64(e)):
			return fmt.Errorf("springtest: at %v force is %v, rate %v, energy %v, want them finite", x, f, k, e)
		case float64(f) < before-1e-9*math.Abs(before)-1e-12*t.largest:
			return fmt.Errorf("springtest: force falls from %v to %v at %v", units.Force(before), f, x)
		case k < 0:
			return fmt.Errorf("springtest: rate is %v at %v, want 0 or more", k, x)
		}
		before = float64(f)
	}
	return nil
}

// clamps tests arguments outside the travel.
func (t *tester) clamps() error {
	inf := units.Length(math.Inf(1))
	for _, c := range []struct{ x, as units.Length }{{-t.full, 0}, {-inf, 0}, {inf - inf, 0}, {2 * t.full, t.full}, {inf, t.full}} {
		if t.law.Force(c.x) != t.law.Force(c.as) || t.law.Rate(c.x) != t.law.Rate(c.as) || t.law.Energy(c.x) != t.law.Energy(c.as) {
			return fmt.Errorf("springtest: travel %v is not taken as %v", c.x, c.as)
		}
	}
	return nil
}

// slopes tests the rate between the samples, and at the kinks.
func (t *tester) slopes(kinks []units.Length) (err error) {
	for i, from := range t.at[:len(t.at)-1] {
		err = cmp.Or(err, t.slope(from+0.37*(t.at[i+1]-from), t.full))
	}
	for _, x := range append([]units.Length{0}, kinks...) {
		x, side := spring.Clamp(x, t.full), t.full
		if x == t.full {
			side = -side
		}
		err = cmp.Or(err, t.slope(x, side))
	}
	return err
}

// slope tests a rate by finite differences of second order, to the right, or to the left where side
// is negative. Their steps, parts of side, get ever shorter, to leave out a kink nearby.
func (t *tester) slope(at, side units.Length) error {
	rate, x := float64(t.law.Rate(at)), float64(at)
	var slope float64
	for part := 0x1p-8; part > 0x1p-24; part /= 4 {
		h := part * float64(side)
		slope = (4*(t.force(x+h)-t.force(x)) - (t.force(x+2*h) - t.force(x))) / (2 * h)
		if math.Abs(rate-slope) <= 1e-4*rate+1e-11*t.largest/(part*float64(t.full)) {
			return nil
		}
	}
	return fmt.Errorf("springtest: rate is %v at %v, but force rises with %v there", units.Stiffness(rate), at, units.Stiffness(slope))
}

// work tests the energy.
func (t *tester) work() error {
	if e := t.law.Energy(0); e != 0 {
		return fmt.Errorf("springtest: energy at travel 0 is %v, want 0", e)
	}
	sum, whole := 0.0, t.largest*float64(t.full)
	for i, to := range t.at[1:] {
		a, b := float64(t.at[i]), float64(to)
		sum += t.area(a, b, t.force(a), t.force((a+b)/2), t.force(b), 1e-12*whole)
		if e := t.law.Energy(to); !(math.Abs(float64(e)-sum) <= 1e-9*whole) {
			return fmt.Errorf("springtest: energy at %v is %v, but the integral of force is %v", to, e, units.Energy(sum))
		}
	}
	return nil
}

// area returns the integral of force from a to b by Simpson's rule, with steps halved until halving
// them changes it by no more than within. It returns NaN where the force has no integral: where it is
// NaN, or too rough to integrate.
func (t *tester) area(a, b, fa, fm, fb, within float64) float64 {
	m := (a + b) / 2
	fl, fr := t.force((a+m)/2), t.force((m+b)/2)
	sum := (m-a)/6*(fa+4*fl+fm) + (b-m)/6*(fm+4*fr+fb)
	switch off := sum - (b-a)/6*(fa+4*fm+fb); {
	case !(math.Abs(off) > within):
		return sum
	case t.halvings == mostHalvings:
		return math.NaN()
	}
	t.halvings++
	return t.area(a, m, fa, fl, fm, within) + t.area(m, b, fm, fr, fb, within)
}

// segments tests those of a polyline.
func (t *tester) segments() error {
	line, ok := t.law.(spring.Polyline)
	if !ok || len(line.Segments()) == 0 {
		return nil
	}
	x, near := units.Length(0), 1e-9*t.full
	for i, s := range line.Segments() {
		slack := 1e-9*t.largest + float64(s.Rate.Times(near))
		off := max(math.Abs(float64(t.law.Force(x+near)-s.Start)), math.Abs(float64(t.law.Force(x+s.Length-near)-s.End)))
		if !(s.Length > 0 && off <= slack) {
			return fmt.Errorf("springtest: segment %d, from %v at %v to %v at %v, is not the law's", i, s.Start, x, s.End, x+s.Length)
		}
		x += s.Length
	}
	if !(math.Abs(float64(x-t.full)) <= float64(near)) {
		return fmt.Errorf("springtest: the segments end at %v, want the travel %v", x, t.full)
	}
	return nil
}
