package sag

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// unsound tells of a number within v that is NaN or infinite.
func unsound(v reflect.Value) error {
	switch {
	case !v.IsValid():
	case v.CanFloat():
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return fmt.Errorf(" is %v", f)
		}
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			if !v.Type().Field(i).IsExported() {
				continue
			}
			if err := unsound(v.Field(i)); err != nil {
				return fmt.Errorf(".%s%w", v.Type().Field(i).Name, err)
			}
		}
	case v.Kind() == reflect.Slice, v.Kind() == reflect.Array:
		for i := range v.Len() {
			if err := unsound(v.Index(i)); err != nil {
				return fmt.Errorf("[%d]%w", i, err)
			}
		}
	case v.Kind() == reflect.Pointer, v.Kind() == reflect.Interface:
		return unsound(v.Elem())
	}
	return nil
}

// answered holds that a call gave an answer of numbers or an error that names
// a field, and tells whether it was an answer.
func answered(t *testing.T, what string, answer any, err error) bool {
	t.Helper()
	if err != nil {
		if len(units.Fields(err)) == 0 {
			t.Fatalf("%s: an error that names no field: %v", what, err)
		}
		return false
	}
	if err := unsound(reflect.ValueOf(answer)); err != nil {
		t.Fatalf("%s%v", what, err)
	}
	return true
}

// settled is answered for what a load may also top or bottom out.
func settled(t *testing.T, what string, answer any, err error) bool {
	t.Helper()
	if errors.Is(err, spring.ErrToppedOut) || errors.Is(err, spring.ErrBottomedOut) {
		return false
	}
	return answered(t, what, answer, err)
}

// ratios is a curve of three points whose ratio goes from one number to another.
func ratios(start, end float64, travel units.Length) (*linkage.Curve, error) {
	mean := (start + end) / 2
	stroke := travel / units.Length(mean)
	return linkage.NewTable(linkage.Table{
		Stroke: []units.Length{0, stroke / 2, stroke},
		Travel: []units.Length{0, stroke / 2 * units.Length((start+mean)/2), travel},
		Method: linkage.Monotone,
	})
}

