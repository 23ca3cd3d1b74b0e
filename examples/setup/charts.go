package main

import (
	"fmt"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// ridersChart draws what other riders would want exactly: the fill of an air
// spring, the rate of a coil, whatever the shelf holds.
func ridersChart(job setup.Job, s *setup.Sheet) (picture.Chart, bool) {
	job.Riders, job.Uncertainty, job.Stances = nil, nil, nil
	for step := -30; step <= 30; step++ {
		if m := s.RiderMass + units.Mass(step)/2; m > 0 {
			job.Riders = append(job.Riders, m)
		}
	}
	all, err := setup.NewSheet(job)
	if err != nil { // the job of another sheet
		return picture.Chart{}, false
	}
	lines := make([]picture.Series, len(s.Ends()))
	for _, rider := range all.Riders {
		i := 0
		for _, e := range []*setup.RiderEnd{rider.Front, rider.Rear} {
			if e == nil {
				continue
			}
			y := e.IdealRate.NewtonsPerMillimetre()
			switch {
			case e.Fill != nil:
				y = e.Fill.Fill.Bar()
			case e.Gauge != nil:
				y = e.Gauge.Fill.Bar()
			}
			lines[i].X, lines[i].Y = append(lines[i].X, rider.RiderMass.Kilograms()), append(lines[i].Y, y)
			i++
		}
	}
	if len(lines[0].X) < 2 {
		return picture.Chart{}, false
	}
	c := picture.Chart{
		Title: "Riders of other masses",
		X:     picture.Axis{Label: "rider, dressed to ride", Unit: "kg"},
		Marks: []picture.Mark{{Label: fmt.Sprintf("%.1f kg", s.RiderMass.Kilograms()), At: s.RiderMass.Kilograms()}},
		Size:  picture.Size{Width: chartWidth, Height: 68},
	}
	if len(lines) > 1 {
		c.Size.Height = 90
	}
	for i, e := range s.Ends() {
		y := picture.Axis{Label: "fill", Unit: "bar"}
		if e.Coil != nil {
			y = picture.Axis{Label: "exact spring", Unit: "N/mm"}
		}
		lines[i].Name = string(e.Axle)
		c.Panels = append(c.Panels, picture.Panel{Y: y, Series: lines[i : i+1]})
	}
	return c, true
}

// charts are the pictures of a sheet.
func charts(job setup.Job, s *setup.Sheet) []picture.Chart {
	var list, ratio []picture.Chart
	for _, e := range s.Ends() {
		if e.State == nil { // its readings don't tell the spring
			continue
		}
		spec := job.Front
		if e.Axle == sag.Rear {
			spec = job.Rear
		}
		d := drawnOf(e, spec.Curve)
		list = append(list, endChart(d, e))
		if e.Axle == sag.Rear && e.LeverRatio.Max-e.LeverRatio.Min > 1e-6 {
			ratio = append(ratio, leverChart(d, e))
		}
	}
	return append(list, ratio...)
}

const chartSteps = 80

func over(travel units.Length) (list []units.Length) {
	for i := range chartSteps + 1 {
		list = append(list, travel*units.Length(i)/chartSteps)
	}
	return list
}

// chart returns a chart over an end's travel, with the sag.
func (d drawn) chart(title string, e setup.SheetEnd, height float64) picture.Chart {
	return picture.Chart{
		Title: program.Title(string(e.Axle)) + ": " + title, Note: d.note,
		X:     picture.Axis{Label: "vertical wheel travel", Unit: "mm"},
		Marks: []picture.Mark{{Label: "sag " + units.Percent(e.Rest.Sag), At: e.Rest.Travel.Millimetres()}},
		Size:  picture.Size{Width: chartWidth, Height: height},
	}
}

// chartWidth is that of half a page and of a phone, in mm: letters are as large as on the paper.
const chartWidth = 90

// endChart draws the wheel's force and rate, with the sag and its band.
func endChart(d drawn, e setup.SheetEnd) picture.Chart {
	slow, fast, err := d.Wheel()
	if err != nil { // the sheet's own curve has its laws
		d = drawn{End: e.End()}
		slow, fast, _ = d.Wheel()
	}
	c := d.chart("the spring at the wheel", e, 100)
	if e.Rest.TravelHigh > e.Rest.TravelLow {
		c.Bands = []picture.Band{{Label: "friction", From: e.Rest.TravelLow.Millimetres(), To: e.Rest.TravelHigh.Millimetres()}}
	}
	laws := []struct {
		name string
		law  *linkage.WheelLaw
	}{{"standing", slow}, {"fast stroke", fast}}
	if e.Coil != nil {
		laws = laws[:1]
		laws[0].name = "spring"
	}
	f := picture.Panel{Y: picture.Axis{Label: "wheel force", Unit: "N", Zero: true}}
	k := picture.Panel{Y: picture.Axis{Label: "wheel rate", Unit: "N/mm", Zero: true}}
	for _, l := range laws {
		fs, ks := picture.Series{Name: l.name}, picture.Series{Name: l.name}
		for _, w := range over(l.law.Travel()) {
			fs.X, fs.Y = append(fs.X, w.Millimetres()), append(fs.Y, l.law.Force(w).Newtons())
			ks.X, ks.Y = append(ks.X, w.Millimetres()), append(ks.Y, l.law.Rate(w).NewtonsPerMillimetre())
		}
		f.Series, k.Series = append(f.Series, fs), append(k.Series, ks)
	}
	c.Panels = []picture.Panel{f, k}
	return c
}

func leverChart(d drawn, e setup.SheetEnd) picture.Chart {
	line := picture.Series{Name: "lever ratio"}
	for _, w := range over(d.Curve.Travel()) {
		line.X, line.Y = append(line.X, w.Millimetres()), append(line.Y, d.Curve.LeverRatio(d.Curve.StrokeAt(w)))
	}
	c := d.chart("lever ratio", e, 68)
	c.Panels = []picture.Panel{{Y: picture.Axis{Label: "travel per stroke"}, Series: []picture.Series{line}}}
	return c
}
