package airspring_test

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// named fails where an error names no field.
func named(t *testing.T, what string, err error) {
	t.Helper()
	if len(units.Fields(err)) == 0 {
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
}

// soundSteps holds that every step says what it is, how and from where, in
// finite numbers, and that some step comes to the answer.
func soundSteps(t *testing.T, steps []units.Step, answer float64) {
	t.Helper()
	found := false
	for _, s := range steps {
		if s.Name == "" || s.Formula == "" || s.Source == "" {
			t.Fatalf("%+v", s)
		}
		for _, v := range append(slices.Clip(s.Given), s.Result) {
			if r := reflect.ValueOf(v.Quantity); !r.IsValid() || r.CanFloat() && !finite(r.Float()) {
				t.Fatalf("%+v", s)
			}
		}
		r := reflect.ValueOf(s.Result.Quantity)
		found = found || r.CanFloat() && r.Float() == answer
	}
	if !found {
		t.Fatalf("no step comes to %v", answer)
	}
}

// FuzzSpring: the methods of a spring for any argument. They are finite and
// clamped, energy is 0 at 0 and doesn't fall where the force pushes, pressures
// are above vacuum, and Settle finds a travel of every force.
func FuzzSpring(f *testing.F) {
	f.Add(bytesOf(0.034, 0.010, 0.16, 190e-6, 60e-6, 0.008, 2e-6, 5e-6, 0, 0, 5.5e5, 101325, 1.3), 2, 0.07)
	f.Add(bytesOf(0.034, 0, 0.16, 185e-6, 0, 0, 0, 0, 45e-6, 8e5, 4.5e5, 101325, 1), 0, math.NaN())
	f.Add(bytesOf(0.042, 0.012, 0.0575, 1.2e-4, 2e-5, 0.004, 0, 0, 3e-5, 3e6, 20e5, 90e3, 1.45), 0, math.Inf(1))
	f.Fuzz(func(t *testing.T, data []byte, spacers int, travel float64) {
		law, err := airspring.New(specOf(numbers(data, 13), spacers))
		if err != nil {
			named(t, "spring", err)
			return
		}
		full := law.Travel()
		if law.Energy(0) != 0 {
			t.Fatalf("energy at 0: %v", law.Energy(0))
		}
		for _, x := range []units.Length{units.Length(travel), units.Length(math.NaN()), units.Length(math.Inf(-1)), units.Length(math.Inf(1)), -1, 1e308} {
			as := spring.Clamp(x, full)
			if law.Force(x) != law.Force(as) || law.Rate(x) != law.Rate(as) || law.Energy(x) != law.Energy(as) ||
				law.PositivePressure(x) != law.PositivePressure(as) || law.NegativePressure(x) != law.NegativePressure(as) || law.SecondVolume(x) != law.SecondVolume(as) ||
				law.PositiveVolume(x) != law.PositiveVolume(as) {
				t.Fatalf("travel %v is not taken as %v", float64(x), float64(as))
			}
			if !finite(float64(law.Force(x)), float64(law.Rate(x)), float64(law.Energy(x))) || !(law.PositivePressure(x) > 0) || !(law.PositiveVolume(x) > 0) || !(law.NegativePressure(x) >= 0) || !(law.SecondVolume(x) >= 0) {
				t.Fatalf("at %v: force %v, rate %v, energy %v, pressures %v and %v, second volume %v", float64(x), law.Force(x), law.Rate(x), law.Energy(x),
					law.PositivePressure(x), law.NegativePressure(x), law.SecondVolume(x))
			}
		}
		first, last := law.Force(0), law.Force(full)
		scale := float64(law.PositivePressure(full))*float64(law.Spec().Bore)*float64(law.Spec().Bore) + math.Abs(float64(first)) + math.Abs(float64(last))
		before := law.Energy(law.RestTravel())
		for i := range 17 {
			x := law.RestTravel() + (full-law.RestTravel())*units.Length(i)/16
			if e := law.Energy(x); !(e >= before-units.Energy(1e-9*scale*float64(full))) {
				t.Fatalf("energy falls from %v to %v at %v, past the rest at %v", before, e, float64(x), float64(law.RestTravel()))
			} else {
				before = e
			}
			load := law.Force(x)
			at, err := spring.Settle(law, load)
			if err != nil {
				t.Fatalf("the force %v at %v: %v", float64(load), float64(x), err)
			}
			if got := law.Force(at); math.Abs(float64(got-load)) > 1e-6*scale {
				t.Fatalf("settles at %v with %v, asked for %v", float64(at), float64(got), float64(load))
			}
		}
	})
}

// A second chamber filled to next to nothing takes so much gas from the first
// that, over a fast stroke, the slowly filled negative chamber pulls all the way
// of a short travel: the spring rests at its end.
func TestRestOfASpringThatPullsAllTheWay(t *testing.T) {
	law, err := airspring.New(airspring.Spec{
		Bore: 0.042, Shaft: 0.012, Travel: 0.0003, PositiveVolume: 58e-6, NegativeVolume: 20e-6,
		SecondVolume: 30e-6, SecondFill: 50, Fill: 20e5, Ambient: 90e3, Exponent: 1.45,
	})
	if err != nil {
		t.Fatal(err)
	}
	if force := law.Force(law.Travel()); !(force < 0) {
		t.Fatalf("the force at full travel, %v, does not pull", force)
	}
	if got := law.RestTravel(); got != law.Travel() {
		t.Errorf("rests at %v of %v", got, law.Travel())
	}
}

// FuzzAltitude: geometric and geopotential altitude are each other's inverse
// and rise together; air thins out with height.
func FuzzAltitude(f *testing.F) {
	f.Add(0.0, 2000.0)
	f.Add(-500.0, 11000.0)
	f.Add(math.NaN(), math.Inf(-1))
	f.Fuzz(func(t *testing.T, a, b float64) {
		low, high := units.Length(min(a, b)), units.Length(max(a, b))
		lowH, lowErr := airspring.GeopotentialAltitude(low)
		highH, highErr := airspring.GeopotentialAltitude(high)
		for _, err := range []error{lowErr, highErr} {
			if err != nil {
				named(t, "altitude", err)
			}
		}
		if _, err := airspring.GeometricAltitude(low); err != nil {
			named(t, "geometric altitude", err)
		}
		lowAir, lowAirErr := airspring.Atmosphere(low)
		highAir, highAirErr := airspring.Atmosphere(high)
		if lowAirErr == nil && highAirErr == nil && !(highAir.Pressure <= lowAir.Pressure && highAir.Pressure > 0 && highAir.Temperature > 0 && lowAir.Temperature > 0) {
			t.Fatalf("%+v at %v, %+v at %v", lowAir, float64(low), highAir, float64(high))
		}
		if lowErr != nil || highErr != nil {
			return
		}
		if !(lowH <= highH) || math.Abs(float64(lowH)) > math.Abs(float64(low))*1.02+1e-9 || !finite(float64(lowH), float64(highH)) {
			t.Fatalf("%v and %v become %v and %v", float64(low), float64(high), float64(lowH), float64(highH))
		}
		back, err := airspring.GeometricAltitude(highH)
		if err != nil || math.Abs(float64(back-high)) > 1e-12*math.Abs(float64(high)) {
			t.Fatalf("%v becomes %v, and that %v: %v", float64(high), float64(highH), float64(back), err)
		}
	})
}

// FuzzHose: what a chamber was filled to and what a gauge screwed on shows are
// each other's inverse; the hose takes its part, so that it never shows more.
func FuzzHose(f *testing.F) {
	f.Add(120e-6, 2e-6, 12e5)
	f.Add(1e-9, 1.0, 1e8)
	f.Add(math.NaN(), -1.0, math.Inf(1))
	f.Fuzz(func(t *testing.T, chamber, hose, pressure float64) {
		v, h, p := units.Volume(chamber), units.Volume(hose), units.GaugePressure(pressure)
		fill, err := airspring.HoseFill(v, h, p)
		if err != nil {
			named(t, "fill", err)
		} else if !finite(float64(fill)) {
			t.Fatalf("a reading of %v is a fill of %v", pressure, float64(fill))
		}
		reading, err := airspring.HoseReading(v, h, p)
		if err != nil {
			named(t, "reading", err)
			return
		}
		if !(reading >= 0 && reading <= p) {
			t.Fatalf("a fill of %v reads %v", pressure, float64(reading))
		}
		if back, err := airspring.HoseFill(v, h, reading); err == nil && math.Abs(float64(back-p)) > 1e-9*(float64(p)+1e5) {
			t.Fatalf("a fill of %v reads %v, and that is a fill of %v", pressure, float64(reading), float64(back))
		}
	})
}

// FuzzWorking: the working of a fill and of a topping up come to their answers.
func FuzzWorking(f *testing.F) {
	f.Add(bytesOf(0.034, 0.010, 0.16, 190e-6, 60e-6, 0.008, 2e-6, 5e-6, 0, 0, 5.5e5, 101325, 1.3, 400, 0.04, 6.5e5, 1e3), 2)
	f.Add(bytesOf(0.034, 0, 0.16, 185e-6, 0, 0, 0, 0, 45e-6, 8e5, 4.5e5, 101325, 1, 400, 0.04, 5e5, 1e2), 0)
	f.Fuzz(func(t *testing.T, data []byte, spacers int) {
		v := numbers(data, 17)
		spec := specOf(v, spacers)
		fill, fillErr := airspring.FillFor(spec, units.Force(v[13]), units.Length(v[14]))
		steps, err := airspring.FillWorking(spec, units.Force(v[13]), units.Length(v[14]))
		if (err == nil) != (fillErr == nil) {
			t.Fatalf("the fill: %v; its working: %v", fillErr, err)
		}
		if err != nil {
			named(t, "fill", err)
		} else {
			soundSteps(t, steps, float64(fill))
		}
		ask := airspring.TopUpOf(spec, units.GaugePressure(v[15]), units.GaugePressure(v[16]))
		plan, planErr := airspring.PlanTopUp(ask)
		steps, err = ask.Working()
		if (err == nil) != (planErr == nil) {
			t.Fatalf("the plan: %v; its working: %v", planErr, err)
		}
		if err != nil {
			named(t, "topping up", err)
			return
		}
		soundSteps(t, steps, plan.Carry)
	})
}
