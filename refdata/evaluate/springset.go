package evaluate

import (
	"fmt"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

var springsetComputations = map[string]computation{
	"spring.caliper":  springCaliper,
	"spring.readings": springReadings,
	"spring.law":      springLaw,
}

func springCaliper(given *input) (Result, error) {
	in, err := decode[coil.Caliper](given)
	if err != nil {
		return nil, err
	}
	m, err := in.Rate()
	if err != nil {
		return nil, err
	}
	return Result{
		"mean_diameter": m.MeanDiameter, "rate": m.Rate, "rate_uncertainty": m.RateUncertainty,
		"relative_uncertainty": m.RelativeUncertainty, "dominant": m.Dominant,
	}, nil
}

func springReadings(given *input) (Result, error) {
	in, err := decode[spring.Readings](given)
	if err != nil {
		return nil, err
	}
	r, err := spring.FitReadings(in)
	if err != nil {
		return nil, err
	}
	return Result{
		"rate": r.Rate, "force_at_zero": r.ForceAtZero, "rate_standard_error": r.RateStandardError,
		"force_at_zero_standard_error": r.ForceAtZeroStandardError,
		"residual_deviation":           r.ResidualDeviation, "residual_rms": r.ResidualRMS,
	}, nil
}

// springLaw evaluates a law at travels, or finds the travels at which it
// carries loads, or both.
func springLaw(given *input) (Result, error) {
	in, err := decode[struct {
		Law  lawSpec        `json:"law"`
		At   []units.Length `json:"at"`
		Load []units.Force  `json:"load"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	law, err := in.Law.build()
	c.Add("law", err)
	if len(in.At) == 0 && len(in.Load) == 0 {
		c.Fail("at", nil, "travels, or loads in load", units.ErrMissing)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	out := Result{}
	if len(in.At) > 0 {
		force, rate, energy := make([]units.Force, len(in.At)), make([]units.Stiffness, len(in.At)), make([]units.Energy, len(in.At))
		for i, x := range in.At {
			force[i], rate[i], energy[i] = law.Force(x), law.Rate(x), law.Energy(x)
		}
		out["force"], out["rate"], out["energy"] = force, rate, energy
	}
	if len(in.Load) > 0 {
		travel := make([]units.Length, len(in.Load))
		for i, load := range in.Load {
			if travel[i], err = spring.Settle(law, load); err != nil {
				c.Fail(fmt.Sprintf("load[%d]", i), load, "a load that the spring carries within its travel", err)
			}
		}
		out["travel"] = travel
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return out, nil
}
