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

func specOf(v []float64, spacers int) airspring.Spec {
	return airspring.Spec{
		Bore: units.Length(v[0]), Shaft: units.Length(v[1]), Travel: units.Length(v[2]), PositiveVolume: units.Volume(v[3]),
		NegativeVolume: units.Volume(v[4]), PortTravel: units.Length(v[5]), OilVolume: units.Volume(v[6]), SpacerVolume: units.Volume(v[7]),
		Spacers: spacers, SecondVolume: units.Volume(v[8]), SecondFill: units.GaugePressure(v[9]), Fill: units.GaugePressure(v[10]),
		Ambient: units.AbsolutePressure(v[11]), Exponent: v[12],
	}
}

// FuzzNew: a spring or an error, never both, and a spring's answers are numbers.
func FuzzNew(f *testing.F) {
	f.Add(bytesOf(0.034, 0.010, 0.16, 190e-6, 60e-6, 0.008, 2e-6, 5e-6, 0, 0, 5.5e5, 101325, 1.3, 400, 0.04), 2)
	f.Add(bytesOf(0.034, 0, 0.16, 185e-6, 0, 0, 0, 0, 45e-6, 8e5, 4.5e5, 101325, 1, 400, 0.04), 0)
	f.Add(bytesOf(1, 0.999999, 1e-6, 1, 1e-9, 0, 0, 0, 1e-9, 1e8, 1e8, 1e3, 2, 1, 1e-6), 0)
	f.Add(bytesOf(1e-6, 1e-6, 10, 1e-9, 1, 9, 0, 1e-300, 1, 1e-300, 1e-300, 1e6, 1, 1e-9, 10), 1000)
	f.Fuzz(func(t *testing.T, data []byte, spacers int) {
		v := numbers(data, 15)
		spec := specOf(v, spacers)
		law, err := airspring.New(spec)
		if (law == nil) == (err == nil) {
			t.Fatalf("law %v, error %v", law, err)
		}
		if err != nil {
			named(t, "spring", err)
		}
		if fill, err := airspring.FillFor(spec, units.Force(v[13]), units.Length(v[14])); err == nil {
			spec.Fill = fill
			again, err := airspring.New(spec)
			if err != nil {
				t.Fatalf("fill %v is refused: %v", float64(fill), err)
			}
			law = again
		}
		if law == nil {
			return
		}
		full := law.Travel()
		before := law.Force(0)
		for i := range 17 {
			x := full * units.Length(i) / 16
			force := law.Force(x)
			if !finite(float64(force), float64(law.Rate(x)), float64(law.Energy(x)), float64(law.PositivePressure(x)), float64(law.NegativePressure(x)), float64(law.SecondVolume(x))) {
				t.Fatalf("at %v: %v %v %v", x, force, law.Rate(x), law.Energy(x))
			}
			if force < before-units.Force(1e-9*(math.Abs(float64(force))+math.Abs(float64(before))))-1e-9*units.Force(math.Abs(float64(law.PositivePressure(x)))) {
				t.Errorf("at %v the force falls from %v to %v", x, before, force)
			}
			before = force
		}
		rest := law.RestTravel()
		if !(rest >= 0 && rest <= full) || !(law.CompressionRatio() >= 1) || !finite(float64(law.OpeningTravel()), law.CompressionRatio()) {
			t.Errorf("rest %v, ratio %v, opening %v", rest, law.CompressionRatio(), float64(law.OpeningTravel()))
		}
	})
}