// FuzzRequired: the rate, the preload and the fill that are required put the
// bike on its target when it is settled on them, or a field is named.
func FuzzRequired(f *testing.F) {
	f.Add(3.0, 2.4, 0.150, 600.0, 0.30, 0.002, 80e3, 0.036, 100e-6, 1.0, 20.0)
	f.Add(2.4, 3.0, 0.150, 600.0, 0.30, 0.0, 120e3, 0.036, 100e-6, 1.35, 0.0)
	f.Add(1e3, 1e-3, 1e3, 1e300, 1.0, 1e300, 1e-300, 1.0, 1e-9, 2.0, math.Inf(1))
	f.Add(math.NaN(), -1.0, 0.0, math.NaN(), math.NaN(), -1.0, 0.0, 0.0, 0.0, 0.0, -1.0)
	f.Fuzz(func(t *testing.T, start, end, travel, load, sag, preload, rate, bore, volume, exponent, friction float64) {
		c, err := ratios(start, end, units.Length(travel))
		if err != nil {
			answered(t, "curve", nil, err)
			c = nil
		}
		target := Target{Load: units.Force(load), Sag: sag}
		onTarget := func(what string, law spring.Law) {
			t.Helper()
			wheel, err := linkage.AtWheel(c, law)
			if !answered(t, what+" at the wheel", nil, err) {
				return
			}
			rising, _ := wheel.MinRate() // where the wheel force falls there is no one rest
			r, err := Settle(c, law, target.Load, units.Force(friction))
			if !settled(t, what+" settled", r, err) {
				if rising > 0 && sag > 1e-6 && sag < 1-1e-6 && len(units.Fields(err)) == 0 {
					t.Fatalf("%s: wanted at sag %v: %v", what, sag, err)
				}
				return
			}
			if rising > 0 && math.Abs(r.Sag-sag) > 1e-6 {
				t.Fatalf("%s: rests at sag %v, wanted %v", what, r.Sag, sag)
			}
			if rising > 0 && !(r.TravelLow <= r.Travel && r.Travel <= r.TravelHigh && r.StrokeLow <= r.Stroke && r.Stroke <= r.StrokeHigh) {
				t.Fatalf("%s: band %+v", what, r)
			}
			steps, err := SettleWorking(c, law, target.Load)
			if err != nil {
				t.Fatalf("%s: settles, but has no working: %v", what, err)
			}
			answered(t, what+" working", steps, nil)
		}
		k, err := RequiredRate(c, target, units.Length(preload))
		steps, workingErr := RequiredRateWorking(c, target, units.Length(preload))
		if (err == nil) != (workingErr == nil) {
			t.Fatalf("the rate: %v; its working: %v", err, workingErr)
		}
		if answered(t, "rate", k, err) && answered(t, "rate's working", steps, workingErr) {
			if !(k.Rate > 0) {
				t.Fatalf("rate %v", k.Rate)
			}
			if law, err := spring.NewLinear(spring.Linear{Rate: k.Rate, Travel: c.Stroke(), Preload: units.Length(preload)}); err == nil && units.Length(preload) < c.Stroke() {
				onTarget("rate", law)
			}
		}
		p, err := RequiredPreload(c, target, units.Stiffness(rate))
		steps, workingErr = RequiredPreloadWorking(c, target, units.Stiffness(rate))
		if (err == nil) != (workingErr == nil) {
			t.Fatalf("the preload: %v; its working: %v", err, workingErr)
		}
		if answered(t, "preload", p, err) && answered(t, "preload's working", steps, workingErr) {
			if law, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: c.Stroke(), Preload: p}); err == nil && p < c.Stroke() {
				onTarget("preload", law)
			}
		}
		spec := airspring.Spec{Bore: units.Length(bore), PositiveVolume: units.Volume(volume), Ambient: units.StandardAtmosphere, Exponent: exponent}
		if c != nil {
			spec.Travel = c.Stroke()
		}
		fill, err := RequiredFill(c, target, spec)
		if answered(t, "fill", fill, err) {
			spec.Fill = fill
			law, err := airspring.New(spec)
			if err != nil {
				t.Fatalf("a fill of %v is refused: %v", float64(fill), err)
			}
			onTarget("fill", law)
		}
	})
}

// FuzzImplied: a load that a reading stands for lies within its bounds, and
// settles at the reading; what is left for a drop is a number.
func FuzzImplied(f *testing.F) {
	f.Add(3.0, 2.4, 0.150, 80e3, 0.06, 0.002, 20.0, 0.017, 0.001, 600.0)
	f.Add(2.4, 3.0, 0.150, 1e-300, 1e3, 0.0, 0.0, 1e-6, 1e-9, 1e-150)
	f.Add(1.0, 1.0, 0.170, 1e300, 1e-3, 1e3, math.Inf(1), math.NaN(), -1.0, math.NaN())
	f.Fuzz(func(t *testing.T, start, end, travel, rate, springTravel, preload, friction, stroke, off, load float64) {
		c, err := ratios(start, end, units.Length(travel))
		if err != nil {
			c = nil
		}
		var law spring.Law
		if k, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: units.Length(springTravel), Preload: units.Length(preload)}); err == nil {
			law = k
		}
		at, err := MeasuredLoad(c, law, units.Length(stroke))
		measured := answered(t, "load", at, err)
		i, err := ImpliedLoad(c, law, units.Force(friction), Reading{Stroke: units.Length(stroke), Error: units.Length(off)})
		if answered(t, "implied", i, err) {
			if !measured || i.Load != at {
				t.Fatalf("implies %v, measured %v (%v)", i.Load, at, measured)
			}
			if !(i.Low <= i.ErrorLow && i.ErrorLow <= i.Load && i.Load <= i.ErrorHigh && i.ErrorHigh <= i.High && i.Low >= 0 && i.StandardError >= 0) {
				t.Fatalf("bounds out of order: %+v", i)
			}
		}
		if measured && at > 0 {
			if r, err := Settle(c, law, at, 0); settled(t, "settled", r, err) {
				wheel, err := linkage.AtWheel(c, law)
				if err != nil {
					t.Fatal(err)
				}
				if least, _ := wheel.MinRate(); least > 0 && math.Abs(float64(r.Stroke)-stroke) > 1e-6*float64(c.Stroke()) && wheel.SpringForce(r.Travel) != wheel.SpringForce(c.TravelAt(units.Length(stroke))) {
					t.Fatalf("read at %v, rests at %v", stroke, float64(r.Stroke))
				}
			}
		}
		left, err := NewReserve(c, law, units.Force(load))
		if answered(t, "reserve", left, err) && !(left.Energy >= 0 && left.FullForce >= 0) {
			t.Fatalf("%+v", left)
		}
		if v := Frequency(units.Stiffness(rate), units.Force(load)); !(v >= 0) || math.IsInf(float64(v), 0) {
			t.Fatalf("%v Hz", float64(v))
		}
		if v := DampingFor(friction, units.Stiffness(rate), units.Force(load)); !(v >= 0) || math.IsInf(float64(v), 0) {
			t.Fatalf("damping %v", float64(v))
		}
	})
}

