package spring_test

import (
	"errors"
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// counted is a law given by its force alone that counts how often it is asked.
type counted struct {
	force  func(x float64) float64
	travel float64
	asked  *int
}

func (c counted) Force(x units.Length) units.Force {
	*c.asked++
	return units.Force(c.force(float64(x)))
}
func (c counted) Rate(units.Length) units.Stiffness { return 0 }
func (c counted) Energy(units.Length) units.Energy  { return 0 }
func (c counted) Travel() units.Length              { return units.Length(c.travel) }
func lawOf(force func(float64) float64, travel float64) counted {
	return counted{force, travel, new(int)}
}

func TestSettle(t *testing.T) {
	law, err := spring.NewLinear(spring.Linear{Rate: 50e3, Travel: 0.06, Preload: 0.002}) // 100 N to 3100 N
	require.NoError(t, err)
	for _, test := range []struct {
		load units.Force
		want units.Length
		err  error
	}{
		{100, 0, nil}, {3100, 0.06, nil}, {1600, 0.03, nil}, {1100, 0.02, nil},
		{99.999, 0, spring.ErrToppedOut}, {3100.001, 0, spring.ErrBottomedOut}, {-5, 0, spring.ErrToppedOut},
	} {
		x, err := spring.Settle(law, test.load)
		if !errors.Is(err, test.err) || test.err != nil && x != 0 || math.Abs(float64(x-test.want)) > 1e-14 {
			t.Errorf("Settle(%v) = %v, %v, want %v, %v", test.load, x, err, test.want, test.err)
		}
	}
	for _, bad := range []units.Force{units.Force(math.NaN()), units.Force(math.Inf(1)), units.Force(math.Inf(-1))} {
		x, err := spring.Settle(law, bad)
		if refuses(t, err, "load"); x != 0 {
			t.Errorf("Settle(%v) = %v", bad, x)
		}
	}
}

// What is no law, or answers NaN or an infinity where Settle looks, gives no travel.
func TestSettleRefusesWhatIsNoLaw(t *testing.T) {
	line := func(x float64) float64 { return x }
	within := func(from, to, value float64) spring.Law {
		return lawOf(func(x float64) float64 {
			if x >= from && x <= to {
				return value
			}
			return x
		}, 1)
	}
	laws := map[string]spring.Law{
		"nil": nil, "no travel": spring.LinearSpring{}, "endless": lawOf(line, math.Inf(1)), "NaN travel": lawOf(line, math.NaN()),
		"a jump": within(0.4, 1, 2), "NaN": within(0, 1, math.NaN()), "NaN inside": within(0.4, 0.6, math.NaN()),
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		laws[fmt.Sprint(v, " at the start")], laws[fmt.Sprint(v, " at the end")] = within(0, 0, v), within(1, 1, v)
	}
	for name, law := range laws {
		if x, err := spring.Settle(law, 0.5); x != 0 || !errors.Is(err, spring.ErrLaw) {
			t.Errorf("%s: %v, %v", name, x, err)
		}
	}
}

// A jump is told from a root down to a millionth of the range of force, and a
// law that is steep at its end from a jump. The steep law is a gas that is
// pressed into a tiny rest, F = 1/(1 + rest − x), inverted by hand.
func TestSettleTellsAJump(t *testing.T) {
	for _, height := range []float64{1, 1e-2, 1e-4, 3e-6} {
		for _, at := range []float64{1e-9, 0.1, 0.5, 1 - 1e-9} {
			law := lawOf(func(x float64) float64 {
				if x > at {
					return x + height
				}
				return x
			}, 1)
			if x, err := spring.Settle(law, units.Force(at+height/2)); !errors.Is(err, spring.ErrJump) || !errors.Is(err, spring.ErrLaw) {
				t.Errorf("a jump of %v at %v: %v, %v", height, at, x, err)
			}
			if x, err := spring.Settle(law, units.Force(at/2)); err != nil || math.Abs(float64(x)-at/2) > 1e-13 {
				t.Errorf("below a jump of %v at %v: %v, %v", height, at, x, err)
			}
		}
	}
	for _, rest := range []float64{1e-3, 1e-6, 1e-9} {
		law := lawOf(func(x float64) float64 { return 1 / (1 + rest - x) }, 1)
		for _, part := range []float64{1e-6, 0.01, 0.3, 0.9, 0.99} {
			load := 1 + part/rest
			want := 1 + rest - 1/load
			x, err := spring.Settle(law, units.Force(load))
			if err != nil || math.Abs(float64(x)-want) > 1e-12 {
				t.Errorf("a rest of %v at %v: %.17g, %v, want %.17g", rest, part, float64(x), err, want)
			}
			// The travel is good to the last place where the law is steep, so
			// the force is good to 1e-16 of the travel times the slope.
			if back := float64(law.Force(x)); math.Abs(back-load) > load*(1e-9+4e-16*load) {
				t.Errorf("a rest of %v at %v: %v N, want %v", rest, part, back, load)
			}
		}
	}
}

func TestSettleDoesNotAllocate(t *testing.T) {
	made, err := spring.NewLinear(spring.Linear{Rate: 50e3, Travel: 0.06})
	require.NoError(t, err)
	var law spring.Law = made
	if n := testing.AllocsPerRun(100, func() { _, _ = spring.Settle(law, 1000) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// FuzzSettle: whatever the numbers, the answer is a travel that carries the
// load or an error.
func FuzzSettle(f *testing.F) {
	f.Add(50e3, 0.06, 0.002, 1600.0)
	f.Add(1e300, 1e-300, 0.0, 1.0)
	f.Add(5e-324, 1e308, 1e308, 1e-10)
	f.Fuzz(func(t *testing.T, rate, travel, preload, load float64) {
		law, err := spring.NewLinear(spring.Linear{units.Stiffness(rate), units.Length(travel), units.Length(preload)})
		if err != nil {
			return
		}
		x, err := spring.Settle(law, units.Force(load))
		if err == nil && !(x >= 0 && x <= law.Travel()) {
			t.Fatalf("Settle = %v of %v", x, law.Travel())
		}
	})
}

func BenchmarkSettle(b *testing.B) { // budget: 12 force evaluations, 0 allocations
	f := func(x float64) float64 { return 1000 * (math.Pow(1/(1-x/0.16*0.64), 1.3) - 0.2) }
	var law spring.Law = lawOf(f, 0.16)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := spring.Settle(law, 1400); err != nil {
			b.Fatal(err)
		}
	}
}

// Laws like those of springs take few looks at the force, both ends among them, for
// 1e-12 of the answer, which is known in closed form. On a line the first look, by
// the chord, is at the answer; rounding makes one or two more of it. Curves take a
// few more, and a kink or a steep middle fewer than halving does, which takes 44.
func TestSettleTakesFewLooks(t *testing.T) {
	type curve struct {
		name           string
		force, inverse func(float64) float64
		most           int
		mean           float64
	}
	curves := []curve{
		{"a line", func(x float64) float64 { return 9e3 * (x + 0.01) }, func(f float64) float64 { return f/9e3 - 0.01 }, 5, 3.5},
		{"a parabola", func(x float64) float64 { return 5e3*x + 3e4*x*x }, func(f float64) float64 { return (-5e3 + math.Sqrt(25e6+4*3e4*f)) / 6e4 }, 10, 8.5},
		{"a steep middle", func(x float64) float64 { return 1000 * math.Atan(1e4*(x-0.05)) }, func(f float64) float64 { return 0.05 + math.Tan(f/1000)/1e4 }, 24, 20},
		{"a kink", func(x float64) float64 { return max(1000*x, 1000*x+50000*(x-0.08)) }, func(f float64) float64 { return min(f/1000, (f+4000)/51000) }, 20, 8},
	}
	for _, n := range []float64{1, 1.3, 1.45} {
		for _, ratio := range []float64{2, 2.8, 3.5} { // a gas, p₀·A·((V/(V − A·x))ⁿ − 0.2)
			curves = append(curves, curve{fmt.Sprintf("a gas of %v to the %v", ratio, n),
				func(x float64) float64 { return 1000 * (math.Pow(1/(1-x/0.16*(1-1/ratio)), n) - 0.2) },
				func(f float64) float64 { return (1 - math.Pow(f/1000+0.2, -1/n)) / (1 - 1/ratio) * 0.16 }, 12, 9.9})
		}
	}
	for _, c := range curves {
		sum, most := 0, 0
		for i := 1; i < 200; i++ {
			law := lawOf(c.force, 0.16)
			load := c.force(0) + (c.force(0.16)-c.force(0))*float64(i)/200
			x, err := spring.Settle(law, units.Force(load))
			if want := c.inverse(load); err != nil || math.Abs(float64(x)-want) > 1e-12*want+1e-13*0.16 {
				t.Errorf("%s under %v: %.17g, %v, want %.17g", c.name, load, float64(x), err, want)
			}
			sum, most = sum+*law.asked, max(most, *law.asked)
		}
		if mean := float64(sum) / 199; mean > c.mean || most > c.most {
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

func ExampleSettle() {
	law, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre, Preload: 2 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	// By hand: 1500 N / (80 N/mm) − 2 mm.
	x, err := spring.Settle(law, 1500*units.Newton)
	fmt.Printf("%.2f %v\n", x, err)
	_, err = spring.Settle(law, 5000*units.Newton)
	fmt.Println(err)
	// Output:
	// 16.75 mm <nil>
	// spring: load 5000 N: want from 160 N to 4960 N, or it bottoms out
}
