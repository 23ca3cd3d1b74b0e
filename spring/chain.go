package spring

import (
	"slices"
	"sort"

	"example.com/wheelrate/units"
)

// chain is a law of straight segments: force, rate, energy and the travel at a
// given force all are closed forms. The zero value has no travel and no force.
type chain struct {
	knots  []knot  // in order of travel; the first is at 0
	travel float64 // m
}

// knot starts a segment. Where its force is more than the top of the segment
// before it, the force jumps there.
type knot struct {
	x      float64 // m
	from   float64 // x less the snap: where the segment takes over
	force  float64 // N at x
	rate   float64 // N/m over the segment, 0 or more
	energy float64 // J from 0 to x
	top    float64 // N at the segment's end
}

// snap is how far below a kink, as a share of the travel, a travel counts as
// being at it: enough for the rounding of "35.2 mm", far too little to see.
const snap = 1e-14

// newChain joins segments. Those that nothing is left of in float64 are dropped.
func newChain(segments []Segment) chain {
	travel := 0.0
	for _, s := range segments {
		travel += float64(s.Length)
	}
	line := chain{knots: make([]knot, 0, len(segments)), travel: travel}
	x, energy := 0.0, 0.0
	for _, s := range segments {
		length, force, top := float64(s.Length), float64(s.Start), float64(s.End)
		if len(line.knots) == 0 {
			energy = 0 // energy counts from 0, whatever was dropped before
		}
		if length > snap*travel {
			line.knots = append(line.knots, knot{
				x: x, from: x - snap*travel, force: force, rate: float64(s.Rate), energy: energy, top: top,
			})
		}
		x += length
		energy += length * (force/2 + top/2)
	}
	return line
}

// nothing is the segment of a chain that has none.
var nothing knot

// at returns the segment that x, clamped, lies in, and how far x is into it.
func (l *chain) at(x units.Length) (*knot, float64) {
	if len(l.knots) == 0 {
		return &nothing, 0
	}
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

// Force is the value after the jump where the force jumps.
func (l *chain) Force(x units.Length) units.Force {
	k, dx := l.at(x)
	return units.Force(min(k.force+k.rate*dx, k.top))
}

func (l *chain) Rate(x units.Length) units.Stiffness {
	k, _ := l.at(x)
	return units.Stiffness(k.rate)
}

func (l *chain) Energy(x units.Length) units.Energy {
	k, dx := l.at(x)
	return units.Energy(k.energy + dx*(k.force+k.rate*dx/2))
}

func (l *chain) Travel() units.Length { return units.Length(l.travel) }

func (l *chain) Segments() []Segment { return l.after(0) }

func (l *chain) String() string { return Describe(l) }

// after returns the segments from travel x on.
func (l *chain) after(x units.Length) []Segment {
	var list []Segment
	for i := range l.knots {
		k, start := &l.knots[i], l.knots[i].x
		if end := l.end(i); end > float64(x) {
			s := Segment{Length: units.Length(end - start), Rate: units.Stiffness(k.rate), Start: units.Force(k.force), End: units.Force(k.top)}
			if dx := float64(x) - start; dx > 0 {
				s.Length = units.Length(end - float64(x))
				s.Start = units.Force(min(k.force+k.rate*dx, k.top))
			}
			list = append(list, s)
		}
	}
	return list
}

// end returns the travel at which segment n ends.
func (l *chain) end(n int) float64 {
	if n+1 < len(l.knots) {
		return l.knots[n+1].x
	}
	return l.travel
}

// sound reports whether every force, rate and energy on the way is finite, which
// extreme input would spoil. A chain whose travel is 0, NaN or infinite has no
// segments.
func (l *chain) sound() bool {
	for i := range l.knots {
		if k := &l.knots[i]; !finite(k.force, k.rate, k.energy, k.top) {
			return false
		}
	}
	return len(l.knots) > 0 && finite(float64(l.Energy(l.Travel())))
}

// under returns the first and the last travel at which the chain carries a force:
// 0 below its forces, the full travel above them, the jump where the force lies
// in one. They differ where the force stays level. It also returns the
// compliance in m/N from there on, 0 where the chain stands still.
func (l *chain) under(force float64) (first, last, compliance float64) {
	n := sort.Search(len(l.knots), func(i int) bool { return !(l.knots[i].top < force) })
	if n == len(l.knots) {
		return l.travel, l.travel, 0
	}
	k := &l.knots[n]
	switch first = k.x; {
	case force == k.top && k.rate > 0:
		first = l.end(n)
	case force > k.force:
		first = min(k.x+(force-k.force)/k.rate, l.end(n))
	}
	for last = first; n < len(l.knots) && l.knots[n].top <= force; n++ {
		last = l.end(n)
	}
	if n < len(l.knots) && l.knots[n].force <= force {
		compliance = 1 / l.knots[n].rate
	}
	return first, last, compliance
}

// inSeries joins chains on end: it follows the force from one kink of any of
// them to the next.
func inSeries(lines []*chain) chain {
	if len(lines) == 1 {
		return *lines[0]
	}
	var levels []float64
	for _, l := range lines {
		for i := range l.knots {
			levels = append(levels, l.knots[i].force, l.knots[i].top)
		}
	}
	slices.Sort(levels)
	levels = slices.Compact(levels)
	var list []Segment
	x, compliance := 0.0, 0.0 // of all of them, after the level before
	for i, level := range levels {
		var first, last, c float64
		for _, l := range lines {
			from, to, each := l.under(level)
			first, last, c = first+from, last+to, c+each
		}
		if compliance > 0 {
			list = append(list, Segment{units.Length(first - x), units.Stiffness(1 / compliance), units.Force(levels[i-1]), units.Force(level)})
		}
		if last > first {
			list = append(list, Segment{Length: units.Length(last - first), Start: units.Force(level), End: units.Force(level)})
		}
		x, compliance = last, c
	}
	return newChain(list)
}

// inParallel joins chains that start at different travels into one: it follows
// the travel from one kink of any of them to the next.
func inParallel(lines []*chain, starts []float64, travel float64) chain {
	kinks := []float64{0, travel}
	for i, l := range lines {
		for j := range l.knots {
			if x := starts[i] + l.knots[j].x; x < travel {
				kinks = append(kinks, x)
			}
		}
	}
	slices.Sort(kinks)
	list := make([]Segment, len(kinks)-1)
	for i := range list {
		from, to := kinks[i], kinks[i+1]
		var rate, start, end float64
		for j, l := range lines {
			if from < starts[j] {
				continue
			}
			k, dx := l.at(units.Length(from - starts[j]))
			rate += k.rate
			start += min(k.force+k.rate*dx, k.top)
			end += min(k.force+k.rate*(dx+to-from), k.top)
		}
		list[i] = Segment{units.Length(to - from), units.Stiffness(rate), units.Force(start), units.Force(end)}
	}
	line := newChain(list)
	line.travel = travel
	return line
}
