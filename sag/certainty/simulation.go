package certainty

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// EndCounts counts the draws of [Simulate] by what one end does in them.
type EndCounts struct {
	// HeldAtTop and Collapses count the draws whose load tops or bottoms this end out. Where the
	// wheel stands is then that end of its travel. Wheel rates and frequencies leave these draws
	// out.
	HeldAtTop int `json:"held_at_top"`
	Collapses int `json:"collapses"`
	Bottoms   int `json:"bottoms"` // the draws whose landing uses up the travel
	// Impossible counts the draws that all answers leave out: the wheel carries less than its own
	// unsprung mass, the travel of a table falls, or the piston sweeps more than its chamber.
	Impossible int           `json:"impossible"`
	Springs    []SpringShare `json:"springs,omitempty"` // the springs of the shelf in its order
}

// Spread is the distribution of one answer over the draws.
type Spread[Q ~float64] struct {
	Draws int `json:"draws"` // the number that have the answer
	// Low and High are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws
	// lie between them.
	Low  Q `json:"low"`
	High Q `json:"high"`
}

// SpringShare is one spring of the shelf in [EndCounts].
type SpringShare struct {
	Rate units.Stiffness `json:"rate"` // as marked
	// Share is the fraction of the possible draws in which this is the spring to fit, if the load
	// and the true rates drawn were known; from 0 to 1.
	Share float64 `json:"share"`
}

// Simulate draws the uncertain inputs of a bike n times and returns the answers with their spread. The
// number of draws is from 100 to 100 000, or to 1000 for a spring known by its gauge. The spring,
// preload, fill, spacers and damping stay as chosen.
//
// Each input is drawn independently from a normal distribution about its value with the stated
// standard uncertainty, truncated to what is possible: masses, rates, volumes and the lever ratio
// are above 0, preload, fill and oil are 0 or more, a share is between 0 and 1, a head angle between
// 30° and 90°, an exponent between 1 and 2. Near such a limit the mean of the draws differs from
// the value of the input. Draws that are impossible for several inputs together are counted as
// such.
//
// The draws come from a permuted congruential generator ([rand.PCG]) that starts from the seed, by
// the inverse of the distribution. The same bike, n and seed give the same result on every machine,
// to within rounding. The standard error of a mean is the standard deviation over √n, and that of a
// standard deviation about its 1/√(2n).
//
// The error names every bad field as that of [Propagate] does, and draws for n.
//
// Not modelled: errors that depend on each other; errors of the models themselves.
func Simulate(s Setup, u Uncertainty, n int, seed uint64) (*Budget, error) {
	c := units.Checker{Package: "sag"}
	m := check(&c, s, u)
	most := 100_000 // all draws are kept in memory
	if m.gauged() {
		most = 1000 // each calibrates the spring anew
	}
	if n < 100 || n > most { // fewer say little about percentile 2.5
		c.Fail("draws", n, units.From(100, most), units.ErrRange)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return m.simulate(n, seed), nil
}

func (m *model) simulate(n int, seed uint64) *Budget {
	counts := [2]EndCounts{}
	for i := range counts {
		for k := range m.ends[i].shelf.Springs {
			counts[i].Springs = append(counts[i].Springs, SpringShare{Rate: m.ends[i].rate(k)})
		}
	}
	random := rand.New(rand.NewPCG(seed, 0))
	var drawn draws
	for range n {
		for i := range m.inputs {
			in := &m.inputs[i]
			in.by(truncatedNormal(random.Float64(), in.u, in.lo, in.hi))
		}
		b := m.work(moves{[2]bool{true, true}, true, true}, bike{stands: m.couples})
		for i := range b.ends {
			counts[i].count(&m.ends[i], &b.ends[i])
		}
		drawn.add(b.vector())
	}
	made := m.budget(drawn.results())
	made.Draws, made.Seed = n, seed
	for i, e := range []*EndBudget{made.Front, made.Rear} {
		if e != nil {
			e.Counts = &counts[i]
		}
		for k := range counts[i].Springs {
			counts[i].Springs[k].Share /= float64(max(1, n-counts[i].Impossible))
		}
	}
	return made
}

// count counts a draw at an end by its outcome, and for the spring that is then the one to fit. It
// takes the stage of an outcome at an end of the travel as placed.
func (e *EndCounts) count(of *end, o *outcome) {
	switch {
	case o.stage == nothing:
		e.Impossible++
		return
	case o.state.Finding == sag.HeldAtTop:
		o.stage = placed
		e.HeldAtTop++
	case o.state.Finding == sag.Collapses:
		o.stage = placed
		e.Collapses++
	}
	if o.landing.Bottoms {
		e.Bottoms++
	}
	if of.fitted >= 0 {
		spec := of.Spec
		spec.Coil = &of.shelf
		if k := spec.Best(o.curve, o.state.Load); k >= 0 {
			e.Springs[k].Share++
		}
	}
}

// truncatedNormal returns the quantile p, from 0 to 1, of the normal distribution of mean 0 and
// standard deviation u, truncated to lo ≤ 0 and hi ≥ 0, not both 0.
func truncatedNormal(p, u, lo, hi float64) float64 {
	normal := distuv.Normal{Sigma: u}
	below := normal.CDF(lo)
	p = below + p*(normal.CDF(hi)-below)
	return min(max(normal.Quantile(min(max(p, 0x1p-53), 1-0x1p-53)), lo), hi)
}

// draws holds the values drawn of each answer, in the order of a vector.
type draws [len(vector{})][]float64

func (d *draws) add(v vector) {
	for i, x := range v {
		if math.Abs(x) <= math.MaxFloat64 { // neither NaN nor infinite
			d[i] = append(d[i], x)
		}
	}
}

// results returns the means and the standard deviations of the draws, which it sorts.
func (d *draws) results() *results {
	r := &results{drawn: d}
	for k, x := range d {
		slices.Sort(x)
		if r.value[k] = stat.Mean(x, nil); len(x) > 1 { // NaN of none
			r.value[k], r.uncertainty[k] = stat.MeanStdDev(x, nil)
		}
	}
	return r
}
