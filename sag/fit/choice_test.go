package fit_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Each bad field is named under its part, and all of them at once.
func TestNewRefuses(t *testing.T) {
	coil := springs(fit.ShelfSpring{Rate: 80e3})
	bad := springs(fit.ShelfSpring{Rate: 80e3}, fit.ShelfSpring{Rate: -1})
	bad.ThreadPitch = -1
	chamber, short := handChamber(), handChamber()
	short.Travel, short.MaxFill = 0.05, 0
	for _, test := range []struct {
		name string
		spec fit.Spec
		want []string
	}{
		{"good", shelf(coil), nil},
		{"nothing", fit.Spec{}, []string{"curve", "sag", "coil"}},
		{"both", fit.Spec{Curve: ofRatio25(), Sag: 0.3, Coil: &coil, Air: &chamber}, []string{"coil"}},
		{"a bad shelf", fit.Spec{Curve: ofRatio25(), Sag: 1, Friction: -1, Coil: &bad}, []string{"sag", "friction", "coil.shelf[1].rate", "coil.thread_pitch"}},
		{"a bad chamber", air(short), []string{"air.max_fill", "air.travel"}},
		{"no curve", fit.Spec{Sag: 0.3, Air: &chamber}, []string{"curve"}},
		{"a target next to nothing", fit.Spec{Curve: ofRatio25(), Sag: 1e-7, Coil: &coil}, []string{"sag"}},
		{"a ring read to less than nothing", fit.Spec{Curve: ofRatio25(), Sag: 0.3, Reading: -1, Coil: &coil}, []string{"reading"}},
		{"a friction beyond sense", fit.Spec{Curve: ofRatio25(), Sag: 0.3, Friction: 1e13, Coil: &coil}, []string{"friction"}},
	} {
		o, err := fit.New(test.spec, units.StandardAtmosphere)
		named(t, test.name, err, test.want...)
		if (o == nil) != (err != nil) {
			t.Errorf("%s: %v beside %v", test.name, o, err)
		}
	}
}

// An air spring takes its travel from the curve and the ambient from New, unless it
// states its own; the caller's spec is left as it was. Behind a curve that is made
// already the options are the same, and a curve is needed.
func TestNewFillsInTheBlanks(t *testing.T) {
	stated, blank := handChamber(), handChamber()
	blank.Travel, blank.Ambient = 0, 0
	want := asJSON(t, choose(t, air(stated), load))
	o, err := fit.New(air(blank), ambient)
	require.NoError(t, err)
	behind, err := fit.NewBehind(o.Curve(), fit.Spec{Sag: target, Air: &blank}, ambient)
	require.NoError(t, err)
	for name, o := range map[string]*fit.Options{"New": o, "NewBehind": behind} {
		c, err := o.Choose(load)
		require.NoError(t, err)
		if got := asJSON(t, c); got != want {
			t.Errorf("%s: %s without travel and ambient, %s with them", name, got, want)
		}
		if spec := o.Spec(); spec.Air.Travel != stroke || spec.Air.Ambient != ambient || spec.Sag != target || blank.Travel != 0 || o.Curve().Stroke() != stroke {
			t.Errorf("%s: the spec is %+v, from %+v", name, spec.Air, blank)
		}
	}
	_, err = fit.New(air(blank), 0)
	named(t, "no ambient anywhere", err, "air.ambient")
	for _, curve := range []*linkage.Curve{nil, new(linkage.Curve)} {
		o, err := fit.NewBehind(curve, fit.Spec{Air: &blank}, ambient)
		named(t, "no curve", err, "curve", "sag", "air.travel")
		if o != nil {
			t.Error("options behind no curve")
		}
	}
}

// A load is finite and one that a wheel carries; a spring whose force no float64 holds
// is named under its place.
func TestChooseRefuses(t *testing.T) {
	o := options(t, shelf(springs(fit.ShelfSpring{Rate: 80e3}, fit.ShelfSpring{Rate: 1e308})))
	for _, load := range []units.Force{0, -1, 1e-151, units.Force(math.NaN()), units.Force(math.Inf(1))} {
		c, err := o.Choose(load)
		named(t, load.String(), err, "load")
		if c.Coil != nil || c.Air != nil {
			t.Errorf("%v: refused, yet %+v", load, c)
		}
	}
	_, err := o.Choose(600)
	named(t, "an immense rate", err, "coil.shelf[1].rate")
	_, err = o.Choose(1e308)
	named(t, "a force that no float64 holds", err, "load")
	_, err = new(fit.Options).Choose(600)
	named(t, "no options", err, "curve")
}

