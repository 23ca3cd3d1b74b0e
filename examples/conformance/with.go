package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

// protocol is the name and version of the protocol that the description has.
const protocol = "wheelrate/protocol/1"

// mostRestarts is how often a program is started again after a fault.
const mostRestarts = 10

// partner is a program that is asked over its standard input and output.
type partner struct {
	command  []string
	limit    time.Duration // of an answer
	restarts int
	started  string // its own name
	errs     *tail

	// Of the running program; cmd is nil where none runs.
	cmd   *exec.Cmd
	in    io.WriteCloser
	out   *bufio.Reader
	late  *atomic.Bool // ended for the time limit
	hello hello
}

// hello is what both say first.
type hello struct {
	Hello    string   `json:"hello"`
	Dataset  string   `json:"dataset,omitempty"`  // of the judge
	Program  string   `json:"program,omitempty"`  // of the program, as the rest
	Form     string   `json:"form,omitempty"`     // text or si
	Computes []string `json:"computes,omitempty"` // nil for all
}

// startPartner starts a program. A command is split at white space; no shell reads it.
func startPartner(command string, limit time.Duration) (*partner, error) {
	p := &partner{command: strings.Fields(command), limit: limit}
	if len(p.command) == 0 {
		return nil, errors.New("-with wants a command")
	}
	var err error
	if p.errs, err = newTail(); err != nil {
		return nil, err
	}
	if err := p.start(); err != nil {
		p.errs.remove()
		return nil, err
	}
	p.started = p.hello.Program
	return p, nil
}

func (p *partner) name() string { return p.started }

