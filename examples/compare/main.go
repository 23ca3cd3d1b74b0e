// Compare puts two springs or more behind one curve under one load and shows
// side by side what they do: coil against air, above all.
//
//	go -C examples run ./compare                            the built-in demonstration
//	go -C examples run ./compare -example > my-springs.json a job to change
//	go -C examples run ./compare -out /tmp/pictures -job "$PWD/my-springs.json"
package main

import (
	"bytes"
	"cmp"
	_ "embed"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/units"
)

//go:embed demo/job.json
var demo []byte

const usage = `usage: compare [-job FILE] [-json] [-out DIR] [-example]

Prints side by side what two springs or more do behind one curve under one
load: sag, frequency, and force, rate and energy over the travel. With no job it
runs a demonstration with invented numbers.

  -job FILE   read the job from FILE; "-" reads standard input
  -json       print the answer as JSON
  -out DIR    also draw it: SVG and PNG files in DIR, which is created
  -example    print the demonstration's job, to copy and change

example:
  go -C examples run ./compare -job "$PWD/my-springs.json"

A spring is one of: air, linear, dual_rate, groups (of coils that close),
linear_pitch, coil (by its wire), series (springs on end), parallel (side by
side; starts_at is the travel at which one joins in).

The exit status is 0 for an answer, 2 for a job or a call with a fault, 1 where
something can't be written.
`

// job is what is compared.
type job struct {
	Note    string       `json:"note,omitempty"`
	Curve   linkage.Spec `json:"curve"`
	Load    units.Force  `json:"load"` // sprung, at the wheel
	Springs []one        `json:"springs"`
}

// one is a spring of any kind.
type one struct {
	Name string `json:"name"`
	law.Spec
}

