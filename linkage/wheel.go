package linkage

import (
	"fmt"
	"math"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// WheelLaw is the law of a spring at the wheel, a [spring.Law] over the wheel's
// vertical travel. It is made by [AtWheel].
type WheelLaw struct {
	units.Opaque[WheelLaw]
	curve  *Curve
	law    spring.Law
	travel float64
	end    leverage // at full travel
}

// leverage is a stroke, and the lever ratio and its slope there.
type leverage struct{ stroke, ratio, slope float64 }

// leverage returns the leverage at a stroke of u beyond the start of a piece.
func (c *Curve) leverage(p *piece, u float64) leverage {
	return leverage{p.start + u, p.Slope(u) * c.factor, p.Second(u) * c.factor}
}

// AtWheel returns the law at the wheel of a spring behind a curve, with the force, rate and energy
// that the package comment derives. The spring's travel is counted along the stroke. If it is shorter
// than the stroke, the wheel's travel ends there; if it is longer, the rest is not used. The curve
// must not be nil or zero. The spring must not be nil, its travel must be finite and more than 0, and
// its force, rate and energy at both ends of its travel must be below 1e150 N, N/m and J in magnitude.
// The error names curve, law or both.
//
// The force of a [spring.Law] does not fall. That of a WheelLaw does not fall either if
// k_s/F_s is at least LR′/LR everywhere, which is so if the ratio never rises, and in most
// cases if it does. The force can fall between two points of a curve through inaccurate
// readings. Force, rate and energy are right even there, but the wheel has no stable rest
// where the force falls. [spring.Settle] then returns one of several travels with the same
// force, or reports bottoming out under a load that only a travel in between carries.
// [WheelLaw.MinRate] finds such a fall; AtWheel does not refuse it.
//
// Not modelled: friction in the pivots, the weight of the moving parts, forces
// from the chain and the brake, and the tyre.
func AtWheel(curve *Curve, law spring.Law) (*WheelLaw, error) {
	c := units.Checker{Package: "linkage"}
	if curve == nil || len(curve.pieces) == 0 {
		c.Fail("curve", nil, "a lever-ratio curve", units.ErrMissing)
	}
	CheckLaw(&c, "law", law)
	if err := c.Err(); err != nil {
		return nil, err
	}
	stroke := min(law.Travel(), curve.Stroke())
	l := &WheelLaw{curve: curve, law: law, travel: float64(curve.TravelAt(stroke))}
	if !(l.travel > 0) { // less than float64 can tell
		c.Fail("law", nil, "a spring whose travel moves the wheel", nil)
		return nil, c.Err()
	}
	i := curve.byStroke.find(float64(stroke))
	if i > 0 && float64(stroke) <= curve.pieces[i].start {
		i-- // full travel takes the left-hand values
	}
	l.end = curve.leverage(&curve.pieces[i], float64(stroke)-curve.pieces[i].start)
	l.end.stroke = float64(stroke)
	return l, nil
}

const tooMuch = 1e150 // N, N/m or J; below it no result overflows

// CheckLaw reports whether a law meets the conditions of [AtWheel]. If it doesn't,
// CheckLaw records under field what is wrong with it.
func CheckLaw(c *units.Checker, field string, law spring.Law) (ok bool) {
	if law == nil {
		c.Fail(field, nil, "a spring", units.ErrMissing)
		return false
	}
	defer func() {
		if recover() != nil { // a nil pointer in the interface, for one
			c.Fail(field, nil, "a spring whose methods don't panic", units.ErrRange)
			ok = false
		}
	}()
	travel := law.Travel()
	if !(travel > 0) || math.IsInf(float64(travel), 0) {
		c.Fail(field, nil, "a spring whose travel is finite and more than 0", units.ErrRange)
		return false
	}
	for _, x := range [2]units.Length{0, travel} {
		for _, v := range [3]float64{float64(law.Force(x)), float64(law.Rate(x)), float64(law.Energy(x))} {
			if !(math.Abs(v) < tooMuch) {
				c.Fail(field, nil, "a spring whose force, rate and energy are finite and below 1e150 N, N/m and J", units.ErrRange)
				return false
			}
		}
	}
	return true
}

// at returns the leverage at a wheel travel, clamped.
func (l *WheelLaw) at(travel units.Length) leverage {
	w := float64(travel)
	switch {
	case w >= l.travel || l.curve == nil:
		return l.end
	case !(w > 0):
		return l.curve.leverage(&l.curve.pieces[0], 0)
	}
	return l.curve.leverage(l.curve.invert(w))
}

// Force returns the vertical force in N at the wheel at a wheel travel,
// F_s/LR; the travel is clamped to [0, Travel].
func (l *WheelLaw) Force(travel units.Length) units.Force {
	if l.law == nil {
		return 0
	}
	at := l.at(travel)
	return units.Force(float64(l.law.Force(units.Length(at.stroke))) / at.ratio)
}

// Rate returns the wheel rate in N/m at a wheel travel, k_s/LR² − F_s·LR′/LR³;
// the travel is clamped to [0, Travel]. Where two pieces of the curve meet it
// is the right-hand value, at full travel the left-hand one.
func (l *WheelLaw) Rate(travel units.Length) units.Stiffness {
	if l.law == nil {
		return 0
	}
	return l.rate(l.at(travel))
}

// rate is dF_w/dw = (dF_s/ds·LR − F_s·LR′)/LR² · ds/dw.
func (l *WheelLaw) rate(at leverage) units.Stiffness {
	s := units.Length(at.stroke)
	force, rate := float64(l.law.Force(s)), float64(l.law.Rate(s))
	return units.Stiffness((rate - force*at.slope/at.ratio) / (at.ratio * at.ratio))
}

// Energy returns the work in J done on the spring from full extension to a wheel travel,
// clamped to [0, Travel]. The linkage itself stores no energy.
func (l *WheelLaw) Energy(travel units.Length) units.Energy {
	if l.law == nil {
		return 0
	}
	return l.law.Energy(l.Stroke(travel))
}

// Travel returns the full vertical travel of the wheel, at which the curve or the spring ends.
func (l *WheelLaw) Travel() units.Length { return units.Length(l.travel) }

// Stroke returns how far the spring is compressed at a wheel travel, clamped to [0, Travel].
func (l *WheelLaw) Stroke(travel units.Length) units.Length { return units.Length(l.at(travel).stroke) }

// Leverage returns how far the spring is compressed at a wheel travel, clamped to [0, Travel], and the
// lever ratio there: [WheelLaw.Stroke] and [Curve.LeverRatio] at the cost of one.
func (l *WheelLaw) Leverage(travel units.Length) (stroke units.Length, ratio float64) {
	at := l.at(travel)
	return units.Length(at.stroke), at.ratio
}

// SpringForce returns the force in N of the spring itself at a wheel travel,
// clamped to [0, Travel].
func (l *WheelLaw) SpringForce(travel units.Length) units.Force {
	if l.law == nil {
		return 0
	}
	return l.law.Force(l.Stroke(travel))
}

// String returns the law's travel and its forces at the ends as text.
func (l WheelLaw) String() string {
	if l.law == nil {
		return "no spring at the wheel"
	}
	return fmt.Sprintf("spring at the wheel: travel %.1f, force %.0f to %.0f", l.Travel(), l.Force(0), l.Force(l.Travel()))
}

// Curve returns the curve that the law was made with.
func (l *WheelLaw) Curve() *Curve { return l.curve }

// Spring returns the spring that the law was made with.
func (l *WheelLaw) Spring() spring.Law { return l.law }

// MinRate returns the least wheel rate in N/m and the travel at which it was found. If the
// rate is below 0, the wheel force falls there; see [AtWheel]. MinRate evaluates the rate
// on both sides of every point where two pieces of the curve meet, and at 8 even steps of
// stroke between them, at least 64 in all. It may miss a fall narrower than a step.
func (l *WheelLaw) MinRate() (units.Stiffness, units.Length) {
	if l.law == nil {
		return 0, 0
	}
	least, where := l.rate(l.end), l.travel
	steps := max(8, 64/len(l.curve.pieces))
	for i := range l.curve.pieces {
		p := &l.curve.pieces[i]
		h := min(p.end, l.end.stroke) - p.start
		if !(h > 0) {
			break
		}
		for j := range steps + 1 {
			u := h * float64(j) / float64(steps)
			at := l.curve.leverage(p, u)
			at.stroke = min(at.stroke, l.end.stroke)
			if rate := l.rate(at); rate < least {
				least, where = rate, p.Value(u)*l.curve.factor
			}
		}
	}
	return least, units.Length(min(where, l.travel))
}
