package spring

import "example.com/wheelrate/units"

// DualRate describes a soft spring in series with a main spring, with a
// crossover that stops the soft one after a travel of its own: a collar, a
// spacer, or its coils touching.
type DualRate struct {
	SoftRate   units.Stiffness `json:"soft_rate"`         // more than 0
	MainRate   units.Stiffness `json:"main_rate"`         // more than 0
	SoftTravel units.Length    `json:"soft_travel"`       // compression of the soft spring, from free, at which it is stopped
	MainTravel units.Length    `json:"main_travel"`       // compression of the main spring, from free, at which it is solid
	Preload    units.Length    `json:"preload,omitempty"` // of the two together at travel 0, 0 or more
}

// DualRateSpring is the [Law] of [DualRate]. Make one with [NewDualRate].
type DualRateSpring struct {
	chain
	combined  units.Stiffness
	crossover Closure
}

// NewDualRate returns the law of a soft spring k₁, stopped after x₁ of its own
// compression, in series with a main spring k₂:
//
//	up to the crossover  F = F₀ + x·k₁·k₂/(k₁ + k₂)
//	the crossover        F* = k₁·x₁,  x* = (F* − F₀)·(k₁ + k₂)/(k₁·k₂)
//	beyond               F = F* + k₂·(x − x*)
//
// where F₀ is the force at travel 0 from the preload. The soft spring must
// stop before the main one is solid: k₁·x₁ < k₂·x₂, or main_travel is refused.
// The preload must leave some travel; one beyond the crossover is permitted
// and leaves the main spring alone. The error names every bad field.
//
// It is the same law as [NewGroups] of the two.
func NewDualRate(spec DualRate) (*DualRateSpring, error) {
	c := units.Checker{Package: "spring"}
	units.Positive(&c, "soft_rate", spec.SoftRate)
	units.Positive(&c, "main_rate", spec.MainRate)
	units.Positive(&c, "soft_travel", spec.SoftTravel)
	units.Positive(&c, "main_travel", spec.MainTravel)
	units.NonNegative(&c, "preload", spec.Preload)
	if c.OK() && !(spec.MainRate.Times(spec.MainTravel) > spec.SoftRate.Times(spec.SoftTravel)) {
		c.Fail("main_travel", spec.MainTravel,
			"enough for the main spring to carry, before it is solid, the force that stops the soft one", units.ErrConflict)
	}
	if !c.OK() {
		return nil, c.Err()
	}
	stack, err := NewGroups(Groups{Groups: []Group{
		{Rate: spec.SoftRate, Gap: spec.SoftTravel}, {Rate: spec.MainRate, Gap: spec.MainTravel},
	}})
	if err != nil {
		c.Fail("soft_rate", spec.SoftRate, tooGreat, nil)
		return nil, c.Err()
	}
	if checkPreload(&c, spec.Preload, stack.Travel()); !c.OK() {
		return nil, c.Err()
	}
	crossover := stack.closures[0]
	crossover.Travel = max(crossover.Travel-spec.Preload, 0)
	return &DualRateSpring{
		chain:     newChain(stack.after(spec.Preload)),
		combined:  stack.Rate(0),
		crossover: crossover,
	}, nil
}

// CombinedRate returns k₁·k₂/(k₁ + k₂), the rate before the crossover.
func (s *DualRateSpring) CombinedRate() units.Stiffness { return s.combined }

// CrossoverTravel returns the travel x* at which the soft spring stops; it is
// 0 where the preload has stopped it already.
func (s *DualRateSpring) CrossoverTravel() units.Length { return s.crossover.Travel }

// CrossoverForce returns the force F* = k₁·x₁ at which the soft spring stops.
func (s *DualRateSpring) CrossoverForce() units.Force { return s.crossover.Force }
