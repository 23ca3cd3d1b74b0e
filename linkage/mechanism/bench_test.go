package mechanism_test

import (
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Budget: 200 ns for a four-bar in closed form (c1), 2 µs by the general
// solver, no allocation; d2 and f1 have no closed form, f1 five moving bodies.
func BenchmarkPose(b *testing.B) {
	for _, name := range []string{"a1", "c1", "d2", "f1"} {
		run := func(what string, k *mechanism.Mechanism) {
			b.Run(name+" "+what, func(b *testing.B) {
				b.ReportAllocs()
				at, i, sum := places(k.Stroke()), 0, 0.0
				for b.Loop() {
					p := k.Pose(at[i&1023])
					sum += p.LeverRatio
					i++
				}
				_ = sum
			})
		}
		if k := solved(name); k.ClosedForm() {
			run("circles", k)
		}
		k, err := mechanism.NewByNewton(spec(name))
		if err != nil {
			b.Fatal(err)
		}
		run("Newton", k)
	}
}

// places are strokes in random order, so that no branch can be predicted.
func places(whole units.Length) []units.Length {
	rng := rand.New(rand.NewPCG(15, 16))
	list := make([]units.Length, 1024)
	for i := range list {
		list[i] = whole * units.Length(rng.Float64())
	}
	return list
}

// Budget: 5 ms for the gradients of the pose by all holes at 101 strokes of a six-bar. It allocates
// what it returns.
func BenchmarkPoseGradient(b *testing.B) {
	for _, name := range []string{"c1", "f1", "f2"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			k := solved(name)
			for b.Loop() {
				for i := range 101 {
					k.PoseGradient(k.Stroke() * units.Length(i) / 100)
				}
			}
		})
	}
}

// Budget: 1 ms for a mechanism followed at 101 strokes. It allocates what it returns.
func BenchmarkNewMechanism(b *testing.B) {
	for _, name := range []string{"c1", "d2", "f1"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			m := spec(name)
			for b.Loop() {
				if _, err := mechanism.New(m); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