func main() { os.Exit(newCompare().Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// rows is at how many travels the answer tells what the springs do, of which
// every second is printed; the pictures have more.
const rows, fine = 11, 101

func newCompare() program.Main {
	dir := ""
	return program.Main{
		Name: "compare", Usage: usage, Demo: demo, Job: func() any { return new(job) },
		Flags: func(f *flag.FlagSet) { f.StringVar(&dir, "out", "", "") },
		Answer: func(text []byte, asJSON bool, out *bytes.Buffer) error {
			var j job
			var c *comparison
			err := program.Work("compare", text, &j, func() (err error) {
				if dir != "" && len(j.Springs) > picture.MaxLines {
					return &units.FieldError{Package: "compare", Field: "springs", Value: len(j.Springs), Class: units.ErrRange,
						Want: units.AtMost(picture.MaxLines).Count("springs for a picture")}
				}
				c, err = solve(j, rows)
				return err
			})
			if err != nil {
				return err
			}
			if asJSON {
				err = program.Encode(out, c)
			} else {
				print(out, j, c)
			}
			if err != nil || dir == "" {
				return err
			}
			if c, err = solve(j, fine); err != nil {
				return err
			}
			return picture.Draw(out, dir, asJSON, picture.Named{Name: "springs", Picture: chart(j, c)})
		},
	}
}

// mostSprings is far more than anybody looks at side by side.
const mostSprings = 100

func solve(j job, n int) (*comparison, error) {
	c := units.Checker{Package: "compare"}
	curve, err := linkage.New(j.Curve)
	c.Add("curve", err)
	var list []contender
	if n := len(j.Springs); n > mostSprings {
		c.Fail("springs", n, units.AtMost(mostSprings).Count("springs"), nil)
		return nil, c.Err()
	}
	for i, s := range j.Springs {
		own := c.Element("springs", i)
		list = append(list, contender{Name: s.Name, End: end(&own, curve, s.Spec)})
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return sideBySide(j.Load, list, n)
}

// end returns a spring behind a curve, and records what is wrong with the spring. One of air or of constant
// rate without a travel has the curve's stroke.
func end(c *units.Checker, curve *linkage.Curve, spec law.Spec) sag.End {
	stroke := units.Length(1) // any will do to check the rest
	if curve != nil {
		stroke = curve.Stroke()
	}
	if spec.Air != nil && spec.Air.Travel == 0 {
		air := *spec.Air
		spec.Air, air.Travel = &air, stroke
	}
	if spec.Linear != nil && spec.Linear.Travel == 0 {
		linear := *spec.Linear
		spec.Linear, linear.Travel = &linear, stroke
	}
	made := spec.Build(c)
	if made == nil || spec.Air == nil || curve == nil {
		return sag.End{Curve: curve, Law: made}
	}
	e, err := sag.AirEnd(curve, *spec.Air) // which is harder over a fast stroke
	c.Add("air", err)
	return e
}

// abreast is how many springs stand side by side on a page of 80 columns.
const abreast = 3

func print(out *bytes.Buffer, j job, c *comparison) {
	program.Heading(out, "SPRINGS COMPARED", j.Note)
	fmt.Fprintf(out, "  under %s at the wheel\n", j.Load.Both())
	for from := 0; from < len(c.Springs); from += abreast {
		table(out, c, c.Springs[from:min(from+abreast, len(c.Springs))])
	}
	fmt.Fprintln(out)
	program.Fold(out, "  ", "Undamped, without friction or tyre. Air: standing still its gas is as warm as its surroundings; over a fast stroke the exponent stated for it holds.")
	var single []string
	for _, s := range j.Springs {
		if s.Air != nil && s.Air.NegativeVolume == 0 {
			single = append(single, s.Name)
		}
	}
	if single != nil {
		program.Fold(out, "  ", "Taken to have no negative chamber, since none is stated: "+strings.Join(single, "; ")+". With one an air spring is much softer near full extension and needs a much higher fill.")
	}
}

// table writes what some of the springs do.
func table(out *bytes.Buffer, c *comparison, springs []comparedSpring) {
	line := func(label string, cell func(s *comparedSpring) string) {
		fmt.Fprintf(out, "  %-24s", label)
		for i := range springs {
			fmt.Fprintf(out, " %17s", cell(&springs[i]))
		}
		fmt.Fprintln(out)
	}
	name := func(s *comparedSpring) string { return program.Short(s.Name, 17) }
	against := func(s *comparedSpring, format string, v float64) string {
		if s == &c.Springs[0] {
			return "–"
		}
		return fmt.Sprintf(format, v)
	}
	fmt.Fprintln(out)
	line("", name)
	line("sag at the wheel", func(s *comparedSpring) string {
		switch s.Finding {
		case sag.HeldAtTop:
			return "does not sag"
		case sag.Collapses:
			return "goes to the end"
		}
		return fmt.Sprintf("%.1f %%", 100*s.Rest.Sag)
	})
	line("  against the first", func(s *comparedSpring) string { return against(s, "%+.1f points", 100*s.SagDifference) })
	line("ring at the spring", func(s *comparedSpring) string { return fmt.Sprintf("%.1f mm", s.Rest.Stroke.Millimetres()) })
	line("wheel rate, fast stroke", func(s *comparedSpring) string {
		return fmt.Sprintf("%.2f N/mm", s.FastWheelRate.NewtonsPerMillimetre())
	})
	line("bounce frequency", func(s *comparedSpring) string { return fmt.Sprintf("%.2f Hz", s.FastFrequency.Hertz()) })
	line("  against the first", func(s *comparedSpring) string { return against(s, "%+.1f %%", 100*s.FrequencyDifference) })
	line("force at its full travel", func(s *comparedSpring) string { return fmt.Sprintf("%.0f N", s.Reserve.FullForce.Newtons()) })
	line("  over the load", func(s *comparedSpring) string { return fmt.Sprintf("%.1f ×", s.FullRatio) })
	line("  against the first", func(s *comparedSpring) string { return against(s, "%+.0f %%", 100*s.FullForceDifference) })
	line("energy left from sag", func(s *comparedSpring) string { return fmt.Sprintf("%.0f J", s.EnergyLeft.Joules()) })
	for _, over := range []struct {
		title string
		cell  func(s *comparedSpring, i int) string
	}{
		{"Wheel force, fast", func(s *comparedSpring, i int) string { return fmt.Sprintf("%.0f N", s.Force[i].Newtons()) }},
		{"Wheel rate, fast", func(s *comparedSpring, i int) string {
			return fmt.Sprintf("%.1f N/mm", s.Rate[i].NewtonsPerMillimetre())
		}},
		{"Energy taken in, fast", func(s *comparedSpring, i int) string { return fmt.Sprintf("%.0f J", s.Energy[i].Joules()) }},
	} {
		fmt.Fprintln(out)
		line(over.title, name)
		for i := 0; i < len(c.Travel); i += 2 {
			w := c.Travel[i]
			line(fmt.Sprintf("  at %.1f mm", w.Millimetres()), func(s *comparedSpring) string {
				if ended(s, w) {
					return "at its end"
				}
				return over.cell(s, i)
			})
		}
	}
}

// ended reports whether the spring itself is at its end before the wheel's travel w.
func ended(s *comparedSpring, w units.Length) bool { return w > s.Ends*(1+1e-9) }

func chart(j job, c *comparison) picture.Picture {
	p := picture.Chart{
		Title: "Springs compared, over a fast stroke", Note: j.Note,
		X: picture.Axis{Label: "vertical wheel travel", Unit: "mm"}, Size: picture.Size{Width: 170, Height: 220},
		Panels: []picture.Panel{
			{Y: picture.Axis{Label: "wheel force", Unit: "N", Zero: true}},
			{Y: picture.Axis{Label: "wheel rate", Unit: "N/mm", Zero: true}},
			{Y: picture.Axis{Label: "energy taken in", Unit: "J", Zero: true}},
		},
	}
	for _, s := range c.Springs {
		lines := [3]picture.Series{{Name: s.Name}, {Name: s.Name}, {Name: s.Name}}
		for i, w := range c.Travel {
			if ended(&s, w) {
				break
			}
			for k, y := range [3]float64{s.Force[i].Newtons(), s.Rate[i].NewtonsPerMillimetre(), s.Energy[i].Joules()} {
				lines[k].X, lines[k].Y = append(lines[k].X, w.Millimetres()), append(lines[k].Y, y)
			}
		}
		for k, line := range lines {
			if len(line.X) > 1 {
				p.Panels[k].Series = append(p.Panels[k].Series, line)
			}
		}
	}
	p.Marks, p.Bands = sags(c)
	return p
}

// sags marks where the springs rest: each by itself, or several as one band
// where their marks would run into each other.
func sags(c *comparison) (marks []picture.Mark, bands []picture.Band) {
	var rest []picture.Mark
	for _, s := range c.Springs {
		if s.Finding == "" {
			rest = append(rest, picture.Mark{Label: s.Name, At: s.Rest.Travel.Millimetres()})
		}
	}
	slices.SortStableFunc(rest, func(a, b picture.Mark) int { return cmp.Compare(a.At, b.At) })
	near := c.Travel[len(c.Travel)-1].Millimetres() * 0.15
	for len(rest) > 0 {
		n := 1
		names := rest[0].Label
		for n < len(rest) && rest[n].At-rest[n-1].At < near {
			names += "; " + rest[n].Label
			n++
		}
		from, to := rest[0].At, rest[n-1].At
		switch label := "sag, " + program.Short(names, 24); {
		case n == 1:
			marks = append(marks, picture.Mark{Label: label, At: from})
		case n == len(c.Springs):
			bands = append(bands, picture.Band{Label: "sag", From: from, To: max(to, from+near/50)}) // to be seen
		default:
			bands = append(bands, picture.Band{Label: label, From: from, To: max(to, from+near/50)})
		}
		rest = rest[n:]
	}
	return marks, bands
}
