// Command peers measures the library against general-purpose programs in one
// run. It prints a table in Markdown: for each piece of work, how many times as
// long the other program takes, how often both evaluate the function that the
// work is about, and how far both answers are from the right one.
//
//	.ci/peers/run.sh
//
// installs what is needed and runs it. A general tool that is slower is not a
// worse one: libslvs builds its equations anew on every call and solves
// drawings of any kind, SciPy calls a function in Python. The numbers of
// evaluations compare methods, whatever a call costs.
package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"math"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"time"
)

//go:embed peers.py
var peersPy string

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("peers", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() {
		fmt.Fprint(stderr, `usage: peers

Measures the library against libslvs, SciPy and gonum in one run and prints
how many times as long each of them takes. .ci/peers/run.sh installs them
first.

example:
  .ci/peers/run.sh
`)
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		return 2
	}
	if flags.NArg() > 0 {
		flags.Usage()
		return 2
	}
	if err := compare(stdout, comparisons); err != nil {
		fmt.Fprintln(stderr, "peers:", err)
		return 1
	}
	return 0
}

// answer is what a program makes of a piece of work.
type answer struct {
	Values      []float64 `json:"values"`
	NS          float64   `json:"ns"`
	Evaluations int       `json:"evaluations"` // of the function; 0 where they are not known, or the work has none
}

// comparison is a piece of work as it was done by the library and by its peers.
type comparison struct {
	work   string
	want   []float64 // the right values, or the library's, which the peers' are held against
	within float64   // how far from these a value may be
	// search is set where a peer may end at another minimum. The value is then how much remains, and the
	// library's exceeds a peer's by no more than within.
	search bool

	ours  answer
	peers map[string]answer
}

// comparisons are all pieces of work, in the order of the table.
var comparisons = []func() (comparison, error){
	fourBarPoses, shortLinkPoses, tableLookups, splinesOfTables, fitsOfReadings, fitsOfChambers, travelsAtLoads, rides, steeperPivots, lowerPivots,
}

// compare makes comparisons and prints their lines.
func compare(w io.Writer, comparisons []func() (comparison, error)) error {
	fmt.Fprintln(w, "| work | against | times as long | evaluations, ours : theirs | error, ours : theirs |")
	fmt.Fprintln(w, "|---|---|--:|--:|--:|")
	for _, measure := range comparisons {
		c, err := measure()
		if err == nil {
			err = c.check()
		}
		if err != nil {
			return fmt.Errorf("%s: %w", c.work, err)
		}
		c.write(w)
	}
	return nil
}

// apart returns the greatest difference of an answer's values from those wanted, NaN if there are
// more or fewer of them.
func (c comparison) apart(a answer) float64 {
	if len(a.Values) != len(c.want) {
		return math.NaN()
	}
	worst := 0.0
	for i, v := range a.Values {
		worst = max(worst, math.Abs(v-c.want[i]))
	}
	return worst
}

// check returns an error if an answer is further from the right one than permitted.
func (c comparison) check() error {
	own := c.apart(c.ours)
	for name, a := range c.peers {
		theirs := c.apart(a)
		switch {
		case c.search && !(own <= theirs+c.within):
			return fmt.Errorf("%s ends at %v, and the library at %v", name, theirs, own)
		case !c.search && !(max(own, theirs) <= c.within):
			return fmt.Errorf("the library is off by %v and %s by %v, want at most %v", own, name, theirs, c.within)
		}
	}
	return nil
}

// write prints a line for each peer.
func (c comparison) write(w io.Writer) {
	evaluations := func(a answer) string {
		if a.Evaluations == 0 {
			return "–"
		}
		return strconv.Itoa(a.Evaluations)
	}
	off := func(a answer) string {
		if c.apart(a) == 0 {
			return "–"
		}
		return fmt.Sprintf("%.0e", c.apart(a))
	}
	for _, name := range slices.Sorted(maps.Keys(c.peers)) {
		a := c.peers[name]
		fmt.Fprintf(w, "| %s | %s | %s | %s : %s | %s : %s |\n",
			c.work, name, figures(a.NS/c.ours.NS), evaluations(c.ours), evaluations(a), off(c.ours), off(a))
	}
}

// figures prints a ratio with two figures, which is more than is repeatable.
func figures(v float64) string {
	if !(v >= 10) {
		return fmt.Sprintf("%.2g", v)
	}
	scale := math.Pow(10, math.Floor(math.Log10(v))-1)
	return fmt.Sprintf("%.0f", math.Round(v/scale)*scale)
}

// timed returns the answer of solve, its values and its evaluations, and the least time of seven
// batches of it, or of fewer once they have taken half a second.
func timed(solve func() ([]float64, int)) answer {
	best, batch := math.Inf(1), 1
	var a answer
	for begun, runs := time.Now(), 0; runs < 7 && (runs == 0 || time.Since(begun) < time.Second/2); runs++ {
		start := time.Now()
		for range batch {
			a.Values, a.Evaluations = solve()
		}
		took := float64(time.Since(start))
		best = min(best, took/float64(batch))
		batch = max(1, int(5e6/best))
	}
	a.NS = best
	return a
}

// askSciPy returns what SciPy's methods answer to a piece of work of peers.py.
func askSciPy(work string, data any) (map[string]answer, error) {
	question, err := json.Marshal(data)
	if err != nil {
		return nil, err
	}
	var out, complaint bytes.Buffer
	c := exec.Command("/usr/bin/python3", "-c", peersPy, work)
	c.Stdin, c.Stdout, c.Stderr = bytes.NewReader(question), &out, &complaint
	if err := c.Run(); err != nil {
		return nil, fmt.Errorf("SciPy: %w\n%s", err, complaint.String())
	}
	var answers map[string]answer
	if err := json.Unmarshal(out.Bytes(), &answers); err != nil {
		return nil, fmt.Errorf("SciPy: %w", err)
	}
	return answers, nil
}
