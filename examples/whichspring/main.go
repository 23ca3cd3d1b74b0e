// Whichspring works out the rate of a coil spring from what a caliper says, how
// well that is known, and which of a shop's springs it most probably is.
//
//	go -C examples run ./whichspring                            the built-in demonstration
//	go -C examples run ./whichspring -example > my-spring.json  a job to change
//	go -C examples run ./whichspring -job "$PWD/my-spring.json"
package main

import (
	"bytes"
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/refdata"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

//go:embed demo/job.json
var demo []byte

const usage = `usage: whichspring [-job FILE] [-rates LIST] [-json] [-explain] [-example]

Prints the rate of a coil spring from caliper readings, with its uncertainty,
and which of a shop's springs it most probably is. With no job it runs a
demonstration with invented numbers.

  -job FILE   read the job from FILE; "-" reads standard input
  -rates LIST the markings of the springs it can be, in place of the job's
              shelf, such as "425 lbf/in, 450 lbf/in"
  -json       print the answer as JSON
  -explain    also show the working: formulas, sources, the numbers put in
  -example    print the demonstration's job, to copy and change

A job says how the coils were counted: active_coils, or total_coils with ends
(plain, plain_ground, squared, squared_ground). The modulus is a shear_modulus,
or that of a material of the reference data. Each uncertainty is one standard
deviation; one that is left out counts as 0.

examples:
  go -C examples run ./whichspring -job "$PWD/my-spring.json"
  go -C examples run ./whichspring -rates "80 N/mm, 85 N/mm"

The exit status is 0 for an answer, 2 for a job or a call with a fault, 1 where
something can't be written.
`

// job is what was measured, and what the shop has. Either the shear modulus is
// given, or a material of the reference data; either the active coils are, or
// all of them with the kind of ends.
type job struct {
	Note string `json:"note,omitempty"`
	coil.Caliper
	TotalCoils float64        `json:"total_coils,omitempty"`
	Ends       coil.Ends      `json:"ends,omitempty"`
	Material   string         `json:"material,omitempty"`
	Shelf      []coil.Nominal `json:"shelf,omitempty"`
}

// answer is what it is.
type answer struct {
	Rate        units.Stiffness `json:"rate"`
	Uncertainty units.Stiffness `json:"uncertainty"` // one standard deviation
	ActiveCoils float64         `json:"active_coils"`
	Dominant    string          `json:"dominant,omitempty"`
	Shares      []share         `json:"shares"`
	Candidates  []candidate     `json:"candidates,omitempty"`
}

type share struct {
	Input string  `json:"input"`
	Share float64 `json:"share"` // of the variance
}

type candidate struct {
	Rate        units.Stiffness `json:"rate"`
	Probability float64         `json:"probability"`
	Surprise    float64         `json:"surprise"` // chance of measuring so far off, were it this one
}

func main() { os.Exit(newWhich().Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

func newWhich() program.Main {
	explain, rates := false, ""
	return program.Main{
		Name: "whichspring", Usage: usage, Demo: demo, Job: func() any { return new(job) },
		Flags: func(f *flag.FlagSet) {
			f.BoolVar(&explain, "explain", false, "")
			f.StringVar(&rates, "rates", "", "")
		},
		Answer: func(text []byte, asJSON bool, out *bytes.Buffer) error {
			var j job
			var a answer
			var total float64
			err := program.Work("whichspring", text, &j, func() error {
				c := units.Checker{}
				if rates != "" {
					list, err := shelf(rates)
					c.Add("", err)
					j.Shelf = list
				}
				total = j.TotalCoils
				var err error
				a, err = solve(&j)
				c.Add("", err)
				return c.Err()
			})
			if err != nil {
				return err
			}
			if asJSON {
				return program.Encode(out, a)
			}
			print(out, j, a)
			if !explain {
				return nil
			}
			steps, err := j.Caliper.Working()
			if total != 0 {
				steps = append([]units.Step{{
					Name: "active coils", Formula: "n = N − N_dead", Source: "kind of ends: Machinery's Handbook, 31st ed., table 3 on p. 318",
					Given:  []units.Value{{Symbol: "N", Quantity: total}, {Symbol: "N_dead", Quantity: total - j.ActiveCoils}},
					Result: units.Value{Symbol: "n", Quantity: j.ActiveCoils},
				}}, steps...)
			}
			fmt.Fprintln(out, "\n  THE WORKING")
			program.Working(out, steps)
			return err
		},
	}
}

// shelf reads the list of -rates.
func shelf(list string) ([]coil.Nominal, error) {
	c := units.Checker{Package: "whichspring"}
	var out []coil.Nominal
	for i, text := range strings.Split(list, ",") {
		k, err := units.Parse[units.Stiffness](strings.TrimSpace(text))
		if err != nil {
			want := "a rate with its unit, such as 450 lbf/in"
			if p, ok := errors.AsType[*units.ParseError](err); ok && p.Ask() != "" {
				want = "a rate with its unit: " + p.Ask()
			}
			c.Fail(fmt.Sprintf("-rates[%d]", i), strings.TrimSpace(text), want, units.ErrUnit)
		}
		out = append(out, coil.Nominal{Rate: k})
	}
	return units.Checked(&c, out)
}

// solve works out the job, and fills in its active coils and its modulus where
// these follow from something else.
func solve(j *job) (answer, error) {
	c := units.Checker{Package: "whichspring"}
	if j.Material != "" {
		switch m, err := refdata.MaterialNamed(j.Material); {
		case j.ShearModulus != 0:
			c.Fail("material", j.Material, "either a material or a shear_modulus", units.ErrConflict)
		case err != nil:
			c.Add("", err)
			j.ShearModulus = 1 // one fault is enough
		default:
			moduli, err := m.ModuliOf(j.WireDiameter)
			c.Add("", err)
			j.ShearModulus = moduli.ShearModulus.Value
			if err != nil {
				j.ShearModulus = 1
			}
		}
	}
	switch {
	case j.TotalCoils != 0:
		// The coils of any wire, so that they alone can be at fault; the wire is checked below.
		made, err := coil.New(coil.Spec{
			WireDiameter: units.Millimetre, MeanDiameter: 10 * units.Millimetre, ShearModulus: units.Gigapascal,
			ActiveCoils: j.ActiveCoils, TotalCoils: j.TotalCoils, Ends: j.Ends,
		})
		if c.Add("", err); err == nil {
			j.ActiveCoils = made.ActiveCoils()
		} else {
			j.ActiveCoils = 1 // one fault is enough
		}
	case j.Ends != "":
		c.Fail("ends", string(j.Ends), "left out, or given with total_coils", units.ErrConflict)
	}
	k, err := j.Caliper.Rate()
	c.Add("", err)
	if err := c.Err(); err != nil {
		return answer{}, err
	}
	a := answer{Rate: k.Rate, Uncertainty: k.RateUncertainty, ActiveCoils: j.ActiveCoils, Dominant: k.Dominant}
	for _, b := range k.Budget {
		a.Shares = append(a.Shares, share{b.Input, b.Share})
	}
	if len(j.Shelf) > 0 {
		list, err := coil.Identify(k.Rate, k.RateUncertainty, j.Shelf)
		if err != nil {
			return answer{}, units.At("shelf", err)
		}
		for _, one := range list {
			a.Candidates = append(a.Candidates, candidate{one.Rate, one.Probability, one.Surprise})
		}
	}
	return a, nil
}

// rare is the chance, three standard deviations, below which a marking isn't
// believed.
const rare = 0.003

// seldom tells a small chance; one in a million is as much as can be believed.
func seldom(chance float64) string {
	if chance < 1e-6 {
		return "less than once in a million times"
	}
	return fmt.Sprintf("only once in %.0f times", 1/chance)
}

// words are those of the inputs.
var words = map[string]string{
	"wire_diameter": "the wire", "outer_diameter": "the outer diameter", "inner_diameter": "the inner diameter",
	"active_coils": "the count of active coils", "shear_modulus": "the shear modulus", "correlation": "one caliper for both diameters",
}

func print(out *bytes.Buffer, j job, a answer) {
	program.Heading(out, "WHICH SPRING", j.Note)
	fmt.Fprintf(out, "\n  rate          %s\n", a.Rate.Both().CustomaryFirst())
	fmt.Fprintf(out, "  give or take  %s, one standard deviation\n", a.Uncertainty.Both().CustomaryFirst())
	if len(a.Candidates) > 0 {
		switch best := a.Candidates[0]; {
		case best.Surprise < rare:
			fmt.Fprintln(out, "  most likely   none of the shelf, see below")
		default:
			fmt.Fprintf(out, "  most likely   %s, %.0f %%\n", best.Rate.Both().CustomaryFirst(), 100*best.Probability)
		}
	}
	fmt.Fprintf(out, "  from          k = G·d⁴/(8·D³·n) with d = %.2f mm, n = %g, G = %.0f MPa\n", j.WireDiameter.Millimetres(), j.ActiveCoils, float64(j.ShearModulus)/1e6)
	if a.Dominant != "" {
		fmt.Fprintln(out, "\n  What it is uncertain by")
		for _, s := range a.Shares {
			if math.Abs(s.Share) > 0.005 {
				fmt.Fprintf(out, "    %5.0f %%  %s\n", 100*s.Share, words[s.Input])
			}
		}
		fmt.Fprintf(out, "    To know the rate better, know %s better.\n", words[a.Dominant])
	}
	if len(a.Candidates) > 0 {
		listed := a.Candidates
		if listed[0].Surprise < rare {
			listed = nil // of springs none of which it is, no share means anything
		} else {
			fmt.Fprintln(out, "\n  On the shelf, if it is one of these")
		}
		for _, one := range listed {
			if one.Probability < 0.001 {
				continue
			}
			fmt.Fprintf(out, "    %5.1f %%  %s\n", 100*one.Probability, one.Rate.Both().CustomaryFirst())
		}
		if best := a.Candidates[0]; best.Surprise < rare {
			fmt.Fprintln(out)
			program.Fold(out, "    ", fmt.Sprintf("Nothing on the shelf matches: even %s, the nearest, would measure so far off %s.", best.Rate.Both().CustomaryFirst(), seldom(best.Surprise)))
		}
	}
	fmt.Fprintln(out)
	program.Fold(out, "  ", "A spring is told by its rate, not by its paint. A caliper does not see the wire inside a coating. A compressed spring stores enough energy to injure: back the collar off fully before removing it, and use a compressor made for it.")
}
