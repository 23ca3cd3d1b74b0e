// Bands prints which riders a set of springs suits at one end of a bike, or
// which fill riders need in an air spring, as a table and a picture.
//
//	go -C examples run ./bands                           the built-in demonstration
//	go -C examples run ./bands -example > my-range.json  a job to change
//	go -C examples run ./bands -out /tmp/pictures -job "$PWD/my-range.json"
package main

import (
	"bytes"
	_ "embed"
	"flag"
	"fmt"
	"os"
	"strings"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

//go:embed demo/job.json
var demo []byte

const usage = `usage: bands [-job FILE] [-json] [-out DIR] [-example]

Prints which riders each spring of a set suits at one end of a bike, or which
fill riders need in an air spring. With no job it runs a demonstration of both
with invented numbers.

  -job FILE   read the job from FILE; "-" reads standard input
  -json       print the answer as JSON
  -out DIR    also draw it: SVG and PNG files in DIR, which is created
  -example    print the demonstration's job, to copy and change

example:
  go -C examples run ./bands -job "$PWD/my-range.json"

The exit status is 0 for an answer, 2 for a job or a call with a fault, 1 where
something can't be written.
`

// job is what is asked: coil springs, an air spring, or both on one curve.
type job struct {
	Note  string         `json:"note,omitempty"`
	Curve linkage.Spec   `json:"curve"`
	Coil  *sag.Range     `json:"coil,omitempty"`
	Air   *pressureRange `json:"air,omitempty"`
}

// answer is what each spring or fill is for.
type answer struct {
	Coil *sag.Bands    `json:"coil,omitempty"`
	Air  []pressureRow `json:"air,omitempty"`
	// Taken is what the job leaves out and the answer takes as nothing, with what another value changes.
	Taken []string `json:"taken_for_granted,omitempty"`
}

func main() { os.Exit(newBands().Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

func newBands() program.Main {
	dir := ""
	return program.Main{
		Name: "bands", Usage: usage, Demo: demo, Job: func() any { return new(job) },
		Flags: func(f *flag.FlagSet) { f.StringVar(&dir, "out", "", "") },
		Answer: func(text []byte, asJSON bool, out *bytes.Buffer) error {
			var j job
			var a answer
			err := program.Work("bands", text, &j, func() (err error) {
				a, err = solve(j)
				return err
			})
			if err != nil {
				return err
			}
			if asJSON {
				err = program.Encode(out, a)
			} else {
				print(out, j, a)
			}
			if err != nil || dir == "" {
				return err
			}
			return picture.Draw(out, dir, asJSON, pictures(j, a)...)
		},
	}
}

func solve(j job) (answer, error) {
	c := units.Checker{Package: "bands"}
	curve, err := linkage.New(j.Curve)
	c.Add("curve", err)
	if j.Coil == nil && j.Air == nil {
		c.Fail("coil", nil, "a set of coil springs, an air spring, or both", units.ErrMissing)
	}
	var a answer
	if curve != nil && j.Coil != nil {
		b, err := sag.BandsOf(curve, *j.Coil)
		c.Add("coil", err)
		a.Coil = &b
	}
	if curve != nil && j.Air != nil {
		air := *j.Air
		if air.Air.Travel == 0 {
			air.Air.Travel = curve.Stroke()
		}
		a.Air, err = pressureChart(curve, air)
		c.Add("air", err)
	}
	if err := c.Err(); err != nil {
		return a, err
	}
	a.Taken = taken(curve, j, a)
	return a, nil
}

// otherUnsprung is the share of the bike's mass with which a job is worked out again that states no
// unsprung mass; an example.
const otherUnsprung = 0.15

// taken returns what a job leaves out that an answer takes as nothing.
func taken(curve *linkage.Curve, j job, a answer) (list []string) {
	const text = "The unsprung mass at the %s is taken as nothing, for %s. With %s of it %s."
	if j.Coil != nil && j.Coil.Unsprung == 0 {
		other := *j.Coil
		other.Unsprung = otherUnsprung * other.BikeMass
		if b, err := sag.BandsOf(curve, other); err == nil {
			list = append(list, fmt.Sprintf(text, other.End, "the springs", other.Unsprung.Both(),
				"each suits a rider "+(b.IdealMass[0]-a.Coil.IdealMass[0]).Both().String()+" heavier"))
		}
	}
	if j.Air == nil {
		return list
	}
	if j.Air.Unsprung == 0 {
		other := *j.Air
		other.Unsprung = otherUnsprung * other.BikeMass
		other.Air.Travel = max(other.Air.Travel, curve.Stroke())
		rows, err := pressureChart(curve, other)
		for i := range rows {
			// A rider who is too light with it has no row: the last rows are those of the same riders.
			was := a.Air[len(a.Air)-len(rows)+i]
			if err == nil && was.Finding == "" && rows[i].Finding == "" {
				list = append(list, fmt.Sprintf(text, other.End, "the fills", other.Unsprung.Both(),
					"the first rider needs "+(was.Fill-rows[i].Fill).Both().String()+" less"))
				break
			}
		}
	}
	if j.Air.Air.NegativeVolume == 0 {
		list = append(list, "The air spring is taken to have no negative chamber. One that has needs a much higher fill: give negative_volume, shaft and port_travel.")
	}
	return list
}

func print(out *bytes.Buffer, j job, a answer) {
	program.Heading(out, "BANDS", j.Note)
	if a.Coil != nil {
		fmt.Fprintf(out, "\n  Springs for %.0f %% sag, %s, rider dressed to ride\n", 100*j.Coil.Sag, j.Coil.End)
		row := func(cells ...any) {
			fmt.Fprintln(out, strings.TrimRight(fmt.Sprintf("  %-7s %-7s %-19s %-19s %s", cells...), " "))
		}
		row("lbf/in", "N/mm", "from", "exactly", "to")
		for i, k := range j.Coil.Rates {
			from, to := "", ""
			if i > 0 {
				from = a.Coil.EdgeMass[i-1].Both().String()
			}
			if i < len(a.Coil.EdgeMass) {
				to = a.Coil.EdgeMass[i].Both().String()
			}
			row(fmt.Sprintf("%.0f", k.PoundsForcePerInch()), fmt.Sprintf("%.2f", k.NewtonsPerMillimetre()), from, a.Coil.IdealMass[i].Both(), to)
		}
		program.Fold(out, "  ", "At an edge the softer spring sags as much too far as the harder one too little.")
	}
	if a.Air != nil {
		fmt.Fprintf(out, "\n  Fill for %.0f %% sag, %s, rider dressed to ride; marking %s\n",
			100*j.Air.Sag, j.Air.End, j.Air.MaxFill.Both())
		for _, r := range a.Air {
			if r.Finding == sag.FillImpossible {
				fmt.Fprintf(out, "  %-19s none: sags less even without pressure\n", r.RiderMass.Both())
				continue
			}
			said := ""
			if r.Finding == sag.FillAtMax {
				said = "  limited by the marking: sags more"
			}
			fmt.Fprintf(out, "  %-19s %6.2f bar %6.1f psi%s\n", r.RiderMass.Both(), r.Fill.Bar(), r.Fill.PSI(), said)
		}
		fmt.Fprintln(out)
		program.Fold(out, "  ", "Never fill above the marking on the part, use a pump made for suspension, and let all air out before a chamber is opened. The maker's manual wins over every number here.")
	}
	if len(a.Taken) > 0 {
		fmt.Fprintln(out, "\n  Taken for granted")
		for _, text := range a.Taken {
			program.Fold(out, "  ", text)
		}
	}
}

// pictures are those of the bands and of the fills.
func pictures(j job, a answer) (list []picture.Named) {
	if a.Coil != nil && len(a.Coil.IdealMass) > 1 {
		last := len(a.Coil.IdealMass) - 1
		fit, exact := picture.Series{Name: "spring to fit"}, picture.Series{Name: "exact spring"}
		at := func(s *picture.Series, m units.Mass, k units.Stiffness) {
			s.X, s.Y = append(s.X, m.Kilograms()), append(s.Y, k.PoundsForcePerInch())
		}
		c := picture.Chart{Title: "Which spring for which rider", Note: j.Note, X: picture.Axis{Label: "rider, dressed to ride", Unit: "kg"}}
		// The outermost springs are drawn as far beyond their rider as to the edge,
		// and the exact one, which is in a straight line with the rider, with them.
		ideal, rates := a.Coil.IdealMass, j.Coil.Rates
		slope := float64(rates[last]-rates[0]) / float64(ideal[last]-ideal[0])
		first := max(0, 2*ideal[0]-a.Coil.EdgeMass[0])
		end := 2*ideal[last] - a.Coil.EdgeMass[last-1]
		for _, m := range []units.Mass{first, end} {
			at(&exact, m, rates[0]+units.Stiffness(slope*float64(m-ideal[0])))
		}
		for i, k := range rates {
			from, to := first, end
			if i > 0 {
				from = a.Coil.EdgeMass[i-1]
			}
			if i < last {
				to = a.Coil.EdgeMass[i]
				c.Marks = append(c.Marks, picture.Mark{Label: fmt.Sprintf("%.1f kg", to.Kilograms()), At: to.Kilograms()})
			}
			at(&fit, from, k)
			at(&fit, to, k)
		}
		c.Panels = []picture.Panel{{Y: picture.Axis{Label: "spring rate", Unit: "lbf/in"}, Series: []picture.Series{fit, exact}}}
		list = append(list, picture.Named{Name: "springs", Picture: c})
	}
	if len(a.Air) > 1 {
		fill := picture.Series{Name: "fill"}
		marking := picture.Series{Name: "marking"}
		for _, r := range a.Air {
			marking.X, marking.Y = append(marking.X, r.RiderMass.Kilograms()), append(marking.Y, j.Air.MaxFill.Bar())
			if r.Finding == "" { // else there is no fill to draw that meets the target
				fill.X, fill.Y = append(fill.X, r.RiderMass.Kilograms()), append(fill.Y, r.Fill.Bar())
			}
		}
		if len(fill.X) < 2 {
			return list
		}
		list = append(list, picture.Named{Name: "fill", Picture: picture.Chart{
			Title: "Which fill for which rider", Note: j.Note,
			X:      picture.Axis{Label: "rider, dressed to ride", Unit: "kg"},
			Panels: []picture.Panel{{Y: picture.Axis{Label: "fill", Unit: "bar", Zero: true}, Series: []picture.Series{fill, marking}}},
		}})
	}
	return list
}
