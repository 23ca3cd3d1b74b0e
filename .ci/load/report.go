package main

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// report is what came of a run.
type report struct {
	lasts   time.Duration
	clients int
	shown   int // so many faults are printed in full; all are counted
	mu      sync.Mutex
	lines   []tally // by kind
	faults  []string
	checks  []check
}

type tally struct {
	by      [outcomes]int
	slowest time.Duration
}

type check struct {
	what  string
	holds bool
	note  string
}

func (r *report) count(kind int, got outcome, err error, took time.Duration) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if err != nil {
		got = wrong
		if len(r.faults) < r.shown {
			r.faults = append(r.faults, kinds[kind].name+": "+err.Error())
		}
	}
	r.lines[kind].by[got]++
	r.lines[kind].slowest = max(r.lines[kind].slowest, took)
}

func (r *report) check(what string, holds bool, note string) {
	r.checks = append(r.checks, check{what, holds, note})
}

// sound reports whether every answer was right, some were given, and every check held.
func (r *report) sound() bool {
	for _, c := range r.checks {
		if !c.holds {
			return false
		}
	}
	all := r.sum()
	return all.by[wrong] == 0 && all.by[right] > 0
}

func (r *report) sum() (all tally) {
	for _, l := range r.lines {
		for i, n := range l.by {
			all.by[i] += n
		}
		all.slowest = max(all.slowest, l.slowest)
	}
	return all
}

func (r *report) write(w io.Writer) {
	fmt.Fprintf(w, "%d clients for %v\n\n", r.clients, r.lasts)
	fmt.Fprintf(w, "%-28s %8s %8s %8s %8s %8s %10s\n", "", "sent", "right", "busy", "cut", "wrong", "slowest")
	row := func(name string, t tally) {
		sent := 0
		for _, n := range t.by {
			sent += n
		}
		fmt.Fprintf(w, "%-28s %8d %8d %8d %8d %8d %10v\n", name, sent, t.by[right], t.by[busy], t.by[cut], t.by[wrong], t.slowest.Round(100*time.Microsecond))
	}
	for i, l := range r.lines {
		row(kinds[i].name, l)
	}
	row("all", r.sum())
	fmt.Fprintln(w)
	for _, c := range r.checks {
		verdict := "ok"
		if !c.holds {
			verdict = "FAULT"
		}
		fmt.Fprintf(w, "%-6s %s", verdict, c.what)
		if c.note != "" {
			fmt.Fprintf(w, " (%s)", c.note)
		}
		fmt.Fprintln(w)
	}
	for _, f := range r.faults {
		fmt.Fprintf(w, "FAULT  %s\n", f)
	}
}
