// Package statics states the ends of the page's demonstrations a second time: from the
// numbers of their jobs and from statics alone, with nothing of the library. An end rests
// where its spring gives back the work that the load does over a little travel. Units are
// those of the SI.
package statics

import (
	"math"

	"example.com/wheelrate/ci/browsertest/amounts"
)

const pound, psi = amounts.Pound, amounts.PSI

// End is one end of a demonstration, and what is known of it.
type End struct {
	Demo, Axle string
	Mass, Bike float64                              // of rider and bike, and of the bike alone
	Share      float64                              // of it that stands on this wheel
	Unsprung   float64                              // of it at this end
	Stroke     float64                              // the full one
	Target     float64                              // sag wanted, of the wheel's travel
	Friction   float64                              // at the spring
	Wheel      func(stroke float64) float64         // vertical travel of the wheel
	Push       func(set Setting, s float64) float64 // of the spring, along its stroke
}

// Setting is what the page says to set.
type Setting struct{ Fill, Spacers, Rate, Preload float64 }

// Ends are those of the demonstrations.
var Ends = []End{
	{Demo: "coil-shock", Axle: "front", Mass: 78 + 16.2, Bike: 16.2, Share: 1 - 0.59, Unsprung: 2.3, Stroke: 0.16, Target: 0.2, Friction: 22, Wheel: forkAt(64),
		Push: air{bore: 36.5e-3, shaft: 10e-3, positive: 268e-6 - 6e-6, negative: 58e-6, port: 6e-3, spacer: 7e-6, ambient: 99.2e3}.push},
	{Demo: "coil-shock", Axle: "rear", Mass: 78 + 16.2, Bike: 16.2, Share: 0.59, Unsprung: 3.1, Stroke: 0.06, Target: 0.3, Friction: 30, Push: coil,
		Wheel: through(6e-3, 0, 17.22, 34.02, 50.4, 66.36, 81.9, 97.02, 111.72, 126, 139.86, 153.3)},
	{Demo: "air-both", Axle: "front", Mass: 165.6 * pound, Bike: 29.8 * pound, Share: 70.4 / 165.6, Unsprung: 4.4 * pound, Stroke: 5.5 * 0.0254, Target: 0.2, Wheel: forkAt(66),
		Push: air{bore: 34e-3, shaft: 9e-3, positive: 196e-6, negative: 44e-6, port: 5e-3, spacer: 6e-6, ambient: 11.53 * psi}.push},
	{Demo: "air-both", Axle: "rear", Mass: 165.6 * pound, Bike: 29.8 * pound, Share: 95.2 / 165.6, Unsprung: 5.6 * pound, Stroke: 0.05, Target: 0.27,
		Wheel: through(7.5e-3, 0, 20.53, 40.5, 59.91, 78.75, 97.03, 114.75),
		Push:  air{bore: 45e-3, shaft: 12e-3, positive: 165e-6, negative: 52e-6, port: 4e-3, spacer: 7e-6, ambient: 11.53 * psi}.push},
	{Demo: "pivots", Axle: "front", Mass: 91 + 18.4, Bike: 18.4, Share: 1 - 742./1262, Unsprung: 2.7, Stroke: 0.18, Target: 0.2, Friction: 18, Wheel: forkAt(63), Push: coil},
	{Demo: "pivots", Axle: "rear", Mass: 91 + 18.4, Bike: 18.4, Share: 742. / 1262, Unsprung: 3.6, Stroke: 0.062, Target: 0.31, Friction: 35, Wheel: swung, Push: coil},
}

// forkAt is a fork whose stanchions stand at an angle from the horizontal.
func forkAt(degrees float64) func(float64) float64 {
	return func(s float64) float64 { return s * math.Sin(degrees*math.Pi/180) }
}

// through passes through points at even steps of the stroke, the travel in millimetres: by the cubic
// through the four points nearest.
func through(step float64, travel ...float64) func(float64) float64 {
	return func(s float64) float64 {
		first := max(0, min(int(s/step)-1, len(travel)-4))
		sum := 0.0
		for i := first; i < first+4; i++ {
			term := travel[i] / 1000
			for j := first; j < first+4; j++ {
				if j != i {
					term *= (s/step - float64(j)) / float64(i-j)
				}
			}
			sum += term
		}
		return sum
	}
}

// swung is the single pivot of the demonstration: axle and lower eye turn about the pivot until the
// upper eye, fixed to the frame, is so much closer.
func swung(stroke float64) float64 {
	const pivotX, pivotY, eyeX, eyeY = 0.014, 0.078, 0.118, 0.296
	turned := func(x, y, by float64) (float64, float64) {
		x, y = x-pivotX, y-pivotY
		return pivotX + x*math.Cos(by) - y*math.Sin(by), pivotY + x*math.Sin(by) + y*math.Cos(by)
	}
	length := func(by float64) float64 {
		x, y := turned(-0.088, 0.232, by)
		return math.Hypot(x-eyeX, y-eyeY)
	}
	by := Zero(func(by float64) float64 { return length(0) - length(-by) - stroke }, -0.2, 1)
	_, y := turned(-0.436, 0.024, -by)
	return y - 0.024
}

// coil is a helical spring behind its preload.
func coil(set Setting, s float64) float64 { return set.Rate * (set.Preload + s) }

// air is a spring of two chambers that share their gas at the port. Slowly moved, each keeps
// pressure times volume.
type air struct{ bore, shaft, positive, negative, port, spacer, ambient float64 }

func (a air) push(set Setting, s float64) float64 {
	area := math.Pi / 4 * a.bore * a.bore
	ring := area - math.Pi/4*a.shaft*a.shaft
	volume := func(s float64) float64 { return a.positive - set.Spacers*a.spacer - area*s }
	behind := func(s float64) float64 { return a.negative + ring*s }
	amount := (set.Fill + a.ambient) * volume(0)
	shared := amount / volume(a.port)
	return area*(amount/volume(s)-a.ambient) - ring*(shared*behind(a.port)/behind(s)-a.ambient)
}

// Load is what the spring carries at the wheel.
func (e End) Load() float64 { return (e.Mass*e.Share - e.Unsprung) * amounts.Gravity }

// Lever is how much the wheel moves for a little stroke.
func (e End) Lever(s float64) float64 {
	const h = 1e-5
	return (e.Wheel(s+h) - e.Wheel(s-h)) / (2 * h)
}

// Force is what the spring pushes the wheel with.
func (e End) Force(set Setting, s float64) float64 { return e.Push(set, s) / e.Lever(s) }

// Rate is how much that grows with the wheel's travel.
func (e End) Rate(set Setting, s float64) float64 {
	const h = 1e-5
	return (e.Force(set, s+h) - e.Force(set, s-h)) / (e.Wheel(s+h) - e.Wheel(s-h))
}

// Rest is the stroke at which the end rests, where friction pushes the spring in with a force, or
// holds it out with a negative one.
func (e End) Rest(set Setting, friction float64) float64 {
	return Zero(func(s float64) float64 { return e.Push(set, s) - e.Load()*e.Lever(s) - friction }, 0, e.Stroke)
}

// Zero is where a rising function crosses 0.
func Zero(f func(float64) float64, low, high float64) float64 {
	for range 60 {
		if mid := (low + high) / 2; f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
