package spring_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// A helper spring after a gap: computed with mpmath 1.3.0 at 50 digits.
func TestParallelHelper(t *testing.T) {
	main := linearOf(t, 95e3, 60e-3)
	helper := linearOf(t, 40e3, 30e-3)
	for name, members := range map[string][]spring.Member{
		"joined": {{Law: main}, {Law: helper, StartsAt: mm(12.5)}},
		"hidden": {{Law: opaque{helper}, StartsAt: mm(12.5)}, {Law: opaque{main}}},
		"mixed":  {{Law: main}, {Law: opaque{helper}, StartsAt: mm(12.5)}},
	} {
		t.Run(name, func(t *testing.T) {
			law := parallelOf(t, members...)
			agree(t, "travel", law.Travel(), mm(42.5), 1e-14)
			shows(t, law, []stackPoint{
				{10, 950, 95, 4750}, {12.5, 1187.5, 135, 7421.875}, {20, 2200, 135, 20125}, {30, 3550, 135, 48875},
			}, 1e-13)
			agree(t, "rate below the start", law.Rate(mm(12.5-1e-9)), perMM(95), 1e-13)
			agree(t, "rate at full travel", law.Rate(law.Travel()), perMM(135), 1e-13)
			obeysItself(t, law, []units.Length{mm(12.5)})
		})
	}
}

// A spring preloaded in its cage makes the force jump where it starts: to
// 95·12.5 + 40·3 N.
func TestParallelJump(t *testing.T) {
	main := linearOf(t, 95e3, 60e-3)
	caged := linearOf(t, 40e3, 30e-3, 3e-3)
	for _, c := range []spring.Law{caged, opaque{caged}} {
		law := parallelOf(t, spring.Member{Law: main}, spring.Member{Law: c, StartsAt: mm(12.5)})
		agree(t, "force before", law.Force(mm(12.5-1e-10)), 1187.5, 1e-10)
		agree(t, "force at the start", law.Force(mm(12.5)), 1307.5, 1e-13)
		agree(t, "energy at 20 mm", law.Energy(mm(20)), 0.095*200+0.04*7.5*(3.75+3), 1e-13)
	}
}

// The stack is solid with its first member, whatever the others have left.
func TestParallelTravel(t *testing.T) {
	law := parallelOf(t, spring.Member{Law: linearOf(t, 30e3, 40e-3)}, spring.Member{Law: linearOf(t, 20e3, 15e-3), StartsAt: mm(20)})
	agree(t, "travel", law.Travel(), mm(35), 1e-15)
	agree(t, "force", law.Force(1), 30*35+20*15, 1e-13)
}

func TestParallelStartsBeforeTheFirstIsSolid(t *testing.T) {
	k := linearOf(t, 50e3, 0.03)
	for _, v := range []float64{-1, math.NaN(), math.Inf(1), math.Inf(-1), 0.03, 1} {
		_, err := spring.NewParallel(spring.Member{Law: k, StartsAt: units.Length(v)}, spring.Member{Law: k})
		refuses(t, err, "members[0].starts_at")
	}
}

// Held to 25 ns and no allocation.
func BenchmarkParallelForce(b *testing.B) {
	k := linearOf(b, 70e3, 60e-3)
	stack := parallelOf(b, spring.Member{Law: k}, spring.Member{Law: k, StartsAt: mm(10)}, spring.Member{Law: k, StartsAt: mm(40)})
	b.ReportAllocs()
	x := units.Length(0)
	for b.Loop() {
		if x += stack.Travel() / 37; x > stack.Travel() {
			x = 0
		}
		sink += float64(spring.Law(stack).Force(x))
	}
}

