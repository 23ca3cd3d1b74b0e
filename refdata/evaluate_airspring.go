package refdata

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

var airspringComputations = map[string]computation{
	"airspring.law":  airLaw,
	"airspring.fill": airFill,
}

func airLaw(given []byte) (Result, error) {
	in, err := decode[struct {
		airspring.Spec
		At []units.Length `json:"at"`
	}](given)
	if err != nil {
		return nil, err
	}
	s, err := airspring.New(in.Spec)
	if err != nil {
		return nil, err
	}
	r := Result{
		"force": over(in.At, s.Force), "rate": over(in.At, s.Rate), "energy": over(in.At, s.Energy),
		"positive_pressure": over(in.At, s.PositivePressure),
		"rest_travel":       s.RestTravel(), "compression_ratio": s.CompressionRatio(),
	}
	if in.NegativeVolume > 0 {
		r["negative_pressure"] = over(in.At, s.NegativePressure)
	}
	if in.SecondVolume > 0 {
		r["opening_travel"] = s.OpeningTravel()
	}
	return r, nil
}

// over lists a function's values at a list of arguments.
func over[X, Y any](at []X, f func(X) Y) []Y {
	list := make([]Y, len(at))
	for i, x := range at {
		list[i] = f(x)
	}
	return list
}

func airFill(given []byte) (Result, error) {
	in, err := decode[struct {
		airspring.Spec
		Force units.Force  `json:"force"`
		At    units.Length `json:"at"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "refdata"}
	if in.Fill != 0 {
		c.Fail("fill", in.Fill, "no fill: it is what is sought", units.ErrConflict)
		return nil, c.Err()
	}
	fill, err := airspring.FillFor(in.Spec, in.Force, in.At)
	if err != nil {
		return nil, err
	}
	return Result{"fill": fill}, nil
}
