package certainty

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Simulation is how the answers for a bike scatter when its inputs do.
type Simulation struct {
	Draws int           `json:"draws"`
	Seed  uint64        `json:"seed"`
	Front EndSimulation `json:"front"`
	Rear  EndSimulation `json:"rear"`
	// FrequencyRatio is the front's FastFrequency over the rear's.
	FrequencyRatio *Spread[float64] `json:"frequency_ratio,omitempty"`
	// Exact are the inputs whose uncertainty was not stated, as in [Budget].
	Exact []string `json:"exact"`
}

// EndSimulation is how the answers for one end scatter, with what is fitted held as it is. The
// answers are those of [EndBudget]; one that no draw has is nil.
type EndSimulation struct {
	// HeldAtTop and Collapses count the draws whose load tops or bottoms this end out: the wheel is
	// then at that end of its travel, and so it is counted in the sag, travel, stroke and energy
	// answers; wheel rates and frequencies leave these draws out.
	HeldAtTop int `json:"held_at_top"`
	Collapses int `json:"collapses"`
	// Impossible counts the draws without any such end, for a wheel carries less than its own
	// unsprung mass, a table falls, or a chamber is smaller than what the piston sweeps. All
	// answers for this end leave them out.
	Impossible int `json:"impossible"`
	// Springs holds each spring of the shelf, in its order, with the part of the possible draws in
	// which it is the one to fit, load and true rates known.
	Springs []SpringShare `json:"springs,omitempty"`

	Load          *Spread[units.Force]         `json:"load,omitempty"`
	IdealRate     *Spread[units.Stiffness]     `json:"ideal_rate,omitempty"`
	PreloadWanted *Spread[units.Length]        `json:"preload_wanted,omitempty"`
	FillWanted    *Spread[units.GaugePressure] `json:"fill_wanted,omitempty"`
	Sag           *Spread[float64]             `json:"sag,omitempty"`
	ShockSag      *Spread[float64]             `json:"shock_sag,omitempty"`
	Travel        *Spread[units.Length]        `json:"travel,omitempty"`
	Stroke        *Spread[units.Length]        `json:"stroke,omitempty"`
	StrokeReading *Spread[units.Length]        `json:"stroke_reading,omitempty"`
	WheelRate     *Spread[units.Stiffness]     `json:"wheel_rate,omitempty"`
	Frequency     *Spread[units.Frequency]     `json:"frequency,omitempty"`
	FastWheelRate *Spread[units.Stiffness]     `json:"fast_wheel_rate,omitempty"`
	FastFrequency *Spread[units.Frequency]     `json:"fast_frequency,omitempty"`
	TravelLeft    *Spread[units.Length]        `json:"travel_left,omitempty"`
	EnergyLeft    *Spread[units.Energy]        `json:"energy_left,omitempty"`
	Energy        *Spread[units.Energy]        `json:"energy,omitempty"`
	DropHeight    *Spread[units.Length]        `json:"drop_height,omitempty"`
	FullForce     *Spread[units.Force]         `json:"full_force,omitempty"`
	FullRatio     *Spread[float64]             `json:"full_ratio,omitempty"`
}

// Spread is how an answer scatters.
type Spread[Q ~float64] struct {
	// Draws counts those that have the answer; what follows is over them.
	Draws             int `json:"draws"`
	Mean              Q   `json:"mean"`
	StandardDeviation Q   `json:"standard_deviation"` // with draws − 1; 0 for a single draw
	// Low and High are the 2.5 and 97.5 percentiles, the draws in order taken as evenly spread from
	// 0 to 100 % and joined by straight lines: 95 % of the draws lie between.
	Low  Q `json:"low"`
	High Q `json:"high"`
}

// SpringShare is one spring of the shelf in a [Simulation].
type SpringShare struct {
	Rate  units.Stiffness `json:"rate"`  // as marked
	Share float64         `json:"share"` // of the possible draws; 0 where there are none
}

