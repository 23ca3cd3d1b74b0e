package certainty

import (
	"math"
	"slices"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Rival is another spring of the shelf that may be the right one: the one
// that the sheet would recommend if the true load and the true rates were known.
type Rival struct {
	// Code is [SofterRival] or [HarderRival].
	Code sag.Finding `json:"code"`
	// Recommended and Rate are the rates of the two springs as marked.
	Recommended units.Stiffness `json:"recommended"`
	Rate        units.Stiffness `json:"rate"`
	// EdgeRate is the ideal rate at which the two change places.
	EdgeRate units.Stiffness `json:"edge_rate"`
	// Probability is that of the true ideal rate lying beyond the edge.
	Probability float64 `json:"probability"`
	// Input is the one to know better, for it has the largest Share of the
	// variance of the ideal rate less the edge; empty where that is 0. Where it
	// is spring_rate, measuring the two springs decides between them.
	Input string  `json:"input"`
	Share float64 `json:"share"`
}

// Codes of rivals.
const (
	SofterRival sag.Finding = "softer_rival"
	HarderRival sag.Finding = "harder_rival"
)

// The search for a rival goes from the stated load in even steps to half of it
// and to twice as much, and narrows the first change down. Where the recommended
// spring comes back within a step, what took its place is passed over.
const (
	rivalStep  = 0.0025 // relative
	rivalReach = 2.0
)

// rivals finds the springs that the sheet recommends for a load somewhat less
// or more than the stated one. The ideal rate is in proportion to the load, so
// the load at which they change places is an ideal rate too, the edge. It is the
// edge of [NewBands], where both miss the target by as much, if preload has no
// say; where the collar brings both on target, it is where the harder one comes
// within half a per cent of it. Of two that are on target with the same preload,
// the first of the shelf stays until it misses by that much.
//
// The probability takes the ideal rate less the edge as normal, with the
// variance that the inputs of the ideal rate give it, and that the rates of the
// two springs, off by themselves, give the edge. It is good as long as the true
// rates are in the order of the marked ones, that is for errors well below the
// step from one spring to the next.
func (m *model) rivals(end int, ideal *Answer[units.Stiffness]) []Rival {
	p, f := &m.ends[end], &m.set[end]
	if ideal == nil || len(p.Spec.Coil.Springs) < 2 { // no coil has no ideal rate
		return nil
	}
	mark, markName := 0.0, [2]string{"front.spring_rate", "rear.spring_rate"}[end]
	for i := range m.inputs {
		if m.inputs[i].name == markName {
			mark = m.inputs[i].u
		}
	}
	shelf := shelfAt{*p.Spec.Coil, p.Options.Curve(), sag.Target{Load: units.Force(m.load(end)), Sag: p.Spec.Sag}}
	var list []Rival
	for _, way := range [2]float64{-1, 1} { // less load, more load
		edge, i := shelf.edge(way, f.index)
		if i < 0 {
			continue
		}
		// The edge of these two alone, with one and the other a little harder.
		bend := func(first, second float64) float64 {
			pair := shelf
			pair.Springs = []fit.Spring{p.Spec.Coil.Springs[f.index], p.Spec.Coil.Springs[i]}
			pair.Springs[0].Rate *= units.Stiffness(1 + first)
			pair.Springs[1].Rate *= units.Stiffness(1 + second)
			moved, _ := pair.edge(way, 0)
			return moved
		}
		const h = differenceStep
		own := (bend(h, 0) - bend(-h, 0)) / (2 * h)
		other := (bend(0, h) - bend(0, -h)) / (2 * h)
		r := Rival{Code: HarderRival, Recommended: f.rate, Rate: p.Spec.Coil.Springs[i].Rate, EdgeRate: units.Stiffness(edge) * ideal.Value}
		if r.Rate < r.Recommended {
			r.Code = SofterRival
		}
		r.decide(ideal, markName, mark*math.Hypot(own, other))
		if !math.IsNaN(r.Probability) {
			list = append(list, r)
		}
	}
	return list
}

// decide fills in the probability and what it hangs on; edgeError is the
// standard uncertainty of the edge over the ideal rate.
func (r *Rival) decide(ideal *Answer[units.Stiffness], markName string, edgeError float64) {
	parts := slices.Clone(ideal.Contributions)
	parts = append(parts, Contribution[units.Stiffness]{Input: markName, Effect: units.Stiffness(edgeError) * ideal.Value})
	u := math.Hypot(float64(ideal.Uncertainty), float64(parts[len(parts)-1].Effect))
	if u == 0 {
		return
	}
	r.Probability = math.Erfc(math.Abs(float64(ideal.Value-r.EdgeRate))/(u*math.Sqrt2)) / 2
	for _, part := range parts {
		if share := math.Pow(float64(part.Effect)/u, 2); share > r.Share {
			r.Input, r.Share = part.Input, share
		}
	}
}

// shelfAt is a shelf that is chosen from at one end.
type shelfAt struct {
	fit.Shelf
	curve  *linkage.Curve
	target sag.Target
}

// best is which spring of the shelf is recommended for a load that is some
// factor of the target's; -1 where none could be chosen.
func (s *shelfAt) best(factor float64) int {
	target := s.target
	target.Load *= units.Force(factor)
	return s.Best(s.curve, target)
}

// edge returns by what factor the load must be off for another spring than
// the recommended one to take over, and which: -1 for none, with a factor of NaN
// where there is none within reach.
func (s *shelfAt) edge(way float64, recommended int) (float64, int) {
	last := 1.0
	for n := 1.0; ; n++ {
		factor := math.Exp(way * n * rivalStep)
		if !(factor < rivalReach && factor > 1/rivalReach) {
			return math.NaN(), -1
		}
		next := s.best(factor)
		if next == recommended {
			last = factor
			continue
		}
		for range 60 { // down to rounding
			mid := (last + factor) / 2
			if s.best(mid) == recommended {
				last = mid
			} else {
				factor = mid
			}
		}
		return factor, s.best(factor)
	}
}
