// Command peers measures the library against general-purpose programs in one
// run and prints ratios: how many times as long the other takes for the same
// work, to results that agree.
//
//	.ci/peers/run.sh
//
// installs what is needed and runs it. A general tool that is slower is not a
// worse one: libslvs builds its equations anew on every call and solves
// drawings of any kind, SciPy pays for Python at every call. The ratios say
// what a solver made for one purpose gains.
package main

import (
	"bytes"
	"cmp"
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

//go:embed solver/poses.c
var posesC []byte

//go:embed peers.py
var peersPy []byte

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("peers", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() {
		fmt.Fprint(stderr, `usage: peers

Measures the library against libslvs, SciPy and gonum in one run and
prints how many times as long each of them takes. .ci/peers/run.sh installs
them first.

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
	if err := compare(stdout); err != nil {
		fmt.Fprintln(stderr, "peers:", err)
		return 1
	}
	return 0
}

// compare runs every comparison and prints its line.
func compare(w io.Writer) error {
	folder, err := os.MkdirTemp("", "peers")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	source, program := filepath.Join(folder, "poses.c"), filepath.Join(folder, "poses")
	script := filepath.Join(folder, "peers.py")
	if err := errors.Join(os.WriteFile(source, posesC, 0o600), os.WriteFile(script, peersPy, 0o600)); err != nil {
		return err
	}
	if out, err := exec.Command("gcc", "-O2", "-o", program, source, "-lslvs").CombinedOutput(); err != nil {
		return fmt.Errorf("compiling against libslvs: %w\n%s", err, out)
	}
	fmt.Fprintf(w, "%-34s %-30s %9s  %s\n", "work", "against", "times", "results agree to")
	for _, m := range []struct {
		name string
		m    mechanism.Spec
	}{{"pose of a four-bar, closed form", fourBar()}, {"pose of short links, general", shortLinks()}} {
		if err := againstSolver(w, m.name, m.m, program); err != nil {
			return fmt.Errorf("%s: %w", m.name, err)
		}
	}
	if err := againstGlobal(w); err != nil {
		return err
	}
	return againstSciPy(w, script)
}

// line prints one ratio, and how far the results are apart.
func line(w io.Writer, work, against string, ours, theirs, apart float64) {
	fmt.Fprintf(w, "%-34s %-30s %9s  %.0e\n", work, against, figures(theirs/ours), apart)
}

// figures prints a ratio with two figures, which is more than is repeatable.
func figures(v float64) string {
	if !(v >= 10) {
		return fmt.Sprintf("%.2g", v)
	}
	scale := math.Pow(10, math.Floor(math.Log10(v))-1)
	return fmt.Sprintf("%.0f", math.Round(v/scale)*scale)
}

// each returns the least time of one of n pieces of work, ns.
func each(n int, do func()) float64 {
	best := math.Inf(1)
	for range 7 {
		start := time.Now()
		do()
		best = min(best, float64(time.Since(start))/float64(n))
	}
	return best
}

// againstSolver measures poses, there and back over the stroke, against
// libslvs, which is given the same points and distances and solves for places
// only; ours come with all rates.
func againstSolver(w io.Writer, name string, m mechanism.Spec, program string) error {
	k, err := mechanism.New(m)
	if err != nil {
		return err
	}
	sum := 0.0
	ours := each(401, func() {
		sum = 0
		for i := range 401 {
			p := k.Pose(m.Stroke * units.Length(min(i, 400-i)) / 200)
			sum += p.Axle[1].Millimetres()
		}
	})
	theirs, theirSum := math.Inf(1), 0.0
	for range 5 {
		c := exec.Command(program)
		c.Stdin = strings.NewReader(drawing(m))
		out, err := c.Output()
		if err != nil {
			return err
		}
		var ns float64
		if _, err := fmt.Sscan(string(out), &ns, &theirSum); err != nil {
			return err
		}
		theirs = min(theirs, ns)
	}
	line(w, name, "libslvs, places only", ours, theirs, math.Abs(sum-theirSum)/math.Abs(sum))
	return nil
}

// drawing writes a mechanism as points and distances, the axle last.
func drawing(m mechanism.Spec) string {
	var names []string
	for name := range m.Points {
		if name != m.Axle {
			names = append(names, name)
		}
	}
	names = append(names, m.Axle)
	number := map[string]int{}
	var b bytes.Buffer
	fmt.Fprintln(&b, len(names))
	for i, name := range names {
		number[name] = i
		fixed := 0
		for _, p := range m.Bodies[mechanism.Frame] {
			if p == name {
				fixed = 1
			}
		}
		fmt.Fprintln(&b, exact(m.Points[name][0].Millimetres()), exact(m.Points[name][1].Millimetres()), fixed)
	}
	type pair struct{ a, b string }
	pairs := []pair{{m.Shock[0], m.Shock[1]}}
	for body, points := range m.Bodies {
		if body == mechanism.Frame {
			continue
		}
		for i, p := range points[1:] { // a triangulation
			pairs = append(pairs, pair{points[0], p})
			if i > 0 {
				pairs = append(pairs, pair{points[1], p})
			}
		}
	}
	fmt.Fprintln(&b, len(pairs))
	for _, p := range pairs {
		d := math.Hypot(float64(m.Points[p.a][0]-m.Points[p.b][0]), float64(m.Points[p.a][1]-m.Points[p.b][1]))
		fmt.Fprintln(&b, number[p.a], number[p.b], exact(1e3*d))
	}
	fmt.Fprintln(&b, exact(m.Stroke.Millimetres()))
	return b.String()
}

func exact(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// againstSciPy measures look-ups and roots against SciPy and gonum/interp.
func againstSciPy(w io.Writer, script string) error {
	out, err := exec.Command("/usr/bin/python3", script).Output()
	if err != nil {
		return fmt.Errorf("SciPy: %w", err)
	}
	peer := map[string][2]float64{}
	for _, l := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		f := strings.Split(l, ";")
		if len(f) != 3 {
			return fmt.Errorf("SciPy: %q", l)
		}
		ns, err1 := strconv.ParseFloat(f[1], 64)
		sum, err2 := strconv.ParseFloat(f[2], 64)
		if err := cmp.Or(err1, err2); err != nil {
			return err
		}
		peer[f[0]] = [2]float64{ns, sum}
	}

	// The table that the script makes, too.
	var t linkage.Table
	xs, ys := make([]float64, 14), make([]float64, 14)
	for i := range xs {
		s := 5 * float64(i)
		xs[i], ys[i] = s, 2.95*s-0.00425*s*s
		t.Stroke = append(t.Stroke, units.Length(s)*units.Millimetre)
		t.Travel = append(t.Travel, units.Length(ys[i])*units.Millimetre)
	}
	curve, err := linkage.NewTable(t)
	if err != nil {
		return err
	}
	var raw interp.FritschButland
	if err := raw.Fit(xs, ys); err != nil {
		return err
	}
	at := make([]float64, 1024)
	for i := range at {
		at[i] = 65 * float64(i*619%1024) / 1024
	}
	sum, rawSum := 0.0, 0.0
	ours := each(100*len(at), func() {
		for range 100 {
			sum = 0
			for _, x := range at {
				sum += curve.LeverRatio(units.Length(x) * units.Millimetre)
			}
		}
	})
	theirs := each(100*len(at), func() {
		for range 100 {
			rawSum = 0
			for _, x := range at {
				rawSum += raw.PredictDerivative(x)
			}
		}
	})
	apart := func(other, own float64) float64 { return math.Abs(other-own) / math.Abs(own) }
	line(w, "lever ratio in a table", "gonum/interp", ours, theirs, apart(rawSum, sum))
	p := peer["one by one"]
	line(w, "lever ratio in a table", "SciPy, one by one", ours, p[0], apart(p[1], sum))
	p = peer["all at once"]
	line(w, "lever ratio in a table", "SciPy, 1024 at once", ours, p[0], apart(p[1], sum))

	air, err := airspring.New(airspring.Spec{
		Bore: 34 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 190 * units.CubicCentimetre,
		Fill: units.BarGauge(5.5), Ambient: units.StandardAtmosphere, Exponent: 1.3,
	})
	if err != nil {
		return err
	}
	low, high := air.Force(0), air.Force(air.Travel())
	failed := error(nil)
	ours = each(200, func() {
		sum = 0
		for i := range 200 {
			x, err := spring.Settle(air, low+(high-low)*units.Force(i+1)/202)
			failed = cmp.Or(failed, err)
			sum += float64(x)
		}
	})
	p = peer["roots"]
	line(w, "travel of an air spring at a load", "SciPy's brentq", ours, p[0], apart(p[1], sum))
	return failed
}

func at(x, y float64) mechanism.Point {
	return mechanism.Point{units.Length(x) * units.Millimetre, units.Length(y) * units.Millimetre}
}

// fourBar is an invented four-bar with its axle on the coupler.
func fourBar() mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"M": at(14, 53), "H": at(-390, 32), "A": at(-437, 30), "T": at(-144, 387), "R": at(-20, 302), "S1": at(52, 330), "S2": at(36, 113),
		},
		Bodies: map[string][]string{"frame": {"M", "R", "S2"}, "chainstay": {"M", "H"}, "seatstay": {"H", "T", "A"}, "rocker": {"T", "R", "S1"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 62.5 * units.Millimetre,
	}
}

// shortLinks is an invented rear triangle on two short links, the shock on the
// triangle, which takes the general solver.
func shortLinks() mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"M1": at(-2, 75), "U1": at(-26, 228), "S2": at(159, 348), "M2": at(-64, 42), "U2": at(-115, 328), "A": at(-437, 24), "S1": at(-42, 275),
		},
		Bodies: map[string][]string{"frame": {"M1", "U1", "S2"}, "lower": {"M1", "M2"}, "triangle": {"M2", "U2", "A", "S1"}, "upper": {"U1", "U2"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 52.5 * units.Millimetre,
	}
}
