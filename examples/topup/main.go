// Topup lists the steps that bring an air spring with a negative chamber from
// one fill to another, with what the gauge should show before and after each.
//
//	go -C examples run ./topup                          the built-in demonstration
//	go -C examples run ./topup -example > my-fork.json  a job to change
//	go -C examples run ./topup -job "$PWD/my-fork.json"
package main

import (
	"bytes"
	_ "embed"
	"flag"
	"fmt"
	"os"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/units"
)

//go:embed demo/job.json
var demo []byte

const usage = `usage: topup [-job FILE] [-json] [-explain] [-example]

Prints the steps that bring an air spring with a negative chamber to a fill:
what the gauge should show before and after each. With no job it runs a
demonstration with invented numbers.

  -job FILE   read the job from FILE; "-" reads standard input
  -json       print the answer as JSON
  -explain    also show the working: formulas, sources, the numbers put in
  -example    print the demonstration's job, to copy and change

example:
  go -C examples run ./topup -job "$PWD/my-fork.json"

The exit status is 0 for an answer, 2 for a job or a call with a fault.
`

// job is what is asked.
type job struct {
	Note string `json:"note,omitempty"`
	airspring.TopUp
	// MaxFill is the marking on the part.
	MaxFill units.GaugePressure `json:"max_fill"`
	// HoseVolume is that of the pump's hose and gauge; 0 where unknown.
	HoseVolume units.Volume `json:"hose_volume,omitempty"`
}

// answer is what to do.
type answer struct {
	Cycles int    `json:"cycles"`
	Steps  []step `json:"steps"`
}

// step is one step and what the gauge shows. Connected is what it shows once
// the pump is screwed on again, where the hose's volume is known.
type step struct {
	Do        airspring.TopUpAction `json:"do"`
	Before    units.GaugePressure   `json:"before"`
	After     units.GaugePressure   `json:"after"`
	Connected *units.GaugePressure  `json:"connected,omitempty"`
}

func main() { os.Exit(newTopup().Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

func newTopup() program.Main {
	explain := false
	return program.Main{
		Name: "topup", Usage: usage, Demo: demo,
		Flags: func(f *flag.FlagSet) { f.BoolVar(&explain, "explain", false, "") },
		Answer: func(text []byte, asJSON bool, out *bytes.Buffer) error {
			var j job
			var a answer
			err := program.Work("topup", text, &j, func() (err error) {
				a, err = solve(j)
				return err
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
			steps, err := j.TopUp.Working()
			fmt.Fprintln(out, "\n  THE WORKING")
			program.Working(out, steps)
			return err
		},
	}
}

func solve(j job) (answer, error) {
	c := units.Checker{Package: "topup"}
	plan, err := airspring.PlanTopUp(j.TopUp)
	c.Add("", err)
	if units.Positive(&c, "max_fill", j.MaxFill) && j.Fill > j.MaxFill {
		c.Fail("fill", j.Fill, "no more than the marking, max_fill "+j.MaxFill.String(), units.ErrConflict)
	}
	units.NonNegative(&c, "hose_volume", j.HoseVolume)
	if err := c.Err(); err != nil {
		return answer{}, err
	}
	a := answer{Cycles: plan.Cycles}
	for _, s := range plan.Steps {
		one := step{Do: s.Action, Before: s.Before, After: s.After}
		if s.Action == airspring.Cycle && j.HoseVolume > 0 {
			shown, err := airspring.HoseReading(j.PositiveVolume, j.HoseVolume, s.After)
			if err != nil {
				return answer{}, err
			}
			one.Connected = &shown
		}
		a.Steps = append(a.Steps, one)
	}
	return a, nil
}

func print(out *bytes.Buffer, j job, a answer) {
	program.Heading(out, "TOPPING UP", j.Note)
	fmt.Fprintln(out)
	program.Fold(out, "  ", fmt.Sprintf("Never fill above the marking on the part, %s here. Use a pump made for suspension with a gauge you trust, and wear eye protection. Let all air out before a chamber is opened. The maker's manual wins over every number.", j.MaxFill.Both()))
	fmt.Fprintf(out, "\n  from  %s", j.OldFill.Both())
	if j.OldFill == 0 {
		fmt.Fprint(out, ", just assembled, both chambers open to the air")
	}
	fmt.Fprintf(out, "\n  to    %s\n  Every reading is at full extension.\n\n", j.Fill.Both())
	n := 0
	line := func(format string, args ...any) {
		n++
		fmt.Fprintf(out, "%4d. %s\n", n, fmt.Sprintf(format, args...))
	}
	for _, s := range a.Steps {
		switch s.Do {
		case airspring.Pump:
			line("Pump up to %s.", s.After.Both())
		case airspring.Release:
			line("Let air out down to %s.", s.After.Both())
		case airspring.Cycle:
			line("Unscrew the pump and cycle slowly past the port, %.0f mm and more.", j.PortTravel.Millimetres())
			fmt.Fprintf(out, "      The chamber then holds %s.\n", s.After.Both())
			if s.Connected != nil {
				fmt.Fprintf(out, "      Screwed on, the pump shows %s: its hose takes a part.\n", s.Connected.Both())
			}
		}
	}
	last := a.Steps[len(a.Steps)-1].After
	rounds := "one round"
	if a.Cycles != 1 {
		rounds = fmt.Sprintf("%d rounds", a.Cycles)
	}
	fmt.Fprintln(out)
	program.Fold(out, "  ", fmt.Sprintf("Done after %s: it holds %s, within %s of what is wanted. A reading that does not come near these says that air is lost, or that the chambers are others than stated.", rounds, last.Both(), max(j.Fill-last, last-j.Fill).Both()))
}
