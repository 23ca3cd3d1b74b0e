package certainty

import (
	"math"
	"slices"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Rival is another spring of the shelf that may be the one to fit once the true load and the true
// rates are known.
type Rival struct {
	Code        sag.Finding     `json:"code"`        // [SofterRival] or [HarderRival]
	Recommended units.Stiffness `json:"recommended"` // rate of the spring that is fitted, as marked
	Rate        units.Stiffness `json:"rate"`        // of the rival, as marked
	EdgeRate    units.Stiffness `json:"edge_rate"`   // the ideal rate at which the two change places
	Probability float64         `json:"probability"` // of the true ideal rate lying beyond the edge
	// Input is the one to know better: it has the largest Share of the variance of the ideal rate
	// less the edge, and is empty if that is 0. If it is spring_rate, measuring the two springs
	// decides between them.
	Input string  `json:"input"`
	Share float64 `json:"share"`
}

// Codes of rivals.
const (
	SofterRival sag.Finding = "softer_rival"
	HarderRival sag.Finding = "harder_rival"
)

// The search for a rival goes from the stated load in even steps to half and to twice of it. A
// spring that takes over for less than a step is passed over.
const (
	rivalStep  = 0.0025 // relative
	rivalReach = 2.0
)

// rivals returns the springs that [fit.Options.Choose] puts first for a load somewhat less or more
// than the stated one. The ideal rate is in proportion to the load, so the load at which they
// change places is an ideal rate too, the edge: with one preload for all where both miss the target
// by as much, as in [sag.BandsOf]; if the collar brings both on target, where the harder one comes
// within half a per cent of it.
//
// The probability takes the ideal rate less the edge as normal, with the variance of the ideal rate
// and that which the rates of the two springs, off independently, give the edge. It is good for
// errors well below the step from one spring to the next.
func (m *model) rivals(i int, load units.Force, ideal *Answer[units.Stiffness]) []Rival {
	e := &m.ends[i]
	if ideal == nil || len(e.Spec.Coil.Springs) < 2 { // no coil has no ideal rate
		return nil
	}
	mark := [2]float64{m.stated.Front.SpringRate, m.stated.Rear.SpringRate}[i]
	shelf := shelfAt{*e.Spec.Coil, e.Curve, sag.Target{Load: load, Sag: e.Spec.Sag}}
	var list []Rival
	for _, way := range [2]float64{-1, 1} { // less load, more load
		edge, k := shelf.edge(e.fitted, way, 0)
		if k < 0 {
			continue
		}
		// moved returns the edge of these two alone with the fitted one harder by a fraction.
		moved := func(by float64) float64 {
			pair := shelf
			pair.Springs = []fit.ShelfSpring{shelf.Springs[e.fitted], shelf.Springs[k]}
			pair.Springs[0].Rate *= units.Stiffness(1 + by)
			edge, _ := pair.edge(0, way, math.Abs(math.Log(edge))/rivalStep-2)
			return edge
		}
		// A rest depends on load over rate, so the edge grows in proportion to both rates.
		const h = differenceStep
		own := (moved(h) - moved(-h)) / (2 * h)
		r := Rival{Code: HarderRival, Recommended: shelf.Springs[e.fitted].Rate, Rate: shelf.Springs[k].Rate, EdgeRate: units.Stiffness(edge) * ideal.Value}
		if r.Rate < r.Recommended {
			r.Code = SofterRival
		}
		r.decide(ideal, e.name+".spring_rate", mark*math.Hypot(own, edge-own))
		if !math.IsNaN(r.Probability) {
			list = append(list, r)
		}
	}
	return list
}

// decide fills in the probability and the input to know better. EdgeError is the standard
// uncertainty of the edge over the ideal rate, from the input called mark.
func (r *Rival) decide(ideal *Answer[units.Stiffness], mark string, edgeError float64) {
	edge := Contribution[units.Stiffness]{Input: mark, Effect: units.Stiffness(edgeError) * ideal.Value}
	u := math.Hypot(float64(ideal.Uncertainty), float64(edge.Effect))
	if u == 0 {
		return
	}
	r.Probability = math.Erfc(math.Abs(float64(ideal.Value-r.EdgeRate))/(u*math.Sqrt2)) / 2
	for _, part := range append(slices.Clip(ideal.Contributions), edge) {
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

// best returns which spring of the shelf comes first for the load times a factor; -1 if none does.
func (s *shelfAt) best(factor float64) int {
	target := s.target
	target.Load *= units.Force(factor)
	return s.Best(s.curve, target)
}

// edge returns the factor of the load at which another spring than the recommended one takes over,
// and which that is: NaN and -1 if none does within reach. The search starts a number of steps from
// the load, where the recommended spring comes first.
func (s *shelfAt) edge(recommended int, way, from float64) (float64, int) {
	factor := func(steps float64) float64 { return math.Exp(way * steps * rivalStep) }
	for ; ; from++ {
		f := factor(from + 1)
		if !(f < rivalReach && f > 1/rivalReach) {
			return math.NaN(), -1
		}
		next := s.best(f)
		if next == recommended {
			continue
		}
		// Which spring is best is a step function of the load: it is bisected down to rounding.
		for width := 0.5; width > 0x1p-34; width /= 2 {
			if k := s.best(factor(from + width)); k == recommended {
				from += width
			} else {
				f, next = factor(from+width), k
			}
		}
		return f, next
	}
}
