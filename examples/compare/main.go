// Compare puts two springs or more behind one curve under one load and shows
// side by side what they do: coil against air, above all.
//
//	go -C examples run ./compare                            the built-in demonstration
//	go -C examples run ./compare -example > my-springs.json a job to change
//	go -C examples run ./compare -out /tmp/pictures -job "$PWD/my-springs.json"
package main

import (
	"bytes"
	_ "embed"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

//go:embed demo/job.json
var demo []byte

const usage = `usage: compare [-job FILE] [-json] [-out DIR] [-example]

Prints side by side what two springs or more do behind one curve under one load:
sag, rate, frequency, force and energy over the travel. With no job it runs a
demonstration with invented numbers.

  -job FILE   read the job from FILE; "-" reads standard input
  -json       print the answer as JSON
  -out DIR    also draw it: SVG and PNG files in DIR, which is made
  -example    print the demonstration's job, to copy and change

example:
  go -C examples run ./compare -job "$PWD/my-springs.json"

The exit status is 0 for an answer, 2 for a job or a call with a fault.
`

// job is what is compared.
type job struct {
	Note    string       `json:"note,omitempty"`
	Curve   linkage.Spec `json:"curve"`
	Load    units.Force  `json:"load"` // sprung, at the wheel
	Springs []one        `json:"springs"`
}

// one is a spring: a coil of one rate, or air.
type one struct {
	Name   string          `json:"name"`
	Linear *spring.Linear  `json:"linear,omitempty"`
	Air    *airspring.Spec `json:"air,omitempty"`
}

func main() { os.Exit(newCompare().Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// rows is at how many travels the table has a line; the pictures have more.
const rows, fine = 11, 101

func newCompare() program.Main {
	dir := ""
	return program.Main{
		Name: "compare", Usage: usage, Demo: demo,
		Flags: func(f *flag.FlagSet) { f.StringVar(&dir, "out", "", "") },
		Answer: func(text []byte, asJSON bool, out *bytes.Buffer) error {
			var j job
			if err := program.Decode("compare", text, &j); err != nil {
				return err
			}
			c, err := solve(j, rows)
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
			return draw(out, dir, j, c, asJSON)
		},
	}
}

func solve(j job, n int) (*sag.Comparison, error) {
	c := units.Checker{Package: "compare"}
	curve, err := linkage.New(j.Curve)
	c.Add("curve", err)
	var list []sag.Contender
	for i, s := range j.Springs {
		field := fmt.Sprintf("springs[%d]", i)
		switch {
		case (s.Linear == nil) == (s.Air == nil):
			c.Fail(field, s.Name, "either linear or air", units.ErrConflict)
		case s.Linear != nil:
			spec := *s.Linear
			if spec.Travel == 0 && curve != nil {
				spec.Travel = curve.Stroke()
			}
			law, err := spring.NewLinear(spec)
			c.Add(field+".linear", err)
			list = append(list, sag.Contender{Name: s.Name, Slow: law})
		default:
			spec := *s.Air
			if spec.Travel == 0 && curve != nil {
				spec.Travel = curve.Stroke()
			}
			air, err := sag.AirContender(s.Name, spec)
			c.Add(field+".air", err)
			list = append(list, air)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return sag.Compare(curve, j.Load, list, n)
}

func print(out *bytes.Buffer, j job, c *sag.Comparison) {
	program.Heading(out, "SPRINGS COMPARED", j.Note)
	fmt.Fprintf(out, "  under %.0f N (%.1f lbf) at the wheel\n\n", j.Load.Newtons(), j.Load.PoundsForce())
	line := func(label string, cell func(s *sag.Compared) string) {
		fmt.Fprintf(out, "  %-24s", label)
		for i := range c.Springs {
			fmt.Fprintf(out, " %17s", cell(&c.Springs[i]))
		}
		fmt.Fprintln(out)
	}
	signed := func(i *sag.Compared, format string, v float64) string {
		if i == &c.Springs[0] {
			return "–"
		}
		return fmt.Sprintf(format, v)
	}
	line("", func(s *sag.Compared) string { return s.Name })
	line("sag at the wheel", func(s *sag.Compared) string {
		switch s.Finding {
		case sag.HeldAtTop:
			return "does not sag"
		case sag.Collapses:
			return "goes to the end"
		}
		return fmt.Sprintf("%.1f %%", 100*s.Rest.Sag)
	})
	line("  against the first", func(s *sag.Compared) string { return signed(s, "%+.1f points", 100*s.SagDifference) })
	line("ring", func(s *sag.Compared) string { return fmt.Sprintf("%.1f mm", s.Rest.Stroke.Millimetres()) })
	line("wheel rate, fast stroke", func(s *sag.Compared) string {
		return fmt.Sprintf("%.2f N/mm", s.FastWheelRate.NewtonsPerMillimetre())
	})
	line("bounce frequency", func(s *sag.Compared) string { return fmt.Sprintf("%.2f Hz", s.FastFrequency.Hertz()) })
	line("  against the first", func(s *sag.Compared) string { return signed(s, "%+.1f %%", 100*s.FrequencyDifference) })
	line("force at full travel", func(s *sag.Compared) string { return fmt.Sprintf("%.0f N", s.Reserve.FullForce.Newtons()) })
	line("  over the load", func(s *sag.Compared) string { return fmt.Sprintf("%.1f ×", s.FullRatio) })
	line("  against the first", func(s *sag.Compared) string { return signed(s, "%+.0f %%", 100*s.FullForceDifference) })
	line("energy left from sag", func(s *sag.Compared) string { return fmt.Sprintf("%.0f J", s.EnergyLeft.Joules()) })
	fmt.Fprintf(out, "\n  Wheel force over a fast stroke\n  %-24s", "travel")
	for _, s := range c.Springs {
		fmt.Fprintf(out, " %17s", s.Name)
	}
	fmt.Fprintln(out)
	for i, w := range c.Travel {
		fmt.Fprintf(out, "  %-24s", fmt.Sprintf("%.1f mm", w.Millimetres()))
		for _, s := range c.Springs {
			text := fmt.Sprintf("%.0f N", s.Force[i].Newtons())
			if w > s.Ends*(1+1e-9) {
				text = "at its end"
			}
			fmt.Fprintf(out, " %17s", text)
		}
		fmt.Fprintln(out)
	}
	fmt.Fprintln(out, "\n  Undamped, without friction or tyre. Air: standing still its gas is as warm as\n  its surroundings; over a fast stroke the exponent stated for it holds.")
}

// draw writes the pictures and says where they are.
func draw(out *bytes.Buffer, dir string, j job, c *sag.Comparison, quiet bool) error {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	paths, err := picture.Save(dir, "springs", chart(j, c))
	if err != nil {
		return err
	}
	for _, path := range paths {
		if !quiet {
			fmt.Fprintln(out, "  wrote", path)
		}
	}
	return nil
}

func chart(j job, c *sag.Comparison) picture.Picture {
	f := picture.Panel{Y: picture.Axis{Label: "wheel force", Unit: "N", Zero: true}}
	k := picture.Panel{Y: picture.Axis{Label: "wheel rate", Unit: "N/mm", Zero: true}}
	p := picture.Chart{Title: "Springs compared, over a fast stroke", Note: j.Note, X: picture.Axis{Label: "vertical wheel travel", Unit: "mm"}, Size: picture.Size{Width: 170, Height: 150}}
	for _, s := range c.Springs {
		force, rate := picture.Series{Name: s.Name}, picture.Series{Name: s.Name}
		for i, w := range c.Travel {
			if w > s.Ends*(1+1e-9) {
				break
			}
			force.X, force.Y = append(force.X, w.Millimetres()), append(force.Y, s.Force[i].Newtons())
			rate.X, rate.Y = append(rate.X, w.Millimetres()), append(rate.Y, s.Rate[i].NewtonsPerMillimetre())
		}
		if len(force.X) > 1 {
			f.Series, k.Series = append(f.Series, force), append(k.Series, rate)
		}
		if s.Finding == "" {
			p.Marks = append(p.Marks, picture.Mark{Label: "sag, " + s.Name, At: s.Rest.Travel.Millimetres()})
		}
	}
	p.Panels = []picture.Panel{f, k}
	return p
}
