package spring_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// gas is a law of varying rate with an inverse in closed form, and a force
// that is negative near full extension: F = c/(l − x) − d.
type gas struct{ c, l, d, travel float64 }

func (g gas) Force(x units.Length) units.Force {
	return units.Force(g.c/(g.l-float64(spring.Clamp(x, g.Travel()))) - g.d)
}

func (g gas) Rate(x units.Length) units.Stiffness {
	left := g.l - float64(spring.Clamp(x, g.Travel()))
	return units.Stiffness(g.c / (left * left))
}

func (g gas) Energy(x units.Length) units.Energy {
	s := float64(spring.Clamp(x, g.Travel()))
	return units.Energy(-g.c*math.Log1p(-s/g.l) - g.d*s)
}

func (g gas) Travel() units.Length { return units.Length(g.travel) }

// at is the inverse of Force, limited to the travel.
func (g gas) at(force float64) float64 {
	return min(max(g.l-g.c/(force+g.d), 0), g.travel)
}

// evenlyAt is the inverse of the force of the spring evenly: the textbook form
// of the law, in N and mm, with k₁ = G·d⁴/(8·D³).
func evenlyAt(force float64) float64 {
	u := force / (79500 * math.Pow(6, 4) / (8 * math.Pow(30.5, 3)))
	if u <= 4 {
		return 18 * max(u, 0)
	}
	u = min(u, 9)
	return 18 * (u - (u-4)*(u-4)/(2*5))
}

// By hand: 60 and 90 N/mm on end are 36 N/mm. The softer one is solid after
// 12 mm, at 720 N and 20 mm of both; from there on the rate is 90 N/mm.
func TestSeriesByHand(t *testing.T) {
	soft, hard := linearOf(t, 60e3, 12e-3), linearOf(t, 90e3, 20e-3)
	for name, members := range map[string][]spring.Law{
		"joined": {soft, hard}, "half hidden": {opaque{soft}, hard}, "hidden": {opaque{soft}, opaque{hard}}, "turned": {opaque{hard}, opaque{soft}},
	} {
		t.Run(name, func(t *testing.T) {
			law := seriesOf(t, members...)
			agree(t, "travel", law.Travel(), mm(32), 1e-14)
			shows(t, law, []stackPoint{
				{10, 360, 36, 1800}, {20 - 1e-9, 720, 36, 7200}, {20 + 1e-9, 720, 90, 7200}, {24, 1080, 90, 10800}, {32, 1800, 90, 22320},
			}, 1e-9)
			obeysItself(t, law, []units.Length{mm(20)})
		})
	}
}

// The same coil groups, once as groups and once as springs on end, in four
// forms of which none shares its sums with another.
func TestSeriesOfGroups(t *testing.T) {
	rates, gaps := []float64{60, 90, 140}, []float64{12, 20, 25}
	var single, hidden []spring.Law
	for i := range rates {
		k := linearOf(t, 1e3*rates[i], 1e-3*gaps[i])
		single, hidden = append(single, k), append(hidden, opaque{k})
	}
	nested := seriesOf(t, hidden[0], hidden[1])
	for name, members := range map[string][]spring.Law{
		"joined": single, "hidden": hidden, "nested": {hidden[2], nested}, "mixed": {single[2], hidden[1], single[0]},
	} {
		t.Run(name, func(t *testing.T) {
			stack := seriesOf(t, members...)
			agree(t, "travel", stack.Travel(), mm(57), 1e-14)
			shows(t, stack, progressive[0].points, 1e-12)
		})
	}
}

// Preloaded members stand still until the force reaches their preload: 40 N/mm
// from 200 N, and 60 N/mm from 500 N. Up to 7.5 mm only the first moves, then
// both with 24 N/mm. Where the first is solid after 5 mm, at 400 N, the force
// jumps from there to 500 N.
func TestSeriesOfPreloaded(t *testing.T) {
	hard := linearOf(t, 60e3, 30e-3, 1e-3*(500.0/60))
	for _, travel := range []float64{20, 5} {
		soft := linearOf(t, 40e3, 1e-3*travel, 5e-3)
		for name, members := range map[string][]spring.Law{
			"joined": {soft, hard}, "half hidden": {opaque{soft}, hard}, "half hidden, turned": {opaque{hard}, soft},
			"hidden": {opaque{soft}, opaque{hard}}, "hidden, turned": {opaque{hard}, opaque{soft}},
		} {
			t.Run(fmt.Sprintf("%s, %v mm", name, travel), func(t *testing.T) {
				law := seriesOf(t, members...)
				points := []stackPoint{
					{0, 200, 40, 0}, {4, 360, 40, 1120}, {7.5 - 1e-9, 500, 40, 2625}, {7.5 + 1e-9, 500, 24, 2625}, {10, 560, 24, 3950},
				}
				if travel == 5 {
					points = []stackPoint{{0, 200, 40, 0}, {4, 360, 40, 1120}, {5 - 1e-9, 400, 40, 1500}, {5 + 1e-9, 500, 60, 1500}, {15, 1100, 60, 9500}}
				}
				shows(t, law, points, 1e-9)
				clamped(t, law)
			})
		}
	}
}

