package sag

import (
	"math"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// standing is a bike that is let down on its springs. Its energy is that of the springs and
//
//	above·n·(c − a_r) + along·t·(c − a_r) + apart·D + turn·θ
//
// in the symbols of [Bike.Stance].
type standing struct {
	bike                      *Bike
	full                      [2]float64 // strokes
	centre                    plane      // of the sprung mass
	above, along, apart, turn float64
}

// balance is a standing bike at a pair of strokes.
type balance struct {
	footing
	along, above float64 // from the rear axle to the mass centre
	energy       float64
	slope        [2]float64    // of the energy by each stroke
	rate         [2][2]float64 // and its second derivatives
}

// at returns the balance at a pair of strokes.
func (b *standing) at(s [2]units.Length) (o balance) {
	axles := b.bike.axles(s)
	if o.footing = b.bike.footing(axles); !o.ok {
		o.energy = math.Inf(1)
		return o
	}
	t, n, d := o.t, o.n, o.distance
	centre := b.centre.minus(o.rear)
	u, v := t.dot(centre), n.dot(centre)
	o.along, o.above = u, v

	// By the stroke j: of the vector from axle to axle, whose head is the front one and whose foot the
	// rear one; of θ, D, u and v. With the rear axle the foot of the vector to the mass centre moves too.
	var move, bend [2]plane
	var turn, apart, along, above [2]float64
	for j, side := range [2]float64{1, -1} {
		a := &axles[j]
		move[j], bend[j] = plane{side * a.ForwardRate, side * a.UpRate}, plane{side * float64(a.ForwardSlope), side * float64(a.UpSlope)}
		turn[j] = n.dot(move[j]) / d
		apart[j] = t.dot(move[j]) + turn[j]*o.step
		along[j], above[j] = turn[j]*v, -turn[j]*u
	}
	along[1] += t.dot(move[1])
	above[1] += n.dot(move[1])
	for j := range 2 {
		o.slope[j] = b.above*above[j] + b.along*along[j] + b.apart*apart[j] + b.turn*turn[j]
		for k := range 2 {
			turned := -turn[k]*t.dot(move[j]) - turn[j]*apart[k]
			parted := turn[k] * n.dot(move[j])
			if j == k {
				turned += n.dot(bend[j])
				parted += t.dot(bend[j])
			}
			turned /= d
			forth, raised := turned*v+turn[j]*above[k], -turned*u-turn[j]*along[k]
			if j == 1 {
				forth += turn[k] * n.dot(move[1])
				raised -= turn[k] * t.dot(move[1])
				if k == 1 {
					forth += t.dot(bend[1])
					raised += n.dot(bend[1])
				}
			}
			o.rate[j][k] = b.above*raised + b.along*forth + b.apart*(parted+turned*o.step) + b.turn*turned
		}
	}
	o.energy = b.above*v + b.along*u + b.apart*d + b.turn*math.Atan2(t.y, t.x)
	for j, law := range [2]spring.Law{b.bike.Front.Law, b.bike.Rear.Law} {
		o.energy += float64(law.Energy(s[j]))
		o.slope[j] += float64(law.Force(s[j]))
		o.rate[j][j] += float64(law.Rate(s[j]))
	}
	return o
}

// settle returns the strokes of least energy that the bike reaches from a pair of strokes, and the
// balance there. It is not ok where there are none: at a saddle, or where the wheels don't reach the
// ground.
func (b *standing) settle(s [2]units.Length) ([2]units.Length, balance) {
	o := b.at(s)
	for range mostStandingSteps {
		if !o.ok {
			break
		}
		// Steps are shortened until the energy falls; the last ones change it by less than rounding.
		step, from, most := o.newton(s, b.full), s, o.energy+1e-14*math.Abs(o.energy)
		for part := 1.0; part > 1e-10; part /= 2 {
			for i := range s {
				s[i] = units.Length(within(float64(from[i])+part*step[i], b.full[i]))
			}
			if o = b.at(s); o.energy <= most {
				break
			}
		}
		if math.Hypot(float64(s[0]-from[0]), float64(s[1]-from[1])) <= settleTolerance*b.full[0] {
			break
		}
	}
	o.ok = o.ok && o.held(s, b.full).bowl()
	return s, o
}

// mostStandingSteps is far more than a bike takes, which is four or five.
const mostStandingSteps = 200

// within returns the stroke between the stops that is nearest to s.
func within(s, full float64) float64 { return min(max(s, 0), full) }

// held returns the balance of the strokes that are free: an end that the energy presses against its stop is not.
func (o balance) held(s [2]units.Length, full [2]float64) balance {
	for i, slope := range o.slope {
		if s[i] == 0 && slope > 0 || float64(s[i]) == full[i] && slope < 0 {
			o.slope[i], o.rate[i][i], o.rate[0][1], o.rate[1][0] = 0, 1, 0, 0
		}
	}
	return o
}

// newton returns Newton's step towards the least energy, or each end's own downhill where the energy is not bent
// upward. What is left of it within the stops goes downhill too.
func (o balance) newton(s [2]units.Length, full [2]float64) [2]float64 {
	o = o.held(s, full)
	g, h := o.slope, o.rate
	if !o.bowl() {
		h = [2][2]float64{{math.Abs(h[0][0]), 0}, {0, math.Abs(h[1][1])}}
	}
	det := h[0][0]*h[1][1] - h[0][1]*h[1][0]
	return [2]float64{(h[0][1]*g[1] - h[1][1]*g[0]) / det, (h[1][0]*g[0] - h[0][0]*g[1]) / det}
}

// bowl reports whether the energy is bent upward in every direction.
func (o balance) bowl() bool {
	a, b, c := o.rate[0][0], o.rate[0][1], o.rate[1][1]
	return a > 0 && a*c > b*b
}
