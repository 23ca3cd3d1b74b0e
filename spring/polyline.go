package spring

import (
	"sort"

	"example.com/wheelrate/units"
)

// polyline is the law of everything made of springs of constant rate: force
// against travel is a chain of straight segments, so force, rate, energy and
// the travel at a given force all are closed forms. The zero value is a spring
// of no travel and no force.
type polyline struct {
	knots  []polyKnot // in order of travel; the first is at 0
	travel float64    // m
}

// polyKnot starts a segment. Where its force is more than the top of the
// segment before it, the force jumps there.
type polyKnot struct {
	x      float64 // m
	from   float64 // x less the snap: where the segment takes over
	force  float64 // N at x
	rate   float64 // N/m over the segment, 0 or more
	energy float64 // J from 0 to x
	top    float64 // N at the segment's end
}

// polySnap is how far below a kink, as a share of the travel, a travel counts
// as being at it: enough for the rounding of "35.2 mm", far too little to see.
const polySnap = 1e-14

// polyPiece is a segment to be: its length along the travel and the forces at
// its two ends.
type polyPiece struct{ length, rate, force, top float64 }

// newPolyline chains pieces. Pieces that nothing is left of in float64 are dropped.
func newPolyline(pieces []polyPiece) polyline {
	travel := 0.0
	for _, p := range pieces {
		travel += p.length
	}
	line := polyline{knots: make([]polyKnot, 0, len(pieces)), travel: travel}
	var x, energy float64
	snap := polySnap * travel
	for _, p := range pieces {
		if len(line.knots) == 0 {
			energy = 0 // energy counts from 0, whatever was dropped before
		}
		if p.length > snap {
			line.knots = append(line.knots, polyKnot{
				x: x, from: x - snap, force: p.force, rate: p.rate, energy: energy, top: p.top,
			})
		}
		x += p.length
		energy += p.length * (p.force/2 + p.top/2)
	}
	return line
}

// at returns the segment that x, clamped, lies in, and how far into it x is.
func (l *polyline) at(x units.Length) (*polyKnot, float64) {
	s := float64(Clamp(x, units.Length(l.travel)))
	lo, hi := 0, len(l.knots)
	for hi-lo > 1 {
		if mid := int(uint(lo+hi) >> 1); l.knots[mid].from <= s {
			lo = mid
		} else {
			hi = mid
		}
	}
	k := &l.knots[lo]
	return k, max(s-k.x, 0)
}

// Force returns the force in N that resists compression at x; x is clamped to
// [0, Travel]. Where the force jumps it is the value after the jump.
func (l *polyline) Force(x units.Length) units.Force {
	if len(l.knots) == 0 {
		return 0
	}
	k, dx := l.at(x)
	return units.Force(min(k.force+k.rate*dx, k.top))
}

// Rate returns the rate in N/m at x; x is clamped to [0, Travel]. At a kink it
// is the right-hand value, at full travel the left-hand one.
func (l *polyline) Rate(x units.Length) units.Stiffness {
	if len(l.knots) == 0 {
		return 0
	}
	k, _ := l.at(x)
	return units.Stiffness(k.rate)
}

// Energy returns the work in J from 0 to x; x is clamped to [0, Travel].
func (l *polyline) Energy(x units.Length) units.Energy {
	if len(l.knots) == 0 {
		return 0
	}
	k, dx := l.at(x)
	return units.Energy(k.energy + dx*(k.force+k.rate*dx/2))
}

// Travel returns the full travel.
func (l *polyline) Travel() units.Length { return units.Length(l.travel) }

// atForce returns the travel at which the force is first reached: 0 below the
// law's forces, the full travel above them, the jump where the force lies in
// one. It also returns the compliance there in m/N, right-hand: 0 where the
// spring stands still, at a stop or in a jump, and infinite where the force
// stays level.
func (l *polyline) atForce(force float64) (x, compliance float64) {
	n := sort.Search(len(l.knots), func(i int) bool { return !(l.knots[i].top < force) })
	if n == len(l.knots) {
		return l.travel, 0
	}
	k := &l.knots[n]
	x = k.x
	if force > k.force {
		x = min(k.x+(force-k.force)/k.rate, l.end(n))
	}
	for k.top == force && k.rate > 0 {
		if n++; n == len(l.knots) {
			return x, 0
		}
		k = &l.knots[n]
	}
	if k.force > force {
		return x, 0
	}
	return x, 1 / k.rate
}

// end returns the travel at which segment n ends.
func (l *polyline) end(n int) float64 {
	if n+1 < len(l.knots) {
		return l.knots[n+1].x
	}
	return l.travel
}

// pieces returns the chain from travel x on, as newPolyline takes it.
func (l *polyline) pieces(x units.Length) []polyPiece {
	list := make([]polyPiece, 0, len(l.knots))
	for i := range l.knots {
		k, start := &l.knots[i], l.knots[i].x
		if end := l.end(i); end > float64(x) {
			piece := polyPiece{length: end - start, rate: k.rate, force: k.force, top: k.top}
			if dx := float64(x) - start; dx > 0 {
				piece.length = end - float64(x)
				piece.force = min(k.force+k.rate*dx, k.top)
			}
			list = append(list, piece)
		}
	}
	return list
}

// sound tells whether every force, rate and energy on the way is finite: what
// extreme input, such as 1e300 N/m, would spoil. A chain whose travel is none,
// NaN or infinite has no segments.
func (l *polyline) sound() bool {
	for i := range l.knots {
		if k := &l.knots[i]; !finite(k.force, k.rate, k.energy, k.top) {
			return false
		}
	}
	return len(l.knots) > 0 && finite(float64(l.Energy(l.Travel())))
}

// asPolyline returns the chain that a law is, if it is one.
func asPolyline(law Law) (polyline, bool) {
	switch s := law.(type) {
	case LinearSpring:
		force := s.rate * float64(s.preload)
		return newPolyline([]polyPiece{{
			length: float64(s.travel), rate: s.rate, force: force, top: float64(s.Force(s.travel)),
		}}), true
	case *GroupedSpring:
		return s.polyline, true
	case *DualRateSpring:
		return s.polyline, true
	case *SeriesStack:
		return s.line, len(s.others) == 0
	case *ParallelStack:
		return s.line, len(s.others) == 0
	case *PreloadedLaw:
		return s.line, s.law == nil
	}
	return polyline{}, false
}
