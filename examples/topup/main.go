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
	"math"
	"os"
	"strings"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/units"
)

//go:embed demo/job.json
var demo []byte

const usage = `usage: topup [-job FILE] [-json] [-explain] [-example]

Prints the steps that bring an air spring with a negative chamber to a fill:
what the gauge should show before and after each, and where the spring then
stands. With no job it runs a demonstration with invented numbers.

  -job FILE   read the job from FILE; "-" reads standard input
  -json       print the answer as JSON
  -explain    also show the working: formulas, sources, the numbers put in
  -example    print the demonstration's job, to copy and change

example:
  go -C examples run ./topup -job "$PWD/my-fork.json"

The exit status is 0 for an answer, 2 for a job or a call with a fault, 1 where
something can't be written.
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
	Cycles   int                 `json:"cycles"`
	PullIn   units.Length        `json:"pull_in,omitempty"` // the stroke that lets no more air out at a time; 0 where none is let out
	Extended units.GaugePressure `json:"extended"`          // what the gauge shows at the end, at full extension
	Steps    []step              `json:"steps"`
}

// step is one step and what the gauge shows. Connected is what it shows once
// the pump is screwed on again, where the hose's volume is known.
type step struct {
	Do        airspring.TopUpAction `json:"do"`
	Text      string                `json:"text"`
	Before    units.GaugePressure   `json:"before"`
	After     units.GaugePressure   `json:"after"`
	Stands    units.Length          `json:"stands"`
	Connected *units.GaugePressure  `json:"connected,omitempty"`
}

func main() { os.Exit(newTopup().Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

func newTopup() program.Main {
	explain := false
	return program.Main{
		Name: "topup", Usage: usage, Demo: demo, Job: func() any { return new(job) },
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
		c.Fail("fill", j.Fill, units.AtMost(j.MaxFill).Of("max_fill").With("the marking"), units.ErrConflict)
	}
	units.NonNegative(&c, "hose_volume", j.HoseVolume)
	if err := c.Err(); err != nil {
		return answer{}, err
	}
	a := answer{Cycles: plan.Cycles, PullIn: plan.PullIn, Extended: plan.Reading[plan.Cycles-1]}
	for _, s := range plan.Steps {
		one := step{Do: s.Action, Text: s.Text, Before: s.Before, After: s.After, Stands: s.Stands}
		if s.Action == airspring.Cycle && j.HoseVolume > 0 {
			chamber := j.PositiveVolume - units.Volume(math.Pi/4*float64(j.Bore*j.Bore*s.Stands))
			shown, err := airspring.HoseReading(chamber, j.HoseVolume, s.After)
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
	fmt.Fprintf(out, "\n  to    %s\n\n", j.Fill.Both())
	if a.PullIn == 0 {
		program.Fold(out, "  ", "Every reading is at full extension: pull the spring out where it does not stand there.")
	} else {
		program.Fold(out, "  ", fmt.Sprintf("Both are readings at full extension. The negative chamber is still full and pulls the spring in, so read the gauge where it stands with no load on it. Let no more out at a time: pulled in past the port at %s, it would stay down.", j.PortTravel.Both().Metric))
	}
	fmt.Fprintln(out)
	for i, s := range a.Steps {
		text, to := strings.ToUpper(s.Text[:1])+s.Text[1:], " to "
		if s.Do == airspring.Release {
			to = ", down to "
		}
		if s.Do != airspring.Cycle {
			text += to + s.After.Both().String()
		}
		var item bytes.Buffer
		program.Fold(&item, "      ", text+".")
		if s.Do == airspring.Cycle {
			program.Fold(&item, "      ", "The chamber then holds "+s.After.Both().String()+".")
		}
		if a.PullIn > 0 {
			program.Fold(&item, "      ", "The spring stands "+stands(s)+".")
		}
		if s.Connected != nil {
			program.Fold(&item, "      ", fmt.Sprintf("Screwed on, the pump shows %s: its hose takes a part.", s.Connected.Both()))
		}
		fmt.Fprintf(out, "%4d. %s", i+1, item.String()[6:])
	}
	last := a.Steps[len(a.Steps)-1]
	rounds := "one round"
	if a.Cycles != 1 {
		rounds = fmt.Sprintf("%d rounds", a.Cycles)
	}
	holds := a.Extended.Both().String()
	if last.Stands > 0 {
		holds = fmt.Sprintf("%s where it stands, and %s pulled out to full extension", last.After.Both(), holds)
	}
	fmt.Fprintln(out)
	program.Fold(out, "  ", fmt.Sprintf("Done after %s: it holds %s, within %s of what is wanted. A reading that does not come near these says that air is lost, or that the chambers are others than stated.", rounds, holds, max(j.Fill-a.Extended, a.Extended-j.Fill).Both()))
}

// stands says where a spring stands after a step.
func stands(s step) string {
	if s.Stands == 0 {
		return "at full extension"
	}
	return s.Stands.Both().Metric + " in"
}