// Concentric springs of published examples. V. B. Bhandari, Design of Machine
// Elements, Examples 10.18 and 10.19, as worked in the FOSSEE Scilab Textbook
// Companion 764, whose program printed these digits; B. K. Sarkar, Strength of
// Materials, Problem 8.8, p. 212, as worked in the FOSSEE Python Textbook
// Companion. Lengths in mm, forces in N, moduli in MPa. The travels of the
// single springs are none of the source's; they only have to be long enough.
// Tolerances are half a unit in the last digit printed.
func TestParallelPublished(t *testing.T) {
	coil := func(shear, wire, mean, active float64) spring.Law {
		rate := shear * math.Pow(wire, 4) / (8 * math.Pow(mean, 3) * active)
		k := linearOf(t, 1e3*rate, 100e-3)
		return k
	}
	sarkarInner, err := spring.NewLinear(spring.Linear{Rate: 4000.0, Travel: mm(100)}) // printed
	require.NoError(t, err)
	for _, c := range []struct {
		source                      string
		outer, inner                spring.Law
		gap                         float64
		load                        units.Force
		travel, innerTravel, length float64 // the last is half a digit of the two
		outerForce, innerForce      units.Force
		force                       units.Force // half a digit of the two
	}{
		{
			source: "Bhandari 10.18", outer: coil(81370, 10, 80, 8), inner: coil(81370, 8, 64, 12), load: 2000,
			travel: 52.526569, innerTravel: 52.526569, length: 0.5e-6, outerForce: 1304.347826, innerForce: 695.652174, force: 0.5e-6,
		},
		{
			source: "Bhandari 10.19", outer: coil(81370, 6, 36, 10), inner: coil(81370, 5, 30, 8), gap: 15, load: 1000,
			travel: 24.988839, innerTravel: 9.988839, length: 0.5e-6, outerForce: 706.021471, innerForce: 293.978529, force: 0.5e-6,
		},
		{
			source: "Sarkar 8.8", outer: coil(80000, 3, 30, 10), inner: sarkarInner, gap: 10, load: 100,
			travel: 20, innerTravel: 10, length: 1e-9, outerForce: 60.0, innerForce: 40, force: 0.05,
		},
	} {
		t.Run(c.source, func(t *testing.T) {
			law := parallelOf(t, spring.Member{Law: c.outer}, spring.Member{Law: c.inner, StartsAt: mm(c.gap)})
			x, err := spring.Settle(law, c.load)
			require.NoError(t, err)
			unitstest.Near(t, "travel", x, mm(c.travel), unitstest.Abs(mm(c.length)))
			unitstest.Near(t, "travel of the inner", x-mm(c.gap), mm(c.innerTravel), unitstest.Abs(mm(c.length)))
			unitstest.Near(t, "force of the outer", c.outer.Force(x), c.outerForce, unitstest.Abs(c.force))
			unitstest.Near(t, "force of the inner", c.inner.Force(x-mm(c.gap)), c.innerForce, unitstest.Abs(c.force))
		})
	}
}

// Two concentric springs of 6 mm and 5 mm wire, the inner one 15 mm shorter:
// Bhandari, Design of Machine Elements, Example 10.19, whose digits these are
// (24.988839 mm, 706.021471 N and 293.978529 N). The free lengths are assumed;
// only their difference matters.
func ExampleNewParallel() {
	wound := func(wire, mean units.Length, active float64, free units.Length) spring.LinearSpring {
		s, _ := coil.New(coil.Spec{
			WireDiameter: wire, MeanDiameter: mean, ActiveCoils: active, FreeLength: free, ShearModulus: 81370 * units.Megapascal,
		})
		law, _ := s.WithPreload(0)
		return law
	}
	outer := wound(6*units.Millimetre, 36*units.Millimetre, 10, 140*units.Millimetre)
	inner := wound(5*units.Millimetre, 30*units.Millimetre, 8, 125*units.Millimetre)
	gap := 15 * units.Millimetre
	stack, err := spring.NewParallel(spring.Member{Law: outer}, spring.Member{Law: inner, StartsAt: gap})
	if err != nil {
		fmt.Println(err)
		return
	}
	x, err := spring.Settle(stack, 1000*units.Newton)
	fmt.Printf("%.6f under 1000 N: %.6f and %.6f %v\n", x, outer.Force(x), inner.Force(x-gap), err)
	// Output:
	// 24.988839 mm under 1000 N: 706.021471 N and 293.978529 N <nil>
}
