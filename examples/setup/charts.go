package main

import (
	"fmt"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage"
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
		Size:  picture.Size{Width: 120, Height: 90},
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
func charts(s *setup.Sheet) []picture.Chart {
	var list []picture.Chart
	for _, e := range s.Ends() {
		if e.State == nil { // its readings don't tell the spring
			continue
		}
		list = append(list, endChart(program.Title(e.Axle), e.EndSheet))
	}
	if e := s.Rear; e != nil && e.State != nil && e.LeverRatio.Max-e.LeverRatio.Min > 1e-6 {
		list = append(list, leverChart(e))
	}
	return list
}

const chartSteps = 80

func over(travel units.Length) (list []units.Length) {
	for i := range chartSteps + 1 {
		list = append(list, travel*units.Length(i)/chartSteps)
	}
	return list
}

// endChart draws the wheel's force and rate, with the sag and its band.
func endChart(name string, e *setup.EndSheet) picture.Chart {
	slow, fast := e.Wheel()
	c := picture.Chart{
		Title: name + ": the spring at the wheel",
		X:     picture.Axis{Label: "vertical wheel travel", Unit: "mm"},
		Marks: []picture.Mark{{Label: "sag " + units.Percent(e.Rest.Sag), At: e.Rest.Travel.Millimetres()}},
		Size:  picture.Size{Width: 120, Height: 110},
	}
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

func leverChart(e *setup.EndSheet) picture.Chart {
	line := picture.Series{Name: "lever ratio"}
	curve := e.Curve()
	for _, w := range over(curve.Travel()) {
		line.X, line.Y = append(line.X, w.Millimetres()), append(line.Y, curve.LeverRatio(curve.StrokeAt(w)))
	}
	return picture.Chart{
		Title:  "Rear: lever ratio",
		X:      picture.Axis{Label: "vertical wheel travel", Unit: "mm"},
		Marks:  []picture.Mark{{Label: "sag " + units.Percent(e.Rest.Sag), At: e.Rest.Travel.Millimetres()}},
		Panels: []picture.Panel{{Y: picture.Axis{Label: "wheel travel per shock stroke"}, Series: []picture.Series{line}}},
		Size:   picture.Size{Width: 120, Height: 90},
	}
}
