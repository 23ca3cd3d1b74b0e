package main

import (
	"bufio"
	"cmp"
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"
)

//go:embed bend.go.txt
var bendSwitch string

// bends is a run in which formulas are bent by 1 %, one at a time, and a
// program judges the library.
type bends struct {
	root, judge string // folders of the module and of the program
	most        int    // how many formulas
	seed        uint64
	reasons     bendReasons
	workers     int
}

// bendReasons says of formulas why no answer can depend on them, by package and then
// by a regular expression that matches the whole of "function: formula".
type bendReasons map[string]map[string]string

// of returns whether there is a reason for a formula, and notes that it is used.
func (r bendReasons) of(m formula, used map[string]bool) bool {
	for expr := range r[m.pkg] {
		if regexp.MustCompile("^(?:" + expr + ")$").MatchString(m.in + ": " + m.was) {
			used[m.pkg+": "+expr] = true
			return true
		}
	}
	return false
}

// A formula is one that can be bent.
type formula struct {
	mutant
	pkg string
}

// apart are the packages whose formulas are no part of an answer: the data and
// their reading, and the root finder, which finds a root by any steps.
var apart = regexp.MustCompile(`/(refdata|refdata/evaluate|units/strictjson|spring/root)$`)

// run prints the formulas that the program takes for right, and returns how many.
// Where no package is named, those are bent that the dataset's evaluator needs.
func (b bends) run(named []string, stdout io.Writer) (int, error) {
	work, err := os.MkdirTemp("", "bends")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(work)
	pkgs := named
	if len(pkgs) == 0 {
		if pkgs, err = b.answering(); err != nil {
			return 0, err
		}
	}
	all, program, err := b.build(pkgs, work)
	if err != nil {
		return 0, err
	}
	total, used := len(all), map[string]bool{}
	all = slices.DeleteFunc(all, func(m formula) bool { return b.reasons.of(m, used) })
	for pkg, of := range b.reasons {
		for expr := range of {
			if !used[pkg+": "+expr] && len(named) == 0 {
				fmt.Fprintf(stdout, "%s: %s: a reason is given, and no formula matches it\n", pkg, expr)
			}
		}
	}
	executed, err := b.executed(program)
	if err != nil {
		return 0, err
	}
	picked := b.pick(all)
	noticed := 0
	var mu sync.Mutex
	each(len(picked), b.workers, func(i int) {
		m := picked[i]
		ok := executed[m.id] && notices(program, m.id)
		mu.Lock()
		defer mu.Unlock()
		if ok {
			noticed++
			return
		}
		note := ""
		if !executed[m.id] {
			note = " (no case executes it)"
		}
		fmt.Fprintf(stdout, "%s/%s:%d: %s: %s%s\n", m.pkg, m.file, m.line, m.in, m.was, note)
	})
	_, err = fmt.Fprintf(stdout, "%d of %d bent formulas are noticed, picked from %d in %d packages; %d more are listed with a reason\n",
		noticed, len(picked), len(all), len(pkgs), total-len(all))
	return len(picked) - noticed, err
}

// answering lists the packages that the evaluator of the dataset needs.
func (b bends) answering() (pkgs []string, err error) {
	own, err := goList(b.root, "./...")
	if err != nil {
		return nil, err
	}
	needed, err := goList(b.root, "-deps", "./refdata/evaluate")
	for _, p := range needed {
		if slices.ContainsFunc(own, func(o listed) bool { return o.Dir == p.Dir }) && !apart.MatchString(p.ImportPath) {
			pkgs = append(pkgs, p.ImportPath)
		}
	}
	return pkgs, err
}

