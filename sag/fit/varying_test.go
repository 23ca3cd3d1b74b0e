package fit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// hardening is a spring of one's own, F = k·x + c·x², from its free length to solid.
type hardening struct{ k, c, solid float64 }

func (h hardening) at(x units.Length) float64 { return float64(spring.Clamp(x, h.Travel())) }

func (h hardening) Force(x units.Length) units.Force {
	return units.Force(h.k*h.at(x) + h.c*h.at(x)*h.at(x))
}
func (h hardening) Rate(x units.Length) units.Stiffness { return units.Stiffness(h.k + 2*h.c*h.at(x)) }
func (h hardening) Energy(x units.Length) units.Energy {
	d := h.at(x)
	return units.Energy(h.k*d*d/2 + h.c*d*d*d/3)
}
func (h hardening) Travel() units.Length { return units.Length(h.solid) }

// ownShelf is a shelf of laws beneath a collar.
func ownShelf(c fit.Collar, laws ...spring.Law) fit.Spec {
	s := &fit.Shelf{Collar: c}
	for _, law := range laws {
		s.Springs = append(s.Springs, fit.ShelfSpring{Law: law})
	}
	return fit.Spec{Curve: ofRatio25(), Sag: 0.28, Coil: s}
}

// By hand: 1500 N are wanted at 16.8 mm. A spring of 60 N/mm that hardens by 1 N/mm²
// carries them where 60·x + x² = 1500, at √2400 − 30 = 18.99 mm, so with 2.19 mm of
// preload. It ranks by what it carries at 16.8 mm without any, 1290.24 N, as a spring of
// 76.8 N/mm would; at full stroke it is compressed by 62.19 mm.
func TestSpringOfVaryingRateByHand(t *testing.T) {
	law := hardening{60e3, 1e6, 0.07}
	require.NoError(t, springtest.TestLaw(law))
	choice := choose(t, ownShelf(fit.Collar{PreloadMax: 4e-3}, law), 600)
	one := choice.Spring()
	x := (math.Sqrt(2400) - 30) * mm
	near(t, "preload wanted", float64(one.PreloadWanted), x-16.8*mm, 1e-9)
	near(t, "preload", float64(one.Preload), x-16.8*mm, 1e-9)
	near(t, "sag", one.Rest.Sag, 0.28, 1e-9)
	near(t, "rate for ranking", float64(one.Rate), 76.8e3, 1e-12)
	near(t, "rate at rest", float64(one.Rest.SpringRate), 60e3+2e6*x, 1e-9)
	full := x + (60-16.8)*mm
	near(t, "force at full travel", float64(one.FullForce), (60e3*full+1e6*full*full)/2.5, 1e-9)
	near(t, "left before solid", float64(one.SolidReserve), 0.07-full, 1e-7)
	check(t, "hardening", one.Findings, sag.OnTarget)
	if one.Law != spring.Describe(law) || !one.SolidKnown {
		t.Errorf("%+v", one)
	}
	state := choice.State()
	near(t, "energy left", float64(state.EnergyLeft), float64(law.Energy(units.Length(full))-law.Energy(units.Length(x))), 1e-9)
	// Too soft to carry it before it is solid: of 560 N there it has 940 N to go, by 15 N/mm.
	soft := choose(t, ownShelf(fit.Collar{PreloadMax: 4e-3}, hardening{1e3, 1e5, 0.07}), 600)
	near(t, "beyond solid", float64(soft.Spring().PreloadWanted), (70+940/15.0-16.8)*mm, 1e-12)
	// One that pushes harder free than is wanted there wants less than none.
	hard, err := spring.NewLinear(spring.Linear{Rate: 10e3, Travel: 0.07, Preload: 0.2})
	require.NoError(t, err)
	held := choose(t, ownShelf(fit.Collar{PreloadMax: 4e-3}, hard), 600)
	near(t, "less than none", float64(held.Spring().PreloadWanted), -16.8*mm, 1e-12)
	check(t, "held", held.Spring().Findings, sag.HeldAtTop, sag.TooHard, sag.PreloadAtMin)
}

