package spring

import (
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// SeriesStack is the [Law] of springs on end: all carry the same force, their
// travels add. Make one with [NewSeries].
type SeriesStack struct {
	line   polyline       // all members of constant rates, joined into one
	others []seriesMember // the rest
	travel float64

	// At full travel, where force alone does not tell which members move.
	fullForce, fullCompliance float64
}

// seriesMember is a law whose rate varies, with what is asked for often.
type seriesMember struct {
	law       Law
	travel    float64 // m
	low, high float64 // N at travel 0 and at full travel
}

// maxWork is the most force evaluations of laws of varying rate that one
// answer of a stack may take; only stacks nested several deep would need more.
const maxWork = 3_000

// NewSeries returns the law of one or more springs on end. A member stands
// still at full extension until the force reaches its force there, moves, and
// stands still again once it has used all its travel. The stack's travel is
// the sum of theirs, its rate 1/Σ 1/kᵢ over the members that move, and its
// energy the sum of theirs. Where one member is used up before the next starts
// to move, the force jumps; Force is then the value after the jump, and
// [Settle] has no travel to give for a load inside it.
//
// Members of constant rate between kinks ([LinearSpring], [GroupedSpring],
// [DualRateSpring] and stacks of them) are joined once into a chain of straight
// segments, so that an answer is a closed form. Beside other laws the split of
// the travel is found by safeguarded Newton steps, in about 6 evaluations of one
// such law; each further one is inverted with [Settle] in every step.
//
// Every member is checked at 17 travels: one that is nil, panics, gives NaN or
// an infinity, has no travel, or whose force falls is refused, and the error
// names it, such as laws[1]. A law that breaks the contract of [Law] only
// between these travels is not found out, and spoils the stack's answers.
func NewSeries(laws ...Law) (*SeriesStack, error) {
	c := units.Checker{Package: "spring"}
	if len(laws) == 0 {
		c.Fail("laws", nil, "one or more springs", units.ErrMissing)
	}
	for i, law := range laws {
		checkLaw(&c, fmt.Sprintf("laws[%d]", i), law)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	s := &SeriesStack{}
	var lines []*polyline
	for _, law := range laws {
		inner, _ := law.(*SeriesStack)
		if line, ok := asPolyline(law); ok {
			lines = append(lines, &line)
		} else if inner != nil { // series is associative
			if inner.line.travel > 0 {
				lines = append(lines, &inner.line)
			}
			s.others = append(s.others, inner.others...)
		} else {
			travel := law.Travel()
			s.others = append(s.others, seriesMember{
				law: law, travel: float64(travel), low: float64(law.Force(0)), high: float64(law.Force(travel)),
			})
		}
	}
	switch len(lines) {
	case 0:
	case 1:
		s.line = *lines[0]
	default:
		s.line = seriesLine(lines)
	}
	s.finish(&c, len(lines) > 0)
	if err := c.Err(); err != nil {
		return nil, err
	}
	return s, nil
}

// finish works out what holds for the stack as a whole, and checks it.
func (s *SeriesStack) finish(c *units.Checker, hasLine bool) {
	s.travel = s.line.travel
	s.fullForce = math.Inf(-1)
	if hasLine {
		s.fullForce = float64(s.line.Force(s.line.Travel()))
	}
	for _, m := range s.others {
		s.travel += m.travel
		s.fullForce = max(s.fullForce, m.high)
	}
	last := s.fullForce - 1e-12*math.Abs(s.fullForce)
	if hasLine && float64(s.line.Force(s.line.Travel())) >= last {
		s.fullCompliance = 1 / float64(s.line.Rate(s.line.Travel()))
	}
	for _, m := range s.others {
		if m.high >= last {
			s.fullCompliance += 1 / float64(m.law.Rate(units.Length(m.travel)))
		}
	}
	switch {
	case lawWork(s) > maxWork:
		c.Fail("laws", nil, "less deeply nested laws of varying rate", nil)
	case hasLine && !s.line.sound(), len(s.others) > 0 && !answers(s):
		c.Fail("laws", nil, "rates and travels whose force and energy can be told in float64", nil)
	}
}

// Force returns the force in N that every member carries; x is clamped to
// [0, Travel].
func (s *SeriesStack) Force(x units.Length) units.Force {
	if len(s.others) == 0 {
		return s.line.Force(x)
	}
	if float64(x) >= s.travel {
		return units.Force(s.fullForce)
	}
	_, force, _ := s.split(s.others, float64(Clamp(x, s.Travel())))
	return units.Force(force)
}

// Rate returns 1/Σ 1/kᵢ in N/m over the members that move; x is clamped to
// [0, Travel].
func (s *SeriesStack) Rate(x units.Length) units.Stiffness {
	if len(s.others) == 0 {
		return s.line.Rate(x)
	}
	compliance := s.fullCompliance
	if float64(x) < s.travel || math.IsNaN(float64(x)) {
		_, _, compliance = s.split(s.others, float64(Clamp(x, s.Travel())))
	}
	return units.Stiffness(1 / compliance)
}

// Energy returns the work in J done on all members from 0 to x; x is clamped
// to [0, Travel].
func (s *SeriesStack) Energy(x units.Length) units.Energy {
	if len(s.others) == 0 {
		return s.line.Energy(x)
	}
	left := float64(Clamp(x, s.Travel()))
	full := left >= s.travel
	var sum units.Energy
	for i, m := range s.others {
		a := m.travel
		if !full {
			a, _, _ = s.split(s.others[i:], left)
		}
		sum += m.law.Energy(units.Length(a))
		left = max(left-a, 0)
	}
	if full {
		left = s.line.travel
	}
	return sum + s.line.Energy(units.Length(left))
}

// Travel returns the sum of the members' travels.
func (s *SeriesStack) Travel() units.Length { return units.Length(s.travel) }

// split shares travel x out between the first of others and the rest of them
// with the line. It returns the first one's part, the force, and the
// compliance of all that moves, right-hand. Full travel is not asked of it.
func (s *SeriesStack) split(others []seriesMember, x float64) (part, force, compliance float64) {
	if len(others) == 0 {
		k, dx := s.line.at(units.Length(x))
		return part, min(k.force+k.rate*dx, k.top), 1 / k.rate
	}
	m, rest := &others[0], others[1:]
	if len(rest) == 0 && len(s.line.knots) == 0 { // what is left is all its own
		at := units.Length(min(x, m.travel)) // x less what others took may be rounded up
		return float64(at), float64(m.law.Force(at)), 1 / float64(m.law.Rate(at))
	}
	if moved, _ := s.atForce(rest, m.low); x < moved {
		_, force, compliance = s.split(rest, x)
		return 0, min(force, m.low), compliance
	}
	if moved, _ := s.atForce(rest, m.high); x >= m.travel+moved {
		_, force, compliance = s.split(rest, x-m.travel)
		return m.travel, max(force, m.high), compliance
	}
	room := s.line.travel
	for i := range rest {
		room += rest[i].travel
	}
	lo, hi := max(x-room, 0), min(x, m.travel)
	part = lo + (hi-lo)*(m.travel/(m.travel+room))
	tiny, last := 1e-14*s.travel, 2*(hi-lo)
	for range 200 {
		force = float64(m.law.Force(units.Length(part)))
		rate := float64(m.law.Rate(units.Length(part)))
		moved, restCompliance := s.atForce(rest, force)
		gap := part + moved - x // grows with part
		if gap > 0 {
			hi = part
		} else {
			lo = part
		}
		slope := 1 + rate*restCompliance
		next := part - gap/slope
		newton := slope <= math.MaxFloat64 && next >= lo-tiny && next <= hi+tiny && math.Abs(next-part) <= last/2
		if next = min(max(next, lo), hi); !newton {
			next = lo + (hi-lo)/2
		}
		if last = math.Abs(next - part); last <= tiny {
			if newton {
				return next, min(max(force+rate*(next-part), m.low), m.high), 1/rate + restCompliance
			}
			break
		}
		part = next
	}
	// The first one jumps here, or another is on level ground: the others tell
	// the force, within what the first one permits.
	_, force, compliance = s.split(rest, min(x-part, room))
	below, above := float64(m.law.Force(units.Length(lo))), float64(m.law.Force(units.Length(hi)))
	return part, min(max(force, below), above), compliance
}

// atForce returns how far the line and some of the others have moved together
// when the force is reached, and their compliance there, right-hand.
func (s *SeriesStack) atForce(others []seriesMember, force float64) (x, compliance float64) {
	x, compliance = s.line.atForce(force)
	for i := range others {
		m := &others[i]
		switch {
		case force < m.low:
		case force >= m.high:
			x += m.travel
		default:
			at, err := Settle(m.law, units.Force(force))
			if err != nil {
				at = jumpTravel(m.law, units.Force(force))
			}
			x += float64(at)
			if reached := float64(m.law.Force(at)); math.Abs(reached-force) <= 1e-9*(m.high-m.low) {
				compliance += 1 / float64(m.law.Rate(at))
			}
		}
	}
	return x, compliance
}

// jumpTravel returns where a law's force jumps past a load.
func jumpTravel(law Law, load units.Force) units.Length {
	lo, hi := units.Length(0), law.Travel()
	for range 60 {
		if mid := lo + (hi-lo)/2; law.Force(mid) < load {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