// build builds the program with a switch at each formula.
func (b bends) build(pkgs []string, work string) (all []formula, program string, err error) {
	list, err := read(b.root, pkgs...)
	if err != nil {
		return nil, "", err
	}
	root, err := filepath.Abs(b.root)
	if err != nil {
		return nil, "", err
	}
	o := overlay{map[string]string{}, work}
	var mutants []mutant
	for _, p := range list {
		dir, err := filepath.Rel(root, p.Dir)
		if err != nil {
			return nil, "", err
		}
		for i, name := range p.GoFiles {
			if generated(p.sources[name]) {
				continue
			}
			f := p.finder(i, &mutants)
			f.formulas()
			if err := o.put(filepath.Join(p.Dir, name), apply(f.src, f.edits)); err != nil {
				return nil, "", err
			}
		}
		for _, m := range mutants[len(all):] {
			all = append(all, formula{m, filepath.ToSlash(dir)})
		}
		text := strings.ReplaceAll(bendSwitch, "PACKAGE", p.Name)
		if err := o.put(filepath.Join(p.Dir, "mutants_bend.go"), []byte(text)); err != nil {
			return nil, "", err
		}
	}
	name, err := o.write()
	if err != nil {
		return nil, "", err
	}
	program = filepath.Join(work, "judge")
	cmd := exec.Command("go", "build", "-overlay", name, "-o", program, ".")
	cmd.Dir = b.judge
	if out, err := cmd.CombinedOutput(); err != nil {
		return nil, "", fmt.Errorf("go build: %w\n%s", err, out)
	}
	return all, program, nil
}

// executed returns the formulas that the program evaluates. Nothing is bent, and it
// must be content.
func (b bends) executed(program string) (map[int]bool, error) {
	cmd := exec.Command(program)
	cmd.Env = append(os.Environ(), "MUTANTS_ON=-1")
	var said strings.Builder
	cmd.Stderr = &said
	if out, err := cmd.Output(); err != nil {
		return nil, fmt.Errorf("nothing is bent, and %s fails: %w\n%s", b.judge, err, out)
	}
	ids := map[int]bool{}
	for line := range strings.Lines(said.String()) {
		var id int
		if _, err := fmt.Sscanf(line, "bend %d", &id); err == nil {
			ids[id] = true
		}
	}
	return ids, nil
}

// notices reports whether the program fails, says FAIL of a case, or does not end with
// a formula bent.
func notices(program string, id int) bool {
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	cmd := exec.CommandContext(ctx, program)
	cmd.Env = append(os.Environ(), "GOMAXPROCS=1", fmt.Sprintf("MUTANTS_ON=%d", id))
	out, err := cmd.StdoutPipe()
	if err != nil || cmd.Start() != nil {
		return false
	}
	failed := false
	for lines := bufio.NewScanner(out); !failed && lines.Scan(); {
		failed = strings.HasPrefix(lines.Text(), "FAIL ")
	}
	if failed {
		stop()
	}
	return cmd.Wait() != nil || failed
}

// pick chooses formulas: of each package as many as its share of them all, at least
// one, and of a package those whose hash with the seed is least. Which they are
// depends on their text and function, not on the lines before them.
func (b bends) pick(all []formula) (picked []formula) {
	of := map[string][]formula{}
	for _, m := range all {
		of[m.pkg] = append(of[m.pkg], m)
	}
	hash := func(m formula) uint64 {
		h := fnv.New64a()
		fmt.Fprintf(h, "%d: %s: %s: %s", b.seed, m.pkg, m.in, m.was)
		return h.Sum64()
	}
	left, pool := min(b.most, len(all)), len(all)
	for i, pkg := range byCount(of) {
		list := of[pkg]
		slices.SortStableFunc(list, func(a, b formula) int { return cmp.Compare(hash(a), hash(b)) })
		n := min(len(list), max((left*len(list)+pool/2)/pool, 1), left)
		if i == len(of)-1 {
			n = min(left, len(list))
		}
		picked, left, pool = append(picked, list[:n]...), left-n, pool-len(list)
	}
	slices.SortFunc(picked, func(a, b formula) int { return a.id - b.id })
	return picked
}

// byCount lists the packages, those of the fewest formulas first.
func byCount(of map[string][]formula) (pkgs []string) {
	for pkg := range of {
		pkgs = append(pkgs, pkg)
	}
	slices.SortFunc(pkgs, func(a, b string) int { return cmp.Or(len(of[a])-len(of[b]), strings.Compare(a, b)) })
	return pkgs
}

// readBendReasons reads reasons, of which none may be empty.
func readBendReasons(name string) (r bendReasons, err error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(text, &r); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	for pkg, of := range r {
		for formula, reason := range of {
			if strings.TrimSpace(reason) == "" {
				return nil, fmt.Errorf("%s: %s: %s has no reason", name, pkg, formula)
			}
		}
	}
	return r, nil
}
