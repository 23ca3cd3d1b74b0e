package spring_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// stackBreak is where a coil group closes.
type stackBreak struct{ travel, force float64 }

// coilGroup is a number of active coils of one pitch in mm.
type coilGroup struct{ n, pitch float64 }

// coils returns a spring of groups of coils: wire and mean diameter in mm, shear modulus in MPa. A group
// has the rate G·d⁴/(8·D³·n) and the gap n·(pitch − d).
func coils(d, mean, shear float64, list ...coilGroup) (spring.Polyline, error) {
	var spec spring.Groups
	for _, g := range list {
		rate := shear * math.Pow(d, 4) / (8 * math.Pow(mean, 3) * g.n)
		spec.Groups = append(spec.Groups, spring.Group{Rate: perMM(rate), Gap: mm(g.n * (g.pitch - d))})
	}
	return spring.NewGroups(spec)
}

// progressive springs: models and values computed with mpmath 1.3.0 at 50
// digits from x(F) = Σ min(F/kᵢ, gᵢ), printed to 15. Rates listed at a break
// are left-hand there and are checked just below it.
var progressive = []struct {
	name   string
	make   func() (spring.Polyline, error)
	breaks []stackBreak
	points []stackPoint
}{
	{
		name: "three groups",
		make: func() (spring.Polyline, error) {
			return spring.NewGroups(spring.Groups{Groups: []spring.Group{
				{Rate: perMM(60), Gap: mm(12)}, {Rate: perMM(90), Gap: mm(20)}, {Rate: perMM(140), Gap: mm(25)},
			}})
		},
		breaks: []stackBreak{{25.1428571428571, 720}, {44.8571428571429, 1800}, {57, 3500}},
		points: []stackPoint{
			{10, 286.363636363636, 28.6363636363636, 1431.81818181818},
			{25, 715.909090909091, 28.6363636363636, 8948.86363636364},
			{30, 986.086956521739, 54.7826086956522, 13194.7826086957},
			{40, 1533.91304347826, 54.7826086956522, 25794.7826086957},
			{50, 2520, 140, 45000},
			{56, 3360, 140, 62640},
		},
	},
	{
		name: "coils of three pitches",
		make: func() (spring.Polyline, error) {
			return coils(6, 32, 79500, coilGroup{2, 8.5}, coilGroup{3, 10}, coilGroup{7, 12})
		},
		breaks: []stackBreak{{30, 982.589721679688}, {45, 1572.1435546875}, {59, 2358.21533203125}},
		points: []stackPoint{
			{10, 327.529907226563, 32.7529907226563, 1637.64953613281},
			{25, 818.824768066406, 32.7529907226563, 10235.3096008301},
			{40, 1375.62561035156, 39.3035888671875, 26529.9224853516},
			{55, 2133.62339564732, 56.1479840959821, 52428.1801496233},
			{58, 2302.06734793527, 56.1479840959821, 59081.7162649972},
		},
	},
	{
		name: "five coils, each of its own pitch",
		make: func() (spring.Polyline, error) {
			return coils(10, 46, 79500, coilGroup{1, 12}, coilGroup{1, 12.5}, coilGroup{1, 13.25}, coilGroup{1, 14.25}, coilGroup{1, 15.5})
		},
		breaks: []stackBreak{
			{10, 2041.89611243528}, {12, 2552.37014054409}, {14.25, 3318.08118270732}, {16.25, 4339.02923892496}, {17.5, 5615.21430919701},
		},
		points: []stackPoint{
			{8, 1633.51688994822, 204.189611243528, 6534.06755979288},
			{11, 2297.13312648969, 255.237014054409, 12378.9951816389},
			{13.5, 3062.84416865291, 340.316018739213, 19015.1575470535},
			{15, 3700.93670378894, 510.474028108819, 24040.1362612497},
			{17, 5104.74028108819, 1020.94805621764, 32606.5285454508},
		},
	},
	{
		name: "titanium, two pitches",
		make: func() (spring.Polyline, error) {
			return coils(11.2, 48.2, 42060, coilGroup{2, 15}, coilGroup{3, 21})
		},
		breaks: []stackBreak{{19, 2807.33250317681}, {37, 7239.96277135073}},
		points: []stackPoint{
			{10, 1477.54342272464, 147.754342272464, 7387.71711362319},
			{17, 2511.82381863188, 147.754342272464, 21350.502458371},
			{20, 3053.58974029759, 246.257237120773, 29600.1199019169},
			{30, 5516.16211150532, 246.257237120773, 72448.8791609314},
			{37, 7239.96277135073, 246.257237120773, 117095.316250928},
		},
	},
}

func TestGroups(t *testing.T) {
	for _, c := range progressive {
		t.Run(c.name, func(t *testing.T) {
			law, err := c.make()
			require.NoError(t, err)
			var kinks []units.Length
			for i, b := range ends(law) {
				agree(t, fmt.Sprintf("travel of break %d", i+1), units.Length(b.travel), mm(c.breaks[i].travel), 1e-12)
				agree(t, fmt.Sprintf("force of break %d", i+1), b.force, c.breaks[i].force, 1e-12)
				kinks = append(kinks, units.Length(b.travel))
			}
			require.Len(t, kinks, len(c.breaks))
			agree(t, "travel", law.Travel(), kinks[len(kinks)-1], 1e-15)
			shows(t, law, c.points, 1e-12)
			obeysItself(t, law, kinks[:len(kinks)-1])
		})
	}
}

