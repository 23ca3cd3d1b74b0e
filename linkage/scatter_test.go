package linkage_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Readings of a linkage known in closed form, 31 of them with errors of 0.3 mm, are noticed by every
// method that goes through the points, and so are ratios read to 0.1. Exact ones are not, nor those
// of any linkage of the tests, nor such as are printed to 0.1 mm.
func TestReadingsWithErrorsAreNoticed(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	noticed, drawn := 0, 0
	for range 50 {
		table := linkage.Table{}
		for i := range 31 {
			s := lowPivot.stroke * float64(i) / 30
			w, _ := lowPivot.at(s)
			if i > 0 {
				w += 0.3 * rng.NormFloat64()
			}
			table.Stroke, table.Travel = append(table.Stroke, mm(s)), append(table.Travel, mm(w))
		}
		if _, err := linkage.NewTable(table); err != nil {
			continue // it falls back, or stands still at an end
		}
		drawn++
		if w, ok := table.Scatter(); ok && strings.Contains(w.Text, "readings with errors of about 0.") && w.Field == "table" {
			noticed++
		}
		table.Method = linkage.Measured
		if _, ok := table.Scatter(); ok {
			t.Error("a warning of readings that are taken as such")
		}
	}
	if drawn < 20 || noticed < drawn {
		t.Errorf("%d of %d noticed", noticed, drawn)
	}
	for i, name := range movable() {
		if i%4 != 0 && !unitstest.Long() {
			continue
		}
		c := compiled(t, solved(name))
		for _, method := range methods[:2] {
			for _, n := range []int{5, 14, 60} {
				exact := points(c, n, method)
				ratios, rough := linkage.Table{Travel: exact.Travel, Method: method}, linkage.Table{Travel: exact.Travel, Method: method}
				printed := linkage.Table{Method: method}
				for i, s := range exact.Stroke {
					ratios.LeverRatio = append(ratios.LeverRatio, c.LeverRatio(s))
					rough.LeverRatio = append(rough.LeverRatio, c.LeverRatio(s)+0.2*rng.Float64())
					printed.Stroke = append(printed.Stroke, s)
					printed.Travel = append(printed.Travel, mm(float64(int(exact.Travel[i].Millimetres()*10+0.5))/10))
				}
				for what, table := range map[string]linkage.Table{"exact": exact, "ratios": ratios, "printed": printed} {
					if w, ok := table.Scatter(); ok && !(what == "printed" && n == 60) {
						t.Errorf("%s, %d points, %s, %s: %s", name, n, method, what, w.Text)
					}
				}
				if _, ok := rough.Scatter(); !ok && n == 60 {
					t.Errorf("%s, %s: rough ratios are taken for exact", name, method)
				}
			}
		}
	}
	if _, ok := (linkage.Table{Stroke: lengths(0, 1), Travel: lengths(0, -1)}).Scatter(); ok {
		t.Error("a warning of a table that is refused")
	}
}

// Readings every 3 mm of an invented linkage, wrong by up to 0.5 mm.
func ExampleTable_Scatter() {
	table := linkage.Table{}
	for i := range 21 {
		s := 3 * float64(i)
		w := 2.95*s - 0.006*s*s + 0.5*float64(i*i*7%5-2)/2
		table.Stroke, table.Travel = append(table.Stroke, units.Length(s)*millimetre), append(table.Travel, units.Length(max(w, 0))*millimetre)
	}
	table.Travel[0] = 0
	warning, ok := table.Scatter()
	fmt.Println(ok, warning.Value, "through the points,", warning.Limit, "near them")
	// Output:
	// true 30.5 % through the points, 27.8 % near them
}
