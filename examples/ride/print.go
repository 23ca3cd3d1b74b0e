package main

import (
	"bytes"
	"fmt"
	"html/template"
	"math"
	"strings"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/units"
)

// caution is what every answer ends with.
const caution = "This compares settings on one ground. It promises no safety: the rider is a mass fixed to the bike here, a wheel is a point on the ground, and friction, flex, a tyre that bottoms out and fore-and-aft motion are left out. Never ride at something because a number here permits it; the maker's manual and the marking on the part win."

// print writes the answer as text, in 80 columns.
func print(out *bytes.Buffer, j job, a *answer) {
	program.Heading(out, "RIDE", j.Note)
	fmt.Fprintln(out)
	program.Fold(out, "  ", j.Ground.String())
	for _, g := range a.Granted {
		program.Fold(out, "  ", g)
	}
	for i := 0; i < len(a.Rides); i += 3 { // as many as a line has room for
		group := a.Rides[i:min(i+3, len(a.Rides))]
		fmt.Fprintln(out)
		line(out, "", group, func(r result) string { return program.Short(r.Name, 14) })
		for _, end := range []struct {
			name string
			of   func(r result) endResult
		}{{"front", func(r result) endResult { return r.Front }}, {"rear", func(r result) endResult { return r.Rear }}} {
			for _, row := range []struct {
				label string
				text  func(e endResult) string
			}{
				{"sag", func(e endResult) string {
					switch {
					case e.Rest < 0:
						return "topped out"
					case e.Sag > 1:
						return "bottomed out"
					}
					return fmt.Sprintf("%.0f mm, %.0f %%", e.Rest.Millimetres(), 100*e.Sag)
				}},
				{"deepest", func(e endResult) string {
					if e.Bottoms {
						return fmt.Sprintf("%.0f mm, bottoms", e.Travel.Millimetres())
					}
					return fmt.Sprintf("%.0f mm, %.0f %%", e.Travel.Millimetres(), 100*e.Used)
				}},
				{"peak wheel load", func(e endResult) string { return fmt.Sprintf("%.0f N", e.Ground.Newtons()) }},
				{"unloaded for", func(e endResult) string { return fmt.Sprintf("%.2f s", e.Light.Seconds()) }},
				{"damper work", func(e endResult) string { return fmt.Sprintf("%.0f J", e.DamperWork.Joules()) }},
			} {
				line(out, end.name+", "+row.label, group, func(r result) string { return row.text(end.of(r)) })
			}
		}
		line(out, "peak acceleration, upward", group, func(r result) string { return fmt.Sprintf("%.2f g", r.Acceleration) })
		line(out, "rms of the acceleration", group, func(r result) string { return fmt.Sprintf("%.2f g", r.Shaking) })
		line(out, "most pitch, nose down, up", group, func(r result) string {
			return fmt.Sprintf("%.1f°, %.1f°", -r.PitchLow.Degrees(), r.PitchHigh.Degrees())
		})
		fmt.Fprintln(out)
		fmt.Fprintln(out, "  natural frequencies, damping ratios")
		for k := range 4 {
			line(out, "", group, func(r result) string {
				if k >= len(r.Modes) {
					return ""
				}
				return fmt.Sprintf("%.1f Hz, ζ %.2f", r.Modes[k].Frequency.Hertz(), r.Modes[k].Damping)
			})
		}
	}
	fmt.Fprintln(out)
	program.Fold(out, "  ", "Unloaded is off the ground; a wheel without a tyre would have to be held to it. ζ is the damping as a ratio of critical, about the rest. Air is that of a fast stroke from full extension on; it rests a little higher than standing still.")
	fmt.Fprintln(out)
	program.Fold(out, "  ", caution)
}

// line writes a label and a cell for each setting.
func line(out *bytes.Buffer, label string, group []result, cell func(result) string) {
	text := fmt.Sprintf("  %-28s", label)
	for _, r := range group {
		text += fmt.Sprintf(" %-15s", cell(r))
	}
	fmt.Fprintln(out, strings.TrimRight(text, " "))
}

