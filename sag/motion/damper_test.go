package motion_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/units"
)

// linearDamper is a damper of constant coefficient in N·s/m.
type linearDamper float64

func (d linearDamper) Force(v units.Speed) units.Force { return units.Force(float64(d) * float64(v)) }

func (d linearDamper) Damping(units.Speed) units.Damping { return units.Damping(d) }

// measured is a damper as speeds in m/s and forces in N.
type measured [][2]float64

// curve joins what was measured by monotone cubics, and goes on straight.
func (m measured) curve(t testing.TB) motion.Damper {
	t.Helper()
	var speeds, forces []float64
	for _, sample := range m {
		speeds, forces = append(speeds, sample[0]), append(forces, sample[1])
	}
	d := &joined{low: speeds[0], high: speeds[len(speeds)-1]}
	require.NoError(t, d.curve.Fit(speeds, forces))
	return d
}

type joined struct {
	curve     interp.FritschButland
	low, high float64
}

func (d *joined) Force(speed units.Speed) units.Force {
	v := float64(speed)
	within := min(max(v, d.low), d.high)
	return units.Force(d.curve.Predict(within) + (v-within)*d.curve.PredictDerivative(within))
}

func (d *joined) Damping(speed units.Speed) units.Damping {
	return units.Damping(d.curve.PredictDerivative(min(max(float64(speed), d.low), d.high)))
}
