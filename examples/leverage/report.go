package main

import (
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// report is the answer in numbers, and what -json prints.
type report struct {
	Schema         string              `json:"schema"`
	Note           string              `json:"note,omitempty"`
	Stroke         units.Length        `json:"stroke"`
	Travel         units.Length        `json:"travel"`
	MeanLeverRatio float64             `json:"mean_lever_ratio"`
	Progression    linkage.Progression `json:"progression"`
	LeastAt        units.Length        `json:"least_lever_ratio_at"`    // wheel travel
	GreatestAt     units.Length        `json:"greatest_lever_ratio_at"` // wheel travel
	Path           *path               `json:"axle_path,omitempty"`
	Readings       *readings           `json:"readings,omitempty"`
	AtSag          *row                `json:"at_sag,omitempty"`
	Poses          []row               `json:"poses"`
	Warnings       []units.Warning     `json:"warnings,omitempty"`
}

// path is what the axle does over the whole stroke.
type path struct {
	Length     units.Length `json:"length"`
	Growth     units.Length `json:"axle_growth_max"` // from the bottom bracket
	GrowthAt   units.Length `json:"axle_growth_max_at"`
	Backward   units.Length `json:"backward_max"`
	BackwardAt units.Length `json:"backward_max_at"`
}

// readings is how well a curve is known that was fitted.
type readings struct {
	ResidualRMS       units.Length `json:"residual_rms,omitempty"`
	ReadingError      units.Length `json:"reading_error,omitempty"`
	RatioReadingError float64      `json:"ratio_reading_error,omitempty"` // where ratios were read
	LeverRatioError   float64      `json:"lever_ratio_error_max"`         // one standard error, the greatest along the stroke
}

// table is the command of that name.
func (o *options) table(b *bench) (*result, error) {
	r := b.report(o.n)
	heads, rows := csvRows(r.Poses)
	return &result{text: func(p page) { p.report(b, r) }, data: r, heads: heads, rows: rows, pictures: b.pictures()}, nil
}

// row is one pose.
type row struct {
	Stroke          units.Length     `json:"stroke"`
	Travel          units.Length     `json:"travel"`
	LeverRatio      float64          `json:"lever_ratio"`
	LeverRatioSlope units.RatioSlope `json:"lever_ratio_slope"`
	Axle            *axle            `json:"axle,omitempty"`
	Spring          *force           `json:"spring,omitempty"`
	Drive           *drivetrain.Pose `json:"drive,omitempty"`
}

// axle is where the wheel is and how it moves; without it a table would do.
type axle struct {
	X        units.Length `json:"x"`
	Y        units.Length `json:"y"`
	Growth   units.Length `json:"growth"` // of its distance from the bottom bracket
	Backward units.Length `json:"backward"`
	Path     units.Length `json:"path_length"`
	CentreX  units.Length `json:"instant_centre_x"`
	CentreY  units.Length `json:"instant_centre_y"`
}

// force is what the spring does.
type force struct {
	Spring    units.Force     `json:"spring_force"`
	Wheel     units.Force     `json:"wheel_force"`
	WheelRate units.Stiffness `json:"wheel_rate"`
}

// fine is how many poses extremes are sought in and lines are drawn through.
const fine = 201

// at works out one pose.
func (b *bench) at(s units.Length) row {
	r := row{Stroke: s, Travel: b.curve.TravelAt(s), LeverRatio: b.curve.LeverRatio(s), LeverRatioSlope: b.curve.LeverRatioSlope(s)}
	if b.kin != nil {
		p := b.kin.Pose(s)
		r.Stroke, r.Travel, r.LeverRatio, r.LeverRatioSlope = p.Stroke, p.Travel, p.LeverRatio, p.LeverRatioSlope
		r.Axle = &axle{
			X: p.Axle[0], Y: p.Axle[1], Growth: p.AxleGrowth, Backward: b.kin.Pose(0).Axle[0] - p.Axle[0], Path: b.kin.PathLength(s),
			CentreX: p.InstantCentre[0], CentreY: p.InstantCentre[1],
		}
	}
	if b.wheel != nil {
		r.Spring = &force{Spring: b.wheel.SpringForce(r.Travel), Wheel: b.wheel.Force(r.Travel), WheelRate: b.wheel.Rate(r.Travel)}
	}
	if b.drive != nil {
		d := b.drive.At(s)
		r.Drive = &d
	}
	return r
}

// rows works out n poses at even steps of the stroke.
func (b *bench) rows(n int) []row {
	list := make([]row, n)
	for i := range list {
		list[i] = b.at(b.curve.Stroke() * units.Length(float64(i)/float64(n-1)))
	}
	return list
}

// report works out n poses and what holds for all of the stroke.
func (b *bench) report(n int) *report {
	c := b.curve
	r := &report{
		Schema: "wheelrate/leverage-report/1", Note: b.in.Note,
		Stroke: c.Stroke(), Travel: c.Travel(), MeanLeverRatio: float64(c.Travel() / c.Stroke()),
		Progression: c.Progression(), Poses: b.rows(n),
	}
	r.LeastAt, r.GreatestAt = c.TravelAt(r.Progression.MinAt), c.TravelAt(r.Progression.MaxAt)
	if b.kin != nil {
		r.Path = &path{Length: b.kin.PathLength(c.Stroke())}
		p := b.furthest(func(p mechanism.Pose) (float64, float64) {
			x, y := float64(p.Axle[0]), float64(p.Axle[1])
			return math.Hypot(x, y), x*p.AxleForward + y*p.LeverRatio // a positive multiple of the derivative
		})
		r.Path.Growth, r.Path.GrowthAt = p.AxleGrowth, p.Travel
		p = b.furthest(func(p mechanism.Pose) (float64, float64) { return -float64(p.Axle[0]), -p.AxleForward })
		r.Path.Backward, r.Path.BackwardAt = b.kin.Pose(0).Axle[0]-p.Axle[0], p.Travel
	}
	if b.fit != nil {
		r.Readings = &readings{ResidualRMS: b.fit.ResidualRMS, ReadingError: b.fit.ReadingError, RatioReadingError: b.fit.RatioReadingError}
		for p := range c.Samples(fine) {
			r.Readings.LeverRatioError = math.Max(r.Readings.LeverRatioError, b.fit.LeverRatioError(p.Stroke))
		}
	}
	if b.in.Sag > 0 {
		sag := b.at(c.StrokeAt(units.Length(b.in.Sag) * c.Travel()))
		r.AtSag = &sag
	}
	r.Warnings = b.warnings(r)
	return r
}

// furthest returns the pose at which a value is greatest; of gives it and its derivative by the stroke, or
// that times something positive.
func (b *bench) furthest(of func(mechanism.Pose) (value, rate float64)) mechanism.Pose {
	best, most := units.Length(0), math.Inf(-1)
	step := b.kin.Stroke() / (fine - 1)
	for i := range fine {
		s := step * units.Length(i)
		if v, _ := of(b.kin.Pose(s)); v > most {
			best, most = s, v
		}
	}
	rate := func(s float64) float64 {
		_, r := of(b.kin.Pose(units.Length(s)))
		return r
	}
	from, to := max(0, best-step), min(best+step, b.kin.Stroke())
	if rate(float64(from)) > 0 && rate(float64(to)) < 0 { // otherwise it is at an end
		if s, err := root.Find(rate, float64(from), float64(to), 1e-12); err == nil {
			best = units.Length(s)
		}
	}
	return b.kin.Pose(best)
}

// warnings are what needs attention although the numbers stand.
func (b *bench) warnings(r *report) []units.Warning {
	var list []units.Warning
	if b.wheel != nil {
		if rate, at := b.wheel.MinRate(); rate < 0 {
			list = append(list, units.Warning{
				Code: "wheel_force_falls", Field: "spring",
				Value: mm(at) + " mm",
				Text:  "The wheel force falls around " + mm(at) + " mm of travel: the wheel has no stable rest there. Rough points of a table can do that; -method measured takes them for readings.",
			})
		}
		if f := b.wheel.Force(0); f < 0 {
			list = append(list, units.Warning{
				Code: "pulled_in", Field: "spring", Value: f.String(),
				Text: "At full extension the spring pulls the wheel in: unloaded, it rests further in its travel.",
			})
		}
	}
	if t := b.in.Table; t != nil {
		if w, ok := t.Scatter(); ok {
			list = append(list, w)
		}
	}
	if p := r.Progression; b.in.Fork == nil && p.Max < 0.8 {
		list = append(list, units.Warning{
			Code: "ratio_below_one", Field: "lever_ratio", Value: fixed(p.Max, 3),
			Text: "The wheel moves less than the shock, " + fixed(p.Max, 3) + " of its stroke at most. Are the columns stroke and travel swapped, or is the ratio given the other way round, stroke over travel?",
		})
	}
	if d := b.in.Drive; b.drive != nil && d.FrontAxleX > 1*units.Metre {
		list = append(list, units.Warning{
			Code: "front_axle_far", Field: "drive.front_axle_x", Value: mm(d.FrontAxleX) + " mm",
			Text: "The front axle is said to be " + mm(d.FrontAxleX) + " mm ahead of the bottom bracket, as far as a wheelbase is long. If that is the wheelbase, front_axle_x is " +
				mm(d.FrontAxleX+b.kin.Pose(0).Axle[0]) + " mm.",
		})
	}
	if p := r.Progression; p.Max-p.Min > 0.02*p.Max && p.Min < min(p.Start, p.End)*0.995 && r.LeastAt > 0 && r.LeastAt < r.Travel {
		list = append(list, units.Warning{
			Code: "ratio_rises_again", Field: "lever_ratio", Value: mm(r.LeastAt) + " mm",
			Text: "The lever ratio is least at " + mm(r.LeastAt) + " mm of travel and rises again after that: near full travel the spring gets softer at the wheel. Start and end alone don't show it.",
		})
	}
	return list
}