// start starts the program and exchanges hellos.
func (p *partner) start() error {
	cmd := exec.Command(p.command[0], p.command[1:]...)
	cmd.WaitDelay = time.Second // for what the program started itself
	in, err := cmd.StdinPipe()
	if err != nil {
		return err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	p.errs.reset()
	cmd.Stderr = p.errs.f
	if err := cmd.Start(); err != nil {
		return err
	}
	p.cmd, p.in, p.out, p.late = cmd, in, bufio.NewReader(out), new(atomic.Bool)
	p.hello = hello{}
	err = p.exchange(hello{Hello: protocol, Dataset: refdata.Version()}, &p.hello)
	switch {
	case err != nil:
	case p.hello.Hello != protocol:
		err = fmt.Errorf("it says hello by %q, want %q", p.hello.Hello, protocol)
	case !slices.Contains([]string{"", "text", "si"}, p.hello.Form):
		err = fmt.Errorf("it wants the form %q, want text or si", p.hello.Form)
	}
	if err != nil {
		err = fmt.Errorf("%s: %w%s", p.command[0], err, p.errs.shown())
		p.kill()
	}
	return err
}

// exchange writes a line and reads one, within the time limit.
func (p *partner) exchange(say, hear any) error {
	line, err := json.Marshal(say)
	if err != nil {
		return err
	}
	late, process := p.late, p.cmd.Process
	timer := time.AfterFunc(p.limit, func() {
		late.Store(true)
		_ = process.Kill() // what is not running any more need not end
	})
	defer timer.Stop()
	_, err = p.in.Write(append(line, '\n'))
	var text []byte
	if err == nil {
		text, err = readLine(p.out)
	}
	switch {
	case late.Load():
		return fmt.Errorf("no answer within %v", p.limit)
	case err != nil:
		return fmt.Errorf("the program ended or closed its output: %w", err)
	}
	if err := json.Unmarshal(text, hear); err != nil {
		return fmt.Errorf("%w in the line %.200q", err, text)
	}
	return nil
}

// readLine reads a line of at most [refdata.FileLimit] bytes.
func readLine(r *bufio.Reader) (line []byte, err error) {
	for {
		part, more, err := r.ReadLine()
		line = append(line, part...)
		switch {
		case err != nil:
			return nil, err
		case len(line) > refdata.FileLimit:
			return nil, errors.New("the line is too long")
		case !more:
			return line, nil
		}
	}
}

// judge asks the program. After a fault it is started again for the next case.
func (p *partner) judge(c refdata.Case) (evaluate.Judgement, bool) {
	a, err := p.ask(c)
	if err != nil {
		return evaluate.Judgement{Case: c, Problem: err.Error() + p.stop()}, true
	}
	o, attempted := a.judge(c)
	if attempted && !o.Pass() {
		o.Problem += p.errs.shown()
	}
	return o, attempted
}

// ask returns the checked answer of the program to a case.
func (p *partner) ask(c refdata.Case) (a answer, err error) {
	if p.cmd == nil {
		if p.restarts++; p.restarts > mostRestarts {
			return a, fmt.Errorf("the program was started again %d times and is not any more", mostRestarts)
		}
		if err := p.start(); err != nil {
			return a, err
		}
	}
	if p.hello.Computes != nil && !slices.Contains(p.hello.Computes, c.Computes) {
		return answer{ID: c.ID, Skip: []byte("true")}, nil
	}
	p.errs.reset()
	question := struct {
		ID       string `json:"id"`
		Computes string `json:"computes"`
		Given    any    `json:"given"`
	}{c.ID, c.Computes, c.Given}
	if p.hello.Form == "si" {
		if question.Given, err = plainGiven(c); err != nil {
			return a, err
		}
	}
	if err := p.exchange(question, &a); err != nil {
		return a, err
	}
	if a.ID != c.ID {
		return a, fmt.Errorf("the answer is to the case %.64q", a.ID)
	}
	return a, a.check()
}

// stop ends the program and returns what it wrote to standard error last.
func (p *partner) stop() string {
	if p.cmd == nil {
		return ""
	}
	p.kill()
	return p.errs.shown()
}

func (p *partner) kill() {
	_ = p.cmd.Process.Kill() // it may have ended
	_ = p.cmd.Wait()         // and its status tells nothing more
	p.cmd = nil
}

// end closes the input of the program, which ends then.
func (p *partner) end() error {
	defer p.errs.remove()
	if p.cmd == nil {
		return nil
	}
	process := p.cmd.Process
	timer := time.AfterFunc(p.limit, func() { _ = process.Kill() })
	defer timer.Stop()
	_ = p.in.Close()
	_, _ = io.Copy(io.Discard, p.out)
	err := p.cmd.Wait()
	p.cmd = nil
	if err != nil {
		return fmt.Errorf("%s: after the last case: %w%s", p.command[0], err, p.errs.shown())
	}
	return nil
}

// tail is the standard error of a program, in a temporary file: all that it wrote
// before a line of its output is there when that line is read.
type tail struct{ f *os.File }

const longestTail = 2000 // bytes

func newTail() (*tail, error) {
	f, err := os.CreateTemp("", "conformance-*.txt")
	if err != nil {
		return nil, err
	}
	name := f.Name()
	if err := f.Close(); err != nil {
		return nil, err
	}
	f, err = os.OpenFile(name, os.O_RDWR|os.O_APPEND, 0) // so that it can be emptied
	return &tail{f}, err
}

func (t *tail) reset() { _ = t.f.Truncate(0) } // or more than is new is shown

// shown returns the last of the text under a heading, and nothing for an empty text.
func (t *tail) shown() string {
	text, _ := io.ReadAll(io.NewSectionReader(t.f, 0, math.MaxInt64)) // or nothing is shown
	text = bytes.TrimSpace(text[max(0, len(text)-longestTail):])
	if len(text) == 0 {
		return ""
	}
	return "\nit wrote to standard error:\n" + strings.ToValidUTF8(string(text), "\ufffd")
}

func (t *tail) remove() { _ = errors.Join(t.f.Close(), os.Remove(t.f.Name())) } // in the system's own directory for such
