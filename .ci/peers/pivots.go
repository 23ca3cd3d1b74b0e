package main

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"time"

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

// miss returns by how much a place misses the target, its coordinates in shares of the room; one beyond
// it is taken back to its edge.
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

// againstGlobal measures the search for pivots against gonum's global methods, which are given the same
// mechanisms to try, 20 000 at most. Of the last column the first number is by how much they miss the
// target, the second by how much ours does, both in hundredths of the ratio.
func againstGlobal(w io.Writer) error {
	for _, factors := range [][2]float64{{1.03, 0.97}, {0.97, 0.99}} {
		s, err := wanted(factors[0], factors[1])
		if err != nil {
			return err
		}
		var found *pivots.Solution
		ours := each(1, func() { found, err = pivots.Find(s) })
		if err != nil {
			return err
		}
		random := rand.New(rand.NewPCG(1, 2))
		for _, method := range []struct {
			name string
			run  func() (float64, error)
		}{
			{"gonum's CMA-ES", func() (float64, error) {
				r, err := optimize.Minimize(optimize.Problem{Func: func(x []float64) float64 { return miss(s, x) }}, make([]float64, 2*len(moved)),
					&optimize.Settings{FuncEvaluations: 20000}, &optimize.CmaEsChol{InitStepSize: 0.5, Src: rand.NewPCG(3, 4)})
				if r == nil {
					return 0, err
				}
				return r.F, nil
			}},
			{"20 000 places at random", func() (float64, error) {
				best := math.Inf(1)
				for range 20000 {
					x := make([]float64, 2*len(moved))
					for i := range x {
						x[i] = 2*random.Float64() - 1
					}
					best = min(best, miss(s, x))
				}
				return best, nil
			}},
		} {
			start := time.Now()
			theirs, err := method.run()
			if err != nil {
				return err
			}
			took := float64(time.Since(start))
			own := found.Misses[0].RMS
			fmt.Fprintf(w, "%-34s %-30s %9s  misses by %.3g, ours by %.3g\n", "pivots for a curve, six coordinates", method.name, figures(took/ours), theirs, own)
			if !(own <= 1.01*theirs+1e-3) {
				return fmt.Errorf("%s finds pivots that miss by %v, and ours by %v", method.name, theirs, own)
			}
		}
	}
	return nil
}
