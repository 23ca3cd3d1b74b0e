package main

import (
	"cmp"
	"errors"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/units"
)

// linear is a bike that moves little about its rest, so that its springs and dampers are straight
// there.
type linear struct {
	mass, damping, stiffness *mat.Dense // of heave, pitch and the axles
	tyre                     [2]float64 // 0 for a rigid wheel
	push                     [2]row     // of springs and dampers
	arms                     [2]float64 // of the axles before the mass centre
}

// row has the derivatives of a force by the coordinates and by their speeds.
type row struct{ rate, damping [motion.FrontAxle + 2]float64 }

// linearise returns the bike about its rest: mass, damping and stiffness matrices from the wheel rate
// and the damping at the wheel there. The damper's is the derivative at speed 0. The error is that of
// [motion.TwoEnds.Rest].
//
// Not modelled: whatever is not straight, such as stops that are touched, a wheel that lifts off, and
// dampers with another slope at speed.
func linearise(b *motion.TwoEnds) (*linear, error) {
	y, err := b.Rest()
	if err != nil {
		return nil, err
	}
	const n = motion.FrontAxle + 2
	l := &linear{mass: mat.NewDense(n, n, nil), damping: mat.NewDense(n, n, nil), stiffness: mat.NewDense(n, n, nil)}
	l.mass.Set(motion.Heave, motion.Heave, float64(b.Mass))
	l.mass.Set(motion.Pitch, motion.Pitch, float64(b.Mass)*float64(b.Gyration)*float64(b.Gyration))
	front, rear := b.Forces(0, y)
	for i, end := range []struct {
		*motion.Corner
		motion.Forces
		arm float64 // of the axle before the mass centre
	}{{&b.Front, front, float64(b.Ahead)}, {&b.Rear, rear, -float64(b.Behind)}} {
		axle := motion.FrontAxle + i
		// The travel is the axle's height less the body's.
		var travel [n]float64
		travel[motion.Heave], travel[motion.Pitch], travel[axle] = -1, -end.arm, 1
		k, c := float64(end.Stops), float64(end.Damping)
		if end.Travel >= 0 && end.Travel <= end.Corner.Spring.Travel() {
			k = float64(end.Corner.Spring.Rate(end.Travel))
		}
		if end.Corner.Damper != nil {
			_, ratio := end.Corner.Spring.Leverage(end.Travel)
			c += float64(end.Corner.Damper.Damping(0)) / (ratio * ratio)
		}
		for p, by := range travel {
			l.push[i].rate[p], l.push[i].damping[p] = k*by, c*by
			for q, work := range travel {
				if q != axle || end.Tyre > 0 {
					l.stiffness.Set(q, p, l.stiffness.At(q, p)+k*by*work)
					l.damping.Set(q, p, l.damping.At(q, p)+c*by*work)
				}
			}
		}
		l.tyre[i], l.arms[i] = float64(end.Tyre), end.arm
		if end.Tyre > 0 {
			l.mass.Set(axle, axle, float64(end.Unsprung))
			l.stiffness.Set(axle, axle, l.stiffness.At(axle, axle)+l.tyre[i])
		} else {
			l.stiffness.Set(axle, axle, 1) // it is where the ground is
		}
	}
	return l, nil
}

// response is how the bike moves over ground that goes up and down as a sine, as complex amplitudes
// over that of the ground.
type response struct {
	Heave, Pitch        complex128 // m/m and rad/m
	FrontBody, RearBody complex128 // of the body above the axles: transmissibility
	FrontAxle, RearAxle complex128
	FrontLoad, RearLoad complex128 // of the ground on the wheel, in N/m
}

// errSingular reports a frequency at which a bike without damping moves without bound.
var errSingular = errors.New("ride: the response is without bound at this frequency")