// String says what is ridden over.
func (g ground) String() string {
	speed := fmt.Sprintf(" at %.1f m/s (%.0f km/h), followed for %.4g s.", g.Speed.MetresPerSecond(), g.Speed.KilometresPerHour(), g.Duration.Seconds())
	switch {
	case g.Step != nil:
		way := "up"
		if g.Step.Height < 0 {
			way = "down"
		}
		return fmt.Sprintf("Over a step of %.0f mm %s", math.Abs(g.Step.Height.Millimetres()), way) + speed
	case g.Bump != nil:
		return fmt.Sprintf("Over a bump of half a sine, %.0f mm high and %.0f mm long,", g.Bump.Height.Millimetres(), g.Bump.Length.Millimetres()) + speed
	case g.Drop != nil:
		return fmt.Sprintf("A drop of %.0f mm onto both wheels, followed for %.4g s.", g.Drop.Height.Millimetres(), g.Duration.Seconds())
	}
	return fmt.Sprintf("Over a profile of %d points", len(g.Points)) + speed
}

// pictures draws travel, force and acceleration over time, and the response over frequency.
func pictures(j job, a *answer) []picture.Named {
	panel := func(label, unit string, x, y func(r result) []float64) picture.Panel {
		p := picture.Panel{Y: picture.Axis{Label: label, Unit: unit, Zero: true}}
		for _, r := range a.Rides {
			p.Series = append(p.Series, picture.Series{Name: program.Short(r.Name, 14), X: x(r), Y: y(r)})
		}
		return p
	}
	time := func(r result) []float64 { return r.trace.time }
	hertz := func(r result) []float64 {
		return over(r, func(at answerAt) float64 { return at.Frequency.Hertz() })
	}
	seconds := picture.Axis{Label: "time", Unit: "s"}
	var list []picture.Named
	for i, end := range []string{"front", "rear"} {
		list = append(list, picture.Named{Name: end, Picture: picture.Chart{
			Title: program.Title(end) + ": travel and wheel load", Note: j.Ground.String(), X: seconds,
			Panels: []picture.Panel{
				panel("wheel travel", "mm", time, func(r result) []float64 { return r.trace.travel[i] }),
				panel("wheel load", "N", time, func(r result) []float64 { return r.trace.ground[i] }),
			},
		}})
	}
	list = append(list, picture.Named{Name: "body", Picture: picture.Chart{
		Title: "What the springs carry: acceleration and pitch", Note: j.Ground.String(), X: seconds,
		Panels: []picture.Panel{
			panel("upward", "g", time, func(r result) []float64 { return r.trace.acceleration }),
			panel("nose up", "°", time, func(r result) []float64 { return r.trace.pitch }),
		},
	}})
	for i, end := range []string{"front", "rear"} {
		list = append(list, picture.Named{Name: end + "-frequency", Picture: picture.Chart{
			Title: program.Title(end) + ": small waves of the ground, over frequency", Note: "About the rest, nothing lifting off and no stop touched.",
			X: picture.Axis{Label: "frequency", Unit: "Hz"},
			Panels: []picture.Panel{
				panel("body over ground", "", hertz, func(r result) []float64 {
					return over(r, func(at answerAt) float64 { return []float64{at.Front, at.Rear}[i] })
				}),
				panel("wheel load over ground", "N/mm", hertz, func(r result) []float64 {
					return over(r, func(at answerAt) float64 {
						return []units.Stiffness{at.FrontLoad, at.RearLoad}[i].NewtonsPerMillimetre()
					})
				}),
			},
		}})
	}
	return list
}

// over returns a value at every frequency.
func over(r result, value func(answerAt) float64) []float64 {
	list := make([]float64, len(r.Response))
	for i, at := range r.Response {
		list[i] = value(at)
	}
	return list
}

var page = template.Must(template.New("").Parse(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Ride</title>
<style>
@page { size: A4; margin: 12mm; }
body { font: 10.5pt/1.35 system-ui, "Liberation Sans", Arial, sans-serif; color: #000; background: #fff; max-width: 182mm; margin: 1em auto; padding: 0 1em; }
pre { font-size: 8.5pt; white-space: pre-wrap; }
figure { margin: 1em 0; break-inside: avoid; }
figure svg { width: 100%; height: auto; }
</style>
</head>
<body>
<h1>Ride</h1>
<pre>{{.Text}}</pre>
{{range .Pictures}}<figure>{{.}}</figure>
{{end}}</body>
</html>
`))

// writeHTML writes the answer as a page.
func writeHTML(out *bytes.Buffer, j job, a *answer) error {
	var text bytes.Buffer
	print(&text, j, a)
	var drawn []template.HTML
	for _, p := range pictures(j, a) {
		svg, err := picture.InlineSVG(p.Picture)
		if err != nil {
			return err
		}
		drawn = append(drawn, template.HTML(svg))
	}
	return page.Execute(out, struct {
		Text     string
		Pictures []template.HTML
	}{text.String(), drawn})
}
