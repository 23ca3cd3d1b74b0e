package refdata

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

var linkageComputations = map[string]computation{
	"linkage.table": linkageTable,
	"linkage.wheel": linkageWheel,
}

func linkageTable(given []byte) (Result, error) {
	in, err := decode[struct {
		linkage.Table
		At []units.Length `json:"at"`
	}](given)
	if err != nil {
		return nil, err
	}
	curve, err := linkage.NewTable(in.Table)
	if err != nil {
		return nil, err
	}
	travel := make([]units.Length, len(in.At))
	ratio := make([]float64, len(in.At))
	slope := make([]units.RatioSlope, len(in.At))
	for i, s := range in.At {
		travel[i], ratio[i], slope[i] = curve.TravelAt(s), curve.LeverRatio(s), curve.LeverRatioSlope(s)
	}
	return Result{
		"travel": travel, "lever_ratio": ratio, "lever_ratio_slope": slope, "progression": curve.Progression().Value,
	}, nil
}

func linkageWheel(given []byte) (Result, error) {
	in, err := decode[struct {
		fitted
		At []units.Length `json:"at"` // wheel travel
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "refdata"}
	curve, law := in.build(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	wheel, err := linkage.AtWheel(curve, law)
	if err != nil {
		return nil, err
	}
	force := make([]units.Force, len(in.At))
	rate := make([]units.Stiffness, len(in.At))
	energy := make([]units.Energy, len(in.At))
	for i, w := range in.At {
		force[i], rate[i], energy[i] = wheel.Force(w), wheel.Rate(w), wheel.Energy(w)
	}
	return Result{"force": force, "rate": rate, "energy": energy}, nil
}
