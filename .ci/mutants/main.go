// Command mutants puts small faults into a package of the library, one at a
// time, and lists those that no test notices.
//
//	go -C .ci run ./mutants spring
//	go -C .ci run ./mutants -files law.go,series.go spring
//	go -C .ci run ./mutants -write spring/coil
//	go -C .ci run ./mutants -bend 100
//
// All faults of a package are built into one test program, each behind a
// switch, so that nothing is compiled again from one to the next, and each is
// run only against the tests that execute it: those of the package itself and
// those of the packages named with -also. Files of the library are not touched.
// A full run takes a long time, and is no part of the usual check.
//
// What is changed: + and −, × and ÷; < and ≤ (kind "bound"); a comparison or a
// condition into its opposite; && and ||; a sign; a constant by half (an
// integer by one), but for floats below 1e-6, which are tolerances; min and
// max; a call of a one-argument function of math into its argument; and a
// statement that assigns or calls is left out. Generated files, text formats
// and the sizes given to make are left alone.
//
// Survivors are printed by function. The exit status is 1 if fewer than nine of
// ten mutants are killed. The score of each package's last full run is kept in
// scores.json, which -write renews; a function whose survivors can't be told from
// the right program may have a reason there, a line at most.
//
// With -bend so many formulas are multiplied by 1.01 instead, one at a time, and the
// program that runs the check cases judges: what is it that the dataset does not
// notice? A formula is arithmetic or a function of package math whose float64 is
// returned, assigned, appended or put into a literal, in the packages that the
// evaluator of the dataset needs, or in those named. Left out are checks, what
// returns texts alone, the reading of data, the root finder, and the formulas that
// bends.json lists with the reason why no answer depends on 1 % of them. Of each
// package as many are picked as its share of all formulas, at least one: those
// whose hash with -seed is least. Each that passes unnoticed is printed, and the exit
// status is then 1.
package main

import (
	"cmp"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("mutants", flag.ContinueOnError)
	flags.SetOutput(stderr)
	root := flags.String("root", "..", "the folder of the module")
	also := flags.String("also", "", "other packages whose tests count, as ./refdata,./sag")
	only := flags.String("files", "", "files to change, as law.go,series.go; all if empty")
	file := flags.String("scores", "mutants/scores.json", "the file of scores")
	write := flags.Bool("write", false, "put the score into that file; wants all files of a package")
	slowest := flags.Duration("slowest", time.Minute, "leave out tests that take longer by themselves")
	workers := flags.Int("workers", runtime.NumCPU(), "how many test programs run at once")
	bent := flags.Int("bend", 0, "bend so many formulas by 1 % instead, judged by the dataset")
	seed := flags.Uint64("seed", 1, "which formulas these are")
	judge := flags.String("judge", "examples/conformance", "the program that judges, below the root")
	bendFile := flags.String("reasons", "mutants/bends.json", "the file that says why no answer depends on a formula")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	if *bent > 0 && *workers > 0 {
		reasons, err := readBendReasons(*bendFile)
		missed := 0
		if err == nil {
			b := bends{root: *root, judge: filepath.Join(*root, *judge), most: *bent, seed: *seed, reasons: reasons, workers: *workers}
			missed, err = b.run(flags.Args(), stdout)
		}
		if err != nil {
			fmt.Fprintln(stderr, "mutants:", err)
			return 2
		}
		return min(missed, 1)
	}
	if flags.NArg() != 1 || *workers < 1 || *write && *only != "" {
		fmt.Fprintln(stderr, "mutants: want one package, as spring, at least one worker, and all files for -write")
		return 2
	}
	pkg := strings.TrimPrefix(flags.Arg(0), "./")
	kept, err := readScores(*file)
	if err != nil {
		fmt.Fprintln(stderr, "mutants:", err)
		return 2
	}
	h := hunt{root: *root, pkg: pkg, also: split(*also), files: split(*only), slowest: *slowest, workers: *workers, progress: stderr}
	r, err := h.run()
	if err != nil {
		fmt.Fprintln(stderr, "mutants:", err)
		return 2
	}
	r.print(stdout, kept[pkg])
	now := r.score(kept[pkg])
	if *write && now.Mutants > 0 {
		// Another run may have written its score meanwhile.
		if kept, err = readScores(*file); err == nil {
			kept[pkg] = now
			err = kept.write(*file)
		}
		if err != nil {
			fmt.Fprintln(stderr, "mutants:", err)
			return 2
		}
	}
	if now.share() < enough { // NaN, of no mutants, is fine
		return 1
	}
	return 0
}

func split(s string) []string {
	if s == "" {
		return nil
	}
	return strings.Split(s, ",")
}

// A hunt is one run over one package.
type hunt struct {
	root, pkg   string
	also, files []string
	slowest     time.Duration
	workers     int
	progress    io.Writer
}

// A result is what a hunt found.
type result struct {
	mutants   []mutant
	survivors []mutant
	unmet     map[int]bool // survivors that no test executes
	unfit     []string     // tests that had to be left out
	whole     bool         // all files were changed
}

func (h hunt) run() (result, error) {
	work, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return result{}, err
	}
	defer os.RemoveAll(work)
	mutants, overlay, err := instrument(h.root, "./"+h.pkg, work, h.files)
	if err != nil {
		return result{}, err
	}
	var programs []program
	for i, p := range append([]string{"./" + h.pkg}, h.also...) {
		dir, err := filepath.Abs(filepath.Join(h.root, p))
		if err != nil {
			return result{}, err
		}
		to := filepath.Join(work, fmt.Sprintf("tests-%d", i))
		if err := compile(h.root, overlay, p, to); err != nil {
			return result{}, err
		}
		programs = append(programs, program{pkg: p, dir: dir, path: to})
	}
	meets, unfit, err := meetings(programs, len(mutants), h.slowest, h.workers, work)
	if err != nil {
		return result{}, err
	}
	fmt.Fprintf(h.progress, "%d mutants in %s\n", len(mutants), h.pkg)
	r := result{mutants: mutants, unmet: map[int]bool{}, unfit: unfit, whole: len(h.files) == 0}
	var mu sync.Mutex
	done := 0
	each(len(mutants), h.workers, func(i int) {
		m := mutants[i]
		dead := killed(m.id, meets[m.id])
		mu.Lock()
		defer mu.Unlock()
		done++
		if !dead {
			r.survivors = append(r.survivors, m)
			r.unmet[m.id] = len(meets[m.id]) == 0
			fmt.Fprintf(h.progress, "survives: %s:%d %s: %s → %s\n", m.file, m.line, m.in, m.was, m.is)
		}
		if done%100 == 0 {
			fmt.Fprintf(h.progress, "%d of %d, %d survive\n", done, len(mutants), len(r.survivors))
		}
	})
	slices.SortFunc(r.survivors, func(a, b mutant) int {
		return cmp.Or(cmp.Compare(a.file, b.file), cmp.Compare(a.line, b.line), cmp.Compare(a.id, b.id))
	})
	return r, nil
}
