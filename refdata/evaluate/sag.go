package evaluate

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

var sagComputations = map[string]computation{
	"sag.loads":   sagLoads,
	"sag.settle":  sagSettle,
	"sag.rate":    sagRate,
	"sag.fill":    sagFill,
	"sag.correct": sagCorrect,
	"sag.bands":   sagBands,
	"sag.reserve": sagReserve,
	"sag.whole":   sagWhole,
}

func sagLoads(given *input) (Result, error) {
	in, err := decode[sag.Masses](given)
	if err != nil {
		return nil, err
	}
	l, err := in.Loads()
	if err != nil {
		return nil, err
	}
	return Result{
		"front_load": l.Front, "rear_load": l.Rear, "rear_share": l.RearShare,
		"front_wheel_load": l.FrontWheel, "rear_wheel_load": l.RearWheel,
	}, nil
}

// fitted is a curve and a law as a case gives them.
type fitted struct {
	Curve linkage.Spec `json:"curve"`
	Law   lawSpec      `json:"law"`
}

// build makes both, or names what is wrong with either. Where one can't be
// made it is nil, and the caller's other checks still run.
func (f fitted) build(c *units.Checker) (*linkage.Curve, spring.Law) {
	curve, err := linkage.New(f.Curve)
	c.Add("curve", err)
	law, err := f.Law.build()
	c.Add("law", err)
	return curve, law
}