// FuzzNewBands: bands rise with the rate, each ideal rider between its edges
// where the wheel force rises, and everybody has a spring.
func FuzzNewBands(f *testing.F) {
	f.Add(3.0, 2.4, 0.150, 70e3, 80e3, 90e3, 0.002, 0.6, 16.0, 3.0, 0.30, 85.0)
	f.Add(1.0, 1.0, 0.170, 1e-300, 1.0, 1e300, 0.0, 1e-9, 1e-300, 0.0, 0.999, math.NaN())
	f.Fuzz(func(t *testing.T, start, end, travel, k1, k2, k3, preload, share, bike, unsprung, sag, rider float64) {
		c, err := ratios(start, end, units.Length(travel))
		if err != nil {
			c = nil
		}
		for _, e := range []End{RearEnd, FrontEnd} {
			r := Range{Rates: []units.Stiffness{units.Stiffness(k1), units.Stiffness(k2), units.Stiffness(k3)}, Preload: units.Length(preload), End: e,
				RearShare: share, BikeMass: units.Mass(bike), Unsprung: units.Mass(unsprung), Sag: sag}
			b, err := NewBands(c, r)
			if i := b.For(units.Mass(rider)); err == nil && (i < 0 || i > 2) {
				t.Fatalf("spring %d for %v", i, rider)
			}
			if !answered(t, "bands", b, err) {
				continue
			}
			if len(b.IdealMass) != 3 || len(b.EdgeMass) != 2 || !slices.IsSorted(b.IdealMass) {
				t.Fatalf("%+v", b)
			}
			rising := true
			for _, k := range r.Rates {
				law, err := spring.NewLinear(spring.Linear{Rate: k, Travel: c.Stroke(), Preload: r.Preload})
				if err != nil {
					t.Fatal(err)
				}
				wheel, err := linkage.AtWheel(c, law)
				if err != nil {
					t.Fatal(err)
				}
				least, _ := wheel.MinRate()
				rising = rising && least > 0
			}
			if !rising {
				continue
			}
			for i, m := range b.EdgeMass {
				if !(b.IdealMass[i] <= m && m <= b.IdealMass[i+1]) && float64(b.IdealMass[i+1]-b.IdealMass[i]) > 1e-9*float64(b.IdealMass[i+1]) {
					t.Fatalf("the edge %v is not between its springs: %+v", m, b)
				}
			}
		}
	})
}

// FuzzNewStance: the loads of a bike at rest add up, sags are fractions.
func FuzzNewStance(f *testing.F) {
	f.Add(80.0, 16.0, 2.0, 3.0, 0.6, 1.25, 1.1, 8e3, 80e3, 0.002)
	f.Add(80.0, 16.0, 0.0, 0.0, 0.6, 1e-3, 1e3, 1.0, 1.0, 0.0)
	f.Add(math.NaN(), 1e300, -1.0, 1e300, 1.0, 0.0, math.Inf(1), 1e300, 1e-300, 1.0)
	f.Fuzz(func(t *testing.T, rider, bike, uf, ur, share, base, height, front, rear, preload float64) {
		law := func(rate float64, travel units.Length) spring.Law {
			if k, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: travel, Preload: units.Length(preload)}); err == nil {
				return k
			}
			return nil
		}
		b := Bike{
			Masses: Masses{RiderMass: units.Mass(rider), BikeMass: units.Mass(bike), UnsprungFront: units.Mass(uf), UnsprungRear: units.Mass(ur), RearShare: share,
				Wheelbase: units.Length(base), MassCentreHeight: units.Length(height)},
			Front: Fitted{Curve: constant(t, 1, 0.16), Law: law(front, 0.16)},
			Rear:  Fitted{Curve: rearOf150(t), Law: law(rear, 0.06)},
		}
		s, err := NewStance(b)
		if !answered(t, "stance", s, err) {
			return
		}
		sprung := (rider + bike - uf - ur) * g0
		if !(s.FrontSag >= 0 && s.FrontSag <= 1 && s.RearSag >= 0 && s.RearSag <= 1) || math.Abs(float64(s.FrontLoad+s.RearLoad)-sprung) > 1e-6*(rider+bike)*g0 {
			t.Fatalf("%+v of %v N", s, sprung)
		}
	})
}