// The state of a choice is what its end does under the load, within the travel and at
// both its ends, also for a fill that the marking limits.
func TestChoiceStateIsThatOfItsEnd(t *testing.T) {
	coil := shelf(springs(fit.ShelfSpring{Rate: 70e3, SolidTravel: 0.07}, fit.ShelfSpring{Rate: 90e3}))
	coil.Friction = 30
	preloaded := shelf(fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 80e3}}, Collar: fit.Collar{PreloadMin: 0.01, PreloadMax: 0.01}})
	chamber := air(handChamber())
	chamber.Friction = 30
	found := map[sag.Finding]bool{}
	for name, spec := range map[string]fit.Spec{"coil": coil, "preloaded": preloaded, "air": chamber} {
		for load := units.Force(50); load < 5000; load *= 1.2 {
			choice := choose(t, spec, load)
			end := choice.End()
			want, err := end.Under(load)
			require.NoError(t, err)
			if diff := cmp.Diff(want, choice.State(), unitstest.Approx(1e-9)); diff != "" {
				t.Errorf("%s under %v (-end +choice):\n%s", name, load, diff)
			}
			if (end.Fast != nil) != (name == "air") || end.Friction != spec.Friction {
				t.Errorf("%s: %+v", name, end)
			}
			found[want.Finding] = true
		}
	}
	if !found[""] || !found[sag.HeldAtTop] || !found[sag.Collapses] {
		t.Errorf("no more than %v was found", found)
	}
}

// A choice read from JSON has its answers, and neither an end nor a state.
func TestChoiceFromJSONHasNoEnd(t *testing.T) {
	choice := choose(t, shelf(springs(fit.ShelfSpring{Rate: 80e3}, fit.ShelfSpring{Rate: 70e3})), 600)
	text := asJSON(t, choice)
	var back fit.Choice
	require.NoError(t, json.Unmarshal([]byte(text), &back))
	if again := asJSON(t, back); again != text {
		t.Errorf("%s came back as %s", text, again)
	}
	if back.End() != (sag.End{}) || back.State() != (sag.State{}) {
		t.Errorf("an end of %+v", back.End())
	}
	check(t, "read", back.Findings(), choice.Findings()...)
	if none := new(fit.Choice); none.Findings() != nil || none.End() != (sag.End{}) || none.State() != (sag.State{}) {
		t.Errorf("no choice has %v", none.Findings())
	}
}

// Two choices from the same options share no memory that either could change.
func TestChoicesAreIndependent(t *testing.T) {
	for _, spec := range []fit.Spec{shelf(springs(fit.ShelfSpring{Rate: 80e3}, fit.ShelfSpring{Rate: 70e3})), air(handChamber())} {
		o := options(t, spec)
		one, err := o.Choose(load)
		require.NoError(t, err)
		text, law := asJSON(t, one), one.End().Law.Force(0.02)
		other, err := o.Choose(2 * load)
		require.NoError(t, err)
		other.Findings()[0] = "changed"
		if asJSON(t, one) != text || one.End().Law.Force(0.02) != law {
			t.Error("a choice changed after the next")
		}
	}
}

// The marking's caution is first, those of air and of coils come where there are such,
// and each has a text.
func TestCautionsGoWithTheSprings(t *testing.T) {
	for _, test := range []struct {
		air, coil bool
		own       []string
	}{{false, false, nil}, {true, false, []string{"air_pressure"}}, {false, true, []string{"compressed_spring"}}, {true, true, []string{"air_pressure", "compressed_spring"}}} {
		want := append(append([]string{"marking_wins"}, test.own...), "crown_and_axle", "measure_first", "local_rules")
		var got []string
		for _, c := range fit.Cautions(test.air, test.coil) {
			got = append(got, c.Code)
			require.NotEmpty(t, c.Text, c.Code)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("air %v, coil %v (-want +got):\n%s", test.air, test.coil, diff)
		}
	}
}

