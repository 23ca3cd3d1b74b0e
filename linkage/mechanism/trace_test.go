package mechanism

import (
	"math"
	"testing"
)

// The step is three tenths of the rates over how fast they change, of all
// moving bodies together: here 0.3·√((3² + 4² + 5² + 12² + 6²)/(1² + 2² + 2² + 4²)).
func TestStepIsAShareOfTheRatesOverTheirChange(t *testing.T) {
	bodies := []bodyMotion{{v: 3 + 4i, a: 1 + 2i, w: 5, dw: 2}, {v: 12i, a: 0, w: -6, dw: -4}}
	if got, want := smooth(bodies), 0.3*math.Sqrt(230./25); math.Abs(got-want) > 1e-15 {
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
func TestJoinedMotionsFitInEveryDerivative(t *testing.T) {
	const s, h = 0.2, 0.01
	both := func() (from, to []bodyMotion) {
		return []bodyMotion{movingBody(s), movingBody(0.5)}, []bodyMotion{movingBody(s + h), movingBody(0.5 + h)}
	}
	if from, to := both(); !joins(from, to, h) {
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
		for body := range 2 {
			for side := range 2 {
				from, to := both()
				spoil(&[][]bodyMotion{from, to}[side][body])
				if joins(from, to, h) {
					t.Errorf("%s of body %d wrong on side %d: joins", name, body, side)
				}
			}
		}
	}
}

// How much a motion may miss: a millionth of the way, which is the step times
// the rates at both ends.
func TestMotionsJoinToAMillionthOfTheWay(t *testing.T) {
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
		from := []bodyMotion{{u: 1, v: v * 1i, w: w}}
		to := []bodyMotion{{
			u: complex(cos, sin) * complex(1, test.u*1e-6*way), w: w,
			v: v * 1i, o: complex(test.o*1e-6*way, v*h),
		}}
		if got := joins(from, to, h); got != test.ok {
			t.Errorf("%v and %v millionths of the way: %v", test.o, test.u, got)
		}
	}
	// Rates of the other sign count for the way as well.
	from := []bodyMotion{{u: 1, v: -v, w: -w}}
	sin, cos := math.Sincos(-w * h)
	to := []bodyMotion{{u: complex(cos, sin), v: -v, w: -w, o: complex(-v*h, 0.9e-6*way)}}
	if !joins(from, to, h) {
		t.Error("backward it doesn't join")
	}
}
