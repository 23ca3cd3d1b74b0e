package evaluate

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

var linkageComputations = map[string]computation{
	"linkage.drivetrain": linkageDrivetrain,
	"linkage.mechanism":  linkageMechanism,
	"linkage.table":      linkageTable,
	"linkage.wheel":      linkageWheel,
}

func linkageMechanism(given *input) (Result, error) {
	in, err := decode[struct {
		Mechanism mechanism.Spec `json:"mechanism"`
		At        []units.Length `json:"at"` // stroke
	}](given)
	if err != nil {
		return nil, err
	}
	k, err := mechanism.New(in.Mechanism)
	if err != nil {
		return nil, units.At("mechanism", err)
	}
	curve, err := linkage.Compile(k)
	if err != nil {
		return nil, units.At("mechanism", err)
	}
	n := len(in.At)
	x, y, travel := make([]units.Length, n), make([]units.Length, n), make([]units.Length, n)
	ratio, slope := make([]float64, n), make([]units.RatioSlope, n)
	path, growth := make([]units.Length, n), make([]units.Length, n)
	centreX, centreY := make([]units.Length, n), make([]units.Length, n)
	for i, s := range in.At {
		p := k.Pose(s)
		x[i], y[i], travel[i] = p.Axle[0], p.Axle[1], p.Travel
		ratio[i], slope[i] = p.LeverRatio, p.LeverRatioSlope
		path[i], growth[i] = k.PathLength(s), p.AxleGrowth
		centreX[i], centreY[i] = p.InstantCentre[0], p.InstantCentre[1]
	}
	return Result{
		"axle_x": x, "axle_y": y, "travel": travel, "lever_ratio": ratio, "lever_ratio_slope": slope,
		"path_length": path, "axle_growth": growth, "instant_centre_x": centreX, "instant_centre_y": centreY,
		"progression": curve.Progression().Value,
	}, nil
}

func linkageDrivetrain(given *input) (Result, error) {
	in, err := decode[struct {
		Mechanism mechanism.Spec `json:"mechanism"`
		drivetrain.Spec
		At []units.Length `json:"at"` // stroke
	}](given)
	if err != nil {
		return nil, err
	}
	k, err := mechanism.New(in.Mechanism)
	if err != nil {
		return nil, units.At("mechanism", err)
	}
	d, err := drivetrain.New(k, in.Spec)
	if err != nil {
		return nil, err
	}
	n := len(in.At)
	squat, rise, chain := make([]float64, n), make([]float64, n), make([]units.Length, n)
	fixed, rolling := make([]units.Angle, n), make([]units.Angle, n)
	for i, s := range in.At {
		p := d.At(s)
		squat[i], rise[i], chain[i] = p.AntiSquat, p.AntiRise, p.ChainGrowth
		fixed[i], rolling[i] = p.KickbackWheelFixed, p.KickbackWheelRolling
	}
	return Result{
		"anti_squat": squat, "anti_rise": rise, "chain_growth": chain,
		"kickback_wheel_fixed": fixed, "kickback_wheel_rolling": rolling,
	}, nil
}

func linkageTable(given *input) (Result, error) {
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

func linkageWheel(given *input) (Result, error) {
	in, err := decode[struct {
		fitted
		At []units.Length `json:"at"` // wheel travel
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
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
