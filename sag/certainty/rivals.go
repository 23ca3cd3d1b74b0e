package certainty

import (
	"errors"
	"math"
	"slices"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Rival is another spring of the shelf, which is the one to fit if the true load or the true rates
// are far enough from the stated ones.
type Rival struct {
	Code        sag.Finding     `json:"code"`        // [SofterRival] or [HarderRival]
	Recommended units.Stiffness `json:"recommended"` // marked rate of the chosen spring, as its candidate has it
	Rate        units.Stiffness `json:"rate"`        // marked rate of the rival, as its candidate has it
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
	rivalStep  = 0.01 // relative
	rivalReach = 2.0
)

// rivals returns the springs that [fit.Options.Choose] puts first under the nearest load below and
// above the stated one for which that is not the chosen spring. The ideal rate is in proportion to
// the load, so the edge between two springs is an ideal rate too. Where both are on target it is
// half-way between their rates; with the same preload for both and neither on target it is where
// both miss by the same amount, as in [sag.BandsOf]. Where the collar brings one on target it may be
// where the other one comes on target too.
//
// The probability is that of a normal distribution of the ideal rate less the edge, at most one half
// since the stated ideal rate is on the chosen spring's side of it. Its variance is that of the ideal
// rate plus that of the edge, from independent errors of the two rates. It is good for errors well
// below the step from one spring to the next.
func (m *model) rivals(i int, load units.Force, ideal *Answer[units.Stiffness]) []Rival {
	e := &m.ends[i]
	if ideal == nil || len(e.Spec.Coil.Springs) < 2 { // an air spring has no ideal rate
		return nil
	}
	mark := [2]float64{m.stated.Front.SpringRate, m.stated.Rear.SpringRate}[i]
	shelf := shelfAt{e.Spec.Ranking(e.Curve), load}
	var list []Rival
	for _, way := range [2]float64{-1, 1} { // less load, more load
		edge, k := shelf.edge(e.fitted, way, 1, rivalStep)
		if k < 0 {
			continue
		}
		r := Rival{Code: HarderRival, Recommended: e.rate(e.fitted), Rate: e.rate(k), EdgeRate: units.Stiffness(edge) * ideal.Value}
		if r.Rate < r.Recommended {
			r.Code = SofterRival
		}
		edgeError := 0.0
		if mark > 0 {
			// Both rates and the load in proportion leave every rest where it is, so that the derivatives by
			// the logarithms of both rates add to the edge itself.
			own := e.edgeSlope(k, load, way, edge)
			edgeError = mark * math.Hypot(own, edge-own)
		}
		r.decide(ideal, e.name+".spring_rate", edgeError)
		if !math.IsNaN(r.Probability) {
			list = append(list, r)
		}
	}
	return list
}

// rate returns that of a spring of the shelf as marked, or as [fit.CoilCandidate] has it of one whose
// rate varies.
func (e *end) rate(index int) units.Stiffness {
	for i := range e.Choice.Coil.Candidates {
		if one := &e.Choice.Coil.Candidates[i]; one.Index == index {
			return one.Rate
		}
	}
	return e.Spec.Coil.Springs[index].Rate
}

// edgeSlope returns the derivative of the edge between the chosen spring and another by the logarithm of
// the rate of the chosen one, which is harder than marked. The way is from it to the other.
func (e *end) edgeSlope(other int, load units.Force, way, edge float64) float64 {
	spec, coil := e.Spec, *e.Spec.Coil
	spec.Coil = &coil
	at := 0
	coil.Springs = []fit.ShelfSpring{coil.Springs[e.fitted], coil.Springs[other]}
	if other < e.fitted { // in the order that decides between alike ones
		at = 1
		slices.Reverse(coil.Springs)
	}
	marked := coil.Springs[at]
	const h = differenceStep
	with := func(by float64) float64 {
		coil.Springs[at] = marked.Scaled(1 + by)
		pair := shelfAt{spec.Ranking(e.Curve), load}
		moved, _ := pair.edge(at, way, edge, 4*h) // moved by less than that
		return moved
	}
	return (with(h) - with(-h)) / (2 * h)
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

// shelfAt is the shelf of one end under a load.
type shelfAt struct {
	*fit.Ranking
	load units.Force
}

// edge returns the nearest factor of the load from which on another spring than the recommended one
// is the best, and its index; NaN and -1 if there is none within reach. The way is −1 for less load
// and 1 for more. The search goes by relative steps. It starts one step to the other side of the
// factor near, for the edge may be there if a rate was moved.
func (s *shelfAt) edge(recommended int, way, near, step float64) (float64, int) {
	factor := func(x float64) float64 { return near * math.Exp(way*x) }
	at := func(x float64) (lead float64, best int) {
		lead, best, err := s.Lead(recommended, s.load*units.Force(factor(x)))
		if err != nil {
			return math.NaN(), -1
		}
		return lead, best
	}
	lead := func(x float64) float64 { ahead, _ := at(x); return ahead }
	for x := 0.0; ; x += step {
		if f := factor(x); !(f < rivalReach && f > 1/rivalReach) {
			return math.NaN(), -1
		}
		ahead, next := at(x)
		if next == recommended {
			continue
		}
		// The edge is found to 1e-12: over a difference that is 1e-8 of a slope.
		const near = 1e-12
		edge, err := root.Refine(lead, x-step, x, lead(x-step), ahead, near)
		if errors.Is(err, root.ErrNoBracket) { // it is not recommended there either
			edge = x - step
		}
		if _, k := at(edge + 2*near); k != recommended {
			next = k
		}
		return factor(edge), next
	}
}
