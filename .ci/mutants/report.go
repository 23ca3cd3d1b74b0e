package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
)

// readKnown reads a list of known survivors: lines "key | reason". Empty lines
// and those that start with # are left out; a missing file is an empty list.
func readKnown(name string) (map[string]string, error) {
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	list := map[string]string{}
	in := bufio.NewScanner(f)
	for n := 1; in.Scan(); n++ {
		line := strings.TrimSpace(in.Text())
		if line == "" || line[0] == '#' {
			continue
		}
		i := strings.LastIndex(line, " | ")
		if i < 0 || strings.TrimSpace(line[i+3:]) == "" {
			return nil, fmt.Errorf("%s:%d: a survivor without a reason", name, n)
		}
		list[line[:i]] = line[i+3:]
	}
	return list, in.Err()
}

// print writes the counts by kind and the survivors, and returns the exit
// status.
func (r result) print(w io.Writer, known map[string]string) int {
	survives := map[int]bool{}
	for _, m := range r.survivors {
		survives[m.id] = true
	}
	fmt.Fprintf(w, "%-12s %8s %8s %8s\n", "kind", "mutants", "killed", "share")
	var all, dead int
	for _, kind := range []string{"arithmetic", "sign", "constant", "call", "bound", "condition", "logic", "statement"} {
		n, k := 0, 0
		for _, m := range r.mutants {
			if m.kind == kind {
				n++
				if !survives[m.id] {
					k++
				}
			}
		}
		if n > 0 {
			fmt.Fprintf(w, "%-12s %8d %8d %7.1f%%\n", kind, n, k, 100*float64(k)/float64(n))
		}
		all, dead = all+n, dead+k
	}
	if all == 0 {
		fmt.Fprintln(w, "nothing to change")
		return 0
	}
	share := float64(dead) / float64(all)
	fmt.Fprintf(w, "%-12s %8d %8d %7.1f%%\n", "all", all, dead, 100*share)
	for _, t := range r.unfit {
		fmt.Fprintln(w, "left out, fails or is too slow with the switches built in:", t)
	}

	status, unexplained := 0, 0
	found := map[string]bool{}
	for _, m := range r.survivors {
		found[m.key()] = true
		if known[m.key()] != "" {
			continue
		}
		note := ""
		if r.unmet[m.id] {
			note = " (no test comes across it)"
		}
		if unexplained == 0 {
			fmt.Fprintln(w, "\nsurvivors without a reason:")
		}
		unexplained++
		fmt.Fprintf(w, "%s:%d: %s%s\n", m.file, m.line, m.key(), note)
	}
	for key := range known {
		if r.whole && !found[key] {
			fmt.Fprintf(w, "listed as a survivor but killed or gone: %s\n", key)
			status = 1
		}
	}
	if unexplained > 0 || share < 0.9 {
		status = 1
	}
	fmt.Fprintf(w, "\n%d survive, %d of them with a stated reason\n", len(r.survivors), len(r.survivors)-unexplained)
	return status
}
