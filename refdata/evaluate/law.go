package evaluate

import (
	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// lawSpec is the "law" of a case: exactly one of the kinds.
type lawSpec = law.Kinds[coilLaw]

// ofLaw are the lists of what a law says at travels.
func ofLaw[L spring.Law]() []output[along[L]] {
	return []output[along[L]]{each("force", L.Force), each("rate", L.Rate), each("energy", L.Energy)}
}

// coilLaw is a coil spring as in a spring.coil case, put in with a preload.
type coilLaw struct {
	coilGiven
	Preload units.Length `json:"preload"`
}

// Build makes the law, or records everything that is wrong with it and returns nil.
func (in coilLaw) Build(c *units.Checker) spring.Law {
	return law.Installed(c, in.coilGiven.build(c), in.Preload)
}