// Simulate draws the uncertain inputs of a bike n times, 100 to 100 000, works each draw out, and
// returns how the answers scatter. Spring, preload, fill and spacers are held as they were chosen.
//
// Every input is drawn by itself, from a normal distribution about its value with the standard
// uncertainty stated. Where an input can't take every value, the distribution is cut off there and
// what is left is scaled up (a truncated normal): masses, rates, volumes and the lever ratio stay
// above 0, preload, fill and oil are 0 or more, shares lie between 0 and 1, a head angle between
// 30° and 90°, an exponent between 1 and 2. The mean of draws near such a limit is off the input's
// value. What only several inputs together rule out is counted as impossible.
//
// The draws come from a permuted congruential generator ([rand.PCG]) started from the seed, one
// number for each input of each draw, and are turned into normal ones by the inverse of the
// distribution, so that a bike and a seed give the same on every machine to within rounding.
//
// A mean of n draws is itself uncertain by the standard deviation over √n, a standard deviation by
// about 1/√(2n) of it.
//
// The error names every bad field: n as draws, and otherwise as [Propagate].
//
// Not modelled: as for Propagate, but for what is not straight.
func Simulate(s Setup, u Uncertainty, n int, seed uint64) (*Simulation, error) {
	c := units.Checker{Package: "sag"}
	m := check(&c, s, u)
	if n < 100 || n > 100_000 { // percentiles lie between draws, and all draws are kept
		c.Fail("draws", n, "from 100 to 100000", units.ErrRange)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return m.simulate(n, seed), nil
}

func (m *model) simulate(n int, seed uint64) *Simulation {
	s := &Simulation{Draws: n, Seed: seed, Exact: m.exact}
	sides := [2]*EndSimulation{&s.Front, &s.Rear}
	for i, e := range sides {
		for _, one := range m.ends[i].shelf.Springs {
			e.Springs = append(e.Springs, SpringShare{Rate: one.Rate})
		}
	}
	source := rand.NewPCG(seed, 0)
	var drawn draws
	for range n {
		for i := range m.inputs {
			in := &m.inputs[i]
			in.by(truncatedNormal(uniform(source), in.u, in.lo, in.hi))
		}
		var ends [2]outcome
		for i := range ends {
			ends[i] = m.work(i)
			sides[i].count(&m.ends[i], &ends[i])
		}
		drawn.add(join(&ends))
	}
	if ratio := new(Spread[float64]); ratio.make(&drawn, ratioAnswer) {
		s.FrequencyRatio = ratio
	}
	for i, e := range sides {
		fill(e, &drawn, i*perEnd)
		for k := range e.Springs {
			e.Springs[k].Share /= float64(max(1, n-e.Impossible))
		}
	}
	return s
}

// count counts a draw by what it does at an end, and for the spring that is then the one to fit.
// At an end of its travel a wheel has a place, but no rates.
func (e *EndSimulation) count(of *end, o *outcome) {
	switch {
	case o.stage < sprung:
		o.stage = nothing
		e.Impossible++
		return
	case o.state.Finding == sag.HeldAtTop:
		o.stage = placed
		e.HeldAtTop++
	case o.state.Finding == sag.Collapses:
		o.stage = placed
		e.Collapses++
	}
	if of.fitted >= 0 {
		if k := of.shelf.Best(o.curve, sag.Target{Load: o.state.Load, Sag: of.Spec.Sag}); k >= 0 {
			e.Springs[k].Share++
		}
	}
}

// uniform is a number between 0 and 1, never either, in steps of 2⁻⁵².
func uniform(source rand.Source) float64 {
	return (float64(source.Uint64()>>12) + 0.5) * 0x1p-52
}

// truncatedNormal turns a number p between 0 and 1 into one of a normal distribution of mean 0 and
// standard deviation u cut off at lo ≤ 0 and hi ≥ 0, not both 0, by inverting Φ((x − 0)/u) between
// its values there.
func truncatedNormal(p, u, lo, hi float64) float64 {
	below, upTo := normal(lo/u), normal(hi/u)
	p = below + p*(upTo-below)
	p = min(max(p, 0x1p-53), 1-0x1p-53)
	return min(max(u*math.Sqrt2*math.Erfinv(2*p-1), lo), hi)
}

// normal is Φ, the distribution function of the standard normal distribution.
func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// draws holds the values of each answer that were drawn.
type draws [len(vector{})][]float64

func (d *draws) add(v vector) {
	for i, x := range v {
		if math.Abs(x) <= math.MaxFloat64 { // neither NaN nor infinite
			d[i] = append(d[i], x)
		}
	}
}

// make fills in how answer k scatters. There is nothing where no draw has it, or where the sum of
// its squares overflows. It sorts the draws.
func (s *Spread[Q]) make(d *draws, k int) bool {
	x := d[k]
	if len(x) == 0 {
		return false
	}
	slices.Sort(x)
	mean, deviation := stat.MeanStdDev(x, nil)
	if len(x) == 1 {
		deviation = 0
	}
	*s = Spread[Q]{
		Draws: len(x), Mean: Q(mean), StandardDeviation: Q(deviation),
		Low: Q(percentile(x, 0.025)), High: Q(percentile(x, 0.975)),
	}
	return deviation <= math.MaxFloat64
}

// percentile is where the part p of sorted draws lies below.
func percentile(sorted []float64, p float64) float64 {
	h := p * float64(len(sorted)-1)
	i := int(h)
	if i >= len(sorted)-1 {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (h-float64(i))*(sorted[i+1]-sorted[i])
}
