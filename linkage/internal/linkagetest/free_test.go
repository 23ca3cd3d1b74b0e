package linkagetest_test

import (
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
)

// A lever 3 m long on a hinge, propped by an upright shock 1 m from it: 100 N down at its end takes 300 N of
// the shock, and 200 N downward on the hinge.
func TestForcesOnALeverByHand(t *testing.T) {
	s := mechanism.Spec{
		Points: map[string]mechanism.Point{"hinge": {}, "eye": {1, 0}, "end": {3, 0}, "foot": {1, -1}, "pin": {2, 0}, "from": {0, 0}, "to": {4, 0}},
		Bodies: map[string][]string{"frame": {"hinge", "foot", "from", "to"}, "lever": {"hinge", "eye", "end", "pin"}},
		Shock:  [2]string{"eye", "foot"},
	}
	load := linkagetest.Action{Hole: mechanism.Hole{Body: "lever"}, At: 3, Force: -100i}
	near := func(f map[mechanism.Hole]complex128, body, point string, want complex128) {
		t.Helper()
		assert.InDelta(t, 0, cmplx.Abs(f[mechanism.Hole{Body: body, Point: point}]-want), 1e-12)
	}
	free := linkagetest.Draw(s, s.Points)
	free.Load(load)
	forces := free.Forces()
	near(forces, "lever", "eye", 300i)
	near(forces, "frame", "foot", -300i)
	near(forces, "lever", "hinge", -200i)

	s.Slots = []mechanism.Slot{{Point: "pin", On: "frame", Along: [2]string{"from", "to"}}}
	free = linkagetest.Draw(s, s.Points)
	free.Load(load)
	assert.Panics(t, func() { free.Forces() }, "a slot to spare")

	// A wheel on the lever's end that a couple holds.
	s.Slots = nil
	free = linkagetest.Draw(s, s.Points, "wheel")
	for _, axis := range []complex128{1, 1i} {
		free.Unknown(linkagetest.Action{Hole: mechanism.Hole{Body: "wheel"}, At: 3, Force: axis}, linkagetest.Action{Hole: mechanism.Hole{Body: "lever"}, At: 3, Force: -axis})
	}
	free.Unknown(linkagetest.Action{Hole: mechanism.Hole{Body: "wheel"}, Moment: 1})
	free.Load(linkagetest.Action{Hole: mechanism.Hole{Body: "wheel"}, At: 3.5, Force: -100i})
	free.Load(linkagetest.Action{Hole: mechanism.Hole{Body: "frame"}, At: 3.5, Force: -100i})
	near(free.Forces(), "lever", "eye", 300i)
}
