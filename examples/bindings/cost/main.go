//go:build unix

// Cost measures what a call of the library costs from another language, as a ratio to the call in Go:
//
//	go -C examples run ./bindings/cost "NAME=COMMAND" …
//
// A command starts a program that replies to a line {"question": {…}, "calls": n} by {"seconds": …}, the
// processor time that so many calls took. All take their turns in one run, and the median of the ratios is
// printed.
package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"os/exec"
	"slices"
	"strings"
	"syscall"
	"time"

	"example.com/wheelrate/examples/bindings/door"
	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/sag/setup"
)

const (
	rounds = 11
	warmUp = time.Second          // of each, since a host compiles WebAssembly while it runs
	batch  = 8 * time.Millisecond // of the calls in Go
)

// question is what all are asked, and the call in Go that answers it.
type question struct {
	name, text string
	call       func() error
}

// caller asks a question so often, and returns the processor time in seconds.
type caller struct {
	name    string
	seconds func(q question, calls int) (float64, error)
}

func main() {
	log.SetFlags(0)
	log.SetPrefix("cost: ")
	if err := run(os.Args[1:], os.Stdout); err != nil {
		log.Fatal(err)
	}
}

func run(commands []string, out io.Writer) error {
	all, err := questions()
	if err != nil {
		return err
	}
	callers := []caller{
		{"in Go", func(q question, n int) (float64, error) { return timed(n, q.call) }},
		{"JSON in Go", func(q question, n int) (float64, error) {
			return timed(n, func() error { door.Answer([]byte(q.text)); return nil })
		}},
	}
	for _, c := range commands {
		name, command, ok := strings.Cut(c, "=")
		if !ok {
			return fmt.Errorf("%q is not NAME=COMMAND", c)
		}
		p, err := start(command)
		if err != nil {
			return err
		}
		defer p.end()
		callers = append(callers, caller{name, p.seconds})
	}
	fmt.Fprintf(out, "cost of a call, in calls in Go%*s", 12, "")
	for _, c := range callers[1:] {
		fmt.Fprintf(out, "  %s", c.name)
	}
	fmt.Fprintln(out)
	for _, q := range all {
		ratios, err := compare(q, callers)
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "%-42s", q.name)
		for i, r := range ratios[1:] {
			fmt.Fprintf(out, "  %*.2f", len(callers[i+1].name), r)
		}
		fmt.Fprintln(out)
	}
	return nil
}

// questions are the least computation, one of middle size, and a job.
func questions() (list []question, err error) {
	wanted := []string{"units.convert", "linkage.wheel"}
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		if err != nil {
			return nil, err
		}
		i := slices.Index(wanted, c.Computes)
		if i < 0 || len(c.Error) > 0 {
			continue
		}
		wanted[i] = ""
		text, err := json.Marshal(map[string]any{"computation": c.Computes, "given": c.Given})
		if err != nil {
			return nil, err
		}
		list = append(list, question{c.Computes + ", case " + c.ID, string(text), func() error {
			_, err := evaluate.Compute(c)
			return err
		}})
	}
	slices.SortFunc(list, func(a, b question) int { return len(a.text) - len(b.text) })
	text, err := os.ReadFile("setup/demo/job.json")
	if err != nil {
		return nil, fmt.Errorf("%w; it is started in the directory examples", err)
	}
	job, err := setup.ReadJob(bytes.NewReader(text))
	return append(list, question{"the job of the demonstration", `{"job":` + string(text) + `}`, func() error {
		_, err := setup.NewSheet(job)
		return err
	}}), err
}

// compare returns the medians of what each caller takes, over what the first takes in the same round.
func compare(q question, callers []caller) ([]float64, error) {
	calls := 1
	for i, c := range callers {
		for used := 0.0; used < warmUp.Seconds(); {
			took, err := c.seconds(q, calls)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", c.name, err)
			}
			if used += took; i == 0 && took < batch.Seconds() {
				calls *= 2
			}
		}
	}
	ratios := make([][]float64, len(callers))
	for range rounds {
		first := 0.0
		for i, c := range callers {
			took, err := c.seconds(q, calls)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", c.name, err)
			}
			if i == 0 {
				first = took
			}
			ratios[i] = append(ratios[i], took/first)
		}
	}
	medians := make([]float64, len(callers))
	for i, list := range ratios {
		slices.Sort(list)
		medians[i] = list[len(list)/2]
	}
	return medians, nil
}

func timed(calls int, call func() error) (float64, error) {
	began, err := processorTime()
	for range calls {
		err = errors.Join(err, call())
	}
	ended, late := processorTime()
	return (ended - began).Seconds(), errors.Join(err, late)
}

// processorTime returns what this process has used.
func processorTime() (time.Duration, error) {
	var used syscall.Rusage
	err := syscall.Getrusage(syscall.RUSAGE_SELF, &used)
	return time.Duration(used.Utime.Nano() + used.Stime.Nano()), err
}

// program is a program that measures itself.
type program struct {
	cmd *exec.Cmd
	in  io.WriteCloser
	out *bufio.Reader
}

func start(command string) (*program, error) {
	words := strings.Fields(command)
	if len(words) == 0 {
		return nil, fmt.Errorf("no command")
	}
	cmd := exec.Command(words[0], words[1:]...)
	cmd.Stderr = os.Stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	return &program{cmd, in, bufio.NewReader(out)}, cmd.Start()
}

func (p *program) seconds(q question, calls int) (float64, error) {
	line, err := json.Marshal(map[string]any{"question": json.RawMessage(q.text), "calls": calls})
	if err != nil {
		return 0, err
	}
	if _, err := p.in.Write(append(line, '\n')); err != nil {
		return 0, err
	}
	reply, err := p.out.ReadBytes('\n')
	if err != nil {
		return 0, err
	}
	var took struct{ Seconds float64 }
	if err := json.Unmarshal(reply, &took); err != nil || !(took.Seconds > 0) {
		return 0, fmt.Errorf("the reply is %.200q", reply)
	}
	return took.Seconds, nil
}

func (p *program) end() {
	_ = p.in.Close() // it ends then
	_ = p.cmd.Wait() // and its status tells nothing more
}
