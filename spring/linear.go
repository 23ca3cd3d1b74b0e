package spring

import "example.com/wheelrate/units"

// Linear describes a spring of constant rate, compressed by a preload when
// the suspension is fully extended.
type Linear struct {
	Rate    units.Stiffness `json:"rate"`              // more than 0
	Travel  units.Length    `json:"travel"`            // usable travel beyond the preload, more than 0
	Preload units.Length    `json:"preload,omitempty"` // compression at travel 0, 0 or more
}

// LinearSpring is the [Law] of a [Linear] spec: F = k·(x + preload). Make one
// with [NewLinear]; the zero value is a spring of no travel and no force.
type LinearSpring struct {
	rate            float64
	travel, preload units.Length
}

// tooStrong is a force in N or an energy in J that no spring has; below it
// nothing that is computed overflows.
const tooStrong = 1e150

// Check records every bad field of the spec: a rate or travel that is not finite
// and more than 0, a preload that is not finite and 0 or more, and a rate that
// is so high that force or energy at full travel reach 1e150 N or J.
func (spec Linear) Check(c *units.Checker) {
	ok := units.Positive(c, "rate", spec.Rate)
	ok = units.Positive(c, "travel", spec.Travel) && ok
	ok = units.NonNegative(c, "preload", spec.Preload) && ok
	if ok && !(float64(spec.Rate)*float64(spec.Travel+spec.Preload)*max(1, float64(spec.Travel+spec.Preload)) < tooStrong) {
		c.Fail("rate", spec.Rate, "a rate whose force and energy at full travel stay below 1e150 N and J", units.ErrRange)
	}
}

// NewLinear returns the law F = k·(x + x₀) of a spring of rate k and preload
// x₀. The error names every bad field: see [Linear.Check].
func NewLinear(spec Linear) (LinearSpring, error) {
	c := units.Checker{Package: "spring"}
	if spec.Check(&c); !c.OK() {
		return LinearSpring{}, c.Err()
	}
	return LinearSpring{rate: float64(spec.Rate), travel: spec.Travel, preload: spec.Preload}, nil
}

// Force returns k·(x + preload) in N; x is clamped to [0, Travel].
func (s LinearSpring) Force(x units.Length) units.Force {
	return units.Force(s.rate * float64(Clamp(x, s.travel)+s.preload))
}

// Rate returns the constant rate in N/m.
func (s LinearSpring) Rate(units.Length) units.Stiffness { return units.Stiffness(s.rate) }

// Energy returns k·x·(x/2 + preload) in J; x is clamped to [0, Travel].
func (s LinearSpring) Energy(x units.Length) units.Energy {
	x = Clamp(x, s.travel)
	return units.Energy(s.rate * float64(x) * float64(x/2+s.preload))
}

// Travel returns the usable travel.
func (s LinearSpring) Travel() units.Length { return s.travel }

// Preload returns the compression at travel 0.
func (s LinearSpring) Preload() units.Length { return s.preload }

// Segments returns the one straight segment that the law is.
func (s LinearSpring) Segments() []Segment {
	return []Segment{{Length: s.travel, Rate: s.Rate(0), Start: s.Force(0), End: s.Force(s.travel)}}
}

// String returns rate, travel and force at full extension, such as "80 N/mm over
// 60 mm, 160 N at full extension".
func (s LinearSpring) String() string { return Describe(s) }
