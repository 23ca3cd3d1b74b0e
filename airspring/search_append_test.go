package airspring_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

func appended() airspring.Search {
	return airspring.Search{
		Spec: airspring.Spec{
			Bore: 34 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 190 * units.CubicCentimetre,
			SpacerVolume: 8 * units.CubicCentimetre, Ambient: units.StandardAtmosphere, Exponent: 1.3,
		},
		Force: 400, At: 30 * units.Millimetre, MaxFill: units.BarGauge(10), Last: 4,
	}
}

// What is in the list stays in it, and what comes after is TrySpacers' own,
// however the memory was used before.
func TestAppendTrials(t *testing.T) {
	q := appended()
	want, err := airspring.TrySpacers(q)
	if err != nil || len(want) != 5 {
		t.Fatalf("%d trials, %v", len(want), err)
	}
	harder := q
	harder.Force, harder.MaxFill = 900, units.BarGauge(3)
	list, err := airspring.AppendTrials(nil, harder)
	if err != nil || list[0].Outcome != airspring.FillAtMarking {
		t.Fatalf("%+v, %v", list[0].Outcome, err)
	}
	both, err := airspring.AppendTrials(list, q)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []string{cmp.Diff(describe(list), describe(both[:5])), cmp.Diff(describe(want), describe(both[5:]))} {
		if d != "" {
			t.Error(d)
		}
	}
	// A pull-in leaves no spring behind, of those before it neither.
	pulls := q
	pulls.Spec.NegativeVolume, pulls.Spec.Shaft, pulls.Spec.PortTravel = 5*units.CubicCentimetre, 8*units.Millimetre, 60*units.Millimetre
	pulls.At = units.Millimetre
	again, err := airspring.AppendTrials(list[:0], pulls)
	if err != nil || again[0].Outcome != airspring.FillPullsIn {
		t.Fatalf("%v, %v", again[0].Outcome, err)
	}
	if x := again[0].Slow.Travel(); x != 0 {
		t.Errorf("a spring of an earlier search, of %v travel", x)
	}
	q.At = -1
	if got, err := airspring.AppendTrials(both, q); err == nil || len(got) != len(both) {
		t.Errorf("%d trials, %v", len(got), err)
	}
}

// describe is what tells trials apart.
func describe(list []airspring.Trial) (text []string) {
	for i := range list {
		t := &list[i]
		text = append(text, fmt.Sprint(t.Spacers, t.Outcome, float64(t.FillWanted), float64(t.Fill), float64(t.Slow.Force(0.1)), float64(t.Fast.Force(0.1))))
	}
	return text
}

func TestAppendTrialsAllocatesNothing(t *testing.T) {
	q := appended()
	list, err := airspring.TrySpacers(q)
	if err != nil {
		t.Fatal(err)
	}
	if n := testing.AllocsPerRun(50, func() { list, _ = airspring.AppendTrials(list[:0], q) }); n > 0 {
		t.Errorf("%v allocations", n)
	}
}

// Two riders, one piece of memory. By hand, (300 N/A + p_a)·V/V₀ − p_a with
// A = 907.92 mm², V₀ = 190 cm³ and V = V₀ − A·32 mm is 2.644 bar.
func ExampleAppendTrials() {
	search := airspring.Search{
		Spec: airspring.Spec{
			Bore: 34 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 190 * units.CubicCentimetre,
			SpacerVolume: 8 * units.CubicCentimetre, Ambient: units.StandardAtmosphere, Exponent: 1.3,
		},
		At: 32 * units.Millimetre, MaxFill: units.BarGauge(10), Last: 2,
	}
	var trials []airspring.Trial
	for _, force := range []units.Force{300, 400} {
		search.Force = force
		var err error
		if trials, err = airspring.AppendTrials(trials[:0], search); err != nil {
			fmt.Println(err)
			return
		}
		for _, t := range trials {
			fmt.Printf("%v, %d spacers: %.3f bar\n", force, t.Spacers, t.Fill.Bar())
		}
	}
	// Output:
	// 300 N, 0 spacers: 2.644 bar
	// 300 N, 1 spacers: 2.615 bar
	// 300 N, 2 spacers: 2.583 bar
	// 400 N, 0 spacers: 3.577 bar
	// 400 N, 1 spacers: 3.541 bar
	// 400 N, 2 spacers: 3.501 bar
}