// Every computation returns finite numbers, or an error that names a field.
func FuzzQuestions(f *testing.F) {
	f.Add(bytesOf(0.036, 0.16, 2.5e-4, 5e5, 101325, 1.35, 600, 0.04, 2600, 8e5, 293.15, 8e-6, 1.4, 1), 4)
	f.Add(bytesOf(0.042, 0.0575, 1.2e-4, 20e5, 90e3, 1.45, 2400, 0.017, 9000, 30e5, 250, 1e-6, 1.4, 1e-3), 1000)
	f.Add(bytesOf(1e-6, 10, 1, 1e8, 1e3, 2, 1e9, 1e-6, 1e300, 1e-300, 400, 0, 1, 1e12), -1)
	f.Fuzz(func(t *testing.T, data []byte, count int) {
		v := numbers(data, 14)
		spec := airspring.Spec{Bore: units.Length(v[0]), Travel: units.Length(v[1]), PositiveVolume: units.Volume(v[2]), Fill: units.GaugePressure(v[3]),
			Ambient: units.AbsolutePressure(v[4]), Exponent: v[5], SpacerVolume: units.Volume(v[11])}
		check := func(what string, err error, list ...float64) {
			t.Helper()
			if err != nil {
				named(t, what, err)
			} else if !finite(list...) {
				t.Errorf("%s: %v", what, list)
			}
		}
		force, at, most := units.Force(v[6]), units.Length(v[7]), units.GaugePressure(v[9])
		kelvin := units.Temperature(v[10])
		fill, err := airspring.FillFor(spec, force, at)
		check("fill", err, float64(fill))
		trials, err := airspring.FillSearch{Spec: spec, Force: force, At: at, MaxFill: most, Last: count}.Trials()
		check("search", err)
		for i := range trials {
			o := &trials[i]
			check("trial", nil, float64(o.Fill), float64(o.FillWanted), float64(o.Slow.Force(at)), float64(o.Fast.Force(at)))
			if o.Fill > most {
				t.Errorf("%v is above the marking %v", o.Fill, most)
			}
		}
		moved, err := airspring.SpecAt(spec, kelvin, 280, spec.Ambient)
		check("moved", err, float64(moved.Fill))
		there, err := airspring.FillAt(spec.Fill, airspring.Conditions{Temperature: kelvin, Altitude: at}, airspring.Conditions{Temperature: 280})
		check("fill there", err, float64(there))
		reading, err := airspring.HoseReading(spec.PositiveVolume, spec.SpacerVolume, spec.Fill)
		check("hose", err, float64(reading))
		before, err := airspring.HoseFill(spec.PositiveVolume, spec.SpacerVolume, spec.Fill)
		check("hose", err, float64(before))
		air, err := airspring.Atmosphere(at)
		check("atmosphere", err, float64(air.Pressure), float64(air.Temperature))
	})
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

func FuzzPlanTopUp(f *testing.F) {
	f.Add(bytesOf(0.034, 0.010, 190e-6, 60e-6, 0.008, 5.5e5, 6.5e5, 101325, 1e3))
	f.Add(bytesOf(1e-6, 1e-7, 1e-9, 1, 0, 0, 1e8, 1e3, 1e-3))
	f.Add(bytesOf(0.034, 0.010, 190e-6, 60e-6, 0.008, 5.5e5, 2e5, 101325, 1e3))
	f.Add(bytesOf(0.034, 0.010, 190e-6, 60e-6, 0.008, 5.5e5, 2e5, 101325, 1e3, 0.006))
	f.Fuzz(func(t *testing.T, data []byte) {
		v := numbers(data, 10)
		ask := airspring.TopUp{Bore: units.Length(v[0]), Shaft: units.Length(v[1]), PositiveVolume: units.Volume(v[2]), NegativeVolume: units.Volume(v[3]),
			PortTravel: units.Length(v[4]), OldFill: units.GaugePressure(v[5]), Fill: units.GaugePressure(v[6]), Ambient: units.AbsolutePressure(v[7]), Within: units.GaugePressure(v[8]), PullIn: units.Length(v[9])}
		plan, err := airspring.PlanTopUp(ask)
		if err != nil {
			if len(units.Fields(err)) == 0 || plan.Cycles != 0 {
				t.Errorf("%+v %v", plan, err)
			}
			return
		}
		if plan.Cycles < 1 || plan.Cycles > 1000 || !(plan.Carry > 0 && plan.Carry <= 1) {
			t.Errorf("%d cycles, carry %v", plan.Cycles, plan.Carry)
		}
		for _, step := range plan.Steps {
			if !finite(float64(step.Before), float64(step.After)) || !(step.Stands >= 0 && step.Stands <= ask.PortTravel) || step.Stands > 0 && !(step.Stands <= plan.PullIn*(1+1e-9)) {
				t.Errorf("%+v, to be pulled in by %v at most", step, plan.PullIn)
			}
		}
		for i := range plan.Reading {
			if !finite(float64(plan.Reading[i]), float64(plan.NegativePressure[i])) {
				t.Errorf("cycle %d: %v, %v", i, plan.Reading[i], plan.NegativePressure[i])
			}
		}
	})
}