// A spring of constant rate that is given as a law is chosen, ranked and answered for as
// one that is given by its rate.
func TestLawOfConstantRateIsASpringOfThatRate(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 12))
	for range 300 {
		spec, load := drawnShelf(r)
		own := spec
		own.Coil = &fit.Shelf{Collar: spec.Coil.Collar}
		for i := range spec.Coil.Springs {
			one := &spec.Coil.Springs[i]
			one.SolidTravel = units.Length(0.05 + 0.04*r.Float64())
			law, err := spring.NewLinear(spring.Linear{Rate: one.Rate, Travel: one.SolidTravel})
			require.NoError(t, err)
			own.Coil.Springs = append(own.Coil.Springs, fit.ShelfSpring{Law: law})
		}
		want, got := choose(t, spec, load), choose(t, own, load)
		if diff := cmp.Diff(want.Coil, got.Coil, unitstest.Approx(1e-7), cmpopts.IgnoreFields(fit.CoilCandidate{}, "Law", "Miss")); diff != "" {
			t.Fatalf("(-rate +law) %+v:\n%s", spec, diff)
		}
		if diff := cmp.Diff(want.State(), got.State(), unitstest.Approx(1e-7)); diff != "" {
			t.Fatalf("(-rate +law):\n%s", diff)
		}
		scaled := spec.Coil.Springs[0].Scaled(1.1)
		law := own.Coil.Springs[0].Scaled(1.1)
		near(t, "scaled", float64(law.Law.Force(0.02)), float64(scaled.Rate)*0.02, 1e-12)
		near(t, "its energy", float64(law.Law.Energy(0.02)), float64(scaled.Rate)*0.0002, 1e-12)
		near(t, "its rate", float64(law.RateAt(0.02)), float64(scaled.RateAt(0.02)), 1e-12)
	}
}

// Springs of varying and of constant rate stand on one shelf, ranked by what they carry at
// the target: 76.8 and 84 N/mm of 89.3.
func TestLawsRankBesideRates(t *testing.T) {
	spec := ownShelf(fit.Collar{PreloadMax: 6e-3}, hardening{60e3, 1e6, 0.08})
	spec.Coil.Springs = append(spec.Coil.Springs, fit.ShelfSpring{Rate: 84e3, SolidTravel: 0.08}, fit.ShelfSpring{Rate: 72e3, SolidTravel: 0.08})
	a := choose(t, spec, 600).Coil.Candidates
	if a[0].Index != 1 || a[1].Index != 0 || a[2].Index != 2 || a[1].Reason != fit.RankedFartherRate {
		t.Errorf("springs %d, %d, %d: %s", a[0].Index, a[1].Index, a[2].Index, a[1].Reason)
	}
	own := options(t, spec).Spec()
	if got := own.Best(options(t, spec).Curve(), 600); got != 1 {
		t.Errorf("spring %d is best", got)
	}
}

// A law stands by itself, and is one; where its force jumps past the load it is refused
// under its place, and wants the preload of the jump.
func TestShelfRefusesLaws(t *testing.T) {
	good := hardening{60e3, 1e6, 0.07}
	for _, test := range []struct {
		name string
		one  fit.ShelfSpring
		want []string
	}{
		{"good", fit.ShelfSpring{Law: good}, nil},
		{"beside a rate", fit.ShelfSpring{Law: good, Rate: 1}, []string{"shelf[0].rate"}},
		{"no law at all", fit.ShelfSpring{Law: hardening{60e3, 0, 0}}, []string{"shelf[0].law"}},
		{"solid before the collar touches", fit.ShelfSpring{Law: hardening{60e3, 0, 0.5e-3}}, []string{"shelf[0].law"}},
		{"softens to nothing", fit.ShelfSpring{Law: hardening{0, 0, 0.07}}, []string{"shelf[0].law"}},
	} {
		checked(t, test.name, &fit.Shelf{Springs: []fit.ShelfSpring{test.one}, Collar: fit.Collar{PreloadMin: 1e-3, PreloadMax: 2e-3}}, test.want...)
	}
	step := fit.ShelfSpring{Law: jumping{}}
	near(t, "at the jump", float64(step.PreloadFor(1500, 0.0168)), 0.02-0.0168, 1e-9)
}

// jumping pushes with 1000 N at first and with 2000 N from 20 mm on.
type jumping struct{}

func (jumping) Force(x units.Length) units.Force {
	if x < 0.02 {
		return 1000
	}
	return 2000
}
func (jumping) Rate(units.Length) units.Stiffness { return 0 }
func (j jumping) Energy(x units.Length) units.Energy {
	x = spring.Clamp(x, 0.07)
	return units.Energy(1000*x + 1000*max(0, x-0.02))
}
func (jumping) Travel() units.Length { return 0.07 }
