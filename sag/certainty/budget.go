package certainty

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Budget is how well the answers of a job's [Sheet] are known, to first order.
type Budget struct {
	Front EndBudget `json:"front"`
	Rear  EndBudget `json:"rear"`
	// FrequencyRatio is that of the sheet.
	FrequencyRatio *Answer[float64] `json:"frequency_ratio,omitempty"`
	// Exact are the inputs whose uncertainty was not stated, by the names of
	// the fields of [Uncertainty], such as "rear.spring_rate".
	Exact []string `json:"exact"`
}

// EndBudget is how well the answers for one end are known, with what the sheet
// recommends held as it is. Answers that the end does not have are nil: those
// of a coil for an air spring and the other way round, the rest position where
// the load tops or bottoms it out, a frequency where the wheel rate is not more
// than 0, a fill where none meets the target.
type EndBudget struct {
	Load *Answer[units.Force] `json:"load"` // sprung, at the wheel

	// What the target would need, whatever is fitted: the errors of setting
	// preload and fill do not enter, nor do friction and temperature.
	IdealRate     *Answer[units.Stiffness]     `json:"ideal_rate,omitempty"`     // with the least preload of the collar
	PreloadWanted *Answer[units.Length]        `json:"preload_wanted,omitempty"` // for the spring that is recommended
	FillWanted    *Answer[units.GaugePressure] `json:"fill_wanted,omitempty"`    // with the spacers that are recommended

	// What the recommended spring or fill will do.
	Sag      *Answer[float64]      `json:"sag,omitempty"`       // of the wheel, over its full travel
	ShockSag *Answer[float64]      `json:"shock_sag,omitempty"` // of the shock, over its stroke
	Travel   *Answer[units.Length] `json:"travel,omitempty"`    // of the wheel, at rest
	Stroke   *Answer[units.Length] `json:"stroke,omitempty"`    // of the shock, at rest
	// StrokeReading is Stroke as it will be read, with the error of the
	// reading: a reading within twice its uncertainty does not contradict the
	// prediction.
	StrokeReading *Answer[units.Length]    `json:"stroke_reading,omitempty"`
	WheelRate     *Answer[units.Stiffness] `json:"wheel_rate,omitempty"`
	Frequency     *Answer[units.Frequency] `json:"frequency,omitempty"`
	FastWheelRate *Answer[units.Stiffness] `json:"fast_wheel_rate,omitempty"`
	FastFrequency *Answer[units.Frequency] `json:"fast_frequency,omitempty"`
	TravelLeft    *Answer[units.Length]    `json:"travel_left,omitempty"`
	EnergyLeft    *Answer[units.Energy]    `json:"energy_left,omitempty"`
	Energy        *Answer[units.Energy]    `json:"energy,omitempty"` // of [Reserve], as are the next two
	DropHeight    *Answer[units.Length]    `json:"drop_height,omitempty"`
	FullForce     *Answer[units.Force]     `json:"full_force,omitempty"`
	FullRatio     *Answer[float64]         `json:"full_ratio,omitempty"` // FullForce over Load

	// Rivals are the springs of the shelf that take over where the true load
	// is less or more than the stated one: at most one softer, one harder.
	Rivals []Rival `json:"rivals,omitempty"`
}

// Answer is an answer with its standard uncertainty.
type Answer[Q ~float64] struct {
	Value       Q `json:"value"`       // as the sheet has it
	Uncertainty Q `json:"uncertainty"` // one standard deviation
	// Dominant is the input with the largest share of the variance; empty
	// where Uncertainty is 0.
	Dominant string `json:"dominant"`
	// Contributions are those of the inputs that have any, largest first.
	Contributions []Contribution[Q] `json:"contributions"`
}

// Contribution is what one input does to an answer.
type Contribution[Q ~float64] struct {
	// Input is the name of its field in [Uncertainty], such as "rear.preload".
	Input string `json:"input"`
	// Effect is by how much the answer changes if the input is more by one
	// standard uncertainty: negative where the answer becomes less. Of an input
	// that stands for several, such as the travels of a table, it is the root
	// of their effects' squares.
	Effect Q `json:"effect"`
	// Share is that of the variance; all shares add to 1.
	Share float64 `json:"share"`
}

