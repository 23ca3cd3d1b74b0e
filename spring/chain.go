package spring

import (
	"slices"
	"sort"

	"example.com/wheelrate/units"
)

// chain is a law of straight segments, whose answers are closed forms.
type chain struct {
	units.Opaque[chain]
	knots  []knot // in order of travel; the first is at 0
	travel units.Length
}

// knot is a segment and where it starts.
type knot struct {
	Segment
	x      units.Length
	from   units.Length // x less the snap: where the segment takes over
	energy units.Energy // from travel 0 to x
}

// force returns the force at dx into the segment.
func (k *knot) force(dx units.Length) units.Force { return min(k.Start+k.Rate.Times(dx), k.End) }

// snap is how far below a kink, as a share of the travel, a travel counts as being at it: enough
// for the rounding of "35.2 mm", far too little to see.
const snap = 1e-14

// newChain joins segments. Those too short for float64 are dropped.
func newChain(segments []Segment) chain {
	l := chain{knots: make([]knot, 0, len(segments))}
	for _, s := range segments {
		l.travel += s.Length
	}
	x, energy := units.Length(0), units.Energy(0)
	for _, s := range segments {
		if len(l.knots) == 0 {
			energy = 0 // energy counts from 0, whatever was dropped before
		}
		if s.Length > snap*l.travel {
			l.knots = append(l.knots, knot{s, x, x - snap*l.travel, energy})
		}
		x += s.Length
		energy += units.Energy(float64(s.Length) * float64(s.Start/2+s.End/2))
	}
	return l
}

// at returns the segment that x, clamped, lies in, and how far x is into it.
func (l *chain) at(x units.Length) (*knot, units.Length) {
	x = Clamp(x, l.travel)
	k := &l.knots[sort.Search(len(l.knots)-1, func(i int) bool { return l.knots[i+1].from > x })]
	return k, max(x-k.x, 0)
}

// Force returns the value after the jump where the force jumps.
func (l *chain) Force(x units.Length) units.Force {
	k, dx := l.at(x)
	return k.force(dx)
}

func (l *chain) Rate(x units.Length) units.Stiffness {
	k, _ := l.at(x)
	return k.Rate
}

func (l *chain) Energy(x units.Length) units.Energy {
	k, dx := l.at(x)
	return k.energy + units.Energy(float64(dx)*float64(k.Start+k.Rate.Times(dx)/2))
}

func (l *chain) Travel() units.Length { return l.travel }

func (l *chain) Segments() []Segment { return l.after(0) }

func (l *chain) String() string { return Describe(l) }

// after returns the segments from travel x on.
func (l *chain) after(x units.Length) []Segment {
	var list []Segment
	for i, k := range l.knots {
		if end := l.end(i); end > x {
			k.Length = end - max(x, k.x)
			if x > k.x {
				k.Start = k.force(x - k.x)
			}
			list = append(list, k.Segment)
		}
	}
	return list
}

// end returns the travel at which segment i ends.
func (l *chain) end(i int) units.Length {
	if i+1 < len(l.knots) {
		return l.knots[i+1].x
	}
	return l.travel
}

// sound reports whether the chain has segments, and every force, rate and energy is finite, which
// extreme input would spoil. A chain whose travel is 0, NaN or infinite has no segments.
func (l *chain) sound() bool {
	for _, k := range l.knots {
		if !finite(float64(k.Start), float64(k.Rate), float64(k.energy), float64(k.End)) {
			return false
		}
	}
	return len(l.knots) > 0 && finite(float64(l.Energy(l.travel)))
}

// compliance is the travel per force, in m/N.
type compliance float64

func (c compliance) times(f units.Force) units.Length { return units.Length(float64(c) * float64(f)) }

// under returns the first and the last travel at which the chain carries a force: 0 below its
// forces, the full travel above them, the jump where the force lies in one. They differ where the
// force stays level. It also returns the compliance from there on, 0 where the chain stands still.
func (l *chain) under(force units.Force) (first, last units.Length, from compliance) {
	n := sort.Search(len(l.knots), func(i int) bool { return !(l.knots[i].End < force) })
	if n == len(l.knots) {
		return l.travel, l.travel, 0
	}
	k := &l.knots[n]
	switch first = k.x; {
	case force == k.End && k.Rate > 0:
		first = l.end(n)
	case force > k.Start:
		first = min(k.x+units.Length(float64(force-k.Start)/float64(k.Rate)), l.end(n))
	}
	for last = first; n < len(l.knots) && l.knots[n].End <= force; n++ {
		last = l.end(n)
	}
	if n < len(l.knots) && l.knots[n].Start <= force {
		from = compliance(1 / l.knots[n].Rate)
	}
	return first, last, from
}

// inSeries joins chains in series: it follows the force from one kink of any of them to the next.
func inSeries(lines []*chain) chain {
	if len(lines) == 1 {
		return *lines[0]
	}
	var forces []units.Force
	for _, l := range lines {
		for _, k := range l.knots {
			forces = append(forces, k.Start, k.End)
		}
	}
	slices.Sort(forces)
	forces = slices.Compact(forces)
	var list []Segment
	x, moving := units.Length(0), compliance(0) // of all of them, after the force before
	for i, force := range forces {
		var first, last units.Length
		var from compliance
		for _, l := range lines {
			a, b, c := l.under(force)
			first, last, from = first+a, last+b, from+c
		}
		if moving > 0 {
			list = append(list, Segment{first - x, units.Stiffness(1 / moving), forces[i-1], force})
		}
		if last > first {
			list = append(list, Segment{Length: last - first, Start: force, End: force})
		}
		x, moving = last, from
	}
	return newChain(list)
}

// inParallel joins chains that start at different travels: it follows the travel from one kink of
// any of them to the next.
func inParallel(lines []*chain, starts []units.Length, travel units.Length) chain {
	kinks := []units.Length{0, travel}
	for i, l := range lines {
		for _, k := range l.knots {
			if x := starts[i] + k.x; x < travel {
				kinks = append(kinks, x)
			}
		}
	}
	slices.Sort(kinks)
	list := make([]Segment, len(kinks)-1)
	for i := range list {
		s, from := &list[i], kinks[i]
		s.Length = kinks[i+1] - from
		for j, l := range lines {
			if from >= starts[j] {
				k, dx := l.at(from - starts[j])
				s.Rate += k.Rate
				s.Start += k.force(dx)
				s.End += k.force(dx + s.Length)
			}
		}
	}
	line := newChain(list)
	line.travel = travel
	return line
}
