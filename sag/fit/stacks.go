package fit

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// The limits of the spacers at hand, and grain, in which thicknesses are added: what a calliper reads.
const (
	mostSpacers  = 20
	mostCount    = 50
	mostHeight   = 100 * units.Millimetre
	leastSpacer  = 0.05 * units.Millimetre
	grain        = 0.01 * units.Millimetre
	mostSums     = 64                       // that are tried beside a collar with steps
	sameAsWanted = 0.001 * units.Millimetre // nearer than any preload is set
)

// checkSpacers records what is wrong with the spacers at hand.
func checkSpacers(c *units.Checker, list []PreloadSpacer) {
	if len(list) > mostSpacers {
		c.Fail("preload_spacers", len(list), units.AtMost(mostSpacers).Count("thicknesses"), nil)
		return
	}
	height, good := units.Length(0), true
	for i, one := range list {
		own := c.Element("preload_spacers", i)
		if !units.Positive(&own, "thickness", one.Thickness) {
			good = false
		} else if one.Thickness < leastSpacer {
			own.Fail("thickness", one.Thickness, units.AtLeast(leastSpacer), nil)
		}
		if one.Count < 0 || one.Count > mostCount {
			own.Fail("count", one.Count, units.From(1, mostCount).With("or 0 for one"), nil)
			good = false
		}
		height += one.Thickness * units.Length(max(1, one.Count))
	}
	if good && !(height <= mostHeight*(1+1e-12)) {
		c.Fail("preload_spacers", height, units.AtMost(mostHeight).With("all spacers together"), nil)
	}
}

// stacks is a collar with every height that a choice of its spacers has.
type stacks struct {
	*Collar
	kinds   []PreloadSpacer // the thickest first
	cells   []cell          // by height in grains
	heights []int           // those that a choice has, from 0 up
}

// cell is how a height is made: so many of a kind upon a height that thicker kinds make. The kind
// −1 stands for no spacer.
type cell struct {
	kind  int8
	count uint8
	made  bool
}

// fill works out the heights, kind by kind. Without spacers there are none.
func (s *stacks) fill() {
	if len(s.PreloadSpacers) == 0 {
		return
	}
	s.kinds = slices.Clone(s.PreloadSpacers)
	slices.SortStableFunc(s.kinds, func(a, b PreloadSpacer) int { return cmp.Compare(b.Thickness, a.Thickness) })
	total := 0
	for i := range s.kinds {
		one := &s.kinds[i]
		one.Count = max(1, one.Count)
		total += one.Count * grains(one.Thickness)
	}
	s.cells = make([]cell, total+1)
	s.cells[0] = cell{kind: -1, made: true}
	for i, one := range s.kinds {
		t := grains(one.Thickness)
		for h := t; h <= total; h++ {
			below := s.cells[h-t]
			if s.cells[h].made || !below.made {
				continue
			}
			n := uint8(0)
			if below.kind == int8(i) {
				n = below.count
			}
			if int(n) < one.Count {
				s.cells[h] = cell{int8(i), n + 1, true}
			}
		}
	}
	for h := range s.cells {
		if s.cells[h].made {
			s.heights = append(s.heights, h)
		}
	}
}

func grains(thickness units.Length) int { return int(math.Round(float64(thickness / grain))) }

// spacers returns those of a height, the thickest first, and how thick they are together.
func (s *stacks) spacers(height int) (list []units.Length, sum units.Length) {
	for h := height; h > 0; {
		thickness := s.kinds[s.cells[h].kind].Thickness
		list, sum = append(list, thickness), sum+thickness
		h -= grains(thickness)
	}
	slices.Reverse(list)
	return list, sum
}

// set returns the preload that is nearest to the one wanted without being above most, how much of it
// the collar gives, and the spacers: no more than the collar needs.
func (s *stacks) set(wanted, most units.Length) (preload, collar units.Length, spacers []units.Length) {
	wanted = min(wanted, most)
	preload = min(s.turn(wanted), most) // by the collar alone
	collar = preload
	if len(s.heights) == 0 {
		return preload, collar, nil
	}
	// The first height that the collar completes, and the one below it, which falls short.
	first, _ := slices.BinarySearchFunc(s.heights, wanted-s.PreloadMax-sameAsWanted, func(h int, short units.Length) int {
		if units.Length(h)*grain < short {
			return -1
		}
		return 1
	})
	off := units.Length(math.Inf(1))
	for _, h := range s.heights[max(0, first-1):min(first+mostSums, len(s.heights))] {
		list, sum := s.spacers(h)
		if sum+s.PreloadMin > wanted+off {
			break
		}
		turned := s.turn(wanted - sum)
		if sum+turned > most { // by the rounding to a quarter turn
			turned = s.turn(turned - s.ThreadPitch/4)
		}
		if miss := units.Length(math.Abs(float64(sum + turned - wanted))); sum+turned <= most && miss < off-sameAsWanted {
			off, preload, collar, spacers = miss, sum+turned, turned, list
		}
	}
	return preload, collar, spacers
}