// Propagate returns the standard uncertainties of the answers of a job's sheet
// from those of its inputs, by the law of propagation of uncertainty to first
// order for independent inputs,
//
//	u²(y) = Σ (∂y/∂xᵢ)²·u²(xᵢ)
//
// (JCGM 100:2008, equation 10, from memory). The sheet is worked out once;
// spring, preload, fill and spacers are then held as recommended, and the rest
// is worked out anew with each input a little more and a little less, so that
// ∂y/∂x is a central difference over a ten-thousandth of the input's natural
// size either way. An input at the edge of what it can be, such as an exponent
// of 1, is moved one way only.
//
// First order is for errors small enough that the answer goes straight over
// them. Near an end of the travel, at the step between two pieces of a monotone
// table, where a port closes or a free piston lifts off, it may not be:
// [Simulate] tells.
//
// A job that states an uncertainty of its own gets the same on its sheet; here u
// takes its place. Each end is taken by itself: what the sheet tells of both
// together, of the bike alone and of other stances has no uncertainty.
//
// The error names every bad field: those of the job as [NewSheet] does, those of
// the uncertainty as "uncertainty.rear.preload".
//
// Not modelled: errors that depend on each other, such as of two masses read
// off one scale that reads too much; errors of the models themselves.
func Propagate(b Setup, u Uncertainty) (*Budget, error) {
	c := units.Checker{Package: "sag"}
	m := newModel(&c, b, u)
	if m.ends[0].Options == nil || m.ends[1].Options == nil {
		c.Fail("bike", nil, "both ends, each with what was chosen for it", units.ErrMissing)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return m.budget(), nil
}

// differenceStep is the step of a central difference over an input's natural
// size: its error, about its square, is then well below that of [spring.Settle],
// a ten-trillionth of the travel, over the step.
const differenceStep = 1e-4

// firstOrder is a model to first order.
type firstOrder struct {
	names   []string // of the inputs that are uncertain, each once
	value   [allOfThem]float64
	effects [][allOfThem]float64 // of one standard uncertainty, by name
}

func (m *model) firstOrder() firstOrder {
	nominal := [2]outcome{m.work(0), m.work(1)}
	for i := range nominal {
		nominal[i].restOnly()
	}
	l := firstOrder{value: answersOf(&nominal)}
	// moved is what comes of one input's deviation.
	moved := func(in *input, by float64) [allOfThem]float64 {
		ends := nominal
		*in.at = by
		for i := range ends {
			if in.end == both || in.end == i {
				ends[i] = m.work(i)
				ends[i].restOnly()
			}
		}
		*in.at = 0
		return answersOf(&ends)
	}
	for i := range m.inputs {
		in := &m.inputs[i]
		n := len(l.names) - 1
		if n < 0 || l.names[n] != in.name {
			l.names, l.effects = append(l.names, in.name), append(l.effects, [allOfThem]float64{})
			n++
		}
		h := differenceStep * in.scale
		more, less := moved(in, h), moved(in, -h)
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
	return l
}

// restOnly drops the answers of an end that the load tops or bottoms out.
func (o *outcome) restOnly() {
	if o.state != rests {
		for i := aRest; i < answers; i++ {
			o.answer[i] = math.NaN()
		}
	}
}

// answerTo is answer k of a firstOrder model, nil where it has none.
func answerTo[Q ~float64](l *firstOrder, k int) *Answer[Q] {
	e := &Answer[Q]{Value: Q(l.value[k]), Contributions: []Contribution[Q]{}}
	u := 0.0
	for i, name := range l.names {
		if effect := l.effects[i][k]; effect != 0 {
			u = math.Hypot(u, effect)
			e.Contributions = append(e.Contributions, Contribution[Q]{Input: name, Effect: Q(effect)})
		}
	}
	if !(math.Abs(l.value[k]) <= math.MaxFloat64 && u <= math.MaxFloat64) {
		return nil
	}
	e.Uncertainty = Q(u)
	slices.SortStableFunc(e.Contributions, func(a, b Contribution[Q]) int {
		return cmp.Compare(math.Abs(float64(b.Effect)), math.Abs(float64(a.Effect)))
	})
	for i := range e.Contributions {
		part := float64(e.Contributions[i].Effect) / u
		e.Contributions[i].Share = part * part
	}
	if len(e.Contributions) > 0 {
		e.Dominant = e.Contributions[0].Input
	}
	return e
}

func (m *model) budget() *Budget {
	l := m.firstOrder()
	b := &Budget{Exact: m.exact, FrequencyRatio: answerTo[float64](&l, aRatio)}
	for i, e := range []*EndBudget{&b.Front, &b.Rear} {
		k := i * answers
		*e = EndBudget{
			Load:          answerTo[units.Force](&l, k+aLoad),
			IdealRate:     answerTo[units.Stiffness](&l, k+aIdealRate),
			PreloadWanted: answerTo[units.Length](&l, k+aPreloadWanted),
			FillWanted:    answerTo[units.GaugePressure](&l, k+aFillWanted),
			Sag:           answerTo[float64](&l, k+aSag),
			ShockSag:      answerTo[float64](&l, k+aShockSag),
			Travel:        answerTo[units.Length](&l, k+aTravel),
			Stroke:        answerTo[units.Length](&l, k+aStroke),
			StrokeReading: answerTo[units.Length](&l, k+aStrokeReading),
			WheelRate:     answerTo[units.Stiffness](&l, k+aWheelRate),
			Frequency:     answerTo[units.Frequency](&l, k+aFrequency),
			FastWheelRate: answerTo[units.Stiffness](&l, k+aFastWheelRate),
			FastFrequency: answerTo[units.Frequency](&l, k+aFastFrequency),
			TravelLeft:    answerTo[units.Length](&l, k+aTravelLeft),
			EnergyLeft:    answerTo[units.Energy](&l, k+aEnergyLeft),
			Energy:        answerTo[units.Energy](&l, k+aEnergy),
			DropHeight:    answerTo[units.Length](&l, k+aDropHeight),
			FullForce:     answerTo[units.Force](&l, k+aFullForce),
			FullRatio:     answerTo[float64](&l, k+aFullRatio),
		}
		e.Rivals = m.rivals(i, e.IdealRate)
	}
	return b
}
