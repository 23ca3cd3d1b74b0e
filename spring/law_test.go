package spring_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
)

func TestClamp(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	for _, row := range []struct{ x, travel, want units.Length }{
		{0.02, 0.06, 0.02}, {0, 0.06, 0}, {0.06, 0.06, 0.06}, {-1, 0.06, 0}, {1, 0.06, 0.06},
		{nan, 0.06, 0}, {inf, 0.06, 0.06}, {-inf, 0.06, 0}, {0.02, 0, 0},
	} {
		if got := spring.Clamp(row.x, row.travel); got != row.want {
			t.Errorf("Clamp(%v, %v) = %v, want %v", row.x, row.travel, got, row.want)
		}
	}
}

// Every law prints its rates, travel and force with their units.
func TestLawsPrintWithUnits(t *testing.T) {
	must := func(law spring.Law, err error) spring.Law { return made(t, law, err) }
	k := must(spring.NewLinear(spring.Linear{Rate: perMM(80), Travel: mm(60), Preload: mm(2)}))
	air := gas{c: 120, l: 0.18, d: 500, travel: 0.12}
	for want, law := range map[string]spring.Law{
		"80 N/mm over 60 mm, 160 N at full extension": k,
		"30 N/mm to 90 N/mm over 38 mm":               must(spring.NewGroups(spring.Groups{Groups: []spring.Group{{Rate: perMM(45), Gap: mm(8)}, {Rate: perMM(90), Gap: mm(30)}}})),
		"40 N/mm to 60 N/mm over 30 mm": must(spring.NewDualRate(spring.DualRate{
			SoftRate: perMM(120), MainRate: perMM(60), SoftTravel: mm(5), MainTravel: mm(25)})),
		"160 N/mm over 60 mm, 320 N at full extension":                          must(spring.NewParallel(spring.Member{Law: k}, spring.Member{Law: k})),
		"40 N/mm over 120 mm, 160 N at full extension":                          must(spring.NewSeries(k, k)),
		"80 N/mm over 55 mm, 560 N at full extension":                           must(spring.NewPreloaded(k, mm(5))),
		"3.7037 N/mm to 33.3333 N/mm over 120 mm, 166.667 N at full extension":  must(spring.NewSeries(air)),
		"7.40741 N/mm to 66.6667 N/mm over 120 mm, 333.333 N at full extension": must(spring.NewParallel(spring.Member{Law: air}, spring.Member{Law: air})),
		"8.33333 N/mm to 33.3333 N/mm over 60 mm, 500 N at full extension":      must(spring.NewPreloaded(air, mm(60))),
		"25.218 N/mm to 25218 N/mm over 117 mm":                                 must(coil.NewLinearPitch(evenly)),
	} {
		if got := fmt.Sprint(law); got != want {
			t.Errorf("%T prints %q, want %q", law, got, want)
		}
	}
}

