package main

import "math"

// Here the ends of the demonstrations are stated a second time, from the numbers of their jobs and
// from statics alone, with nothing of the library: an end rests where its spring gives back the work
// that the load does over a little travel. Units are those of the SI.

const gravity = 9.80665

// end is one end of a demonstration, and what is known of it.
type end struct {
	demo, axle string
	mass, bike float64                              // of rider and bike, and of the bike alone
	part       float64                              // of it that stands on this wheel
	unsprung   float64                              // of it at this end
	stroke     float64                              // the full one
	target     float64                              // sag wanted, of the wheel's travel
	friction   float64                              // at the spring
	wheel      func(stroke float64) float64         // vertical travel of the wheel
	push       func(set setting, s float64) float64 // of the spring, along its stroke
}

// setting is what the page says to set.
type setting struct{ fill, spacers, rate, preload float64 }

var statics = []end{
	{demo: "coil-shock", axle: "front", mass: 78 + 16.2, bike: 16.2, part: 1 - 0.59, unsprung: 2.3, stroke: 0.16, target: 0.2, friction: 22, wheel: forkAt(64),
		push: air{bore: 36.5e-3, shaft: 10e-3, positive: 268e-6 - 6e-6, negative: 58e-6, port: 6e-3, spacer: 7e-6, ambient: 99.2e3}.push},
	{demo: "coil-shock", axle: "rear", mass: 78 + 16.2, bike: 16.2, part: 0.59, unsprung: 3.1, stroke: 0.06, target: 0.3, friction: 30, push: coil,
		wheel: through(6e-3, 0, 17.22, 34.02, 50.4, 66.36, 81.9, 97.02, 111.72, 126, 139.86, 153.3)},
	{demo: "air-both", axle: "front", mass: 165.6 * pound, bike: 29.8 * pound, part: 70.4 / 165.6, unsprung: 4.4 * pound, stroke: 5.5 * 0.0254, target: 0.2, wheel: forkAt(66),
		push: air{bore: 34e-3, shaft: 9e-3, positive: 196e-6, negative: 44e-6, port: 5e-3, spacer: 6e-6, ambient: 11.53 * psi}.push},
	{demo: "air-both", axle: "rear", mass: 165.6 * pound, bike: 29.8 * pound, part: 95.2 / 165.6, unsprung: 5.6 * pound, stroke: 0.05, target: 0.27,
		wheel: through(7.5e-3, 0, 20.53, 40.5, 59.91, 78.75, 97.03, 114.75),
		push:  air{bore: 45e-3, shaft: 12e-3, positive: 165e-6, negative: 52e-6, port: 4e-3, spacer: 7e-6, ambient: 11.53 * psi}.push},
	{demo: "pivots", axle: "front", mass: 91 + 18.4, bike: 18.4, part: 1 - 742./1262, unsprung: 2.7, stroke: 0.18, target: 0.2, friction: 18, wheel: forkAt(63), push: coil},
	{demo: "pivots", axle: "rear", mass: 91 + 18.4, bike: 18.4, part: 742. / 1262, unsprung: 3.6, stroke: 0.062, target: 0.31, friction: 35, wheel: swung, push: coil},
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
	by := zero(func(by float64) float64 { return length(0) - length(-by) - stroke }, -0.2, 1)
	_, y := turned(-0.436, 0.024, -by)
	return y - 0.024
}

// coil is a helical spring behind its preload.
func coil(set setting, s float64) float64 { return set.rate * (set.preload + s) }

// air is a spring of two chambers that share their gas at the port. Slowly moved, each keeps
// pressure times volume.
type air struct{ bore, shaft, positive, negative, port, spacer, ambient float64 }

func (a air) push(set setting, s float64) float64 {
	area := math.Pi / 4 * a.bore * a.bore
	ring := area - math.Pi/4*a.shaft*a.shaft
	volume := func(s float64) float64 { return a.positive - set.spacers*a.spacer - area*s }
	behind := func(s float64) float64 { return a.negative + ring*s }
	amount := (set.fill + a.ambient) * volume(0)
	shared := amount / volume(a.port)
	return area*(amount/volume(s)-a.ambient) - ring*(shared*behind(a.port)/behind(s)-a.ambient)
}

// load is what the spring carries at the wheel.
func (e end) load() float64 { return (e.mass*e.part - e.unsprung) * gravity }

// lever is how much the wheel moves for a little stroke.
func (e end) lever(s float64) float64 {
	const h = 1e-5
	return (e.wheel(s+h) - e.wheel(s-h)) / (2 * h)
}

// force is what the spring pushes the wheel with.
func (e end) force(set setting, s float64) float64 { return e.push(set, s) / e.lever(s) }

// rate is how much that grows with the wheel's travel.
func (e end) rate(set setting, s float64) float64 {
	const h = 1e-5
	return (e.force(set, s+h) - e.force(set, s-h)) / (e.wheel(s+h) - e.wheel(s-h))
}

// rest is the stroke at which the end rests, where friction pushes the spring in with a force, or
// holds it out with a negative one.
func (e end) rest(set setting, friction float64) float64 {
	return zero(func(s float64) float64 { return e.push(set, s) - e.load()*e.lever(s) - friction }, 0, e.stroke)
}

// zero is where a rising function crosses 0.
func zero(f func(float64) float64, low, high float64) float64 {
	for range 60 {
		if mid := (low + high) / 2; f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
