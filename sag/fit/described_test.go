package fit_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// fromJSON is a spring of a shelf as a job says it.
func fromJSON(t *testing.T, text string) fit.ShelfSpring {
	t.Helper()
	var one fit.ShelfSpring
	require.NoError(t, strictjson.Unmarshal("job", []byte(text), &one), text)
	return one
}

// chosen is the spring that is recommended.
func chosen(t *testing.T, spec fit.Spec, load units.Force) *fit.CoilCandidate {
	t.Helper()
	choice := choose(t, spec, load)
	return choice.Spring()
}

const twoRates = `{"dual_rate": {"soft_rate": "200 N/mm", "main_rate": "90 N/mm", "soft_travel": "5 mm", "main_travel": "65 mm"}}`

// By hand: 200 and 90 N/mm in a row are 62.07 N/mm up to 1000 N, at 5 + 1000/90 = 16.11 mm, and
// 90 N/mm from there on. The 1500 N of the target, 16.8 mm in, take 5 + 1500/90 = 21.67 mm, so
// 4.87 mm of preload. Without any it carries 90·(16.8 − 5) = 1062 N there. At full stroke it is
// compressed by 64.87 mm, of 70.
func TestDualRateSpringOfAJobByHand(t *testing.T) {
	one := fromJSON(t, `{"law": `+twoRates+`}`)
	spec := ownShelf(fit.Collar{PreloadMax: 6e-3})
	spec.Coil.Springs = []fit.ShelfSpring{one}
	choice := choose(t, spec, 600)
	got := choice.Spring()
	wanted := (5 + 1500/90.0 - 16.8) * mm
	near(t, "preload wanted", float64(got.PreloadWanted), wanted, 1e-9)
	near(t, "preload", float64(got.Preload), wanted, 1e-9)
	near(t, "rate for ranking", float64(got.Rate), 1062/(16.8*mm), 1e-9)
	near(t, "rate at rest", float64(got.Rest.SpringRate), 90e3, 1e-12)
	near(t, "sag", got.Rest.Sag, 0.28, 1e-9)
	full := 60*mm + wanted
	near(t, "force at full travel", float64(got.FullForce), 90e3*(full-5*mm)/2.5, 1e-9)
	near(t, "left before solid", float64(got.SolidReserve), 70*mm-full, 1e-7)
	check(t, "two rates", got.Findings, sag.OnTarget)
	if got.Law != "62.069 N/mm to 90 N/mm over 70 mm" {
		t.Errorf("it is %q", got.Law)
	}
	// Solid at 66 mm already it has 4 mm less to spare; a solid travel beyond its own says nothing.
	spec.Coil.Springs[0].SolidTravel = 66e-3
	near(t, "solid sooner", float64(chosen(t, spec, 600).SolidReserve), 66*mm-full, 1e-7)
	spec.Coil.Springs[0].SolidTravel = 90e-3
	near(t, "solid at its own end", float64(chosen(t, spec, 600).SolidReserve), 70*mm-full, 1e-7)
	// At 60 mm it is solid before the stroke ends, where it pushes with 90·(60 − 5) N.
	spec.Coil.Springs[0].SolidTravel = 60e-3
	bound := chosen(t, spec, 600)
	near(t, "solid within the stroke", float64(bound.SolidReserve), 60*mm-full, 1e-7)
	near(t, "its force when solid", float64(bound.FullForce), 90e3*55*mm/2.5, 1e-9)
	check(t, "solid within the stroke", bound.Findings, sag.OnTarget, sag.GoesSolid)
}

// A spring in JSON and its law in Go are one spring, by every method and for Best, before and
// after the shelf is checked.
func TestSpecIsItsLaw(t *testing.T) {
	one := fromJSON(t, `{"law": `+twoRates+`, "solid_travel": "66 mm"}`)
	made, err := spring.NewDualRate(spring.DualRate{SoftRate: 200e3, MainRate: 90e3, SoftTravel: 5e-3, MainTravel: 61e-3})
	require.NoError(t, err)
	own := fit.ShelfSpring{Law: made}
	for _, x := range []units.Length{1e-3, 16.1e-3, 0.03, 0.07} {
		near(t, "rate up to there", float64(one.RateAt(x)), float64(own.RateAt(x)), 1e-12)
		near(t, "scaled", float64(one.Scaled(1.1).RateAt(x)), 1.1*float64(own.RateAt(x)), 1e-12)
		near(t, "preload", float64(one.PreloadFor(1500, x)), float64(own.PreloadFor(1500, x)), 1e-9)
	}
	a, err := one.Preloaded(0.06, 3e-3)
	require.NoError(t, err)
	b, err := own.Preloaded(0.06, 3e-3)
	require.NoError(t, err)
	require.NoError(t, springtest.TestLaw(a))
	near(t, "travel", float64(a.Travel()), float64(b.Travel()), 1e-12)
	near(t, "energy", float64(a.Energy(1)), float64(b.Energy(1)), 1e-12)
	if one.Describe() != own.Describe() || (fit.ShelfSpring{Rate: 80e3}).Describe() != "" {
		t.Errorf("%q, %q", one.Describe(), own.Describe())
	}
	spec := ownShelf(fit.Collar{PreloadMax: 6e-3})
	spec.Coil.Springs = []fit.ShelfSpring{{Rate: 60e3}, one, {Rate: 70e3}}
	curve := options(t, spec).Curve()
	for _, load := range []units.Force{200, 400, 600, 800} {
		if best := chosen(t, spec, load).Index; spec.Best(curve, load) != best {
			t.Errorf("at %v spring %d is best, and %d", load, best, spec.Best(curve, load))
		}
	}
	if kept := options(t, spec).Spec(); kept.Coil.Springs[1].Law == nil || kept.Coil.Springs[1].Spec != nil || spec.Coil.Springs[1].Law != nil {
		t.Errorf("the options have %+v of %+v", kept.Coil.Springs[1], spec.Coil.Springs[1])
	}
}