// response returns the response at a frequency, 0 or more, to ground that moves by cos(2πft) under
// the front wheel and the same later under the rear one. The delay in s is the wheelbase over the
// speed of the ride; 0 lifts both at once.
func (l *linear) response(f units.Frequency, delay units.Time) (response, error) {
	const n = motion.FrontAxle + 2
	omega := 2 * math.Pi * float64(f)
	ground := [2]complex128{1, cmplx.Exp(complex(0, -omega*float64(delay)))}
	// (K − ω²·M + iω·C)·x = g, as a real equation of twice as many unknowns.
	system, right := mat.NewDense(2*n, 2*n, nil), mat.NewVecDense(2*n, nil)
	for i := range n {
		for j := range n {
			re, im := l.stiffness.At(i, j)-omega*omega*l.mass.At(i, j), omega*l.damping.At(i, j)
			system.Set(i, j, re)
			system.Set(n+i, n+j, re)
			system.Set(i, n+j, -im)
			system.Set(n+i, j, im)
		}
	}
	for i, g := range ground {
		k := l.tyre[i]
		if k == 0 {
			k = 1
		}
		right.SetVec(motion.FrontAxle+i, k*real(g))
		right.SetVec(n+motion.FrontAxle+i, k*imag(g))
	}
	var x mat.VecDense
	if err := x.SolveVec(system, right); !finite(&x, err) {
		return response{}, errSingular
	}
	var at [n]complex128
	for i := range at {
		at[i] = complex(x.AtVec(i), x.AtVec(n+i))
	}
	r := response{Heave: at[motion.Heave], Pitch: at[motion.Pitch], FrontAxle: at[motion.FrontAxle], RearAxle: at[motion.RearAxle]}
	r.FrontBody = r.Heave + complex(l.arms[0], 0)*r.Pitch
	r.RearBody = r.Heave + complex(l.arms[1], 0)*r.Pitch
	var load [2]complex128
	for i := range load {
		if l.tyre[i] > 0 {
			load[i] = complex(l.tyre[i], 0) * (ground[i] - at[motion.FrontAxle+i])
			continue
		}
		for j, v := range at {
			load[i] += complex(l.push[i].rate[j], omega*l.push[i].damping[j]) * v
		}
	}
	r.FrontLoad, r.RearLoad = load[0], load[1]
	return r, nil
}

// finite reports whether a solution was found, with whatever condition.
func finite(x *mat.VecDense, err error) bool {
	var poor mat.Condition
	if err != nil && !errors.As(err, &poor) || math.IsInf(float64(poor), 0) {
		return false
	}
	size := mat.Norm(x, 2)
	return size <= math.MaxFloat64
}

// mode is a free motion about the rest, e^(λt).
type mode struct {
	Frequency units.Frequency `json:"frequency"` // |λ|/2π, of the motion without its damping
	Damping   float64         `json:"damping"`   // −Re λ/|λ|, as a ratio of critical; 1 or more does not swing
}

// modes returns the free motions of the bike by rising frequency: one for each pair of eigenvalues
// that swing, and one for each eigenvalue that does not.
func (l *linear) modes() []mode {
	const n = motion.FrontAxle + 2
	var free []int // what has a mass
	for i := range n {
		if l.mass.At(i, i) > 0 {
			free = append(free, i)
		}
	}
	m := len(free)
	system := mat.NewDense(2*m, 2*m, nil)
	for i, p := range free {
		system.Set(i, m+i, 1)
		for j, q := range free {
			system.Set(m+i, j, -l.stiffness.At(p, q)/l.mass.At(p, p))
			system.Set(m+i, m+j, -l.damping.At(p, q)/l.mass.At(p, p))
		}
	}
	var e mat.Eigen
	var list []mode
	if e.Factorize(system, mat.EigenNone) {
		for _, value := range e.Values(nil) {
			if size := cmplx.Abs(value); imag(value) >= 0 && size > 0 {
				list = append(list, mode{units.Frequency(size / (2 * math.Pi)), -real(value) / size})
			}
		}
	}
	slices.SortFunc(list, func(a, b mode) int { return cmp.Compare(a.Frequency, b.Frequency) })
	return list
}
