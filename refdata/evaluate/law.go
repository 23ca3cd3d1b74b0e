package evaluate

import (
	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// lawSpec is the "law" of a case: exactly one of the kinds.
type lawSpec = law.Kinds[coilLaw]

// coilLaw is a coil spring as in a spring.coil case, put in with a preload.
type coilLaw struct {
	coilGiven
	Preload units.Length `json:"preload"`
}

// Build makes the law, or records everything that is wrong with it and returns nil.
func (in coilLaw) Build(c *units.Checker) spring.Law {
	return law.Installed(c, in.coilGiven.build(c), in.Preload)
}
