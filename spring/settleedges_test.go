package spring_test

import (
	"errors"
	"math"
	"testing"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// A law that answers NaN or an infinity at one of its ends is none.
func TestSettleRefusesHalfALaw(t *testing.T) {
	for _, none := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for name, law := range map[string]spring.Law{
			"at the start": lawOf(func(x float64) float64 {
				if x == 0 {
					return none
				}
				return x
			}, 1),
			"at the end": lawOf(func(x float64) float64 {
				if x == 1 {
					return none
				}
				return x
			}, 1),
		} {
			if x, err := spring.Settle(law, 0.5); x != 0 || err != spring.ErrLaw {
				t.Errorf("%v %s: %v, %v", none, name, x, err)
			}
		}
	}
}

// On a line the first look, by the chord, is at the answer; rounding makes one
// or two more of it. Curves take a few more, and a kink or a steep middle
// fewer than halving does, which takes 44.
func TestSettleTakesFewLooksOnAverage(t *testing.T) {
	for _, c := range []struct {
		name  string
		force func(x float64) float64
		most  float64
		mean  float64
	}{
		{"a line", func(x float64) float64 { return 9e3 * (x + 0.01) }, 5, 3.5},
		{"a parabola", func(x float64) float64 { return 5e3*x + 3e4*x*x }, 10, 8.5},
		{"a gas", func(x float64) float64 { return 1000 * (math.Pow(1/(1-x/0.16*(1-1/2.8)), 1.3) - 0.2) }, 12, 9.5},
		{"a steep middle", func(x float64) float64 { return 1000 * math.Atan(1e4*(x-0.05)) }, 24, 20},
		{"a kink", func(x float64) float64 { return math.Max(1000*x, 1000*x+50000*(x-0.08)) }, 20, 8},
	} {
		sum, most := 0, 0
		for i := 1; i < 200; i++ {
			law := lawOf(c.force, 0.16)
			load := c.force(0) + (c.force(0.16)-c.force(0))*float64(i)/200
			x, err := spring.Settle(law, units.Force(load))
			if back := c.force(float64(x)); err != nil || math.Abs(back-load) > 1e-8*(c.force(0.16)-c.force(0)) {
				t.Errorf("%s under %v: %v, %v", c.name, load, x, err)
			}
			sum, most = sum+*law.asked, max(most, *law.asked)
		}
		if mean := float64(sum) / 199; mean > c.mean || float64(most) > c.most {
			t.Errorf("%s: %v looks on average, %d at the most, want %v and %v", c.name, mean, most, c.mean, c.most)
		}
	}
}

// A jump is told as soon as the interval has closed a thousand times closer
// than to the tolerance: after some 53 halvings for 1e-13, wherever it is.
func TestSettleTellsAJumpSoon(t *testing.T) {
	for _, at := range []float64{1e-9, 1e-3, 0.3, 0.9} {
		law := lawOf(func(x float64) float64 {
			if x > at {
				return 1
			}
			return 0
		}, 1)
		if x, err := spring.Settle(law, 0.4); !errors.Is(err, spring.ErrJump) || x != 0 || *law.asked > 60 {
			t.Errorf("a jump at %v: %v, %v after %d looks", at, x, err, *law.asked)
		}
	}
}
