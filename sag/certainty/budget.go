package certainty

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Budget is the answers for a bike with their uncertainties, to first order.
type Budget struct {
	Front *EndBudget `json:"front,omitempty"` // nil for an end that the setup does not have, as is Rear
	Rear  *EndBudget `json:"rear,omitempty"`
	// FrequencyRatio is the front's FastFrequency over the rear's.
	FrequencyRatio *Answer[float64] `json:"frequency_ratio,omitempty"`
	// Exact are the fields of [Uncertainty] that were not stated, such as "rear.spring_rate".
	Exact []string `json:"exact"`
}

// EndBudget is the answers for one end, as it was chosen. Those that the end does not have are nil:
// those of a coil for an air spring and the other way round, the rest if the load tops or bottoms
// the end out, a frequency if the wheel rate is not more than 0, a fill if none meets the target.
type EndBudget struct {
	Load *Answer[units.Force] `json:"load"` // sprung, at the wheel

	// What the target needs, whatever is set: independent of the errors of preload and fill, of
	// friction and of temperature.
	IdealRate     *Answer[units.Stiffness]     `json:"ideal_rate,omitempty"`     // with the least preload of the collar
	PreloadWanted *Answer[units.Length]        `json:"preload_wanted,omitempty"` // of the spring that is fitted
	FillWanted    *Answer[units.GaugePressure] `json:"fill_wanted,omitempty"`    // with the spacers that are fitted

	// What the spring or the fill does.
	Sag      *Answer[float64]      `json:"sag,omitempty"`       // of the wheel, over its full travel
	ShockSag *Answer[float64]      `json:"shock_sag,omitempty"` // of the shock, over its stroke
	Travel   *Answer[units.Length] `json:"travel,omitempty"`    // of the wheel, at rest
	Stroke   *Answer[units.Length] `json:"stroke,omitempty"`    // of the shock, at rest
	// StrokeReading is Stroke with the error of reading it: a reading within twice its uncertainty
	// does not contradict the prediction.
	StrokeReading *Answer[units.Length]    `json:"stroke_reading,omitempty"`
	WheelRate     *Answer[units.Stiffness] `json:"wheel_rate,omitempty"`
	Frequency     *Answer[units.Frequency] `json:"frequency,omitempty"`
	FastWheelRate *Answer[units.Stiffness] `json:"fast_wheel_rate,omitempty"`
	FastFrequency *Answer[units.Frequency] `json:"fast_frequency,omitempty"`
	TravelLeft    *Answer[units.Length]    `json:"travel_left,omitempty"`
	EnergyLeft    *Answer[units.Energy]    `json:"energy_left,omitempty"`
	Energy        *Answer[units.Energy]    `json:"energy,omitempty"` // of [sag.Reserve], as are the next two
	DropHeight    *Answer[units.Length]    `json:"drop_height,omitempty"`
	FullForce     *Answer[units.Force]     `json:"full_force,omitempty"`
	FullRatio     *Answer[float64]         `json:"full_ratio,omitempty"` // FullForce over Load

	// Rivals are the springs of the shelf that take over if the true load is less or more than the
	// stated one: at most one softer, one harder.
	Rivals []Rival `json:"rivals,omitempty"`
}

// Answer is an answer with its standard uncertainty.
type Answer[Q ~float64] struct {
	Value       Q `json:"value"`       // with every input as stated
	Uncertainty Q `json:"uncertainty"` // one standard deviation
	// Dominant is the input with the largest share of the variance; empty if Uncertainty is 0.
	Dominant string `json:"dominant"`
	// Contributions are those of more than a billionth of Uncertainty, largest first.
	Contributions []Contribution[Q] `json:"contributions"`
}

// Contribution is what one input does to an answer.
type Contribution[Q ~float64] struct {
	Input string `json:"input"` // the field of [Uncertainty], such as "rear.preload"
	// Effect is the change of the answer if the input is more by one standard uncertainty. Of a
	// field for several inputs, such as the travels of a table, it is the root of the sum of their
	// squares.
	Effect Q       `json:"effect"`
	Share  float64 `json:"share"` // of the variance; all shares add to 1
}