// FuzzNewCorrection: what to set is within its marks and in numbers.
func FuzzNewCorrection(f *testing.F) {
	f.Add(2.5, 0.150, 0.30, 20.0, 80e3, 0.002, 0.07, 0.001, 0.008, 0.0015, 600.0, 12e5, 24e5)
	f.Add(1.0, 0.170, 0.999, 1e300, 1e-300, 0.0, 0.0, 0.0, 0.0, 1e-300, 1e-300, 1e-3, 1e8)
	f.Fuzz(func(t *testing.T, ratio, travel, sag, friction, rate, preload, solid, least, most, pitch, load, fill, mark float64) {
		s := Setting{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: ratio, Travel: units.Length(travel)}}, Sag: sag, Friction: units.Force(friction),
			Coil: &CoilSetting{Rate: units.Stiffness(rate), Preload: units.Length(preload), SolidTravel: units.Length(solid),
				PreloadMin: units.Length(least), PreloadMax: units.Length(most), ThreadPitch: units.Length(pitch)}}
		got, err := NewCorrection(s, units.Force(load))
		if answered(t, "coil", got, err) && (got.Coil == nil || got.Air != nil) {
			t.Fatalf("%+v", got)
		}
		s.Coil, s.Air = nil, &AirSetting{Spec: single(units.GaugePressure(fill), 1), MaxFill: units.GaugePressure(mark)}
		s.Air.Travel = 0
		got, err = NewCorrection(s, units.Force(load))
		if answered(t, "air", got, err) && (got.Air == nil || got.Coil != nil || !(got.Air.Fill <= s.Air.MaxFill)) {
			t.Fatalf("%+v with a marking of %v", got.Air, s.Air.MaxFill)
		}
	})
}

// FuzzAirContender: both laws of a contender, or the fields that [airspring.New] names.
func FuzzAirContender(f *testing.F) {
	f.Add("air", 0.036, 100e-6, 12e5, 1.35)
	f.Add("", 1e-6, 1.0, 1e8, 1.0)
	f.Add("air", math.NaN(), -1.0, 0.0, math.Inf(1))
	f.Fuzz(func(t *testing.T, name string, bore, volume, fill, exponent float64) {
		spec := single(units.GaugePressure(fill), exponent)
		spec.Bore, spec.PositiveVolume = units.Length(bore), units.Volume(volume)
		_, want := airspring.New(spec)
		c, err := AirContender(name, spec)
		if (err == nil) != (want == nil) {
			t.Fatalf("%v, but airspring.New: %v", err, want)
		}
		if err != nil {
			answered(t, "contender", nil, err)
			return
		}
		if c.Name != name || c.Exponent != exponent || c.Slow == nil || c.Fast == nil {
			t.Fatalf("%+v", c)
		}
		for i := range 9 {
			x := spec.Travel * units.Length(i) / 8
			slow, fast := c.Slow.Force(x), c.Fast.Force(x)
			answered(t, "forces", []units.Force{slow, fast}, nil)
			if !(fast >= slow*(1-1e-9)-1e-9*units.Force(fill)) {
				t.Fatalf("at %v: %v slow, %v fast", x, slow, fast)
			}
		}
	})
}

