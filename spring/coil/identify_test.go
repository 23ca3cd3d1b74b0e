package coil_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// An invented shelf; the values were computed with mpmath 1.2.1 at 50 digits
// from the normal density, printed to 15.
func TestIdentify(t *testing.T) {
	got, err := coil.Identify(perMM(78), perMM(1.5), []coil.Nominal{
		{Rate: perMM(70), Tolerance: 0.05}, {Rate: perMM(78.75), Tolerance: 0.05}, {Rate: perMM(87.5), Tolerance: 0.02},
	})
	require.NoError(t, err)
	want := []coil.Candidate{
		{Index: 1, Rate: perMM(78.75), Probability: 0.992864101986469, Distance: 0.275371356328606, Surprise: 0.783030948046838},
		{Index: 0, Rate: perMM(70), Probability: 0.0071343147065879, Distance: 3.17887765695611, Surprise: 0.00147846479722751},
		{Index: 2, Rate: perMM(87.5), Probability: 1.58330694289828e-6, Distance: 5.25284272445864, Surprise: 1.49769420874063e-7},
	}
	require.Len(t, got, len(want))
	for i, w := range want {
		if got[i].Index != w.Index || got[i].Rate != w.Rate {
			t.Errorf("place %d: %+v, want %+v", i+1, got[i], w)
		}
		agree(t, "probability", got[i].Probability, w.Probability, 1e-12)
		agree(t, "distance", got[i].Distance, w.Distance, 1e-13)
		agree(t, "surprise", got[i].Surprise, w.Surprise, 1e-11)
	}
}

// Halfway between two labels of the same absolute spread neither is likelier;
// of two at the same distance in millimetres the tighter label wins nothing
// but its density; and far from all of them the probabilities still add to 1.
func TestIdentifyWhereNothingOrEverythingFits(t *testing.T) {
	half, err := coil.Identify(perMM(75), perMM(1),
		[]coil.Nominal{{Rate: perMM(70)}, {Rate: perMM(80)}})
	require.NoError(t, err)
	agree(t, "first", half[0].Probability, 0.5, 1e-15)
	if half[0].Index != 0 {
		t.Error("equals are not kept in the shelf's order")
	}
	far, err := coil.Identify(perMM(300), perMM(0.1),
		[]coil.Nominal{{Rate: perMM(70)}, {Rate: perMM(80)}, {Rate: perMM(60)}})
	require.NoError(t, err)
	sum := 0.0
	var order []int
	for _, c := range far {
		sum += c.Probability
		order = append(order, c.Index)
	}
	agree(t, "sum", sum, 1, 1e-15)
	if d := cmp.Diff([]int{1, 0, 2}, order); d != "" {
		t.Error(d)
	}
	agree(t, "distance", far[0].Distance, 2200, 1e-12)
	if far[0].Probability != 1 || far[0].Surprise > 1e-300 {
		t.Errorf("nothing fits, but %+v", far[0])
	}
	same, err := coil.Identify(perMM(80), 0, []coil.Nominal{{Rate: perMM(80), Tolerance: 0.05}})
	require.NoError(t, err)
	if c := same[0]; c.Probability != 1 || c.Distance != 0 || c.Surprise != 1 {
		t.Errorf("the very rate of the label: %+v", c)
	}
}

// A shelf holds 1000 springs at most; a longer one is refused as a whole, whatever
// is on it.
func TestShelfBounds(t *testing.T) {
	shelf := make([]coil.Nominal, 100_000)
	for i := range shelf[:1001] {
		shelf[i] = coil.Nominal{Rate: units.Stiffness(70e3 + 10*float64(i)), Tolerance: 0.03}
	}
	for n, want := range map[int][]string{1: nil, 1000: nil, 1001: {"shelf"}, len(shelf): {"shelf"}} {
		list, err := coil.Identify(75e3, 500, shelf[:n])
		if refuses(t, err, want...); err == nil && len(list) != n || err != nil && units.Fields(err)[0].Class != units.ErrRange {
			t.Errorf("a shelf of %d: %d candidates, %v", n, len(list), err)
		}
	}
}

func TestIdentifyRefused(t *testing.T) {
	for _, v := range bad {
		_, err := coil.Identify(units.Stiffness(v), -1, []coil.Nominal{
			{Rate: units.Stiffness(v), Tolerance: -0.1}, {Rate: perMM(1), Tolerance: 1}, {Rate: perMM(1), Tolerance: math.NaN()},
		})
		refuses(t, err, "rate", "uncertainty", "shelf[0].rate", "shelf[0].tolerance", "shelf[1].tolerance", "shelf[2].tolerance")
	}
	_, err := coil.Identify(perMM(80), perMM(1), nil)
	if refuses(t, err, "shelf"); !errors.Is(err, units.ErrMissing) {
		t.Errorf("no shelf: %v", err)
	}
	_, err = coil.Identify(perMM(80), 0, []coil.Nominal{{Rate: perMM(80)}, {Rate: perMM(90)}})
	refuses(t, err, "uncertainty")
	_, err = coil.Identify(1e300, 1e-300, []coil.Nominal{{Rate: perMM(80)}})
	refuses(t, err, "shelf[0].rate")
}

func FuzzIdentify(f *testing.F) {
	f.Add(78e3, 1.5e3, 70e3, 0.05, 87.5e3, 0.02)
	f.Add(1e300, 1e-300, 1e-300, 0.0, 1e308, 0.9)
	f.Fuzz(func(t *testing.T, k, u, r1, t1, r2, t2 float64) {
		got, err := coil.Identify(units.Stiffness(k), units.Stiffness(u),
			[]coil.Nominal{{Rate: units.Stiffness(r1), Tolerance: t1}, {Rate: units.Stiffness(r2), Tolerance: t2}})
		if err != nil {
			named(t, "refused", err)
			return
		}
		sum := 0.0
		for _, c := range got {
			sum += c.Probability
			if !(c.Surprise >= 0 && c.Surprise <= 1) || !finite(c.Distance) {
				t.Fatalf("%+v", got)
			}
		}
		if math.Abs(sum-1) > 1e-12 || got[0].Probability < got[1].Probability {
			t.Fatalf("%+v", got)
		}
	})
}

// Which of three springs measured 78 ± 1.5 N/mm? An invented shelf.
func ExampleIdentify() {
	list, err := coil.Identify(
		78*units.NewtonPerMillimetre, 1.5*units.NewtonPerMillimetre,
		[]coil.Nominal{
			{Rate: 400 * units.PoundForcePerInch, Tolerance: 0.05},
			{Rate: 450 * units.PoundForcePerInch, Tolerance: 0.05},
			{Rate: 500 * units.PoundForcePerInch, Tolerance: 0.05},
		})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range list {
		fmt.Printf("%.0f lbf/in: %5.1f %%, %.1f standard deviations off\n", c.Rate.PoundsForcePerInch(), 100*c.Probability, c.Distance)
	}
	// Output:
	// 450 lbf/in:  98.8 %, 0.3 standard deviations off
	// 400 lbf/in:   0.8 %, 3.2 standard deviations off
	// 500 lbf/in:   0.5 %, 3.3 standard deviations off
}