// A gas, an evenly widening spring and two linear ones on end, each inverted
// by hand: whatever force the stack shows, the travels at that force add up.
func TestSeriesInGeneral(t *testing.T) {
	air := gas{c: 120, l: 0.18, d: 800, travel: 0.12}
	second := gas{c: 90, l: 0.1, d: 700, travel: 0.06}
	pitch, err := coil.NewLinearPitch(evenly)
	require.NoError(t, err)
	linear := linearOf(t, 70e3, 30e-3, 2e-3)
	bumper := groupsOf(t, spring.Group{Rate: perMM(300), Gap: mm(8)})
	inverses := map[spring.Law]func(float64) float64{
		air: air.at, second: second.at,
		pitch:  func(f float64) float64 { return evenlyAt(f) * 1e-3 },
		linear: func(f float64) float64 { return min(max(f/70e3-0.002, 0), 0.03) },
		bumper: func(f float64) float64 { return min(max(f/300e3, 0), 0.008) },
	}
	for name, laws := range map[string][]spring.Law{
		"gas alone": {air}, "gas and linear": {air, linear}, "two gases": {air, second},
		"gas, linear, bumper": {air, linear, bumper}, "pitch and bumper": {pitch, bumper}, "pitch and gas": {pitch, air},
		"all": {linear, air, pitch, second, bumper}, "all, turned": {bumper, second, pitch, air, linear},
	} {
		t.Run(name, func(t *testing.T) {
			law := seriesOf(t, laws...)
			steps := 500
			for i := range steps {
				x := law.Travel() * units.Length(i) / units.Length(steps)
				force := law.Force(x)
				sum, energy := 0.0, units.Energy(0)
				for _, l := range laws {
					part := inverses[l](float64(force))
					sum += part
					energy += l.Energy(units.Length(part))
				}
				if math.Abs(sum-float64(x)) > 1e-12*float64(law.Travel()) {
					t.Fatalf("at %v the force is %v, at which the members' travels add to %v", x, force, units.Length(sum))
				}
				agree(t, fmt.Sprint("energy at ", x), 1000+law.Energy(x), 1000+energy, 1e-12)
				h := 1e-5 * law.Travel()
				if x > h && i > 0 {
					left, right := float64((law.Force(x)-law.Force(x-h))/units.Force(h)), float64((law.Force(x+h)-law.Force(x))/units.Force(h))
					if rate := float64(law.Rate(x)); rate < 0.999*min(left, right) || rate > 1.001*max(left, right) {
						t.Errorf("rate at %v = %v, but the slopes are %v and %v", x, rate, left, right)
					}
				}
			}
			clamped(t, law)
			if n := testing.AllocsPerRun(10, func() {
				sink = float64(law.Force(law.Travel()/3)) + float64(law.Rate(law.Travel()/3)) + float64(law.Energy(law.Travel()/3))
			}); n != 0 {
				t.Errorf("%v allocations", n)
			}
		})
	}
}

// A member that jumps: 95 N/mm beside a caged helper of 40 N/mm that starts at
// 12.5 mm with 120 N, or with 1200 N, so that its force goes from 1187.5 N to
// 1307.5 N or 2387.5 N there. On end with 100 N/mm, the other one alone moves
// through the jump, and with a third of 50 N/mm those two do, 1/(1/100 + 1/50)
// N/mm. By hand, and at any size: forces stay, rates shrink as travels grow.
func TestSeriesOfJumps(t *testing.T) {
	for _, size := range []float64{1, 1e-9, 1e6} {
		for _, caged := range []float64{120, 1200} {
			rate, length := 1e3/size, 1e-3*size
			jumping := parallelOf(t, spring.Member{Law: linearOf(t, 95*rate, 60*length)},
				spring.Member{Law: linearOf(t, 40*rate, 30*length, caged/40*length), StartsAt: units.Length(12.5 * length)})
			k, third := linearOf(t, 100*rate, 60*length), linearOf(t, 50*rate, 60*length)
			for name, members := range map[string][]spring.Law{
				"joined": {jumping, k}, "hidden": {opaque{jumping}, opaque{k}}, "turned": {opaque{k}, opaque{jumping}},
				"half hidden": {opaque{jumping}, k}, "half hidden, turned": {opaque{k}, jumping},
				"three joined": {jumping, k, third}, "three": {opaque{jumping}, opaque{k}, opaque{third}},
				"three, turned": {opaque{third}, opaque{jumping}, opaque{k}}, "three, half hidden": {opaque{k}, opaque{jumping}, third},
			} {
				law, soft, last := seriesOf(t, members...), 100.0, 1187.5+caged
				if len(members) == 3 {
					soft = 1 / (1/100.0 + 1/50.0)
				}
				points := [][3]float64{{600, 600 / 95.0, 1 / (1/95.0 + 1/soft)}, {last + 192.5, 12.5 + 192.5/135, 1 / (1/135.0 + 1/soft)}}
				for force := 1188.0; force < last; force += caged / 32 {
					points = append(points, [3]float64{force, 12.5, soft})
				}
				for _, p := range points {
					force, part := p[0], p[1]
					x := units.Length((part + force/soft) * length)
					what := fmt.Sprintf("%s, size %v, caged with %v N, at %v", name, size, caged, x)
					agree(t, what+": force", law.Force(x), units.Force(force), 1e-10)
					agree(t, what+": rate", law.Rate(x), units.Stiffness(p[2]*rate), 1e-10)
					energy := 95.0 / 2 * part * part
					if over := part - 12.5; over > 0 {
						energy += over * (20*over + caged)
					}
					agree(t, what+": energy", law.Energy(x), units.Energy((energy+force*force/soft/2)*length), 1e-10)
				}
			}
		}
	}
}

