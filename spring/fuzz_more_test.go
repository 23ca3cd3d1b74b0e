package spring_test

import (
	"errors"
	"math"
	"testing"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// outside are arguments that no spring has a travel for.
var outside = []units.Length{units.Length(math.NaN()), units.Length(math.Inf(-1)), -1e308, -5e-324, 1e308, units.Length(math.Inf(1))}

// named fails where an error names no field.
func named(t *testing.T, what string, err error) {
	t.Helper()
	if len(units.Fields(err)) == 0 {
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
}

// soundLaw holds a law to what package spring promises of every law, for any
// argument: finite answers, a force that doesn't fall, a rate that isn't
// negative, an energy that starts at 0 and doesn't fall where the force pushes,
// and a Settle that finds a travel of the force asked for.
func soundLaw(t *testing.T, law spring.Law) {
	t.Helper()
	clamped(t, law)
	for _, x := range outside {
		if f, k, e := law.Force(x), law.Rate(x), law.Energy(x); !finite(float64(f)) || !finite(float64(k)) || !finite(float64(e)) {
			t.Fatalf("at %v: force %v, rate %v, energy %v", float64(x), float64(f), float64(k), float64(e))
		}
	}
	finiteLaw(t, law)
	full := law.Travel()
	first, last := law.Force(0), law.Force(full)
	rounding := 1e-9 * (math.Abs(float64(last)) + math.Abs(float64(first))) * float64(full)
	before := law.Energy(0)
	for i := range 33 {
		x := full * units.Length(i) / 32
		e := law.Energy(x)
		if first >= 0 && !(e >= before-units.Energy(rounding)) {
			t.Fatalf("energy falls from %v to %v at %v", float64(before), float64(e), float64(x))
		}
		if k := law.Rate(x); !(k >= 0) {
			t.Fatalf("rate %v at %v", float64(k), float64(x))
		}
		before = e
		load := law.Force(x)
		at, err := spring.Settle(law, load)
		if err != nil {
			t.Fatalf("the force %v at %v: %v", float64(load), float64(x), err)
		}
		if !(at >= 0 && at <= full) {
			t.Fatalf("settles at %v of %v", float64(at), float64(full))
		}
		if got := law.Force(at); math.Abs(float64(got-load)) > 1e-6*math.Abs(float64(last-first))+1e-12*math.Abs(float64(load)) {
			t.Fatalf("settles at %v with %v, asked for %v", float64(at), float64(got), float64(load))
		}
	}
	if below := math.Nextafter(float64(first), math.Inf(-1)); finite(below) {
		if _, err := spring.Settle(law, units.Force(below)); !errors.Is(err, spring.ErrToppedOut) {
			t.Fatalf("a load below the force at full extension: %v", err)
		}
	}
	if above := math.Nextafter(float64(last), math.Inf(1)); finite(above) {
		if _, err := spring.Settle(law, units.Force(above)); !errors.Is(err, spring.ErrBottomedOut) {
			t.Fatalf("a load above the force at full travel: %v", err)
		}
	}
}

// FuzzNewLinear: a spring that answers every travel, or every bad field named.
func FuzzNewLinear(f *testing.F) {
	f.Add(80e3, 0.065, 0.002)
	f.Add(5e-324, 1e308, 0.0)
	f.Add(1e300, 1e-300, 1e8)
	f.Add(math.NaN(), math.Inf(1), -1.0)
	f.Fuzz(func(t *testing.T, rate, travel, preload float64) {
		law, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: units.Length(travel), Preload: units.Length(preload)})
		if err != nil {
			named(t, "linear", err)
			return
		}
		soundLaw(t, law)
	})
}

