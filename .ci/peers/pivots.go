package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/optimize"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/units"
)

// room is how far each of three pivots of the four-bar may go either way along both axes.
const room = 12 * units.Millimetre

var moved = []string{"S1", "T", "R"}

// wanted is the four-bar's lever ratio with its start and its end changed by these factors.
func wanted(start, end float64) (pivots.Search, error) {
	k, err := mechanism.New(fourBar())
	if err != nil {
		return pivots.Search{}, err
	}
	t := &pivots.Target[float64]{}
	for i := range 11 {
		share := float64(i) / 10
		t.At = append(t.At, share)
		t.Value = append(t.Value, k.Pose(k.Stroke()*units.Length(share)).LeverRatio*(start+(end-start)*share))
	}
	s := pivots.Search{Mechanism: k.Spec(), AnyShock: true, Targets: pivots.Targets{LeverRatio: t}}
	for _, name := range moved {
		s.Move = append(s.Move, pivots.Movable{Point: name, X: pivots.Bounds{Min: -room, Max: room}, Y: pivots.Bounds{Min: -room, Max: room}})
	}
	return s, nil
}

// miss returns by how much a place misses the target, in hundredths of the ratio, its coordinates in
// shares of the room; one beyond it is taken back to its edge.
func miss(s pivots.Search, x []float64) float64 {
	m := fourBar()
	beyond := 0.0
	for i, name := range moved {
		p := m.Points[name]
		for axis := range 2 {
			v := min(max(x[2*i+axis], -1), 1)
			beyond += math.Abs(x[2*i+axis] - v)
			p[axis] += units.Length(v) * room
		}
		m.Points[name] = p
	}
	k, err := mechanism.NewCoarse(m, 16)
	if err != nil {
		return 100
	}
	sum, t := 0.0, s.Targets.LeverRatio
	for i, share := range t.At {
		d := (k.Pose(k.Stroke()*units.Length(share)).LeverRatio - t.Value[i]) / 0.01
		sum += d * d
	}
	return math.Sqrt(sum/float64(len(t.At))) + beyond
}

func steeperPivots() (comparison, error) { return searches("pivots for a steeper curve", 1.03, 0.97) }
func lowerPivots() (comparison, error)   { return searches("pivots for a lower curve", 0.97, 0.99) }

// searches holds the search for six coordinates of pivots against general searches of the same sum of
// squares. The local ones go from 16 places, as ours does; the global ones try 20 000 mechanisms at
// most. The values are by how much they miss the target, in hundredths of the ratio.
func searches(work string, start, end float64) (comparison, error) {
	c := comparison{work: work, want: []float64{0}, within: 1e-3, search: true}
	s, err := wanted(start, end)
	if err != nil {
		return c, err
	}
	if _, err := pivots.Find(s); err != nil {
		return c, err
	}
	c.ours = timed(func() ([]float64, int) {
		found, _ := pivots.Find(s)
		return []float64{found.Misses[0].RMS}, found.Tried
	})
	random := rand.New(rand.NewPCG(1, 2))
	place := func() []float64 {
		x := make([]float64, 2*len(moved))
		for i := range x {
			x[i] = 2*random.Float64() - 1
		}
		return x
	}
	starts := [][]float64{make([]float64, 2*len(moved))}
	for len(starts) < 16 {
		starts = append(starts, place())
	}
	if c.peers, err = sciPySearches(s, starts); err != nil {
		return c, err
	}
	calls := 0
	missed := func(x []float64) float64 { calls++; return miss(s, x) }
	minimised := func(start []float64, settings *optimize.Settings, method optimize.Method) float64 {
		r, _ := optimize.Minimize(optimize.Problem{Func: missed}, start, settings, method)
		return r.F
	}
	for name, search := range map[string]func() float64{
		"gonum's Nelder–Mead": func() float64 {
			best := math.Inf(1)
			for _, x := range starts {
				best = min(best, minimised(x, nil, &optimize.NelderMead{}))
			}
			return best
		},
		"gonum's CMA-ES": func() float64 {
			return minimised(starts[0], &optimize.Settings{FuncEvaluations: 20000, Converger: optimize.NeverTerminate{}}, &optimize.CmaEsChol{InitStepSize: 0.5, Src: rand.NewPCG(3, 4)})
		},
		"20 000 places at random": func() float64 {
			best := math.Inf(1)
			for range 20000 {
				best = min(best, missed(place()))
			}
			return best
		},
	} {
		c.peers[name] = timed(func() ([]float64, int) {
			calls = 0
			return []float64{search()}, calls
		})
	}
	return c, nil
}

// sciPySearches returns what SciPy finds from places with a mechanism of its own, by how much that misses the
// target here.
func sciPySearches(s pivots.Search, starts [][]float64) (map[string]answer, error) {
	m, points := fourBar(), map[string][2]float64{}
	for name, p := range m.Points {
		points[name] = [2]float64{p[0].Millimetres(), p[1].Millimetres()}
	}
	answers, err := askSciPy("pivots", map[string]any{
		"points": points, "moved": moved, "room": room.Millimetres(), "stroke": m.Stroke.Millimetres(),
		"at": s.Targets.LeverRatio.At, "want": s.Targets.LeverRatio.Value, "starts": starts,
	})
	for name, a := range answers {
		there, here := a.Values[0], miss(s, a.Values[1:])
		if !(math.Abs(there-here) <= 1e-6) {
			return nil, fmt.Errorf("%s: a miss of %v in its mechanism, and of %v in ours", name, there, here)
		}
		a.Values = []float64{here}
		answers[name] = a
	}
	return answers, err
}
