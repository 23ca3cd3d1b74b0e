package spring

import "slices"

// seriesLine joins chains in series: it follows the force from one kink of any
// of them to the next.
func seriesLine(lines []*polyline) polyline {
	var levels []float64
	for _, l := range lines {
		for i := range l.knots {
			levels = append(levels, l.knots[i].force, l.knots[i].top)
		}
	}
	slices.Sort(levels)
	var pieces []polyPiece
	next := make([]int, len(lines)) // the first segment of each that isn't behind
	for i, level := range levels {
		plateau := 0.0
		for j, l := range lines {
			for ; next[j] < len(l.knots) && !(l.knots[next[j]].top > level); next[j]++ {
				if k := &l.knots[next[j]]; k.rate == 0 {
					plateau += l.end(next[j]) - k.x
				}
			}
		}
		if plateau > 0 {
			pieces = append(pieces, polyPiece{length: plateau, force: level, top: level})
		}
		if i+1 == len(levels) {
			break
		}
		compliance := 0.0
		for j, l := range lines {
			if n := next[j]; n < len(l.knots) && l.knots[n].force <= level {
				compliance += 1 / l.knots[n].rate
			}
		}
		if to := levels[i+1]; compliance > 0 {
			pieces = append(pieces, polyPiece{length: compliance * (to - level), rate: 1 / compliance, force: level, top: to})
		}
	}
	return newPolyline(pieces)
}

// parallelLine joins chains that start at different travels into one: it
// follows the travel from one kink of any of them to the next.
func parallelLine(lines []*polyline, starts []float64, travel float64) polyline {
	kinks := []float64{0, travel}
	for i, l := range lines {
		for j := range l.knots {
			if x := starts[i] + l.knots[j].x; x < travel {
				kinks = append(kinks, x)
			}
		}
	}
	slices.Sort(kinks)
	pieces := make([]polyPiece, len(kinks)-1)
	next := make([]int, len(lines)) // the segment of each after the one it is in
	for i := range pieces {
		from, to := kinks[i], kinks[i+1]
		p := polyPiece{length: to - from}
		for j, l := range lines {
			for next[j] < len(l.knots) && starts[j]+l.knots[next[j]].x <= from {
				next[j]++
			}
			if next[j] == 0 {
				continue // not started
			}
			k := &l.knots[next[j]-1]
			p.rate += k.rate
			p.force += min(k.force+k.rate*max(from-starts[j]-k.x, 0), k.top)
			p.top += min(k.force+k.rate*max(to-starts[j]-k.x, 0), k.top)
		}
		pieces[i] = p
	}
	return newPolyline(pieces)
}