// Exactly at a kink of a law that does not say that it is a chain, the rate is the
// right-hand one, whichever way the travel is rounded.
func TestSeriesRateAtAHiddenKink(t *testing.T) {
	for i := range 200 {
		soft, hard := 40e3+100*float64(i), 80e3+130*float64(i)
		law := groupsOf(t, spring.Group{Rate: units.Stiffness(soft), Gap: mm(7)}, spring.Group{Rate: units.Stiffness(hard), Gap: mm(30)})
		closing := ends(law)[0]
		k := 70e3 + 10*float64(i)
		for _, other := range []spring.Law{linearOf(t, k, 0.1), opaque{linearOf(t, k, 0.1)}} {
			s := seriesOf(t, opaque{law}, other)
			agree(t, fmt.Sprint(i, ": rate at the kink"), s.Rate(units.Length(closing.travel+closing.force/k)), units.Stiffness(1/(1/hard+1/k)), 1e-9)
		}
	}
}

// A chain that rises by little over a great preload ends where its travel does,
// whatever its forces are rounded to: nothing level is put after it.
func TestChainOfAGreatPreloadEndsExactly(t *testing.T) {
	for i := range 50 {
		travel := units.Length(1e-3 + 1e-5*float64(i))
		soft, err := spring.NewLinear(spring.Linear{Rate: 1, Travel: travel, Preload: 1e6})
		require.NoError(t, err)
		hard, err := spring.NewLinear(spring.Linear{Rate: 1e6, Travel: 1, Preload: 2})
		require.NoError(t, err)
		segments := seriesOf(t, soft, hard).(spring.Polyline).Segments()
		if len(segments) != 2 || segments[0].Length != travel {
			t.Errorf("%v: %+v", travel, segments)
		}
	}
}

// Level ground: a parallel stack whose only spring starts after 10 mm has no rate
// before. On end with another spring, the stack's force stays level until that
// ground is used up, and in a cage that starts after 5 mm until both are.
func TestSeriesOnLevelGround(t *testing.T) {
	k := linearOf(t, 50e3, 30e-3)
	late := parallelOf(t, spring.Member{Law: k, StartsAt: mm(10)})
	later := parallelOf(t, spring.Member{Law: late, StartsAt: mm(5)})
	for name, members := range map[string][]spring.Law{
		"joined": {late, k}, "hidden": {opaque{late}, opaque{k}}, "half hidden": {opaque{k}, late}, "half hidden, turned": {opaque{late}, k},
		"twice": {later, k}, "twice, half hidden": {opaque{later}, k},
	} {
		law, ground := seriesOf(t, members...), 10.0
		if strings.HasPrefix(name, "twice") {
			ground = 15
		}
		agree(t, name+": travel", law.Travel(), mm(60+ground), 1e-14)
		for x, force := range map[float64]units.Force{-ground: 0, 4 - ground: 0, -0.001: 0, 10: 250, 50: 1250, 59: 1475, 60: 1500} {
			if got := law.Force(mm(ground + x)); math.Abs(float64(got-force)) > 1e-8 {
				t.Errorf("%s: force %v mm past the ground = %v, want %v", name, x, got, force)
			}
		}
		agree(t, name+": rate at 5 mm", law.Rate(mm(5)), 0, 0)
		agree(t, name+": rate at 30 mm", law.Rate(mm(30)), perMM(25), 1e-12)
	}
}

