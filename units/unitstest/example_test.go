package unitstest_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// printer stands in for a test's *testing.T, to show what would be reported.
type printer struct{ testing.TB }

func (printer) Helper() {}

func (printer) Errorf(format string, args ...any) { fmt.Printf(format+"\n", args...) }

func Example() {
	var t printer // in a test: t *testing.T

	rate := 450 * units.PoundForcePerInch
	unitstest.Near(t, "rate", rate, 78.8*units.NewtonPerMillimetre, unitstest.Abs(0.05*units.NewtonPerMillimetre))
	unitstest.Near(t, "rate", rate, 78*units.NewtonPerMillimetre, unitstest.Rel(1e-6))
	// Output:
	// rate = 78.8070758609144 N/mm, want 78 N/mm within 1e-06 relative; the difference is 0.807 N/mm, 0.0103 relative
}

func ExampleApprox() {
	type bike struct {
		Wheelbase units.Length
		Mass      units.Mass
	}
	a := bike{1.25 * units.Metre, 15 * units.Kilogram}
	b := bike{1.25 * units.Metre * (1 + 1e-14), 15 * units.Kilogram}
	fmt.Println(cmp.Equal(a, b), cmp.Equal(a, b, unitstest.Approx(1e-12)))
	// Output: false true
}

// The rate at which a spring carries 800 N is no number for every length.
func ExampleFiniteOrRefused() {
	var t printer // in a test: t *testing.T

	type reading struct{ Length units.Length }
	unitstest.FiniteOrRefused(t, "rate", reading{0.01}, func(r reading) (units.Stiffness, error) {
		return units.Stiffness(800 / float64(r.Length)), nil
	})
	// Output:
	// rate = +Inf, with Length = 5e-324
}

func ExampleExtreme() {
	for what, force := range unitstest.Extreme(800*units.Newton, 0) {
		fmt.Println(what, force)
		break
	}
	// Output: 5e-324 4.94065645841247e-324 N
}

func ExampleInfinite() {
	var none units.Length
	fmt.Println("rate" + unitstest.Infinite([]float64{800, 1 / float64(none)}))
	// Output: rate[1] = +Inf
}