// A law that is solid before its own end is a law, whether it ends at a kink, between two, or
// within a spring without any.
func TestLawSolidBeforeItsEndIsALaw(t *testing.T) {
	kink := units.Length(5e-3 + 1000/90e3)
	for _, solid := range []units.Length{0.01, kink, 0.03} {
		one := fromJSON(t, `{"law": `+twoRates+`}`)
		one.SolidTravel = solid
		require.NoError(t, springtest.TestLaw(one.Compiled().Law, solid), solid)
		own := fit.ShelfSpring{Law: hardening{60e3, 1e6, 0.07}, SolidTravel: solid}
		require.NoError(t, springtest.TestLaw(own.Compiled().Law, solid), solid)
		near(t, "its travel", float64(own.Compiled().Law.Travel()), float64(solid), 1e-15)
		near(t, "its force when solid", float64(own.Compiled().Law.Force(1)), 60e3*float64(solid)+1e6*float64(solid*solid), 1e-12)
	}
}

// A spring has a rate or one law, and what is wrong with a law is named by its path.
func TestShelfRefusesSpecs(t *testing.T) {
	many := `{"series": [` + strings.TrimSuffix(strings.Repeat(`{"linear": {"rate": "80 N/mm", "travel": "1 mm"}},`, 31), ",") + `]}`
	linear := &law.Spec{Linear: &spring.Linear{Rate: 80e3, Travel: 0.07}}
	for _, test := range []struct {
		name string
		one  fit.ShelfSpring
		want []string
	}{
		{"good", fromJSON(t, `{"law": `+twoRates+`}`), nil},
		{"good until it is solid", fromJSON(t, `{"law": `+twoRates+`, "solid_travel": "60 mm"}`), nil},
		{"neither", fit.ShelfSpring{}, []string{"shelf[0].rate"}},
		{"both", fit.ShelfSpring{Rate: 80e3, Spec: linear}, []string{"shelf[0].rate"}},
		{"two laws", fit.ShelfSpring{Law: hardening{60e3, 1e6, 0.07}, Spec: linear}, []string{"shelf[0].law"}},
		{"no kind", fromJSON(t, `{"law": {}}`), []string{"shelf[0].law"}},
		{"deep down", fromJSON(t, `{"law": {"series": [{"parallel": [{"law": {"groups": [{"rate": "0 N/mm", "gap": "1 mm"}]}}]}]}}`), []string{"shelf[0].law.series[0].parallel[0].law.groups[0].rate"}},
		{"too many", fromJSON(t, `{"law": `+many+`}`), []string{"shelf[0].law"}},
		{"solid below 0", fit.ShelfSpring{Spec: linear, SolidTravel: -1}, []string{"shelf[0].solid_travel"}},
		{"solid is no number", fit.ShelfSpring{Spec: linear, SolidTravel: units.Length(math.NaN())}, []string{"shelf[0].solid_travel"}},
		{"solid before the collar touches", fit.ShelfSpring{Spec: linear, SolidTravel: 0.5e-3}, []string{"shelf[0].solid_travel"}},
		{"longer than any", fit.ShelfSpring{Spec: &law.Spec{Linear: &spring.Linear{Rate: 80, Travel: 1001}}}, []string{"shelf[0].law"}},
	} {
		checked(t, test.name, &fit.Shelf{Springs: []fit.ShelfSpring{test.one}, Collar: fit.Collar{PreloadMin: 1e-3, PreloadMax: 2e-3}}, test.want...)
	}
	whole := fit.Shelf{Collar: fit.Collar{PreloadMax: 2e-3}}
	for range 41 {
		whole.Springs = append(whole.Springs, fromJSON(t, `{"law": {"groups": [`+strings.TrimSuffix(strings.Repeat(`{"rate": "400 N/mm", "gap": "9 mm"},`, 5), ",")+`]}}`))
	}
	checked(t, "too many together", &whole, "shelf[40].law")
	whole.Springs = whole.Springs[:40]
	checked(t, "as many as may be", &whole)
	gas := fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 1}, fromJSON(t, `{"law": {"parallel": [{"law": {"air": {}}}]}}`)}}
	if !gas.Gas() || (&fit.Shelf{Springs: gas.Springs[:1]}).Gas() {
		t.Error("gas")
	}
}