// FuzzLaws makes every kind of law from the same few numbers, and stacks of
// those that can be made.
func FuzzLaws(f *testing.F) {
	f.Add(60e3, 90e3, 0.020, 0.045, 0.002, 0.006, 0.0305, 18.0, 79.5e9, uint8(0))
	f.Add(52.5e3, 87.5e3, 0.022, 0.060, 0.005, 0.010, 0.046, 5.5, 79.5e9, uint8(7))
	f.Add(1e300, 1e-300, 1e-300, 1e300, 0.0, 1e-300, 1.0, 1e300, 1e300, uint8(255))
	f.Fuzz(func(t *testing.T, k1, k2, g1, g2, preload, wire, mean, coils, shear float64, order uint8) {
		var laws []spring.Law
		take := func(what string, law spring.Law, err error) {
			t.Helper()
			if err != nil {
				named(t, what, err)
				return
			}
			soundLaw(t, law)
			laws = append(laws, law)
		}
		linear, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(k1), Travel: units.Length(g1), Preload: units.Length(preload)})
		take("linear", linear, err)
		dual, err := spring.NewDualRate(spring.DualRate{SoftRate: units.Stiffness(k1), MainRate: units.Stiffness(k2),
			SoftTravel: units.Length(g1), MainTravel: units.Length(g2), Preload: units.Length(preload)})
		take("dual", dual, err)
		groups, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{
			{Rate: units.Stiffness(k1), Gap: units.Length(g1)}, {Rate: units.Stiffness(k2), Gap: units.Length(g2)}}})
		take("groups", groups, err)
		pitch, err := coil.NewLinearPitch(coil.LinearPitch{WireDiameter: units.Length(wire), MeanDiameter: units.Length(mean),
			ActiveCoils: coils, ShearModulus: units.Stress(shear), FirstGap: units.Length(min(g1, g2)), LastGap: units.Length(max(g1, g2))})
		take("pitch", pitch, err)
		made, err := coil.New(coil.Spec{WireDiameter: units.Length(wire), MeanDiameter: units.Length(mean), ActiveCoils: coils,
			ShearModulus: units.Stress(shear), FreeLength: units.Length(g2)})
		if err != nil {
			named(t, "coil", err)
		} else {
			of, err := made.WithPreload(units.Length(preload))
			take("coil", of, err)
		}
		if len(laws) == 0 {
			return
		}
		a, b := laws[int(order)%len(laws)], laws[int(order/8)%len(laws)]
		series, err := spring.NewSeries(a, b)
		take("series", series, err)
		parallel, err := spring.NewParallel(spring.Member{Law: a}, spring.Member{Law: b, StartsAt: units.Length(preload)})
		take("parallel", parallel, err)
		preloaded, err := spring.NewPreloaded(laws[len(laws)-1], units.Length(preload))
		take("preloaded", preloaded, err)
	})
}

// Pieces too short to keep in a stack leave nothing behind: its energy counts from 0.
func TestEnergyOfAStackCountsFromZero(t *testing.T) {
	hard, err := spring.NewLinear(spring.Linear{Rate: 1e6, Travel: 1e-16})
	if err != nil {
		t.Fatal(err)
	}
	soft, err := spring.NewLinear(spring.Linear{Rate: 1e3, Travel: 0.1, Preload: 1e-13})
	if err != nil {
		t.Fatal(err)
	}
	law, err := spring.NewSeries(hard, soft)
	if err != nil {
		t.Fatal(err)
	}
	if e := law.Energy(0); e != 0 {
		t.Errorf("energy at 0 = %v", float64(e))
	}
}

// FuzzCollar: turns and preload are each other's inverse, or a field is named.
func FuzzCollar(f *testing.F) {
	f.Add(2.5, 1e-3)
	f.Add(1e300, 1e300)
	f.Add(-1.0, math.NaN())
	f.Fuzz(func(t *testing.T, turns, pitch float64) {
		preload, err := spring.CollarPreload(turns, units.Length(pitch))
		if err != nil {
			named(t, "preload", err)
		} else if !(preload >= 0) || !finite(float64(preload)) {
			t.Fatalf("%v turns of %v preload by %v", turns, pitch, float64(preload))
		}
		back, err := spring.CollarTurns(units.Length(turns), units.Length(pitch))
		if err != nil {
			named(t, "turns", err)
		} else if !(back >= 0) || !finite(back) {
			t.Fatalf("a preload of %v takes %v turns", turns, back)
		}
		// Where neither runs into the smallest numbers, one undoes the other.
		if preload > 1e-300 && turns > 1e-300 && pitch > 1e-300 {
			back, err := spring.CollarTurns(preload, units.Length(pitch))
			if err != nil || math.Abs(back-turns) > 4e-16*turns {
				t.Fatalf("%v turns of %v give %v turns back: %v", turns, pitch, back, err)
			}
		}
	})
}
