package main

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

//go:embed solver/poses.c
var posesC []byte

// poses are there and back over the stroke.
const poses = 401

func fourBarPoses() (comparison, error) {
	return againstSolver("401 poses of a four-bar, closed form", fourBar())
}

func shortLinkPoses() (comparison, error) {
	return againstSolver("401 poses of short links, general", shortLinks())
}

// againstSolver holds poses against libslvs, which is given the same points and distances and solves
// for places only; ours come with all rates. The values are the heights of the axle, mm.
func againstSolver(work string, m mechanism.Spec) (comparison, error) {
	c := comparison{work: work, within: 1e-6}
	k, err := mechanism.New(m)
	if err != nil {
		return c, err
	}
	c.ours = timed(func() ([]float64, int) {
		heights := make([]float64, poses)
		for i := range heights {
			heights[i] = k.Pose(m.Stroke * units.Length(min(i, poses-1-i)) / (poses / 2)).Axle[1].Millimetres()
		}
		return heights, 0
	})
	c.want = c.ours.Values
	theirs, err := solverPoses(m)
	c.peers = map[string]answer{"libslvs, places only": theirs}
	return c, err
}

// solverPoses compiles poses.c and returns what it prints of a mechanism.
func solverPoses(m mechanism.Spec) (a answer, err error) {
	folder, err := os.MkdirTemp("", "peers")
	if err != nil {
		return a, err
	}
	defer os.RemoveAll(folder)
	source, program := filepath.Join(folder, "poses.c"), filepath.Join(folder, "poses")
	if err := os.WriteFile(source, posesC, 0o600); err != nil {
		return a, err
	}
	if out, err := exec.Command("gcc", "-O2", "-o", program, source, "-lslvs").CombinedOutput(); err != nil {
		return a, fmt.Errorf("compiling against libslvs: %w\n%s", err, out)
	}
	a.NS = math.Inf(1)
	for range 5 {
		c := exec.Command(program)
		c.Stdin = strings.NewReader(drawing(m))
		out, err := c.Output()
		if err != nil {
			return a, fmt.Errorf("libslvs: %w", err)
		}
		a.Values = nil
		var failed error
		for _, field := range strings.Fields(string(out)) {
			v, err := strconv.ParseFloat(field, 64)
			failed = errors.Join(failed, err)
			a.Values = append(a.Values, v)
		}
		if failed != nil || len(a.Values) == 0 {
			return a, fmt.Errorf("libslvs prints %q: %w", out, failed)
		}
		a.NS, a.Values = min(a.NS, a.Values[0]), a.Values[1:]
	}
	return a, nil
}

// drawing writes a mechanism as points and distances, the axle last.
func drawing(m mechanism.Spec) string {
	names := slices.Collect(maps.Keys(m.Points))
	names = append(slices.DeleteFunc(names, func(name string) bool { return name == m.Axle }), m.Axle)
	var b bytes.Buffer
	fmt.Fprintln(&b, len(names))
	for _, name := range names {
		fixed := 0
		if slices.Contains(m.Bodies[mechanism.Frame], name) {
			fixed = 1
		}
		fmt.Fprintln(&b, exact(m.Points[name][0].Millimetres()), exact(m.Points[name][1].Millimetres()), fixed)
	}
	pairs := [][2]string{m.Shock}
	for body, points := range m.Bodies {
		if body == mechanism.Frame {
			continue
		}
		for i, p := range points[1:] { // a triangulation
			pairs = append(pairs, [2]string{points[0], p})
			if i > 0 {
				pairs = append(pairs, [2]string{points[1], p})
			}
		}
	}
	fmt.Fprintln(&b, len(pairs))
	for _, p := range pairs {
		d := math.Hypot(float64(m.Points[p[0]][0]-m.Points[p[1]][0]), float64(m.Points[p[0]][1]-m.Points[p[1]][1]))
		fmt.Fprintln(&b, slices.Index(names, p[0]), slices.Index(names, p[1]), exact(1e3*d))
	}
	fmt.Fprintln(&b, exact(m.Stroke.Millimetres()))
	return b.String()
}

func exact(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

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
