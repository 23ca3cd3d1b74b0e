package certainty

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"example.com/wheelrate/units"
)

// Budget is the answers for a bike, each with its standard uncertainty: to first order of [Propagate],
// drawn of [Simulate].
type Budget struct {
	Front   *EndBudget     `json:"front,omitempty"` // nil for an end that the setup does not have, as is Rear
	Rear    *EndBudget     `json:"rear,omitempty"`
	Coupled *CoupledBudget `json:"coupled,omitempty"` // both ends settled together; nil where they are not
	// FrequencyRatio is the FastFrequency of the front over that of the rear; nil if either is nil.
	FrequencyRatio *Answer[float64] `json:"frequency_ratio,omitempty"`
	// Exact lists the inputs of the bike that were taken as exact because their [Uncertainty] is 0,
	// such as "rear.spring_rate".
	Exact []string `json:"exact"`
	// NotUsed lists the stated uncertainties of inputs that the bike does not have.
	NotUsed []Leftover `json:"not_used,omitempty"`
	Draws   int        `json:"draws,omitempty"` // of Simulate, the impossible ones too
	Seed    uint64     `json:"seed,omitempty"`  // of Simulate, that the draws started from
}

// CoupledBudget is the answers for both ends settled together, those of [sag.Stance]. They need
// Masses.Wheelbase, Masses.MassCentreHeight and the radii of the wheels, and no scales. The friction left
// at the springs is in them.
type CoupledBudget struct {
	FrontSag            *Answer[float64]      `json:"front_sag,omitempty"`
	RearSag             *Answer[float64]      `json:"rear_sag,omitempty"`
	FrontStroke         *Answer[units.Length] `json:"front_stroke,omitempty"`
	RearStroke          *Answer[units.Length] `json:"rear_stroke,omitempty"`
	Pitch               *Answer[units.Angle]  `json:"pitch,omitempty"`
	RearShare           *Answer[float64]      `json:"rear_share,omitempty"`
	Wheelbase           *Answer[units.Length] `json:"wheelbase,omitempty"`
	HeadAngle           *Answer[units.Angle]  `json:"head_angle,omitempty"` // nil without a fork
	Trail               *Answer[units.Length] `json:"trail,omitempty"`      // nil where the stance has none, as is BottomBracketHeight
	BottomBracketHeight *Answer[units.Length] `json:"bottom_bracket_height,omitempty"`
}

// EndBudget is the answers for one end with the spring, preload, fill and spacers chosen for it.
// Load, Energy, DropHeight, FullForce and FullRatio are always set. IdealRate and PreloadWanted are
// nil for an air spring, FillWanted is nil for a coil spring, and each is nil if no such value meets
// the target. All others are nil if the load tops or bottoms the end out, and the frequencies also
// if their wheel rate is not more than 0. For a spring known by its gauge ([fit.Gauge]) only Load and
// what its readings tell is set. The landing is nil without a drop. Of [Simulate], an answer is nil if no
// draw has it.
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

	// How it takes the drop of [EndSetup], with the damping as set: those of [sag.Landing].
	LandingTravel     *Answer[units.Length] `json:"landing_travel,omitempty"`
	LandingUsed       *Answer[float64]      `json:"landing_used,omitempty"`
	LandingPeakForce  *Answer[units.Force]  `json:"landing_peak_force,omitempty"`
	LandingDamperWork *Answer[units.Energy] `json:"landing_damper_work,omitempty"`
	LandingTime       *Answer[units.Time]   `json:"landing_time,omitempty"`
	LandingEnergyLeft *Answer[units.Energy] `json:"landing_energy_left,omitempty"` // 0 as long as it does not bottom

	// Rivals lists the springs of the shelf that would be chosen instead if the true load were less
	// or more than the stated one: at most one for less, then at most one for more.
	Rivals []Rival    `json:"rivals,omitempty"`
	Counts *EndCounts `json:"counts,omitempty"` // of Simulate
}

