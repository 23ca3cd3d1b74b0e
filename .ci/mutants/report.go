package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
)

// enough is the share of a package's mutants that its tests must kill.
const enough = 0.9

// A score is the result of the last run over a whole package.
type score struct {
	Mutants int `json:"mutants"`
	Killed  int `json:"killed"`
	// Reasons says of a function why its survivors stay: they can't be told from
	// the right program, or only by what nobody relies on. It may be empty.
	Reasons map[string]string `json:"reasons,omitempty"`
}

func (s score) share() float64 { return float64(s.Killed) / float64(s.Mutants) }

// scores has a score for each package, by its path below the module's.
type scores map[string]score

// readScores reads scores. A missing file has none.
func readScores(name string) (scores, error) {
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return scores{}, nil
	}
	if err != nil {
		return nil, err
	}
	var s scores
	in := json.NewDecoder(bytes.NewReader(text))
	in.DisallowUnknownFields()
	if err := in.Decode(&s); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	for pkg, one := range s {
		for function, reason := range one.Reasons {
			if strings.TrimSpace(reason) == "" {
				return nil, fmt.Errorf("%s: %s: %s has no reason", name, pkg, function)
			}
		}
	}
	return s, nil
}

func (s scores) write(name string) error {
	var text bytes.Buffer
	out := json.NewEncoder(&text)
	out.SetEscapeHTML(false)
	out.SetIndent("", "  ")
	if err := out.Encode(s); err != nil {
		return err
	}
	return os.WriteFile(name, text.Bytes(), 0o644)
}

// score is the result's, with the reasons of an earlier one.
func (r result) score(before score) score {
	return score{Mutants: len(r.mutants), Killed: len(r.mutants) - len(r.survivors), Reasons: before.Reasons}
}

// print writes the counts by kind and the survivors by function, beside the
// score of the last run.
func (r result) print(w io.Writer, before score) {
	if len(r.mutants) == 0 {
		fmt.Fprintln(w, "nothing to change")
		return
	}
	fmt.Fprintf(w, "%-12s %8s %8s %8s\n", "kind", "mutants", "killed", "share")
	row := func(name string, s score) {
		fmt.Fprintf(w, "%-12s %8d %8d %7.1f%%\n", name, s.Mutants, s.Killed, 100*s.share())
	}
	for _, kind := range []string{"arithmetic", "sign", "constant", "call", "bound", "condition", "logic", "statement"} {
		of := func(m mutant) bool { return m.kind == kind }
		if n := count(r.mutants, of); n > 0 {
			row(kind, score{Mutants: n, Killed: n - count(r.survivors, of)})
		}
	}
	row("all", r.score(before))
	if before.Mutants > 0 {
		row("all, before", before)
	}
	for _, t := range r.unfit {
		fmt.Fprintln(w, "left out, fails or is too slow with the switches built in:", t)
	}
	var functions []string // in the order of the source
	for _, m := range r.survivors {
		if !slices.Contains(functions, m.in) {
			functions = append(functions, m.in)
		}
	}
	for _, f := range functions {
		in := func(m mutant) bool { return m.in == f }
		fmt.Fprintf(w, "\n%s: %d of %d survive", f, count(r.survivors, in), count(r.mutants, in))
		if reason := before.Reasons[f]; reason != "" {
			fmt.Fprintf(w, " (%s)", reason)
		}
		fmt.Fprintln(w)
		for _, m := range r.survivors {
			if !in(m) {
				continue
			}
			note := ""
			if r.unmet[m.id] {
				note = " (no test executes it)"
			}
			fmt.Fprintf(w, "  %s:%d: %s → %s%s\n", m.file, m.line, m.was, m.is, note)
		}
	}
	for f := range before.Reasons {
		if r.whole && !slices.Contains(functions, f) {
			fmt.Fprintf(w, "\na reason is given for %s, which has no survivor\n", f)
		}
	}
}

func count(list []mutant, which func(mutant) bool) int {
	n := 0
	for _, m := range list {
		if which(m) {
			n++
		}
	}
	return n
}