func sagSettle(given *input) (Result, error) {
	in, err := decode[struct {
		fitted
		Load     units.Force `json:"load"`
		Friction units.Force `json:"friction"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	curve, law := in.build(&c)
	if !c.OK() {
		units.Positive(&c, "load", in.Load)
		units.NonNegative(&c, "friction", in.Friction)
		return nil, c.Err()
	}
	r, err := sag.End{Curve: curve, Law: law, Friction: in.Friction}.Settle(in.Load)
	if err != nil {
		return nil, err
	}
	return Result{
		"travel": r.Travel, "stroke": r.Stroke, "sag": r.Sag, "shock_sag": r.ShockSag,
		"travel_low": r.TravelLow, "travel_high": r.TravelHigh,
		"wheel_rate": r.WheelRate, "frequency": r.Frequency,
	}, nil
}

// target is what sag.rate and sag.fill aim at.
type target struct {
	Curve linkage.Spec `json:"curve"`
	Load  units.Force  `json:"load"`
	Sag   float64      `json:"sag"`
}

// build makes the curve, or names what is wrong with it; the rest of the
// target is for the caller's constructor to check.
func (t target) build(c *units.Checker) (*linkage.Curve, sag.Target) {
	curve, err := linkage.New(t.Curve)
	c.Add("curve", err)
	return curve, sag.Target{Load: t.Load, Sag: t.Sag}
}

func sagRate(given *input) (Result, error) {
	in, err := decode[struct {
		target
		Preload units.Length `json:"preload"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	curve, goal := in.build(&c)
	k, err := sag.RequiredRate(curve, goal, in.Preload)
	if err := besides(&c, err, "curve"); err != nil {
		return nil, err
	}
	return Result{"rate": k.Rate, "stroke": k.Stroke, "spring_force": k.SpringForce}, nil
}

func sagFill(given *input) (Result, error) {
	in, err := decode[struct {
		target
		Airspring airspring.Spec `json:"airspring"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	curve, goal := in.build(&c)
	fill, err := sag.RequiredFill(curve, goal, in.Airspring)
	if err := besides(&c, err, "curve"); err != nil {
		return nil, err
	}
	return Result{"fill": fill}, nil
}

// sagCorrect goes from a measured stroke to the load it implies and on to the
// rate or the fill that would put that load on target.
func sagCorrect(given *input) (Result, error) {
	in, err := decode[struct {
		Curve     linkage.Spec     `json:"curve"`
		Rate      *units.Stiffness `json:"rate"`
		Airspring *airspring.Spec  `json:"airspring"`
		Preload   units.Length     `json:"preload"`
		Measured  units.Length     `json:"measured_stroke"`
		Sag       float64          `json:"sag"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	curve, err := linkage.New(in.Curve)
	c.Add("curve", err)
	units.Inside(&c, "sag", in.Sag, 0, 1)
	var law spring.Law
	switch {
	case (in.Rate == nil) == (in.Airspring == nil):
		c.Fail("rate", nil, "either a rate or an airspring", units.ErrConflict)
	case in.Airspring != nil:
		air, err := airspring.New(*in.Airspring)
		c.Add("airspring", err)
		law, _ = lawOr(air, err)
		if in.Preload != 0 {
			c.Fail("preload", in.Preload, "no preload beside an airspring", units.ErrConflict)
		}
	default:
		stroke := units.Length(1) // where the curve is bad, only rate and preload are looked at
		if curve != nil {
			stroke = curve.Stroke()
		}
		linear, err := spring.NewLinear(spring.Linear{Rate: *in.Rate, Travel: stroke, Preload: in.Preload})
		c.Add("", err)
		law, _ = lawOr(linear, err)
	}
	end := sag.End{Curve: curve, Law: law}
	if curve != nil && law != nil {
		units.Inside(&c, "measured_stroke", in.Measured, 0, min(law.Travel(), curve.Stroke()))
	} else {
		units.Positive(&c, "measured_stroke", in.Measured)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	load, err := end.LoadAt(in.Measured)
	if err != nil {
		c.Fail("measured_stroke", in.Measured, "a stroke at which this spring carries a load", units.ErrConflict)
		return nil, c.Err()
	}
	goal := sag.Target{Load: load, Sag: in.Sag}
	if in.Airspring != nil {
		fill, err := sag.RequiredFill(curve, goal, *in.Airspring)
		if err != nil {
			return nil, err
		}
		return Result{"load": load, "fill": fill}, nil
	}
	k, err := sag.RequiredRate(curve, goal, in.Preload)
	if err != nil {
		return nil, err
	}
	return Result{"load": load, "rate": k.Rate}, nil
}

func sagBands(given *input) (Result, error) {
	in, err := decode[struct {
		Curve linkage.Spec `json:"curve"`
		sag.Range
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	curve, err := linkage.New(in.Curve)
	c.Add("curve", err)
	b, err := sag.BandsOf(curve, in.Range)
	if err := besides(&c, err, "curve"); err != nil {
		return nil, err
	}
	return Result{"ideal_mass": b.IdealMass, "edge_mass": b.EdgeMass}, nil
}

func sagReserve(given *input) (Result, error) {
	in, err := decode[struct {
		fitted
		Load units.Force `json:"load"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	curve, law := in.build(&c)
	if !c.OK() {
		units.Positive(&c, "load", in.Load)
		return nil, c.Err()
	}
	r, err := sag.End{Curve: curve, Law: law}.Reserve(in.Load)
	if err != nil {
		return nil, err
	}
	return Result{"energy": r.Energy, "drop_height": r.DropHeight, "full_force": r.FullForce}, nil
}

func sagWhole(given *input) (Result, error) {
	in, err := decode[struct {
		sag.Masses
		Front fitted `json:"front"`
		Rear  fitted `json:"rear"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	bike := sag.Bike{Masses: in.Masses}
	front, rear := c.Child("front"), c.Child("rear")
	bike.Front.Curve, bike.Front.Law = in.Front.build(&front)
	bike.Rear.Curve, bike.Rear.Law = in.Rear.build(&rear)
	s, err := bike.Stance()
	if err := besides(&c, err, "front", "rear"); err != nil {
		return nil, err
	}
	return Result{
		"front_sag": s.FrontSag, "rear_sag": s.RearSag, "pitch": s.Pitch, "rear_share": s.RearShare,
		"front_travel": s.FrontTravel, "rear_travel": s.RearTravel,
	}, nil
}
