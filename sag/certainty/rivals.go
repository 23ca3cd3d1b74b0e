package certainty

import (
	"math"
	"slices"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Rival is another spring of the shelf, which is the one to fit if the true load or the true rates
// are far enough from the stated ones.
type Rival struct {
	Code        sag.Finding     `json:"code"`        // [SofterRival] or [HarderRival]
	Recommended units.Stiffness `json:"recommended"` // marked rate of the chosen spring
	Rate        units.Stiffness `json:"rate"`        // marked rate of the rival
	EdgeRate    units.Stiffness `json:"edge_rate"`   // the ideal rate from which on the rival is chosen
	Probability float64         `json:"probability"` // that the true ideal rate is beyond EdgeRate; from 0 to 1
	// Input is the input that decides most: its share of the variance of the ideal rate less the
	// edge is the largest. It is empty if nothing is uncertain. If it is spring_rate, measure the
	// two springs to decide between them.
	Input string  `json:"input"`
	Share float64 `json:"share"` // that of Input, from 0 to 1
}

// Codes of rivals.
const (
	SofterRival sag.Finding = "softer_rival" // its rate is less than that of the chosen spring
	HarderRival sag.Finding = "harder_rival" // its rate is the same or more
)

// The search for a rival goes from the stated load in steps of rivalStep down to half and up to
// twice the load. A spring that comes first over less than a step may be missed.
const (
	rivalStep  = 0.0025 // relative
	rivalReach = 2.0
)

// rivals returns the springs that [fit.Options.Choose] puts first under the nearest load below and
// above the stated one for which that is not the chosen spring. The ideal rate is in proportion to
// the load, so the edge between two springs is an ideal rate too. With the same preload for both it
// is where both miss the target by the same amount, as in [sag.BandsOf]. Where the collar brings
// both on target it is where the harder one comes within half a per cent of it.
//
// The probability is that of a normal distribution of the ideal rate less the edge. Its variance is
// that of the ideal rate plus that of the edge, from independent errors of the two rates. It is
// good for errors well below the step from one spring to the next.
func (m *model) rivals(i int, load units.Force, ideal *Answer[units.Stiffness]) []Rival {
	e := &m.ends[i]
	if ideal == nil || len(e.Spec.Coil.Springs) < 2 { // an air spring has no ideal rate
		return nil
	}
	mark := [2]float64{m.stated.Front.SpringRate, m.stated.Rear.SpringRate}[i]
	shelf := shelfAt{*e.Spec.Coil, e.Curve, sag.Target{Load: load, Sag: e.Spec.Sag}}
	var list []Rival
	for _, way := range [2]float64{-1, 1} { // less load, more load
		edge, k := shelf.edge(e.fitted, way)
		if k < 0 {
			continue
		}
		// moved returns the edge between these two alone, with the chosen one harder by a fraction.
		moved := func(by float64) float64 {
			pair := shelf
			pair.Springs = []fit.ShelfSpring{shelf.Springs[e.fitted], shelf.Springs[k]}
			pair.Springs[0].Rate *= units.Stiffness(1 + by)
			edge, _ := pair.edge(0, way)
			return edge
		}
		// A rest depends on load over rate alone, so the edge is in proportion to the rates of both
		// together: its derivatives by their logarithms add to the edge.
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

// decide sets the probability and the input that decides most. EdgeError is the standard
// uncertainty of the edge over the ideal rate, and mark the name of the input it comes from.
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

// shelfAt is a shelf of springs for one end and its target.
type shelfAt struct {
	fit.Shelf
	curve  *linkage.Curve
	target sag.Target
}

// best returns the index of the spring to choose under the load times a factor; -1 if there is none.
func (s *shelfAt) best(factor float64) int {
	target := s.target
	target.Load *= units.Force(factor)
	return s.Best(s.curve, target)
}

// edge returns the nearest factor of the load from which on another spring than the recommended one
// is the best, and its index; NaN and -1 if there is none within reach. The way is −1 for less load
// and 1 for more. The search starts a step to the other side, where the edge may be if a rate was
// moved.
func (s *shelfAt) edge(recommended int, way float64) (float64, int) {
	factor := func(steps float64) float64 { return math.Exp(way * steps * rivalStep) }
	for from := -1.0; ; from++ {
		f := factor(from + 1)
		if !(f < rivalReach && f > 1/rivalReach) {
			return math.NaN(), -1
		}
		next := s.best(f)
		if next == recommended {
			continue
		}
		// The best spring is a step function of the load, which is bisected down to rounding.
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
