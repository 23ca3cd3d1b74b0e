package spring_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// norris is a data set of 36 pairs for linear regression, in the Statistical
// Reference Datasets of the National Institute of Standards and Technology
// (Norris; lower level of difficulty), pairs and certified values from memory.
// The two were checked against each other: exact rational arithmetic over
// these pairs, roots in mpmath 1.2.1 at 50 digits, gives every certified value
// to all its digits. Here x is read as a travel in m and y as a force in N.
var norris = [][2]float64{ // y, x
	{0.1, 0.2}, {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1}, {228.1, 226.5}, {668.5, 666.3}, {998.5, 996.3},
	{449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4}, {0.1, 0.6}, {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0},
	{448.9, 447.5}, {10.8, 11.6}, {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
	{0.6, 0.3}, {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0}, {10.2, 11.1}, {117.6, 118.3},
	{228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5},
}

func TestFitReadingsNorris(t *testing.T) {
	var r spring.Readings
	for _, p := range norris {
		r.Force, r.Travel = append(r.Force, units.Force(p[0])), append(r.Travel, units.Length(p[1]))
	}
	got, err := spring.FitReadings(r)
	require.NoError(t, err)
	agree(t, "rate", got.Rate, 1.00211681802045, 1e-13)
	agree(t, "force at zero", got.ForceAtZero, -0.262323073774029, 1e-11)
	agree(t, "rate standard error", got.RateStandardError, 0.429796848199937e-3, 1e-11)
	agree(t, "force at zero standard error", got.ForceAtZeroStandardError, 0.232818234301152, 1e-11)
	agree(t, "residual deviation", got.ResidualDeviation, 0.884796396144373, 1e-11)
	agree(t, "residual rms", got.ResidualRMS, 0.859867537108308, 1e-11) // the same arithmetic; not a certified value
	if got.Points != 36 {
		t.Errorf("%d points", got.Points)
	}
}

// By hand: travels 0, 10, 20, 30 mm and forces 102, 798, 1502, 2198 N have the
// means 15 mm and 1150 N; Σ(x − x̄)² = 500 mm², Σ(x − x̄)(F − F̄) = 34 960 N·mm,
// so k = 69.92 N/mm and F₀ = 101.2 N. The residuals are 0.8, −2.4, 2.4, −0.8 N:
// Σr² = 12.8 N², s² = 6.4 N², u_k = √(6.4/500) N/mm, u_F₀ = √(6.4·(1/4 + 225/500)) N.
func TestFitReadingsByHand(t *testing.T) {
	got, err := spring.FitReadings(spring.Readings{
		Travel: []units.Length{mm(20), mm(0), mm(30), mm(10)}, // in any order
		Force:  []units.Force{1502, 102, 2198, 798},
	})
	require.NoError(t, err)
	agree(t, "rate", got.Rate, perMM(69.92), 1e-13)
	agree(t, "force at zero", got.ForceAtZero, 101.2, 1e-12)
	agree(t, "rate standard error", got.RateStandardError, perMM(math.Sqrt(6.4/500)), 1e-11)
	agree(t, "force at zero standard error", got.ForceAtZeroStandardError, units.Force(math.Sqrt(6.4*0.7)), 1e-11)
	agree(t, "residual deviation", got.ResidualDeviation, units.Force(math.Sqrt(6.4)), 1e-11)
	agree(t, "residual rms", got.ResidualRMS, units.Force(math.Sqrt(3.2)), 1e-11)
}

// Exact readings of a preloaded spring give its rate and preload, with an
// error of rounding only.
func TestFitReadingsExact(t *testing.T) {
	k := linearOf(t, 87.5e3, 60e-3, 4e-3)
	var r spring.Readings
	for x := 5.0; x <= 55; x += 5 {
		r.Travel, r.Force = append(r.Travel, mm(x)), append(r.Force, k.Force(mm(x)))
	}
	got, err := spring.FitReadings(r)
	require.NoError(t, err)
	agree(t, "rate", got.Rate, perMM(87.5), 1e-13)
	agree(t, "force at zero", got.ForceAtZero, 350, 1e-12)
	if got.ResidualDeviation > 1e-9 {
		t.Errorf("residual %v", got.ResidualDeviation)
	}
}

// Half a newton per metre is a rate like any other.
func TestFitReadingsOfASoftSpring(t *testing.T) {
	got, err := spring.FitReadings(spring.Readings{Travel: []units.Length{0, 1, 2, 3}, Force: []units.Force{1, 1.5, 2, 2.5}})
	require.NoError(t, err)
	agree(t, "rate", got.Rate, 0.5, 1e-12)
}

func TestFitReadingsRefused(t *testing.T) {
	three := []units.Length{0, 1, 2}
	nan := math.NaN()
	for _, c := range []struct {
		r      spring.Readings
		fields []string
	}{
		{spring.Readings{}, []string{"travel"}},
		{spring.Readings{Travel: three[:2], Force: []units.Force{0, 1}}, []string{"travel"}},
		{spring.Readings{Travel: three, Force: []units.Force{0, 1}}, []string{"force"}},
		{spring.Readings{Travel: three[:2], Force: []units.Force{0, 1, 2}}, []string{"travel", "force"}},
		{spring.Readings{Travel: []units.Length{0, units.Length(nan), 2}, Force: []units.Force{0, 1, units.Force(math.Inf(1))}}, []string{"travel[1]", "force[2]"}},
		{spring.Readings{Travel: []units.Length{1, 1, 1}, Force: []units.Force{0, 1, 2}}, []string{"travel"}},
		{spring.Readings{Travel: three, Force: []units.Force{2, 1, 0}}, []string{"force"}},
		{spring.Readings{Travel: three, Force: []units.Force{1, 1, 1}}, []string{"force"}},
		{spring.Readings{Travel: three, Force: []units.Force{1e200, 2e300, 1.5e308}}, []string{"force"}},
	} {
		_, err := spring.FitReadings(c.r)
		refuses(t, err, c.fields...)
	}
}

func FuzzFitReadings(f *testing.F) {
	f.Add(0.0, 102.0, 0.01, 798.0, 0.02, 1502.0)
	f.Add(1e-300, 1.0, 2e-300, 2.0, 3e-300, 3.0)
	f.Add(1e150, 1e150, 2e150, 2e150, 3e300, 3e300)
	f.Fuzz(func(t *testing.T, x1, f1, x2, f2, x3, f3 float64) {
		got, err := spring.FitReadings(spring.Readings{
			Travel: []units.Length{units.Length(x1), units.Length(x2), units.Length(x3)},
			Force:  []units.Force{units.Force(f1), units.Force(f2), units.Force(f3)},
		})
		if err != nil {
			named(t, "refused", err)
			return
		}
		for _, v := range []float64{
			float64(got.Rate), float64(got.ForceAtZero), float64(got.RateStandardError),
			float64(got.ForceAtZeroStandardError), float64(got.ResidualDeviation), float64(got.ResidualRMS),
		} {
			if !finite(v) {
				t.Fatalf("%+v", got)
			}
		}
	})
}

// Four readings off a scale. Invented.
func ExampleFitReadings() {
	got, err := spring.FitReadings(spring.Readings{
		Travel: []units.Length{0, 10 * units.Millimetre, 20 * units.Millimetre, 30 * units.Millimetre},
		Force:  []units.Force{102, 798, 1502, 2198},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f, %.1f at zero travel\n", got.Rate, got.RateStandardError, got.ForceAtZero)
	// Output:
	// 69.92 N/mm ± 0.11 N/mm, 101.2 N at zero travel
}
