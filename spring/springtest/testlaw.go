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
//   - force does not fall, but for rounding
//   - the rate is not negative, and is the slope of the force
//   - energy is 0 at travel 0, and the integral of the force from there
//   - the segments of a [spring.Polyline], if it has any, agree with its force
//
// The law is evaluated at a few thousand travels. At the kinks given, Rate must be the right-hand
// slope, at full travel the left-hand one; other kinks and jumps do not disturb the test. A law that is
// nil or panics is an error as well.
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
	if !(t.full > 0) || math.IsInf(float64(t.full), 0) {
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
	t.strongest = max(math.Abs(t.force(0)), math.Abs(t.force(float64(t.full))))
	if err := t.numbers(); err != nil {
		return err // the rest would say it again
	}
	return errors.Join(t.clamps(), t.slopes(kinks), t.work(), t.segments())
}

// samples is at how many steps of travel a law is evaluated at least.
const samples = 64

type tester struct {
	law       spring.Law
	full      units.Length
	at        []units.Length // in order
	strongest float64        // N
}

func (t *tester) force(x float64) float64 { return float64(t.law.Force(units.Length(x))) }

// numbers tests that the answers are finite, and that force does not fall.
func (t *tester) numbers() error {
	before := math.Inf(-1)
	for _, x := range t.at {
		f, k, e := t.law.Force(x), t.law.Rate(x), t.law.Energy(x)
		switch sum := float64(f) + float64(k) + float64(e); {
		case sum-sum != 0:
			return fmt.Errorf("springtest: at %v force is %v, rate %v, energy %v, want them finite", x, f, k, e)
		case float64(f) < before-1e-9*math.Abs(before)-1e-12*t.strongest:
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
	for _, c := range []struct{ x, as units.Length }{{-1, 0}, {-inf, 0}, {inf - inf, 0}, {2 * t.full, t.full}, {inf, t.full}} {
		if t.law.Force(c.x) != t.law.Force(c.as) || t.law.Rate(c.x) != t.law.Rate(c.as) || t.law.Energy(c.x) != t.law.Energy(c.as) {
			return fmt.Errorf("springtest: travel %v is not taken as %v", c.x, c.as)
		}
	}
	return nil
}

// slopes tests the rate between the samples, and at the kinks.
func (t *tester) slopes(kinks []units.Length) (err error) {
	for i, from := range t.at[:len(t.at)-1] {
		room := t.at[i+1] - from
		err = cmp.Or(err, t.slope(from+0.37*room, room/4))
	}
	for _, x := range append([]units.Length{0}, kinks...) {
		x, h := spring.Clamp(x, t.full), t.full/samples/4
		if x == t.full {
			h = -h
		}
		err = cmp.Or(err, t.slope(x, h))
	}
	return err
}

// slope tests a rate by finite differences of second order, to the right, or to the left if step is
// negative. Their steps get ever shorter, to leave out a kink nearby.
func (t *tester) slope(at, step units.Length) error {
	rate, slope, x, h := float64(t.law.Rate(at)), 0.0, float64(at), float64(step)
	for least := 1e-7 * float64(t.full); math.Abs(h) > least; h /= 4 {
		slope = (4*(t.force(x+h)-t.force(x)) - (t.force(x+2*h) - t.force(x))) / (2 * h)
		if math.Abs(rate-slope) <= 1e-4*math.Abs(rate)+1e-11*t.strongest/math.Abs(h) {
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
	sum, whole := 0.0, t.strongest*float64(t.full)
	for i, to := range t.at[1:] {
		a, b := float64(t.at[i]), float64(to)
		sum += t.area(a, b, t.force(a), t.force((a+b)/2), t.force(b), 1e-12*whole, 45)
		if e := t.law.Energy(to); !(math.Abs(float64(e)-sum) <= 1e-9*whole) {
			return fmt.Errorf("springtest: energy at %v is %v, but the integral of force is %v", to, e, units.Energy(sum))
		}
	}
	return nil
}

// area is the integral of force from a to b by Simpson's rule, with steps halved until it is good to
// within or halvings are used up.
func (t *tester) area(a, b, fa, fm, fb, within float64, halvings int) float64 {
	m := a + (b-a)/2
	fl, fr := t.force(a+(m-a)/2), t.force(m+(b-m)/2)
	left, right := (m-a)/6*(fa+4*fl+fm), (b-m)/6*(fm+4*fr+fb)
	if off := left + right - (b-a)/6*(fa+4*fm+fb); halvings == 0 || math.Abs(off) <= 15*within {
		return left + right + off/15
	}
	return t.area(a, m, fa, fl, fm, within, halvings-1) + t.area(m, b, fm, fr, fb, within, halvings-1)
}

// segments tests those of a polyline.
func (t *tester) segments() error {
	line, ok := t.law.(spring.Polyline)
	if !ok || len(line.Segments()) == 0 {
		return nil
	}
	x, near := units.Length(0), 1e-9*t.full
	for i, s := range line.Segments() {
		slack := 1e-9*t.strongest + float64(s.Rate.Times(near))
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
