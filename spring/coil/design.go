package coil

import (
	"math"

	"example.com/wheelrate/units"
)

// ForRate returns the coil of a wanted rate: the spec with what it leaves out, its coils or its
// diameter, by the formula of [Spring.Rate],
//
//	n = G·d⁴/(8·D³·k), or D = d·∛(G·d/(8·k·n))
//
// The rate is more than 0. The spec is as for [New], but gives either no coils, and no free length,
// which depends on them, or no diameter beside the wire's. The coils are exact: round them to what can
// be wound, and ask New for the rate. The error names every bad field, active_coils where nothing is
// left out, and rate where no coil of sensible size has it.
func ForRate(spec Spec, rate units.Stiffness) (Spec, error) {
	c := units.Checker{Package: "coil"}
	units.Positive(&c, "rate", rate)
	coils := spec.ActiveCoils == 0 && spec.TotalCoils == 0
	switch {
	case coils && spec.FreeLength != 0:
		c.Fail("free_length", spec.FreeLength, "nothing: it depends on the coils", units.ErrConflict)
		fallthrough
	case coils:
		spec.ActiveCoils, spec.FreeLength = 1, 0
	case spec.MeanDiameter != 0 || spec.OuterDiameter != 0 || spec.InnerDiameter != 0:
		c.Fail("active_coils", nil, "no coils, or no diameter beside the wire's: one of them is looked for", units.ErrConflict)
	default:
		spec.MeanDiameter = maxLength
	}
	trial := spec.spring(&c)
	if coils {
		spec.ActiveCoils = float64(trial.Rate() / rate)
	} else {
		spec.MeanDiameter = spec.WireDiameter * units.Length(math.Cbrt(trial.g*trial.d/(8*trial.n)/float64(rate)))
	}
	if c.OK() {
		if _, err := New(spec); err != nil {
			c.Fail("rate", rate, "a rate that a coil of sensible size has", units.ErrConflict)
		}
	}
	return units.Checked(&c, spec)
}
