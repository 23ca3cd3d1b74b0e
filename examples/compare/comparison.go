package main

import (
	"fmt"
	"math"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// contender is one of the springs that are compared.
type contender struct {
	Name    string // chosen by the user, not empty and unique
	sag.End        // all behind one curve
}

// comparison is what several springs do on one axle, side by side.
type comparison struct {
	Travel  []units.Length   `json:"travel"`  // of the wheel, even steps from 0 to full travel
	Springs []comparedSpring `json:"springs"` // in the order they were given
}

// comparedSpring is one spring of a comparison. Its differences are against the first one.
type comparedSpring struct {
	Name string `json:"name"`
	sag.State
	// Ends is the wheel's travel at which the spring itself ends, such as where it goes solid. It is
	// the full travel if the spring goes that far.
	Ends units.Length `json:"ends"`
	// SagDifference is a part of the wheel's full travel. The other differences are relative: 0.1
	// is a tenth more. They are 0 if the first spring's value is 0 or less.
	SagDifference       float64 `json:"sag_difference"`
	FullForceDifference float64 `json:"full_force_difference"`
	FrequencyDifference float64 `json:"frequency_difference"` // of FastFrequency
	// Force, Rate and Energy are those at each travel of the comparison, over a fast stroke; beyond
	// the spring's end they stay as they are there.
	Force  []units.Force     `json:"force"`
	Rate   []units.Stiffness `json:"rate"`
	Energy []units.Energy    `json:"energy"`
}

// sideBySide returns what two springs or more do behind one curve, under one sprung load at the wheel:
// where they let the bike rest, their rates and frequencies there, and force, rate and stored
// energy at n travels, 2 to 1000, evenly spaced from 0 to full travel.
//
// The load in N is finite and at least 1e-150. Names are unique and not empty, all springs are
// behind the curve of the first, and each end passes [sag.End.Check]. The error names every bad field,
// such as springs[1].law. A load that tops or bottoms a spring out is a finding. A law that jumps
// past the load is an error, see [sag.End.Settle].
//
// Not modelled: damping, the tyre.
func sideBySide(load units.Force, springs []contender, n int) (*comparison, error) {
	c := units.Checker{Package: "compare"}
	sag.CheckLoad(&c, load)
	if n < 2 || n > 1000 {
		c.Fail("n", n, units.From(2, 1000).Count("steps"), nil)
	}
	if few := len(springs); few < 2 {
		c.Fail("springs", few, "two springs or more", units.ErrMissing)
	}
	seen := make(map[string]bool, len(springs))
	for i, s := range springs {
		own := c.Element("springs", i)
		if s.Name == "" || seen[s.Name] {
			own.Fail("name", s.Name, "a name of its own", units.ErrConflict)
		}
		seen[s.Name] = true
		s.Check(&own)
		if s.Curve != nil && springs[0].Curve != nil && s.Curve != springs[0].Curve {
			own.Fail("curve", nil, "the curve of the first spring", units.ErrConflict)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	full := springs[0].Curve.Travel()
	out := &comparison{Springs: make([]comparedSpring, len(springs))}
	for i := range n {
		out.Travel = append(out.Travel, full*units.Length(i)/units.Length(n-1))
	}
	for i, s := range springs {
		state, err := s.Under(load)
		if err != nil {
			c.Add(fmt.Sprintf("springs[%d]", i), err)
			continue
		}
		_, wheel, _ := s.Wheel() // no error, as Under had none
		one, first := &out.Springs[i], &out.Springs[0]
		*one = comparedSpring{Name: s.Name, State: state, Ends: wheel.Travel()}
		for _, w := range out.Travel {
			one.Force = append(one.Force, wheel.Force(w))
			one.Rate = append(one.Rate, wheel.Rate(w))
			one.Energy = append(one.Energy, wheel.Energy(w))
		}
		one.SagDifference = one.Rest.Sag - first.Rest.Sag
		one.FullForceDifference = relative(float64(one.Reserve.FullForce), float64(first.Reserve.FullForce))
		one.FrequencyDifference = relative(float64(one.FastFrequency), float64(first.FastFrequency))
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

// relative returns a/b − 1, or 0 if b is not more than 0 or the quotient is infinite.
func relative(a, b float64) float64 {
	if r := a/b - 1; b > 0 && !math.IsInf(r, 0) {
		return r
	}
	return 0
}