// Propagate returns the standard uncertainties of the answers for a bike by the law of propagation
// of uncertainty, to first order for independent inputs,
//
//	u²(y) = Σ (∂y/∂xᵢ)²·u²(xᵢ)
//
// (JCGM 100:2008, equation 10, from memory). Spring, preload, fill and spacers are held as they
// were chosen. ∂y/∂x is a central difference of [sag.End.Under] over a ten-thousandth of the
// input's natural size either way; one-sided at the edge of what the input can be, such as an
// exponent of 1.
//
// First order holds for errors so small that the answer is straight over them. They may be too
// large near an end of the travel, at the step between two pieces of a monotone table, where a port
// closes or a free piston lifts off: compare with [Simulate].
//
// The error names every bad field of the uncertainty, such as rear.preload, and front or rear for
// an end without a curve or a choice.
//
// Not modelled: errors that depend on each other, such as of two masses read off one scale that
// reads too much; errors of the models themselves.
func Propagate(s Setup, u Uncertainty) (*Budget, error) {
	c := units.Checker{Package: "sag"}
	m := check(&c, s, u)
	if err := c.Err(); err != nil {
		return nil, err
	}
	nominal, l := m.firstOrder()
	b := &Budget{Exact: m.exact}
	b.Front, b.Rear = has[EndBudget](m, 0), has[EndBudget](m, 1)
	fill(b, l)
	for i, e := range []*EndBudget{b.Front, b.Rear} {
		if e != nil {
			e.Rivals = m.rivals(i, nominal[i].state.Load, e.IdealRate)
		}
	}
	return b, nil
}

// differenceStep is the step of a difference over an input's natural size. The error of the
// difference is about the square of the step; that of a rest, 1e-13 of the stroke, over the step is
// less.
const differenceStep = 1e-4

// firstOrder is a model to first order.
type firstOrder struct {
	names   []string // of the inputs that are uncertain, each once
	value   vector
	effects []vector // of one standard uncertainty, by name
}

func (m *model) firstOrder() ([2]outcome, *firstOrder) {
	nominal := [2]outcome{m.work(0), m.work(1)}
	l := &firstOrder{value: join(&nominal)}
	for i := range m.inputs {
		in := &m.inputs[i]
		n := len(l.names) - 1
		if n < 0 || l.names[n] != in.name {
			l.names, l.effects = append(l.names, in.name), append(l.effects, vector{})
			n++
		}
		if in.ends == [2]bool{} {
			continue
		}
		// moved returns the answers with the input off by a deviation.
		moved := func(by float64) vector {
			ends := nominal
			in.by(by)
			for i := range ends {
				if in.ends[i] {
					ends[i] = m.work(i)
				}
			}
			in.by(0)
			return join(&ends)
		}
		h := differenceStep * in.scale
		more, less := moved(h), moved(-h)
		for k, value := range l.value {
			slope := (more[k] - less[k]) / (2 * h)
			switch {
			case math.IsNaN(more[k]):
				slope = (value - less[k]) / h
			case math.IsNaN(less[k]):
				slope = (more[k] - value) / h
			}
			switch effect, last := slope*in.u, l.effects[n][k]; {
			case last == 0:
				l.effects[n][k] = effect
			case effect != 0:
				l.effects[n][k] = math.Hypot(last, effect)
			}
		}
	}
	return nominal, l
}

// rounding is the part of an answer's uncertainty below which an effect is rounding.
const rounding = 1e-9

// make sets a to answer k and reports whether its value and its uncertainty are finite.
func (a *Answer[Q]) make(l *firstOrder, k int) bool {
	u := 0.0
	for i := range l.effects {
		u = math.Hypot(u, l.effects[i][k])
	}
	*a = Answer[Q]{Value: Q(l.value[k]), Uncertainty: Q(u), Contributions: []Contribution[Q]{}}
	for i, name := range l.names {
		if effect := l.effects[i][k]; math.Abs(effect) > rounding*u {
			a.Contributions = append(a.Contributions, Contribution[Q]{name, Q(effect), math.Pow(effect/u, 2)})
		}
	}
	slices.SortStableFunc(a.Contributions, func(a, b Contribution[Q]) int { return cmp.Compare(b.Share, a.Share) })
	if len(a.Contributions) > 0 {
		a.Dominant = a.Contributions[0].Input
	}
	return math.Abs(l.value[k]) <= math.MaxFloat64 && u <= math.MaxFloat64
}
