package mechanism

import (
	"math"
	"testing"

	"example.com/wheelrate/units"
)

// The step is three tenths of the rates over how fast they change, of all
// moving bodies together: here 0.3·√((3² + 4² + 5² + 12² + 6²)/(1² + 2² + 2² + 4²)).
func TestSmoothIsAShareOfTheRates(t *testing.T) {
	top := &topology{bodies: []string{Frame, "a", "b"}}
	m := &motion{
		0: {v: 100, a: 100, w: 100, dw: 100}, // the frame doesn't count
		1: {v: 3 + 4i, a: 1 + 2i, w: 5, dw: 2},
		2: {v: 12i, a: 0, w: -6, dw: -4},
		3: {v: 100, a: 100}, // nor does what there isn't
	}
	if got, want := top.smooth(m), 0.3*math.Sqrt(230./25); math.Abs(got-want) > 1e-15 {
		t.Errorf("%v, want %v", got, want)
	}
}

// moving returns where a body is whose origin follows a cubic of the stroke and
// whose turn another one, so that Taylor's formula in the middle holds to far
// below its tolerance.
func movingBody(s float64) bodyMotion {
	theta, w, dw := 0.4+0.7*s-0.9*s*s, 0.7-1.8*s, -1.8
	sin, cos := math.Sincos(theta)
	return bodyMotion{
		u: complex(cos, sin), w: w, dw: dw,
		o: complex(0.3+1.1*s+0.5*s*s-2*s*s*s, -0.2-0.4*s+0.6*s*s+s*s*s),
		v: complex(1.1+s-6*s*s, -0.4+1.2*s+3*s*s),
		a: complex(1-12*s, 1.2+6*s),
	}
}

// Two motions join only where places, rates and their changes all fit: each of
// them by itself, a little wrong, is noticed.
func TestJoins(t *testing.T) {
	top := &topology{bodies: []string{Frame, "a", "b"}}
	const s, h = 0.2, 0.01
	both := func() (from, to *motion) {
		return &motion{1: movingBody(s), 2: movingBody(0.5)}, &motion{1: movingBody(s + h), 2: movingBody(0.5 + h)}
	}
	if from, to := both(); !top.joins(from, to, h) {
		t.Fatal("a smooth motion doesn't join")
	}
	for name, spoil := range map[string]func(*bodyMotion){
		"x":     func(b *bodyMotion) { b.o += 1e-5 },
		"y":     func(b *bodyMotion) { b.o -= 1e-5i },
		"turn":  func(b *bodyMotion) { b.u *= complex(math.Cos(1e-5), math.Sin(1e-5)) },
		"v_x":   func(b *bodyMotion) { b.v += 1e-3 },
		"v_y":   func(b *bodyMotion) { b.v -= 1e-3i },
		"w":     func(b *bodyMotion) { b.w += 1e-3 },
		"a_x":   func(b *bodyMotion) { b.a += 1e-2 },
		"a_y":   func(b *bodyMotion) { b.a -= 1e-2i },
		"dw":    func(b *bodyMotion) { b.dw += 1e-2 },
		"other": func(b *bodyMotion) { *b = movingBody(0.9) },
	} {
		for body := 1; body <= 2; body++ {
			for side := range 2 {
				from, to := both()
				spoil(&[]*motion{from, to}[side][body])
				if top.joins(from, to, h) {
					t.Errorf("%s of body %d wrong on side %d: joins", name, body, side)
				}
			}
		}
	}
}

// How much a motion may miss: a millionth of the way, which is the step times
// the rates at both ends.
func TestJoinsToAMillionth(t *testing.T) {
	top := &topology{bodies: []string{Frame, "a"}}
	const h, v, w = 0.01, 2.0, 0.5
	way := h * (v + v + w + w)
	for _, test := range []struct {
		o, u float64 // misses, in millionths of the way
		ok   bool
	}{
		{0, 0, true}, {0.9, 0, true}, {-0.9, 0, true}, {1.1, 0, false}, {0, 0.9, true}, {0, 1.1, false},
		{0.45, 0.45, true}, {0.6, 0.6, false}, {-0.6, 0.6, false}, {0.6, -0.6, false},
	} {
		sin, cos := math.Sincos(w * h)
		from := &motion{1: {u: 1, v: v * 1i, w: w}}
		to := &motion{1: {
			u: complex(cos, sin) * complex(1, test.u*1e-6*way), w: w,
			v: v * 1i, o: complex(test.o*1e-6*way, v*h),
		}}
		if got := top.joins(from, to, h); got != test.ok {
			t.Errorf("%v and %v millionths of the way: %v", test.o, test.u, got)
		}
	}
	// Rates of the other sign count for the way as well.
	from := &motion{1: {u: 1, v: -v, w: -w}}
	sin, cos := math.Sincos(-w * h)
	to := &motion{1: {u: complex(cos, sin), v: -v, w: -w, o: complex(-v*h, 0.9e-6*way)}}
	if !top.joins(from, to, h) {
		t.Error("backward it doesn't join")
	}
}

// The steps towards a dead point shrink with the distance to it and never jump
// over it. The rates grow as one over the root of the distance, so that rates
// over their change are twice the distance: a step is at most six tenths of it.
// Nor is it less than a twentieth, but where it ends at an even step.
func TestStepsShrinkTowardsADeadPoint(t *testing.T) {
	for _, closed := range []bool{true, false} {
		m, dead := deadCrank(1e-5)
		k, err := follow(m, closed, steps)
		if err != nil {
			t.Fatal(err)
		}
		small := 0
		for i, s := range k.strokes[1:] {
			h, left := (s-k.strokes[i])*k.t.size, dead-k.strokes[i]*k.t.size
			if h > 0.62*left || h < 0.05*left && h < 0.2*float64(m.Stroke)/steps && s < k.t.stroke*0.99999 {
				t.Errorf("a step of %v with %v left", h, left)
			}
			if h < 0.9*float64(m.Stroke)/steps {
				small++
			}
		}
		if small < 10 {
			t.Errorf("%d small steps only", small)
		}
	}
}

// deadCrank is an arm whose stroke ends a gap short of the dead point that it
// also returns, in m.
func deadCrank(gap float64) (Spec, float64) {
	const a, d, phi = 0.08, 0.25, 0.9
	dead := math.Sqrt(a*a+d*d-2*a*d*math.Cos(phi)) - (d - a)
	return Spec{
		Points: map[string]Point{"P": {0, 0}, "S1": {units.Length(a * math.Cos(phi)), units.Length(a * math.Sin(phi))}, "S2": {d, 0}, "A": {-0.4, -0.05}},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "S1", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: units.Length(dead - gap),
	}, dead
}
