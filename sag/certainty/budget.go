package certainty

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Budget is the answers for both ends of a bike, each with its standard uncertainty to first order.
type Budget struct {
	Front *EndBudget `json:"front,omitempty"` // nil for an end that the setup does not have, as is Rear
	Rear  *EndBudget `json:"rear,omitempty"`
	// FrequencyRatio is the FastFrequency of the front over that of the rear; nil if either is nil.
	FrequencyRatio *Answer[float64] `json:"frequency_ratio,omitempty"`
	// Exact lists the inputs of the bike that were taken as exact because their [Uncertainty] is 0,
	// such as "rear.spring_rate".
	Exact []string `json:"exact"`
	// NotUsed lists the stated uncertainties of inputs that the bike does not have.
	NotUsed []Leftover `json:"not_used,omitempty"`
}

// EndBudget is the answers for one end with the spring, preload, fill and spacers chosen for it.
// Load, Energy, DropHeight, FullForce and FullRatio are always set. IdealRate and PreloadWanted are
// nil for an air spring, FillWanted is nil for a coil spring, and each is nil if no such value meets
// the target. All others are nil if the load tops or bottoms the end out, and the frequencies also
// if their wheel rate is not more than 0. For a spring known by its gauge ([fit.Gauge]) only Load and
// what its readings tell is set.
type EndBudget struct {
	Load *Answer[units.Force] `json:"load"` // sprung, at the wheel

	// What meets the target sag. Errors of preload, fill, friction and temperature have no effect
	// on these three.
	IdealRate     *Answer[units.Stiffness]     `json:"ideal_rate,omitempty"`     // at the least preload of the collar
	PreloadWanted *Answer[units.Length]        `json:"preload_wanted,omitempty"` // of the chosen spring
	FillWanted    *Answer[units.GaugePressure] `json:"fill_wanted,omitempty"`    // with the chosen spacers

	// What the end does as chosen.
	Sag      *Answer[float64]      `json:"sag,omitempty"`       // of the wheel, over its full travel
	ShockSag *Answer[float64]      `json:"shock_sag,omitempty"` // of the shock, over its stroke
	Travel   *Answer[units.Length] `json:"travel,omitempty"`    // of the wheel, at rest
	Stroke   *Answer[units.Length] `json:"stroke,omitempty"`    // of the shock, at rest
	// StrokeReading is Stroke as a ring shows it: its uncertainty includes that of the reading. A
	// reading within two standard uncertainties agrees with the prediction.
	StrokeReading *Answer[units.Length]    `json:"stroke_reading,omitempty"`
	WheelRate     *Answer[units.Stiffness] `json:"wheel_rate,omitempty"`      // at rest, of slow movements
	Frequency     *Answer[units.Frequency] `json:"frequency,omitempty"`       // of WheelRate
	FastWheelRate *Answer[units.Stiffness] `json:"fast_wheel_rate,omitempty"` // at rest, of fast movements
	FastFrequency *Answer[units.Frequency] `json:"fast_frequency,omitempty"`  // of FastWheelRate
	TravelLeft    *Answer[units.Length]    `json:"travel_left,omitempty"`     // of the wheel, from rest to full travel
	EnergyLeft    *Answer[units.Energy]    `json:"energy_left,omitempty"`     // taken up over TravelLeft
	Energy        *Answer[units.Energy]    `json:"energy,omitempty"`          // that of [sag.Reserve]
	DropHeight    *Answer[units.Length]    `json:"drop_height,omitempty"`     // that of [sag.Reserve]
	FullForce     *Answer[units.Force]     `json:"full_force,omitempty"`      // that of [sag.Reserve]
	FullRatio     *Answer[float64]         `json:"full_ratio,omitempty"`      // FullForce over Load

	// Rivals lists the springs of the shelf that would be chosen instead if the true load were less
	// or more than the stated one: at most one for less, then at most one for more.
	Rivals []Rival `json:"rivals,omitempty"`
}

// Answer is a value with its standard uncertainty and what contributes to that.
type Answer[Q ~float64] struct {
	Value       Q `json:"value"`       // with every input as stated
	Uncertainty Q `json:"uncertainty"` // one standard deviation, 0 or more
	// Dominant is the input that contributes most; empty if Uncertainty is 0.
	Dominant string `json:"dominant"`
	// Contributions lists the inputs whose effect is more than a billionth of Uncertainty, the
	// largest first.
	Contributions []Contribution[Q] `json:"contributions"`
}

// Contribution is what the error of one input does to an answer.
type Contribution[Q ~float64] struct {
	Input string `json:"input"` // the field of [Uncertainty], such as "rear.preload"; "rear.gauge.readings" is the error that a [fit.Gauge] states
	// Effect is the change of the answer when the input grows by one standard uncertainty. If the
	// field stands for several inputs, such as the travels of a table, it is the root of the sum of
	// the squares of their effects.
	Effect Q       `json:"effect"`
	Share  float64 `json:"share"` // of the variance, from 0 to 1; the shares of all inputs add to 1
}

// Propagate returns the standard uncertainties of the answers for a bike by the law of propagation
// of uncertainty, to first order for independent inputs,
//
//	u²(y) = Σ (∂y/∂xᵢ)²·u²(xᵢ)
//
// (JCGM 100:2008, equation 10, from memory). The spring, preload, fill and spacers stay as chosen.
// ∂y/∂x is a central difference of [sag.End.Under], a ten-thousandth of the largest uncertainty
// that the input may have to either side. It is one-sided where only one side is possible, as for
// an exponent of 1.
//
// First order is good as long as the answer changes in proportion to the errors. It may not be near
// an end of the travel, at a step between two pieces of a monotone table, where a port closes and
// where a free piston lifts off: compare it with [Simulate] there.
//
// The error names every bad field of the uncertainty, such as rear.preload, and front or rear if
// that end has no curve or no choice.
//
// Not modelled: errors that depend on each other, such as those of two masses read on one scale
// that reads too much; errors of the models themselves.
func Propagate(s Setup, u Uncertainty) (*Budget, error) {
	c := units.Checker{Package: "sag"}
	m := check(&c, s, u)
	if err := c.Err(); err != nil {
		return nil, err
	}
	nominal, l := m.firstOrder()
	b := &Budget{Exact: m.exact, NotUsed: m.notUsed}
	b.Front, b.Rear = has[EndBudget](m, 0), has[EndBudget](m, 1)
	fill(b, l)
	for i, e := range []*EndBudget{b.Front, b.Rear} {
		if e != nil {
			e.Rivals = m.rivals(i, nominal[i].state.Load, e.IdealRate)
		}
	}
	return b, nil
}

// differenceStep is the step of a difference, relative to the size of the input. The relative error
// of a central difference is about its square, 1e-8. The error of a rest, 1e-13 of the stroke, adds
// 1e-9.
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
		// moved returns the answers with the input off its value by a deviation.
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

// rounding is the largest effect, relative to the uncertainty of the answer, that is ignored as
// rounding.
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