// Whatever is chosen from: an error that names fields, or numbers, ranked, with the
// preload within the collar and the fill within the marking.
func FuzzChoose(f *testing.F) {
	f.Add(2.5, 0.28, 600.0, 30.0, 75e3, 0.07, 1e-3, 4e-3, 1.5e-3, 0.045, 190e-6, 8e-6, 2e6, 4.0, 4)
	f.Add(1.0, 0.9, 1e-9, 0.0, 1e-300, 0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 0.0, 1e3, 0.0, 0)
	f.Add(1e3, 1e-6, 1e200, 1e12, 1e300, 1e300, 1e300, 1e300, 1e-6, 1e-3, 1e-9, 1e-12, 1e8, 1e300, 100)
	f.Add(math.NaN(), 2.0, -1.0, math.Inf(1), 0.0, -1.0, -1.0, math.NaN(), -1.0, 0.0, 0.0, -1.0, 0.0, -1.0, -1)
	f.Fuzz(func(t *testing.T, lever, share, load, friction, rate, solid, least, most, pitch, bore, volume, spacer, mark, wish float64, spacers int) {
		if spacers > 20 {
			return // slow, not different
		}
		coil := &fit.Shelf{
			Springs: []fit.ShelfSpring{{Rate: units.Stiffness(rate), SolidTravel: units.Length(solid)}, {Rate: units.Stiffness(rate * 1.3)}},
			Collar:  fit.Collar{PreloadMin: units.Length(least), PreloadMax: units.Length(most), ThreadPitch: units.Length(pitch)},
		}
		chamber := &fit.Chamber{
			Spec:    airspring.Spec{Bore: units.Length(bore), PositiveVolume: units.Volume(volume), SpacerVolume: units.Volume(spacer), Exponent: 1.3},
			MaxFill: units.GaugePressure(mark), MaxSpacers: spacers, FullTravelRatio: wish, NegativeChamber: fit.None,
		}
		for _, spec := range []fit.Spec{{Coil: coil}, {Air: chamber}} {
			spec.Curve, spec.Sag, spec.Friction = constant(lever, 0.15), share, units.Force(friction)
			o, err := fit.New(spec, units.StandardAtmosphere)
			var c fit.Choice
			if err == nil {
				c, err = o.Choose(units.Force(load))
			}
			if !sagtest.Answered(t, "a choice", c, err) {
				continue
			}
			if s := c.State(); s.Load != units.Force(load) || !(s.Rest.Sag >= 0 && s.Rest.Sag <= 1+1e-12) {
				t.Fatalf("%+v", s)
			}
			switch {
			case c.Coil != nil:
				for i, one := range c.Coil.Candidates {
					if !(one.Preload <= coil.PreloadMax) || one.Reason == fit.RankedFirst != (i == 0) {
						t.Fatalf("%+v", one)
					}
				}
				if best := spec.Best(o.Curve(), units.Force(load)); best != c.Coil.Candidates[0].Index {
					t.Fatalf("spring %d is best, %d is first", best, c.Coil.Candidates[0].Index)
				}
			default:
				for _, one := range c.Air.Options {
					if !(one.Fill <= chamber.MaxFill) || one.Spacers > spacers {
						t.Fatalf("%+v", one)
					}
				}
			}
		}
	})
}

// The budget of a whole job with 12 springs and 7 numbers of spacers is 50 µs; to choose
// is the greater part of it, at most 35 µs. Allocations are reported, not bounded.
func BenchmarkChoose(b *testing.B) {
	coil := fit.Shelf{Collar: fit.Collar{PreloadMax: 5e-3, ThreadPitch: 1.5e-3}}
	for i := range 12 {
		coil.Springs = append(coil.Springs, fit.ShelfSpring{Rate: units.Stiffness(60e3 + 3e3*i), SolidTravel: 0.075})
	}
	chamber := handChamber()
	chamber.MaxSpacers, chamber.FullTravelRatio = 6, 4
	rear := options(b, fit.Spec{Curve: sagtest.Progressive(), Sag: 0.29, Friction: 35, Coil: &coil})
	spec := air(chamber)
	spec.Friction = 20
	front := options(b, spec)
	b.ReportAllocs()
	for b.Loop() {
		for _, o := range []*fit.Options{front, rear} {
			if _, err := o.Choose(530); err != nil {
				b.Fatal(err)
			}
		}
	}
}
