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
	full := b.full
	o := b.at(s)
	for range mostStandingSteps {
		if !o.ok {
			return s, o
		}
		step := o.newton(s, full)
		// Steps are shortened until the energy falls; the last ones change it by less than rounding.
		part, next, there := 1.0, s, o
		for {
			for i := range next {
				next[i] = units.Length(min(max(float64(s[i])+part*step[i], 0), full[i]))
			}
			if there = b.at(next); there.ok && there.energy <= o.energy+1e-14*(math.Abs(o.energy)+b.above*full[0]) || part < 1e-10 {
				break
			}
			part /= 2
		}
		moved := math.Max(math.Abs(float64(next[0]-s[0]))/full[0], math.Abs(float64(next[1]-s[1]))/full[1])
		s, o = next, there
		if moved <= settleTolerance {
			break
		}
	}
	o.ok = o.ok && o.stable(s, full)
	return s, o
}

// mostStandingSteps is far more than a bike takes, which is four or five.
const mostStandingSteps = 200

// held reports whether an end rests against a stop, which the energy falls towards.
func (o *balance) held(i int, s [2]units.Length, full [2]float64) bool {
	return s[i] <= 0 && o.slope[i] >= 0 || float64(s[i]) >= full[i] && o.slope[i] <= 0
}

// newton returns Newton's step towards the least energy, within the stops. Along a direction in which
// the energy is bent downward it goes downhill as far.
func (o *balance) newton(s [2]units.Length, full [2]float64) (step [2]float64) {
	alone := func(i int, slope float64) float64 {
		if o.held(i, s, full) || slope == 0 {
			return 0
		}
		return min(max(-slope/math.Abs(o.rate[i][i]), -float64(s[i])), full[i]-float64(s[i]))
	}
	if o.held(0, s, full) || o.held(1, s, full) {
		return [2]float64{alone(0, o.slope[0]), alone(1, o.slope[1])}
	}
	// The directions of principal curvature, turned by an angle from the strokes.
	a, b, c := o.rate[0][0], (o.rate[0][1]+o.rate[1][0])/2, o.rate[1][1]
	sin, cos := math.Sincos(math.Atan2(2*b, a-c) / 2)
	along := [2]float64{cos*o.slope[0] + sin*o.slope[1], cos*o.slope[1] - sin*o.slope[0]}
	bent := [2]float64{a*cos*cos + 2*b*sin*cos + c*sin*sin, a*sin*sin - 2*b*sin*cos + c*cos*cos}
	for i := range along {
		if along[i] != 0 {
			along[i] /= -math.Abs(bent[i])
		}
	}
	step = [2]float64{cos*along[0] - sin*along[1], sin*along[0] + cos*along[1]}
	for i := range step { // the first that meets a stop stays there, and the other goes on alone
		if to := float64(s[i]) + step[i]; !(to >= 0 && to <= full[i]) {
			step[i] = min(max(to, 0), full[i]) - float64(s[i])
			j := 1 - i
			step[j] = alone(j, o.slope[j]+b*step[i])
			break
		}
	}
	return step
}

// stable reports whether the energy is bent upward in every direction that the strokes can take.
func (o *balance) stable(s [2]units.Length, full [2]float64) bool {
	first, second := o.held(0, s, full), o.held(1, s, full)
	a, b, c := o.rate[0][0], o.rate[0][1], o.rate[1][1]
	return (first || a > 0) && (second || c > 0) && (first || second || a*c > b*b)
}
