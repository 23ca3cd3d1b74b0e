package spring

import (
	"math"

	"example.com/wheelrate/units"
)

// Groups describes one progressive spring, or several springs on end, as groups of coils in
// series. Groups of a low rate and a small gap close first; the others are stiffer without them.
type Groups struct {
	Groups []Group `json:"groups"` // one or more, in any order
}

// Group is a group of coils of one pitch.
type Group struct {
	Rate units.Stiffness `json:"rate"` // of the group alone, more than 0
	Gap  units.Length    `json:"gap"`  // how far it goes until its coils touch, more than 0
}

// NewGroups returns the law of coil groups in series. Each carries the same force F and is
// compressed by min(F/kᵢ, gᵢ):
//
//	x(F) = Σ min(F/kᵢ, gᵢ)
//
// so group i closes at F = kᵢ·gᵢ, the rate between closures is 1/Σ 1/kᵢ over the open groups, and the
// travel is Σ gᵢ: force is equal, travels add. Its segments end where a group closes. There are 1 to 1000
// groups, of finite rates and gaps more than 0; the error names every bad one, such as groups[0].gap.
func NewGroups(spec Groups) (Polyline, error) {
	c := units.Checker{Package: "spring"}
	switch n := len(spec.Groups); {
	case n == 0:
		c.Fail("groups", nil, "one or more coil groups", units.ErrMissing)
	case n > mostSegments:
		c.Fail("groups", n, units.AtMost(1000).Count("coil groups"), nil)
		return nil, c.Err()
	}
	var lines []*chain
	for i, g := range spec.Groups {
		at, closing := c.Element("groups", i), g.Rate.Times(g.Gap)
		rate := units.Positive(&at, "rate", g.Rate)
		gap := units.Positive(&at, "gap", g.Gap)
		if rate && gap && !(closing >= 0x1p-1022 && closing <= math.MaxFloat64) {
			at.Fail("rate", g.Rate, "a rate whose closing force float64 can hold", nil)
		}
		line := newChain([]Segment{{Length: g.Gap, Rate: g.Rate, End: closing}})
		lines = append(lines, &line)
	}
	if !c.OK() {
		return nil, c.Err()
	}
	s := inSeries(lines)
	if !s.sound() {
		c.Fail("groups", nil, tooGreat, nil)
		return nil, c.Err()
	}
	return &s, nil
}

// DualRate describes a soft spring in series with a main spring, with a crossover that stops the
// soft one after a travel of its own: a collar, a spacer, or its coils touching.
type DualRate struct {
	SoftRate   units.Stiffness `json:"soft_rate"`         // more than 0
	MainRate   units.Stiffness `json:"main_rate"`         // more than 0
	SoftTravel units.Length    `json:"soft_travel"`       // compression of the soft spring, from free, at which it is stopped
	MainTravel units.Length    `json:"main_travel"`       // compression of the main spring, from free, at which it is solid
	Preload    units.Length    `json:"preload,omitempty"` // of the two together at travel 0, 0 or more
}

// NewDualRate returns the law of a soft spring k₁, stopped after x₁ of its own compression, in
// series with a main spring k₂. With F₀ the force at travel 0 from the preload,
//
//	up to the crossover  F = F₀ + x·k₁·k₂/(k₁ + k₂)
//	the crossover        F* = k₁·x₁,  x* = (F* − F₀)·(k₁ + k₂)/(k₁·k₂)
//	beyond               F = F* + k₂·(x − x*)
//
// which is the law of [NewGroups] of the two from the preload on, with a segment on each side of the
// crossover. The soft spring must stop before the main one is solid, k₁·x₁ < k₂·x₂, or main_travel is
// refused. The preload must leave some travel; one beyond the crossover leaves the main spring alone.
// The error names every bad field.
func NewDualRate(spec DualRate) (Polyline, error) {
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
	both, err := NewGroups(Groups{[]Group{{spec.SoftRate, spec.SoftTravel}, {spec.MainRate, spec.MainTravel}}})
	if err != nil {
		c.Fail("soft_rate", spec.SoftRate, tooGreat, nil)
		return nil, c.Err()
	}
	if checkPreload(&c, spec.Preload, both.Travel()); !c.OK() {
		return nil, c.Err()
	}
	s := newChain(both.(*chain).after(spec.Preload))
	return &s, nil
}