// Answer is a value with its standard uncertainty and what contributes to that.
type Answer[Q ~float64] struct {
	Value Q `json:"value"` // with every input as stated; of [Simulate], the mean of the draws
	// Uncertainty is one standard deviation, 0 or more; of [Simulate], that of the draws as a sample.
	Uncertainty Q `json:"uncertainty"`
	// Dominant is the input that contributes most; empty if Uncertainty is 0, and of [Simulate].
	Dominant string `json:"dominant"`
	// Contributions lists the inputs whose effect is more than a billionth of Uncertainty, the
	// largest first. There are none of [Simulate].
	Contributions []Contribution[Q] `json:"contributions"`
	Spread        *Spread[Q]        `json:"spread,omitempty"` // of Simulate
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
// (JCGM 100:2008, equation 10, from memory). The spring, preload, fill, spacers and damping stay as
// chosen. ∂y/∂x is a central difference of [sag.End.Under], [sag.Bike.Stance] and [sag.End.Land], a
// ten-thousandth of the largest uncertainty that the input may have to either side. It is one-sided
// where only one side is possible, as for an exponent of 1.
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
	loads, r := m.firstOrder()
	b := m.budget(r)
	for i, e := range []*EndBudget{b.Front, b.Rear} {
		if e != nil {
			e.Rivals = m.rivals(i, loads[i], e.IdealRate)
		}
	}
	return b, nil
}

// differenceStep is the step of a difference, relative to the size of the input. The relative error
// of a central difference is about its square, 1e-8. The error of a rest, 1e-13 of the stroke, adds
// 1e-9.
const differenceStep = 1e-4

// firstOrder returns the sprung loads, and the answers to first order.
func (m *model) firstOrder() (loads [2]units.Force, r *results) {
	m.tolerance = 1e-11 // the values are those of sag.End.Land
	nominal := m.work(moves{[2]bool{true, true}, true, true}, bike{stands: m.couples})
	m.tolerance = landingTolerance
	m.couples = nominal.stands // one that does not stand has nothing to differ from
	r = &results{value: nominal.vector()}
	for i := range m.inputs {
		in := &m.inputs[i]
		n := len(r.names) - 1
		if n < 0 || r.names[n] != in.name {
			r.names, r.effects = append(r.names, in.name), append(r.effects, vector{})
			n++
		}
		if in.moves == (moves{}) {
			continue
		}
		// moved returns the answers with the input off its value by a deviation.
		moved := func(by float64) vector {
			in.by(by)
			b := m.work(in.moves, nominal)
			in.by(0)
			return b.vector()
		}
		h := differenceStep * in.scale
		more, less := moved(h), moved(-h)
		for k, value := range r.value {
			slope := (more[k] - less[k]) / (2 * h)
			switch {
			case math.IsNaN(more[k]):
				slope = (value - less[k]) / h
			case math.IsNaN(less[k]):
				slope = (more[k] - value) / h
			}
			switch effect, last := slope*in.u, r.effects[n][k]; {
			case last == 0:
				r.effects[n][k] = effect
			case effect != 0:
				r.effects[n][k] = math.Hypot(last, effect)
			}
		}
	}
	r.sum()
	return [2]units.Force{nominal.ends[0].state.Load, nominal.ends[1].state.Load}, r
}

// sum sets the uncertainties to the roots of the sums of the squares of the effects.
func (r *results) sum() {
	for i := range r.effects {
		for k, effect := range r.effects[i] {
			r.uncertainty[k] = math.Hypot(r.uncertainty[k], effect)
		}
	}
}

// rounding is the largest effect, relative to the uncertainty of the answer, that is ignored as
// rounding.
const rounding = 1e-9

// make sets a to answer k.
func (a *Answer[Q]) make(r *results, k int) {
	u := r.uncertainty[k]
	*a = Answer[Q]{Value: Q(r.value[k]), Uncertainty: Q(u), Contributions: []Contribution[Q]{}}
	if r.drawn != nil {
		at := func(p float64) Q { return Q(stat.Quantile(p, stat.LinInterp, r.drawn[k], nil)) }
		a.Spread = &Spread[Q]{len(r.drawn[k]), at(0.025), at(0.975)}
	}
	for i, name := range r.names {
		if effect := r.effects[i][k]; math.Abs(effect) > rounding*u {
			a.Contributions = append(a.Contributions, Contribution[Q]{name, Q(effect), math.Pow(effect/u, 2)})
		}
	}
	slices.SortStableFunc(a.Contributions, func(a, b Contribution[Q]) int { return cmp.Compare(b.Share, a.Share) })
	if len(a.Contributions) > 0 {
		a.Dominant = a.Contributions[0].Input
	}
}
