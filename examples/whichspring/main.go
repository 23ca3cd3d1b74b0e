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
	"flag"
	"fmt"
	"math"
	"os"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/refdata"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

//go:embed demo/job.json
var demo []byte

const usage = `usage: whichspring [-job FILE] [-json] [-explain] [-example]

Prints the rate of a coil spring from caliper readings, with its uncertainty,
and which of a shop's springs it most probably is. With no job it runs a
demonstration with invented numbers.

  -job FILE   read the job from FILE; "-" reads standard input
  -json       print the answer as JSON
  -explain    also show the working: formulas, sources, the numbers put in
  -example    print the demonstration's job, to copy and change

example:
  go -C examples run ./whichspring -job "$PWD/my-spring.json"

The exit status is 0 for an answer, 2 for a job or a call with a fault.
`

// job is what was measured, and what the shop has. Either the shear modulus is
// given, or a material of the reference data.
type job struct {
	Note string `json:"note,omitempty"`
	spring.Caliper
	Material string           `json:"material,omitempty"`
	Shelf    []spring.Nominal `json:"shelf,omitempty"`
}

// answer is what it is.
type answer struct {
	Rate        units.Stiffness `json:"rate"`
	Uncertainty units.Stiffness `json:"uncertainty"` // one standard deviation
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
	explain := false
	return program.Main{
		Name: "whichspring", Usage: usage, Demo: demo,
		Flags: func(f *flag.FlagSet) { f.BoolVar(&explain, "explain", false, "") },
		Answer: func(text []byte, asJSON bool, out *bytes.Buffer) error {
			var j job
			if err := program.Decode("whichspring", text, &j); err != nil {
				return err
			}
			a, err := solve(&j)
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
			fmt.Fprintln(out, "\n  THE WORKING")
			program.Working(out, steps)
			return err
		},
	}
}

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
	k, err := spring.MeasureRate(j.Caliper)
	c.Add("", err)
	if err := c.Err(); err != nil {
		return answer{}, err
	}
	a := answer{Rate: k.Rate, Uncertainty: k.RateUncertainty, Dominant: k.Dominant}
	for _, b := range k.Budget {
		a.Shares = append(a.Shares, share{b.Input, b.Share})
	}
	if len(j.Shelf) > 0 {
		list, err := spring.Identify(spring.Measured{Rate: k.Rate, Uncertainty: k.RateUncertainty}, j.Shelf)
		if err != nil {
			return answer{}, units.At("shelf", err)
		}
		for _, one := range list {
			a.Candidates = append(a.Candidates, candidate{one.Rate, one.Probability, one.Surprise})
		}
	}
	return a, nil
}

func rate(k units.Stiffness) string {
	return fmt.Sprintf("%.0f lbf/in (%.2f N/mm)", k.PoundsForcePerInch(), k.NewtonsPerMillimetre())
}

// words are those of the inputs.
var words = map[string]string{
	"wire_diameter": "the wire", "outer_diameter": "the outer diameter", "inner_diameter": "the inner diameter",
	"active_coils": "the count of active coils", "shear_modulus": "the shear modulus", "correlation": "one caliper for both diameters",
}

func print(out *bytes.Buffer, j job, a answer) {
	fmt.Fprintln(out, "WHICH SPRING")
	if j.Note != "" {
		fmt.Fprintf(out, "  %s\n", j.Note)
	}
	fmt.Fprintf(out, "\n  rate          %s\n", rate(a.Rate))
	fmt.Fprintf(out, "  give or take  %s, one standard deviation\n", rate(a.Uncertainty))
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
		fmt.Fprintln(out, "\n  On the shelf, if it is one of these")
		for _, one := range a.Candidates {
			if one.Probability < 0.001 {
				continue
			}
			fmt.Fprintf(out, "    %5.1f %%  %s\n", 100*one.Probability, rate(one.Rate))
		}
		if best := a.Candidates[0]; best.Surprise < 0.003 {
			fmt.Fprintf(out, "    But even the likeliest measures so far off only once in %.0f times: it may be none of them.\n", 1/best.Surprise)
		}
	}
	fmt.Fprintln(out, `
  A spring is told by its rate, not by its paint. A caliper does not see the wire
  inside a coating. A compressed spring stores enough energy to injure: back the
  collar off fully before removing it, and use a compressor made for it.`)
}
