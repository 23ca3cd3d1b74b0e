package sag

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// A ratio that rises, LR = 2 + 20/m·s over 60 mm, undoes the spring's own
// hardening: k_w = k/LR²·(1 − 20/m·(s + p)/LR). By hand, without preload the
// least is at full travel, where LR is 3.2 and 1 − 1.2/3.2 = 0.625 of k/10.24
// are left; with 120 mm of preload it is at full extension, where LR is 2 and
// 1 − 2.4/2 < 0.
func TestWheelRateWarnings(t *testing.T) {
	var table linkage.Table
	for s := 0.0; s < 61; s += 5 {
		table.Stroke = append(table.Stroke, units.Length(s*mm))
		table.Travel = append(table.Travel, units.Length((2*s+0.010*s*s)*mm))
	}
	table.Method = linkage.Smooth
	rising, err := linkage.NewTable(table)
	require.NoError(t, err)
	end := func(k units.Stiffness, preload units.Length, load units.Force) EndSheet {
		p := prepared{curve: rising, EndJob: EndJob{Sag: 0.28, Coil: &CoilChoice{
			Shelf: []ShelfSpring{{Rate: k, SolidTravel: 0.3}}, PreloadMin: preload, PreloadMax: preload}}}
		e, err := p.solve(load+50, load)
		require.NoError(t, err)
		return e
	}
	code := func(e EndSheet) string {
		var list []string
		for _, w := range e.warnings("rear") {
			if strings.HasPrefix(w.Code, "wheel_rate") {
				list = append(list, w.Code+" "+w.Value)
			}
		}
		return strings.Join(list, ", ")
	}
	e := end(75e3, 0, 600)
	near(t, "least rate", float64(e.MinWheelRate), 75e3/10.24*0.625, 1e-9)
	near(t, "at", float64(e.MinRateTravel), 0.156, 1e-12)
	if got := code(e); !strings.HasPrefix(got, "wheel_rate_falls ") {
		t.Errorf("a rate that falls past the sag: %q", got)
	}
	e = end(20e3, 0.12, 1150)
	near(t, "least rate", float64(e.MinWheelRate), 20e3/4*(1-2.4/2), 1e-9)
	if got := code(e); !strings.HasPrefix(got, "wheel_rate_negative ") {
		t.Errorf("a force that falls: %q", got)
	}
	// An air spring that is softest in the middle by itself is its own affair.
	s := sheet(t, readJob(t, jobText))
	if got := code(s.Front); got != "" || !(s.Front.MinRateTravel > s.Front.Rest.Travel && s.Front.MinWheelRate < 0.95*s.Front.Rest.WheelRate) {
		t.Errorf("an air fork: %q", got)
	}
	// A falling ratio gives a rate that rises all the way: nothing to say.
	p := prepared{curve: bent(t), EndJob: EndJob{Sag: 0.28, Coil: &CoilChoice{Shelf: []ShelfSpring{{Rate: 79e3, SolidTravel: 0.3}}, PreloadMax: 0.01}}}
	e, err = p.solve(600, 550)
	require.NoError(t, err)
	if got := code(e); got != "" || !(e.MinWheelRate > 0) {
		t.Errorf("a progressive linkage: %q", got)
	}
	// Nor where it falls by less than a twentieth, here by 0.6 %: LR = 2.5 + 0.1/m·s.
	table.Travel = table.Travel[:0]
	for s := 0.0; s < 61; s += 5 {
		table.Travel = append(table.Travel, units.Length((2.5*s+0.00005*s*s)*mm))
	}
	p.curve, err = linkage.NewTable(table)
	require.NoError(t, err)
	e, err = p.solve(600, 550)
	require.NoError(t, err)
	if got := code(e); got != "" || !(e.MinRateTravel > e.Rest.Travel) {
		t.Errorf("hardly a fall: %q at %v", got, e.MinRateTravel)
	}
}
