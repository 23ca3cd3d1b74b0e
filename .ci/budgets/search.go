package main

import (
	"runtime"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/units"
)

// search asks for a four-bar's lever ratio with its start and its end changed, and three pivots free.
func search(k *mechanism.Mechanism) pivots.Search {
	t := &pivots.Target[float64]{}
	for i := range 11 {
		share := float64(i) / 10
		t.At = append(t.At, share)
		t.Value = append(t.Value, k.Pose(k.Stroke()*units.Length(share)).LeverRatio*(1.03-0.06*share))
	}
	s := pivots.Search{Mechanism: k.Spec(), AnyShock: true, Targets: pivots.Targets{LeverRatio: t}}
	for _, name := range []string{"S1", "T", "R"} {
		room := pivots.Bounds{Min: -12 * mm, Max: 12 * mm}
		s.Move = append(s.Move, pivots.Movable{Point: name, X: room, Y: room})
	}
	return s
}

func searches(s pivots.Search) func(int) {
	return func(n int) {
		for range n {
			found, err := pivots.Find(s)
			if err != nil {
				panic(err) // it was found before
			}
			runtime.KeepAlive(found)
		}
	}
}