// Both sides of a closure, by hand: below it all three groups are open,
// 1/(1/60 + 1/90 + 1/140) = 1260/44; above it 1/(1/90 + 1/140) = 1260/23.
func TestGroupsAtClosure(t *testing.T) {
	law, err := progressive[0].make()
	require.NoError(t, err)
	x := 1.0 * 12 * 60 * 44 / 1260 // mm
	agree(t, "rate below", law.Rate(mm(x*(1-1e-9))), perMM(1260.0/44), 1e-14)
	agree(t, "rate at", law.Rate(mm(x)), perMM(1260.0/23), 1e-14)
	agree(t, "rate above", law.Rate(mm(x*(1+1e-9))), perMM(1260.0/23), 1e-14)
	agree(t, "rate at full travel", law.Rate(law.Travel()), perMM(140), 1e-14)
}

// A group's order in the spec does not matter, and equal groups close at once.
func TestGroupsOrder(t *testing.T) {
	a := groupsOf(t, spring.Group{Rate: perMM(50), Gap: mm(10)}, spring.Group{Rate: perMM(100), Gap: mm(30)})
	b := groupsOf(t, spring.Group{Rate: perMM(100), Gap: mm(30)}, spring.Group{Rate: perMM(50), Gap: mm(10)})
	for i := range 41 {
		x := mm(float64(i))
		agree(t, fmt.Sprint("force at ", x), a.Force(x), b.Force(x), 1e-15)
	}
	equal := groupsOf(t, spring.Group{Rate: perMM(50), Gap: mm(10)}, spring.Group{Rate: perMM(50), Gap: mm(10)})
	agree(t, "travel", equal.Travel(), mm(20), 1e-15)
	agree(t, "rate at full travel", equal.Rate(equal.Travel()), perMM(25), 1e-15)
	agree(t, "force at full travel", equal.Force(equal.Travel()), 500*units.Newton, 1e-15)
}

func TestGroupsRefused(t *testing.T) {
	_, err := spring.NewGroups(spring.Groups{})
	refuses(t, err, "groups")
	for _, v := range bad {
		_, err = spring.NewGroups(spring.Groups{Groups: []spring.Group{
			{Rate: units.Stiffness(v), Gap: mm(1)}, {Rate: perMM(1), Gap: mm(1)}, {Rate: perMM(1), Gap: units.Length(v)},
		}})
		refuses(t, err, "groups[0].rate", "groups[2].gap")
	}
	_, err = spring.NewGroups(spring.Groups{Groups: []spring.Group{{Rate: 1e300, Gap: 1e300}, {Rate: 1e-300, Gap: 1e-300}}})
	refuses(t, err, "groups[0].rate", "groups[1].rate")
}

// The closing force of coil groups may be from 2^-1022 N, the least of full
// precision, to the greatest float64.
func TestGroupsUpToTheGreatest(t *testing.T) {
	for _, g := range []spring.Group{{Rate: 0x1p1023, Gap: 2 - 0x1p-52}, {Rate: 0x1p-522, Gap: 0x1p-500}} {
		_, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{g}})
		refuses(t, err)
	}
	for _, g := range []spring.Group{{Rate: 0x1p1023, Gap: 2}, {Rate: 0x1p-523, Gap: 0x1p-500}} {
		_, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{g}})
		refuses(t, err, "groups[0].rate")
	}
}

// Held to 25 ns and no allocation.
func BenchmarkGroupsForce(b *testing.B) {
	law, err := progressive[2].make()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	x := units.Length(0)
	for b.Loop() {
		if x += mm(0.37); x > law.Travel() {
			x = 0
		}
		sink += float64(spring.Law(law).Force(x))
	}
}

// Three groups of coils that close one by one.
func ExampleNewGroups() {
	law, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{
		{Rate: 60 * units.NewtonPerMillimetre, Gap: 12 * units.Millimetre},
		{Rate: 90 * units.NewtonPerMillimetre, Gap: 20 * units.Millimetre},
		{Rate: 140 * units.NewtonPerMillimetre, Gap: 25 * units.Millimetre},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	closed := units.Length(0)
	for _, s := range law.Segments() {
		closed += s.Length
		fmt.Printf("a group closes at %.2f, %.0f\n", closed, s.End)
	}
	fmt.Printf("%.2f at 10 mm, %.2f at 40 mm\n", law.Rate(10*units.Millimetre), law.Rate(40*units.Millimetre))
	// Output:
	// a group closes at 25.14 mm, 720 N
	// a group closes at 44.86 mm, 1800 N
	// a group closes at 57.00 mm, 3500 N
	// 28.64 N/mm at 10 mm, 54.78 N/mm at 40 mm
}
