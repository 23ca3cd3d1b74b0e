// Command budgets measures what the library promises to cost and prints one
// table: for each piece of work its time and allocations, the budget, and the
// ratio to a cost that can't be avoided, measured beside it in the same run.
// With -batch the table is of many riders through one bike: whether the time is
// linear in them, what a second worker brings, and whether memory stays flat.
//
// Times differ between machines and moments; ratios of one run are what to
// compare. Nothing here is asserted: a missed budget is marked, not failed.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"time"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("budgets", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() {
		fmt.Fprint(stderr, `usage: budgets [flags]

Measures what the library promises to cost: time, allocations, the budget, and
the ratio to a cost that can't be avoided, from the same run.

  -time DURATION  how long to measure each piece of work; 200ms if not given
  -only TEXT      only work whose name contains this
  -batch          instead, many riders through one bike: the time of each, the
                  speed-up of two workers, the memory in use
  -riders N       the largest of three batches; 1000000 if not given

A job of one rider settles 12 springs at the middle and at both ends of the band
of friction and 7 fills at both ends, 50 times in all: that is what can't be
avoided, and nearly half of what a rider of a job takes. The rest of that is the
fills and their trials, the bike with nobody on it (6 times more), the least wheel
rate over the travel, the checks of each end, and 18 kB of answers. The job itself
is checked, and its curves and springs are made, in about as long as that settling.
A whole job adds the set-ups of 6 more riders, a third of a rider each for the
springs; what another value would change of what was taken for granted; and a look
at each value for being far from usual.

examples:
  go -C .ci run ./budgets -time 1s
  go -C .ci run ./budgets -batch
`)
	}
	each := flags.Duration("time", 200*time.Millisecond, "")
	only := flags.String("only", "", "")
	batch := flags.Bool("batch", false, "")
	most := flags.Int("riders", 1e6, "")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		return 2
	}
	if flags.NArg() > 0 || !(*each > 0) || *each > time.Minute || *most < 100 || *most > 1e8 {
		fmt.Fprintln(stderr, "budgets: want flags only, a time of more than 0 and at most 1m, from 100 to 100000000 riders")
		return 2
	}
	if *batch {
		if err := batches(*most, stdout, stderr); err != nil {
			fmt.Fprintln(stderr, "budgets:", err)
			return 1
		}
		return 0
	}
	works, err := works()
	if err != nil {
		fmt.Fprintln(stderr, "budgets:", err)
		return 1
	}
	fmt.Fprintf(stdout, layout, "work", "time", "allocs", "budget", "of it", "measured beside it")
	for _, w := range works {
		if !strings.Contains(w.name, *only) {
			continue
		}
		fmt.Fprintf(stderr, "measuring %s\n", w.name)
		fmt.Fprint(stdout, w.measure(*each).row())
	}
	return 0
}

// layout is that of a line of the table.
const layout = "%-33s %9s %7v %9s %7s  %s\n"

// work is one thing the library promises the cost of.
type work struct {
	name string
	do   func(n int) // n times
	// budget is an absolute one; ratio bounds the time over that of floor, the
	// cost that can't be avoided, done as often.
	budget    time.Duration
	ratio     float64
	floor     func(n int)
	floorName string
	allocs    int // most allocations; −1 where they are only reported
	// count counts something instead of taking its time, at most that many.
	count func() int
	most  int
}

// result is what came out.
type result struct {
	work
	time, floorTime float64 // ns
	got             int     // allocations
}

// measure runs the work and its floor by turns, so that both see the same
// machine, and keeps the least of each.
func (w work) measure(each time.Duration) result {
	r := result{work: w}
	if w.count != nil {
		r.time = float64(w.count())
		return r
	}
	r.got = int(testing.AllocsPerRun(20, func() { w.do(1) }))
	n := size(w.do, each/10)
	floors := 0
	if w.floor != nil {
		floors = size(w.floor, each/10)
	}
	for until := time.Now().Add(each); ; {
		r.time = least(r.time, per(w.do, n))
		if floors > 0 {
			r.floorTime = least(r.floorTime, per(w.floor, floors))
		}
		if time.Now().After(until) {
			return r
		}
	}
}

// size returns how often to do something so that it takes about so long.
func size(do func(int), about time.Duration) int {
	for n := 1; ; n *= 2 {
		start := time.Now()
		do(n)
		if took := time.Since(start); took >= about/2 || n > 1<<30 {
			return n
		}
	}
}

func per(do func(int), n int) float64 {
	start := time.Now()
	do(n)
	return float64(time.Since(start)) / float64(n)
}

func least(a, b float64) float64 {
	if a == 0 || b < a {
		return b
	}
	return a
}

// row prints a result: time, allocations, budget, the share of it used.
func (r result) row() string {
	if r.count != nil {
		return fmt.Sprintf(layout, r.name, fmt.Sprintf("%.0f", r.time), "–", fmt.Sprint(r.most), percent(r.time/float64(r.most)), "")
	}
	budget, share, beside := "–", "–", ""
	if r.floor != nil {
		beside = fmt.Sprintf("%.2f × %s", r.time/r.floorTime, r.floorName)
	}
	switch {
	case r.ratio > 0:
		budget, share = fmt.Sprintf("%.3g ×", r.ratio), percent(r.time/r.floorTime/r.ratio)
	case r.budget > 0:
		budget, share = r.budget.String(), percent(r.time/float64(r.budget))
	}
	if r.allocs >= 0 && r.got > r.allocs {
		beside += " (allocates)"
	}
	return fmt.Sprintf(layout, r.name, span(r.time), r.got, budget, share, beside)
}

// percent prints a share of a budget, and marks one that is exceeded.
func percent(share float64) string {
	if share > 1 {
		return fmt.Sprintf("!%.0f %%", 100*share)
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// span prints nanoseconds with three figures.
func span(ns float64) string {
	switch {
	case ns < 1e3:
		return fmt.Sprintf("%.3g ns", ns)
	case ns < 1e6:
		return fmt.Sprintf("%.3g µs", ns/1e3)
	}
	return fmt.Sprintf("%.3g ms", ns/1e6)
}
