package visit_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
)

// must returns v, and panics if it could not be made.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// A spring, a curve, a mechanism and all else whose fields are not exported is printed with units or as
// its type, and refuses JSON: on its own, in a struct and behind an interface.
func TestOpaqueValuesHaveNoBareNumbers(t *testing.T) {
	linearLaw := linear(t, 80e3, 0.06, 0)
	air := must(airspring.New(airspring.Spec{Bore: 0.035, PositiveVolume: 240e-6, Travel: 0.16, Fill: 300e3, Ambient: airspring.SeaLevel, Exponent: 1}))
	curve := constant(t, 2.5, 0.15)
	arm := must(mechanism.New(mechanism.Spec{
		Points: map[string]mechanism.Point{"P": {0.012, 0.072}, "A": {-0.438, 0.028}, "S1": {-0.092, 0.238}, "S2": {0.112, 0.292}},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "swingarm": {"P", "A", "S1"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 0.0575,
	}))
	shelf := fit.Spec{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 0.15}}, Sag: 0.28, Coil: &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 80e3}}}}
	left := arrive(t, recorded(coilEnd()), sag.Rear)
	for _, v := range []any{
		linearLaw, must(spring.NewSeries(linearLaw, air)), must(spring.NewParallel(spring.Member{Law: linearLaw}, spring.Member{Law: air})),
		must(spring.NewSeries(linearLaw, linearLaw)), must(spring.NewPreloaded(air, 0.01)),
		must(coil.New(coil.Spec{WireDiameter: 0.0095, MeanDiameter: 0.046, ActiveCoils: 6, ShearModulus: 78.5e9})), air,
		curve, must(linkage.AtWheel(curve, linearLaw)), arm, must(mechanism.NewTolerance(arm, mechanism.Tolerances{Every: 0.0001})),
		must(fit.New(shelf, airspring.SeaLevel)), shelf.Ranking(curve), must(setup.NewTemplate(demoJob(t))), left, left.Assembly,
		sag.End{Curve: curve, Law: air, Friction: 40},
	} {
		for _, form := range []string{"%v", "%+v", "%s"} {
			if text := fmt.Sprintf(form, v); bare.MatchString(text) || text == "" {
				t.Errorf("%T: %s prints %q", v, form, text)
			}
		}
		_, err := json.Marshal(struct{ Of any }{v})
		require.ErrorContains(t, err, "has no JSON: use the description that it is made from", "%T", v)
	}
}

// bare is a number in a struct without a unit, or an address.
var bare = regexp.MustCompile(`0x[0-9a-f]{4}|[{:]-?[0-9][0-9.e+-]*[ }]*(?:[-{}0-9]|$)`)

func recorded(s visit.Setting) visit.Record {
	r := handRecord()
	r.Rear = &visit.EndRecord{Setting: s}
	return r
}