// FuzzTemplate: one template's sheets are those of the same job with that
// rider, one by one and many at a time, refusals included.
func FuzzTemplate(f *testing.F) {
	f.Add([]byte(jobText), 82.0, 55.0)
	f.Add([]byte(strings.Replace(jobText, `"method": "smooth"`, `"method": "monotone"`, 1)), 1e-9, math.NaN())
	f.Add([]byte(strings.Replace(jobText, `"rider_mass": "82 kg", `, ``, 1)), 150.0, -1.0)
	f.Fuzz(func(t *testing.T, text []byte, first, second float64) {
		j, err := ReadJob(bytes.NewReader(text))
		if err != nil {
			answered(t, "job", nil, err)
			return
		}
		for _, e := range []*EndJob{&j.Front, &j.Rear} { // large ones are slow, not different
			if t := e.Curve.Table; t != nil && len(t.Travel) > 20 || e.Coil != nil && len(e.Coil.Shelf) > 10 || e.Air != nil && e.Air.MaxSpacers > 10 {
				return
			}
		}
		if j.Uncertainty != nil {
			return
		}
		b, err := NewTemplate(j)
		if (b == nil) == (err == nil) {
			t.Fatalf("template %v, error %v", b, err)
		}
		if err != nil {
			answered(t, "template", nil, err)
			return
		}
		riders := []units.Mass{units.Mass(first), units.Mass(second)}
		i := 0
		for s, err := range b.Sheets(context.Background(), slices.Values(riders), 2) {
			j.Masses.RiderMass = riders[i]
			want, wantErr := NewSheet(j)
			alone, aloneErr := b.Sheet(riders[i])
			if (err == nil) != (wantErr == nil) || (aloneErr == nil) != (wantErr == nil) {
				t.Fatalf("rider %v: %v of many, %v alone, %v by NewSheet", float64(riders[i]), err, aloneErr, wantErr)
			}
			i++
			if err != nil {
				answered(t, "sheet", nil, err)
				continue
			}
			answered(t, "sheet", *s, nil)
			if a, b, c := asJSON(t, s), asJSON(t, alone), asJSON(t, want); a != b || b != c {
				t.Fatalf("three sheets of one job:\n%s\n%s\n%s", a, b, c)
			}
		}
		if i != len(riders) {
			t.Fatalf("%d sheets for %d riders", i, len(riders))
		}
	})
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// FuzzNewRecord: what is recorded of a sheet can be written, read, checked and
// asked where it rests; a date that is none is refused.
func FuzzNewRecord(f *testing.F) {
	f.Add([]byte(jobText), "2026-11-25", 82.0)
	f.Add([]byte(jobText), "2026-02-30", 60.0)
	f.Add([]byte(jobText), "", 150.0)
	f.Fuzz(func(t *testing.T, text []byte, date string, rider float64) {
		j, err := ReadJob(bytes.NewReader(text))
		if err != nil || j.Uncertainty != nil {
			return
		}
		for _, e := range []*EndJob{&j.Front, &j.Rear} {
			if t := e.Curve.Table; t != nil && len(t.Travel) > 20 || e.Coil != nil && len(e.Coil.Shelf) > 10 || e.Air != nil && e.Air.MaxSpacers > 10 {
				return
			}
		}
		if j.Masses.RiderMass > 0 {
			j.Masses.RiderMass = units.Mass(rider)
		}
		s, err := NewSheet(j)
		if err != nil {
			answered(t, "sheet", nil, err)
			s = nil
		}
		r, err := NewRecord(date, j, s)
		if err != nil {
			answered(t, "record", nil, err)
			return
		}
		if err := r.Check(); err != nil {
			t.Fatalf("a record that is none: %v", err)
		}
		again, err := ReadRecord(bytes.NewReader(written(t, r)))
		if err != nil {
			t.Fatalf("can't read what it wrote: %v", err)
		}
		for _, e := range []End{FrontEnd, RearEnd} {
			o, err := r.Outcome(e)
			if !answered(t, "outcome", o, err) {
				t.Fatalf("no outcome of a sheet's setting: %v", err)
			}
			if same, err := again.Outcome(e); err != nil || same.Rest != o.Rest {
				t.Fatalf("read again it rests at %+v, not %+v: %v", same.Rest, o.Rest, err)
			}
		}
	})
}