// What is given as a law but breaks the contract is refused everywhere with a field
// and the class ErrLaw, whatever stands beside it.
func TestInvalidLawsAreRefusedAlike(t *testing.T) {
	k := linearOf(t, 50e3, 0.03)
	for name, law := range hostiles(t) {
		_, series := spring.NewSeries(k, law, k, law)
		refuses(t, series, "laws[1]", "laws[3]")
		_, parallel := spring.NewParallel(spring.Member{Law: k}, spring.Member{Law: law, StartsAt: -1}, spring.Member{Law: law})
		refuses(t, parallel, "members[1].law", "members[1].starts_at", "members[2].law")
		_, preloaded := spring.NewPreloaded(law, -1)
		refuses(t, preloaded, "law", "preload")
		refused := []error{series, parallel, preloaded}
		if name != "nil pointer" && name != "panics" && name != "negative rate" && name != "falling" { // which Settle does not see
			_, err := spring.Settle(law, 1)
			refuses(t, err, "law")
			refused = append(refused, err)
		}
		for _, err := range refused {
			if !errors.Is(err, spring.ErrLaw) {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// What is missing is distinguished from what is out of range.
func TestEmptySetsAreMissing(t *testing.T) {
	for name, err := range map[string]error{
		"groups": second(spring.NewGroups(spring.Groups{})), "laws": second(spring.NewSeries()), "members": second(spring.NewParallel()),
	} {
		if refuses(t, err, name); !errors.Is(err, units.ErrMissing) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// straight is F = force + rate·x, which does not say that it is straight, and
// does not clamp, so that what it is asked for can be seen.
type straight struct {
	force, rate, travel float64
	asked               *[]float64
}

func (s straight) Force(x units.Length) units.Force {
	if s.asked != nil {
		*s.asked = append(*s.asked, float64(x))
	}
	return units.Force(s.force + s.rate*float64(x))
}
func (s straight) Rate(units.Length) units.Stiffness { return units.Stiffness(s.rate) }
func (s straight) Energy(x units.Length) units.Energy {
	return units.Energy((s.force + s.rate*float64(x)/2) * float64(x))
}
func (s straight) Travel() units.Length { return units.Length(s.travel) }

// A law that goes into another is asked at 17 travels, evenly spread from 0 to its
// full travel and not beyond.
func TestLawIsCheckedAt17Travels(t *testing.T) {
	var asked []float64
	_ = preloadedOf(t, straight{1, 2, 0.0625, &asked}, 0.01)
	var want []float64
	for i := range 17 {
		want = append(want, float64(i)/256)
	}
	if diff := cmp.Diff(want, asked); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// A force may fall by rounding, by 1e-9 of itself, and no more; so may one
// that pulls.
func TestLawMayFallByRounding(t *testing.T) {
	for _, level := range []float64{1000, -1000, 1e-3, -1e-3} {
		for part, ok := range map[float64]bool{0.9e-9: true, 1.1e-9: false} {
			_, err := spring.NewPreloaded(lawOf(func(x float64) float64 {
				if x > 0.5 {
					return level - part*math.Abs(level)
				}
				return level
			}, 1), 0)
			if (err == nil) != ok {
				t.Errorf("a force of %v falls by %v of it: %v", level, part, err)
			}
		}
	}
}

// polyline is a user's law that says its own chain.
type polyline struct {
	spring.Law
	segments []spring.Segment
}

func (p polyline) Segments() []spring.Segment { return p.segments }

// A chain with everything in it: 2 N/m for 1 m, a kink to 4 N/m for 1 m, a jump
// from 6 to 9 N, level ground for 1 m, and 1 N/m for 2 m.
var everything = polyline{lawOf(func(x float64) float64 {
	switch {
	case x < 1:
		return 2 * max(x, 0)
	case x < 2:
		return 2 + 4*(x-1)
	case x < 3:
		return 9
	}
	return 9 + min(x, 5) - 3
}, 5), []spring.Segment{
	{Length: 1, Rate: 2, Start: 0, End: 2}, {Length: 1, Rate: 4, Start: 2, End: 6},
	{Length: 1, Rate: 0, Start: 9, End: 9}, {Length: 2, Rate: 1, Start: 9, End: 11},
}}

// A user's chain is joined as ours are: what becomes of it is a chain again.
func TestChainOfAUserIsJoined(t *testing.T) {
	law := seriesOf(t, everything)
	if diff := cmp.Diff(everything.segments, law.(spring.Polyline).Segments()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	for _, c := range []struct{ x, force, rate, energy float64 }{
		{0, 0, 2, 0}, {1, 2, 4, 1}, {1 - 1e-15, 2, 4, 1}, {2, 9, 0, 5}, {2.5, 9, 0, 9.5}, {3, 9, 1, 14}, {5, 11, 1, 34}, {6, 11, 1, 34},
	} {
		x := units.Length(c.x)
		f, k, e := float64(law.Force(x)), float64(law.Rate(x)), float64(law.Energy(x))
		if f != c.force || k != c.rate || math.Abs(e-c.energy) > 1e-14 {
			t.Errorf("at %v m: %v N, %v N/m, %v J; want %v, %v, %v", c.x, f, k, e, c.force, c.rate, c.energy)
		}
	}
	obeysItself(t, law, []units.Length{1, 3, 5})

	// On end with 1 N/m the travels add at each force, by hand; so they do where it
	// is not known that the law is a chain.
	k := linearOf(t, 1, 20)
	both := seriesOf(t, everything, k)
	hidden := seriesOf(t, opaque{law}, k)
	agree(t, "energy on level ground", hidden.Energy(11.5), 5+4.5+40.5, 1e-12)
	agree(t, "energy at the end of it", hidden.Energy(12), 14+40.5, 1e-12)
	for _, c := range []struct{ force, x, rate float64 }{
		{1, 0.5, 1 / 1.5}, {2, 1, 1 / 1.25}, {4, 1.5, 1 / 1.25}, {6, 2, 1}, {7, 2, 1}, {10, 4, 0.5}, {11, 5, 1}, {15, 5, 1},
	} {
		x := units.Length(c.x + c.force)
		agree(t, fmt.Sprintf("force at %v", x), both.Force(x), units.Force(c.force), 1e-14)
		agree(t, fmt.Sprintf("rate at %v", x), both.Rate(x), units.Stiffness(c.rate), 1e-14)
		agree(t, fmt.Sprintf("force at %v, hidden", x), hidden.Force(x), units.Force(c.force), 1e-11)
		agree(t, fmt.Sprintf("energy at %v", x), both.Energy(x), hidden.Energy(x), 1e-12)
	}
	agree(t, "force on level ground", both.Force(11.5), 9, 0)
	agree(t, "rate on level ground", both.Rate(11.5), 0, 0)
}

// Segments that are not the law's are refused, such as those of a law that is
// embedded with another force, however long the law is.
func TestSegmentsMustBeTheLaws(t *testing.T) {
	for _, size := range []units.Length{1, 1e-9, 1e9} {
		k := linearOf(t, 50e3/float64(size), 0.03*float64(size))
		for name, segments := range map[string][]spring.Segment{
			"too stiff": {{Length: 0.03, Rate: 51e3, End: 1530}}, "too short": {{Length: 0.029, Rate: 50e3, End: 1450}},
			"preloaded": {{Length: 0.03, Rate: 50e3, Start: 1, End: 1501}}, "a jump": {{Length: 0.01, Rate: 50e3, End: 500}, {Length: 0.02, Rate: 50e3, Start: 600, End: 1600}},
			"NaN": {{Length: units.Length(math.NaN())}},
		} {
			for i := range segments {
				segments[i].Length, segments[i].Rate = segments[i].Length*size, segments[i].Rate/units.Stiffness(size)
			}
			law := polyline{k, segments}
			_, err := spring.NewSeries(k, law)
			if refuses(t, err, "laws[1]"); !errors.Is(err, spring.ErrLaw) {
				t.Errorf("%s: %v", name, err)
			}
			if springtest.TestLaw(law) == nil {
				t.Errorf("%s: not found by TestLaw", name)
			}
		}
	}
}

// Whatever is made of springs of constant rate is a chain.
func TestConstantRatesAreJoined(t *testing.T) {
	line, groups := linearOf(t, 1000, 0.1), groupsOf(t, spring.Group{Rate: 500, Gap: 0.05}, spring.Group{Rate: 1000, Gap: 0.1})
	dual, err := spring.NewDualRate(spring.DualRate{SoftRate: 500, MainRate: 1000, SoftTravel: 0.05, MainTravel: 0.1})
	require.NoError(t, err)
	beside := parallelOf(t, spring.Member{Law: line}, spring.Member{Law: dual, StartsAt: 0.01})
	for _, law := range []spring.Law{line, groups, dual, seriesOf(t, line, groups), beside, preloadedOf(t, beside, 0.02)} {
		if chain, ok := law.(spring.Polyline); !ok || len(chain.Segments()) == 0 {
			t.Errorf("%T is no chain", law)
		}
		if _, ok := seriesOf(t, line, law).(spring.Polyline); !ok {
			t.Errorf("%T is not joined with a line", law)
		}
	}
	if _, ok := seriesOf(t, line, straight{0, 1000, 0.1, nil}).(spring.Polyline); ok {
		t.Error("a law that does not say that it is a chain is joined as one")
	}
}

// What a set may cost is bounded before any of its laws is asked for a force.
func TestSetsAreBounded(t *testing.T) {
	var asked []float64
	law := straight{0, 1000, 0.1, &asked}
	members, laws := make([]spring.Member, 3001), make([]spring.Law, 33)
	for i := range members {
		members[i].Law = law
	}
	for i := range laws {
		laws[i] = law
	}
	_, err := spring.NewParallel(members...)
	refuses(t, err, "members")
	_, err = spring.NewSeries(laws...)
	refuses(t, err, "laws")
	if len(asked) != 0 {
		t.Errorf("%d laws are asked", len(asked))
	}
	law.asked = nil
	for i := range members {
		members[i].Law = law
	}
	_ = parallelOf(t, members[:3000]...)
	for n, want := range map[int][]string{375: nil, 376: {"laws"}} { // 8 evaluations of each
		side := parallelOf(t, members[:n]...)
		_, err = spring.NewSeries(side)
		refuses(t, err, want...)
	}

	five := spring.Member{Law: seriesOf(t, laws[:5]...)} // 40 evaluations
	for i := range members {
		members[i] = five
	}
	parallelOf(t, members[:75]...)
	_, err = spring.NewParallel(members[:76]...)
	refuses(t, err, "members")

	var groups []spring.Group
	for i := range 1001 {
		groups = append(groups, spring.Group{Rate: 1e6, Gap: units.Length(i+1) * 1e-6})
	}
	_, err = spring.NewGroups(spring.Groups{Groups: groups})
	refuses(t, err, "groups")
	most := groupsOf(t, groups[:1000]...)
	_, err = spring.NewSeries(most, linearOf(t, 1000, 0.1))
	refuses(t, err, "laws")
}

func ExampleDescribe() {
	law, err := spring.NewDualRate(spring.DualRate{
		SoftRate: perMM(120), MainRate: perMM(60), SoftTravel: mm(5), MainTravel: mm(25), Preload: mm(2),
	})
	fmt.Println(spring.Describe(law), err)
	// Output: 40 N/mm to 60 N/mm over 28 mm, 80 N at full extension <nil>
}

// A spring of 40 N/mm, and a bumper of 100 N/mm more over its last 20 mm: two straight segments.
func ExamplePolyline() {
	main, _ := spring.NewLinear(spring.Linear{Rate: perMM(40), Travel: mm(60)})
	bumper, _ := spring.NewLinear(spring.Linear{Rate: perMM(100), Travel: mm(20)})
	law, err := spring.NewParallel(spring.Member{Law: main}, spring.Member{Law: bumper, StartsAt: mm(40)})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range law.(spring.Polyline).Segments() {
		fmt.Printf("%.0f of %.0f, from %.0f to %.0f\n", s.Length, s.Rate, s.Start, s.End)
	}
	// Output:
	// 40 mm of 40 N/mm, from 0 N to 1600 N
	// 20 mm of 140 N/mm, from 1600 N to 4400 N
}
