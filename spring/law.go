package spring

import (
	"fmt"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Law is a force–travel law from full extension (0) to full compression (Travel). A
// [LinearSpring], a coil spring with a preload, an air spring, a set of springs and a spring seen
// through a linkage are Laws.
//
// A Law's methods can't fail: arguments outside [0, Travel], and NaN, are clamped, and no result is
// NaN or infinite. Travel is more than 0, and force does not fall over it. At a kink Rate is the
// right-hand value, except at full travel, where it is the left-hand one. Package springtest tests
// all that.
type Law interface {
	// Force returns the force in N that resists compression at travel x. It
	// may be negative near full extension where a negative spring pulls in.
	Force(x units.Length) units.Force
	// Rate returns dForce/dx in N/m at travel x, analytic.
	Rate(x units.Length) units.Stiffness
	// Energy returns the work in J done on the spring from 0 to x.
	Energy(x units.Length) units.Energy
	// Travel returns the full travel in m.
	Travel() units.Length
}

// Polyline is implemented by a [Law] that may be a chain of straight segments, as everything made
// of springs of constant rate is. Sets join such laws into one chain, whose answers are closed
// forms.
type Polyline interface {
	Law
	// Segments returns the segments in order of travel, and nil where the law is no such
	// chain. Sets refuse a law whose segments do not agree with its force.
	Segments() []Segment
}

// Segment is a straight part of a [Polyline]. Where its Start is more than the End of the segment
// before it, the force jumps.
type Segment struct {
	Length units.Length    `json:"length"` // more than 0
	Rate   units.Stiffness `json:"rate"`   // 0 or more
	Start  units.Force     `json:"start"`  // at the segment's two ends
	End    units.Force     `json:"end"`
}

// Clamp returns x limited to [0, travel], and 0 for NaN, as every Law takes its argument.
func Clamp(x, travel units.Length) units.Length {
	switch {
	case !(x > 0):
		return 0
	case x > travel:
		return travel
	}
	return x
}

// Describe returns what the laws of this package print: the rates at both ends, the travel, and the
// force at full extension if that is not 0, such as "80 N/mm over 60 mm, 160 N at full extension".
func Describe(law Law) string {
	travel := law.Travel()
	from, to := law.Rate(0), law.Rate(travel)
	text := fmt.Sprintf("%.6g over %.6g", from, travel)
	if from != to {
		text = fmt.Sprintf("%.6g to %.6g over %.6g", from, to, travel)
	}
	if force := law.Force(0); force != 0 {
		text += fmt.Sprintf(", %.6g at full extension", force)
	}
	return text
}

// Why a law has no rest position under a load: classes of [units.FieldError], with the codes topped_out,
// bottomed_out, not_a_law and force_jumps.
var (
	// ErrToppedOut: the load is less than the force at full extension; the top-out stop carries the rest.
	ErrToppedOut = units.NewClass("topped_out", "spring: topped out: the load is less than the force at full extension", units.ErrRange)
	// ErrBottomedOut: the load is more than the force at full travel.
	ErrBottomedOut = units.NewClass("bottomed_out", "spring: bottomed out: the load is more than the force at full travel", units.ErrRange)
	// ErrLaw: what was given as a law is nil or breaks the contract of [Law].
	ErrLaw = units.NewClass("not_a_law", "spring: not a force-travel law", nil)
	// ErrJump: the force jumps past the load without ever being equal to it.
	ErrJump = units.NewClass("force_jumps", "spring: the force jumps past the load", ErrLaw)
)

// Settle returns the travel in m at which a law carries a load in N, so that law.Force(x) = load. Every
// error is a [units.FieldError]. A load below the force at full extension gives one of class
// [ErrToppedOut], and one above that at full travel [ErrBottomedOut], with the load and both forces; a
// load equal to either gives that end exactly. A force that jumps past the load gives [ErrJump], unless
// it jumps by less than a millionth of the law's range of force. Where the force does not rise strictly,
// one of the travels that carry the load is returned.
//
// A load that is not finite is refused, and a law that is nil, has no travel or whose force is not
// finite, with the class [ErrLaw]. Settle needs no rate, so a kink does not disturb it.
func Settle(law Law, load units.Force) (units.Length, error) {
	if !finite(float64(load)) {
		c := units.Checker{Package: "spring"}
		units.Finite(&c, "load", load)
		return 0, c.Err()
	}
	refused := func(want string, class *units.Class) error {
		return &units.FieldError{Package: "spring", Field: "law", Want: units.Want{Text: want}, Class: class}
	}
	travel := 0.0
	if law != nil {
		travel = float64(law.Travel())
	}
	if !(travel > 0 && finite(travel)) {
		return 0, refused("a law whose travel is finite and more than 0", ErrLaw)
	}
	excess := func(x float64) float64 { return float64(law.Force(units.Length(x)) - load) }
	x, err := root.Find(excess, 0, travel, 1e-13*travel)
	switch {
	case err == nil:
		return units.Length(x), nil
	case err == root.ErrJump:
		return 0, refused("a law whose force does not jump past the load", ErrJump)
	case err != root.ErrNoBracket:
		return 0, refused("a law whose force is finite", ErrLaw)
	}
	class, note := ErrBottomedOut, "or it bottoms out"
	if excess(0) > 0 {
		class, note = ErrToppedOut, "or it tops out"
	}
	want := units.From(law.Force(0), law.Force(law.Travel())).With(note)
	return 0, &units.FieldError{Package: "spring", Field: "load", Value: load, Want: want, Class: class}
}

// Linear describes a spring of constant rate, compressed by a preload when the suspension is fully
// extended.
type Linear struct {
	Rate    units.Stiffness `json:"rate"`              // more than 0
	Travel  units.Length    `json:"travel"`            // usable travel beyond the preload, more than 0
	Preload units.Length    `json:"preload,omitempty"` // compression at travel 0, 0 or more
}

// LinearSpring is the [Law] of a [Linear] spec. Make one with [NewLinear]; the zero value is a
// spring of no travel and no force.
type LinearSpring struct {
	units.Opaque[LinearSpring]
	spec Linear
}

// Check records every bad field of the spec: a value outside what the field says or not finite, and
// a rate so high that force or energy at full travel reach 1e150 N or J.
func (spec Linear) Check(c *units.Checker) {
	ok := units.Positive(c, "rate", spec.Rate)
	ok = units.Positive(c, "travel", spec.Travel) && ok
	ok = units.NonNegative(c, "preload", spec.Preload) && ok
	full := float64(spec.Travel + spec.Preload)
	if ok && !(float64(spec.Rate)*full*max(1, full) < 1e150) { // below it nothing overflows
		c.Fail("rate", spec.Rate, "a rate whose force and energy at full travel stay below 1e150 N and J", units.ErrRange)
	}
}

// NewLinear returns the law F = k·(x + x₀) of a spring of rate k and preload x₀. The error names
// every bad field: see [Linear.Check].
func NewLinear(spec Linear) (LinearSpring, error) {
	c := units.Checker{Package: "spring"}
	spec.Check(&c)
	return units.Checked(&c, LinearSpring{spec: spec})
}

// Force returns k·(x + preload) in N.
func (s LinearSpring) Force(x units.Length) units.Force {
	return s.spec.Rate.Times(Clamp(x, s.spec.Travel) + s.spec.Preload)
}

// Rate returns the constant rate in N/m.
func (s LinearSpring) Rate(units.Length) units.Stiffness { return s.spec.Rate }

// Energy returns k·x·(x/2 + preload) in J.
func (s LinearSpring) Energy(x units.Length) units.Energy {
	x = Clamp(x, s.spec.Travel)
	return units.Energy(float64(s.spec.Rate) * float64(x) * float64(x/2+s.spec.Preload))
}

// Travel returns the usable travel.
func (s LinearSpring) Travel() units.Length { return s.spec.Travel }

// Segments returns the one straight segment that the law is.
func (s LinearSpring) Segments() []Segment {
	return []Segment{{s.spec.Travel, s.spec.Rate, s.Force(0), s.Force(s.spec.Travel)}}
}

// String returns what [Describe] does.
func (s LinearSpring) String() string { return Describe(s) }
