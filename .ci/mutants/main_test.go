package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// The mutants and survivors of the small package under testdata were counted
// and judged by reading it.
func TestSmallPackage(t *testing.T) {
	const want = `kind          mutants   killed    share
arithmetic          5        2    40.0%
sign                1        0     0.0%
constant            7        4    57.1%
call                4        2    50.0%
bound               3        1    33.3%
condition           4        3    75.0%
logic               2        1    50.0%
statement           4        2    50.0%
all                30       15    50.0%
all, before        40       38    95.0%

Clip: 4 of 13 survive (its steps are as good)
  work.go:14: x < 0 → x <= 0
  work.go:14: x > 1 → x >= 1
  work.go:15: math.Round(min(max(x, 0), 1)) → min(max(x, 0), 1)
  work.go:15: 1 → 1.5 × 1

Hypotenuse: 5 of 5 survive
  work.go:22: a * a → a / a
  work.go:23: sum += b * b → (left out)
  work.go:23: b * b → b / b
  work.go:23: sum += b * b → sum -= b * b
  work.go:24: math.Sqrt(sum) → sum

Forgotten: 5 of 5 survive
  work.go:29: on && n != 3 → on || n != 3 (no test executes it)
  work.go:30: 3 → 3 + 1 (no test executes it)
  work.go:30: n != 3 → n == 3 (no test executes it)
  work.go:31: n++ → (left out) (no test executes it)
  work.go:33: -n → n (no test executes it)

Endless: 1 of 4 survive
  work.go:38: 0 → 0 + 1

a reason is given for Mean, which has no survivor
`
	file := filepath.Join(t.TempDir(), "scores.json")
	kept := scores{"work": {Mutants: 40, Killed: 38, Reasons: map[string]string{"Clip": "its steps are as good", "Mean": "none"}}}
	must(t, kept.write(file))
	var out, errs bytes.Buffer
	if status := run([]string{"-root", "testdata/tiny", "-scores", file, "-write", "-workers", "2", "work"}, &out, &errs); status != 1 {
		t.Errorf("half of the mutants survive, and the status is %d: %s", status, errs.String())
	}
	if out.String() != want {
		t.Errorf("printed\n%s\nnot\n%s", out.String(), want)
	}
	got, err := readScores(file)
	must(t, err)
	if s := got["work"]; len(got) != 1 || s.Mutants != 30 || s.Killed != 15 || len(s.Reasons) != 2 {
		t.Errorf("written: %+v", got)
	}
}

func TestScoresAreRead(t *testing.T) {
	name := filepath.Join(t.TempDir(), "scores.json")
	if s, err := readScores(name); err != nil || len(s) > 0 {
		t.Errorf("no file: %v, %v", s, err)
	}
	for text, says := range map[string]string{
		`{"work": {"mutants": 4, "killed": 4, "reasons": {"F": " "}}}`: "work: F has no reason",
		`{"work": {"mutant": 4}}`:                                      "unknown field",
		`{`:                                                            "scores.json: ",
	} {
		must(t, os.WriteFile(name, []byte(text), 0o644))
		if _, err := readScores(name); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", text, err, says)
		}
	}
}

// Every score that is kept is one of a package that there is, and good enough.
func TestScoresAreEnough(t *testing.T) {
	kept, err := readScores("scores.json")
	must(t, err)
	for pkg, s := range kept {
		if !(s.share() >= enough && s.Killed <= s.Mutants) {
			t.Errorf("%s: %d of %d mutants are killed", pkg, s.Killed, s.Mutants)
		}
		if files, _ := filepath.Glob("../../" + pkg + "/*.go"); len(files) == 0 {
			t.Errorf("%s is no package", pkg)
		}
	}
}

// What is noticed was found by reading the program that judges.
func TestBentFormulas(t *testing.T) {
	reasons := filepath.Join(t.TempDir(), "bends.json")
	must(t, os.WriteFile(reasons, []byte(`{"work": {"Hypotenuse: math\\..*": "a root"}}`), 0o644))
	args := []string{"-root", "testdata/tiny", "-judge", "judge", "-reasons", reasons, "-workers", "1", "-bend"}
	for call, want := range map[string]string{
		"9 ./work": `work/work.go:15: Clip: math.Round(min(max(x, 0), 1)) (no case executes it)
work/work.go:22: Hypotenuse: a * a
work/work.go:23: Hypotenuse: b * b
1 of 4 bent formulas are noticed, picked from 4 in 1 packages; 1 more are listed with a reason
`,
		"1 -seed 1 ./work": "1 of 1 bent formulas are noticed, picked from 4 in 1 packages; 1 more are listed with a reason\n",
	} {
		var out, errs bytes.Buffer
		status := run(append(args, strings.Fields(call)...), &out, &errs)
		if out.String() != want || status != min(strings.Count(want, ": "), 1) {
			t.Errorf("-bend %s: status %d, printed\n%s\nnot\n%s%s", call, status, out.String(), want, errs.String())
		}
	}
	must(t, os.WriteFile(reasons, []byte(`{"work": {"Mean": " "}}`), 0o644))
	if _, err := readBendReasons(reasons); err == nil || !strings.Contains(err.Error(), "work: Mean has no reason") {
		t.Error(err)
	}
	if _, err := readBendReasons("bends.json"); err != nil {
		t.Error(err)
	}
}

// Formulas are picked from every package, and others with another seed.
func TestPicks(t *testing.T) {
	var all []formula
	for i := range 200 {
		pkg := "large"
		if i%50 == 0 {
			pkg = "small"
		}
		all = append(all, formula{mutant{id: i, was: strings.Repeat("x", i)}, pkg})
	}
	picks := func(seed uint64) (ids []int, small int) {
		for _, m := range (bends{most: 20, seed: seed}).pick(slices.Clone(all)) {
			if ids = append(ids, m.id); m.pkg == "small" {
				small++
			}
		}
		return ids, small
	}
	one, small := picks(1)
	two, _ := picks(2)
	if again, _ := picks(1); len(one) != 20 || small != 1 || slices.Equal(one, two) || !slices.Equal(one, again) {
		t.Errorf("picked %v, of which %d are of the small package, then %v and %v", one, small, again, two)
	}
}

// Files without anything to change are no failure.
func TestNothingToChange(t *testing.T) {
	var out, errs bytes.Buffer
	if status := run([]string{"-root", "testdata/tiny", "-files", "none.go", "work"}, &out, &errs); status != 0 || out.String() != "nothing to change\n" {
		t.Errorf("status %d, %q, %s", status, out.String(), errs.String())
	}
}

func TestBadCalls(t *testing.T) {
	for _, args := range [][]string{{}, {"spring", "sag"}, {"-workers", "0", "spring"}, {"-root", "nowhere", "work"}, {"-write", "-files", "work.go", "work"}, {"-nonsense"}} {
		var stderr bytes.Buffer
		if status := run(args, &bytes.Buffer{}, &stderr); status != 2 || stderr.Len() == 0 {
			t.Errorf("%v: status %d, %q", args, status, stderr.String())
		}
	}
}
