package linkage_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Behind pivots the axle goes the mechanism's own way, both up and forward, and a scaled curve that many
// times as far.
func TestAxleGoesTheMechanismsWay(t *testing.T) {
	// Above its pivot at a dead point, this axle goes forward ever faster as the travel grows evenly.
	over := linkagetest.Arm{A: 80, D: 250, Phi: 0.9, R: 403, Axle: 0.9 + math.Pi/2}
	last, err := mechanism.New(over.Spec(over.DeadPoint() - 0.05))
	require.NoError(t, err)
	list := map[string]*mechanism.Mechanism{"over a dead point": last}
	for _, name := range movable() {
		list[name] = solved(name)
	}
	for name, k := range list {
		c, err := linkage.Compile(k)
		require.NoError(t, err)
		twice, err := c.Scaled(2)
		require.NoError(t, err)
		for i := range 301 { // not in step with the pieces
			p := k.Pose(k.Stroke() * units.Length(i) / 300)
			a, b := c.AxleAt(p.Stroke), twice.AxleAt(p.Stroke)
			unitstest.Near(t, name+" up", a.Up, p.Travel, unitstest.Abs(mm(1e-6)))
			unitstest.Near(t, name+" forward", a.Forward, p.Axle[0]-k.Pose(0).Axle[0], unitstest.Abs(mm(1e-6)))
			unitstest.Near(t, name+" ratio", a.UpRate, p.LeverRatio, unitstest.Abs(1e-7))
			unitstest.Near(t, name+" forward per stroke", a.ForwardRate, p.AxleForward, unitstest.Abs(1e-7))
			unitstest.Near(t, name+" slope", a.UpSlope, p.LeverRatioSlope, unitstest.Rel(1e-5), unitstest.Abs(units.RatioSlope(1e-5)))
			unitstest.Near(t, name+" slope forward", a.ForwardSlope, p.AxleForwardSlope, unitstest.Rel(1e-5), unitstest.Abs(units.RatioSlope(1e-5)))
			assert.Equal(t, linkage.Axle{Forward: 2 * a.Forward, Up: 2 * a.Up, ForwardRate: 2 * a.ForwardRate, UpRate: 2 * a.UpRate,
				ForwardSlope: 2 * a.ForwardSlope, UpSlope: 2 * a.UpSlope}, b)
		}
	}
}

// Of a table the travel alone is known, and the zero curve doesn't move.
func TestAxleGoesStraightUpWhereNothingElseIsKnown(t *testing.T) {
	c := bent(t)
	s := mm(20)
	assert.Equal(t, linkage.Axle{Up: c.TravelAt(s), UpRate: c.LeverRatio(s), UpSlope: c.LeverRatioSlope(s)}, c.AxleAt(s))
	assert.Equal(t, linkage.Axle{UpRate: 1}, new(linkage.Curve).AxleAt(s))
}