// Stacks of stacks of laws of varying rate are refused once an answer would take
// too long.
func TestNestingOfStacksIsLimited(t *testing.T) {
	air := gas{c: 120, l: 0.18, d: 800, travel: 0.12}
	var deep spring.Law = air
	for depth := 1; ; depth++ {
		stack, err := spring.NewSeries(parallelOf(t, spring.Member{Law: deep}, spring.Member{Law: air}), air)
		if deep = stack; err != nil {
			refuses(t, err, "laws")
			break
		}
		require.Less(t, depth, 6, "no limit to the nesting")
	}
}

func FuzzNewSeries(f *testing.F) {
	f.Add(60e3, 0.012, 0.0, 90e3, 0.02, 0.001, 120.0, 0.18)
	f.Add(1e-310, 1e308, 0.0, 1e308, 1e-300, 1e-300, 1.0, 1.0)
	f.Add(60e3, 0.012, 1.0, 90e3, 0.02, 0.0, 1e-9, 0.1)
	f.Add(1.4999999999999954e-308, 6e+307, 1092.0, 2.0576131687242797e+304, 79.0, 55.0, -18.4921875, 313.2)
	f.Fuzz(func(t *testing.T, k1, t1, p1, k2, t2, p2, c, l float64) {
		a, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(k1), Travel: units.Length(t1), Preload: units.Length(p1)})
		if err != nil {
			return
		}
		b, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(k2), Travel: units.Length(t2), Preload: units.Length(p2)})
		if err != nil {
			return
		}
		g := gas{c: c, l: l, d: c / l, travel: 0.7 * l}
		for _, laws := range [][]spring.Law{{a, b}, {opaque{a}, b}, {opaque{a}, opaque{b}}, {g, a}, {g, a, b}} {
			law, err := spring.NewSeries(laws...)
			if err != nil {
				named(t, "refused", err)
				continue
			}
			if len(laws) == 2 && laws[0] == spring.Law(a) {
				finiteLaw(t, law)
			}
			for i := range 9 {
				x := law.Travel() * units.Length(i) / 8
				if !finite(float64(law.Force(x))) || !finite(float64(law.Rate(x))) || !finite(float64(law.Energy(x))) {
					t.Fatalf("%v at %v of %v", law, x, law.Travel())
				}
			}
		}
	})
}

// Held to 25 ns and no allocation.
func BenchmarkSeriesForce(b *testing.B) {
	rng := rand.New(rand.NewPCG(5, 6))
	var laws []spring.Law
	for range 4 {
		laws = append(laws, linearOf(b, 20e3+80e3*rng.Float64(), 10e-3+20e-3*rng.Float64()))
	}
	benchmarkForce(b, laws...)
}

// No allocation; about 5 evaluations of the gas, force and rate together.
func BenchmarkSeriesForceInGeneral(b *testing.B) {
	k := linearOf(b, 70e3, 30e-3)
	benchmarkForce(b, gas{c: 120, l: 0.18, d: 800, travel: 0.12}, k)
}

// A landing on 20 air springs in series takes some thousand forces. Held to 8
// evaluations of each air spring for one, force and rate together, and no
// allocation.
func BenchmarkSeriesForceOf20AirSprings(b *testing.B) {
	var laws []spring.Law
	for i := range 20 {
		air, err := airspring.New(airspring.Spec{
			Bore: mm(35), Travel: mm(60), PositiveVolume: (90 + units.Volume(i)) * units.CubicCentimetre,
			Fill: units.BarGauge(8 + 0.1*float64(i)), Ambient: airspring.SeaLevel, Exponent: 1.3,
		})
		if err != nil {
			b.Fatal(err)
		}
		laws = append(laws, air)
	}
	benchmarkForce(b, laws...)
}

func benchmarkForce(b *testing.B, laws ...spring.Law) {
	stack := seriesOf(b, laws...)
	b.ReportAllocs()
	x := units.Length(0)
	for b.Loop() {
		if x += stack.Travel() / 37; x > stack.Travel() {
			x = 0
		}
		sink += float64(spring.Law(stack).Force(x))
	}
}

// Springs of 60 and 90 N/mm on end.
func ExampleNewSeries() {
	soft, _ := spring.NewLinear(spring.Linear{Rate: 60 * units.NewtonPerMillimetre, Travel: 12 * units.Millimetre})
	hard, _ := spring.NewLinear(spring.Linear{Rate: 90 * units.NewtonPerMillimetre, Travel: 20 * units.Millimetre})
	stack, err := spring.NewSeries(soft, hard)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f, and %.0f once the softer is solid; %.0f of travel\n",
		stack.Rate(0), stack.Rate(25*units.Millimetre), stack.Travel())
	// Output:
	// 36 N/mm, and 90 N/mm once the softer is solid; 32 mm of travel
}
