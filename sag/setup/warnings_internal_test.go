package setup

import (
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// plainEnd is an end of 80 N/mm behind 2.5 under 600 N, which warns of nothing.
func plainEnd(t *testing.T) EndSheet {
	t.Helper()
	j, err := ReadJob(strings.NewReader(`{"schema": "wheelrate/job/1", "masses": {"rider_mass": "100 kg", "bike_mass": "22.366 kg", "unsprung_front": "0 kg", "unsprung_rear": "0 kg", "rear_share": 0.5},
	  "front": {"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.28, "coil": {"shelf": [{"rate": "80 N/mm", "solid_travel": "200 mm"}], "preload_max": "10 mm"}},
	  "rear": {"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.28, "coil": {"shelf": [{"rate": "80 N/mm", "solid_travel": "200 mm"}], "preload_max": "10 mm"}}}`))
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewSheet(j)
	if err != nil {
		t.Fatal(err)
	}
	return *s.Rear
}

// Each warning of a number begins where its doc comment says.
func TestWarningsBeginWhereTheySay(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*EndSheet)
		want   string // empty for none
	}{
		{"nothing", func(*EndSheet) {}, ""},
		{"a rate of nothing at the sag", func(e *EndSheet) { e.Rest.WheelRate = 0 }, "rate_not_positive"},
		{"a rate below 1 N/m at the sag", func(e *EndSheet) { e.Rest.WheelRate = 0.5 }, ""},
		{"a least rate of nothing", func(e *EndSheet) { e.MinWheelRate = 0 }, "wheel_rate_negative"},
		{"a least rate below 1 N/m, before the sag", func(e *EndSheet) { e.MinWheelRate, e.MinRateTravel = 0.5, 0 }, ""},
		{"the least at the sag itself", func(e *EndSheet) { e.MinWheelRate, e.MinRateTravel = 0.5, e.Rest.Travel }, ""},
		{"a fall of a twentieth", func(e *EndSheet) { e.Rest.WheelRate, e.MinWheelRate, e.MinRateTravel = 100, 95, 0.1 }, ""},
		{"a little more", func(e *EndSheet) {
			e.Rest.WheelRate, e.MinWheelRate, e.MinRateTravel = 100, units.Stiffness(math.Nextafter(95, 0)), 0.1
		}, "wheel_rate_falls"},
		{"as much as the spring's own fall", func(e *EndSheet) {
			e.Rest.WheelRate, e.MinWheelRate, e.MinRateTravel, e.Rest.SpringRate = 100, 48, 0.1, 160e3 // to 80e3, half
		}, ""},
		{"more than the spring's own fall", func(e *EndSheet) {
			e.Rest.WheelRate, e.MinWheelRate, e.MinRateTravel, e.Rest.SpringRate = 100, 47, 0.1, 160e3
		}, "wheel_rate_falls"},
		{"a spring that hardens by itself", func(e *EndSheet) {
			e.Rest.WheelRate, e.MinWheelRate, e.MinRateTravel, e.Rest.SpringRate = 100, 96, 0.1, 40e3
		}, ""},
		{"no drop at all", func(e *EndSheet) { e.Reserve.DropHeight = 0 }, "bottoms_easily"},
		{"a drop of 1 mm", func(e *EndSheet) { e.Reserve.DropHeight = 0.001 }, ""},
		{"a landing that stops", func(e *EndSheet) { e.Landing = &sag.Landing{EnergyLeft: 3} }, ""},
		{"a landing that bottoms", func(e *EndSheet) { e.Landing = &sag.Landing{Bottoms: true, EnergyLeft: 3} }, "drop_bottoms"},
	} {
		e := plainEnd(t)
		test.change(&e)
		got := ""
		for _, w := range e.warnings("rear") {
			got += w.Code
			if w.Field != "rear" || w.Text == "" || w.Value == "" || w.Limit == "" {
				t.Errorf("%s: %+v", test.name, w)
			}
		}
		if got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}

// Of a fill the warning has what the target would need, where any fill does it.
func TestWarningsOfTheFill(t *testing.T) {
	for _, test := range []struct {
		name string
		one  fit.AirOption
		want string
	}{
		{"met", fit.AirOption{AtRest: fit.AtRest{Findings: []sag.Finding{sag.OnTarget}}, FillWanted: 5e5, Fill: 5e5}, ""},
		{"past the marking", fit.AirOption{AtRest: fit.AtRest{Findings: []sag.Finding{sag.FillAtMax}}, FillWanted: 8e5, Fill: 5e5}, "fill_at_max " + units.GaugePressure(8e5).String()},
		{"next to nothing past it", fit.AirOption{AtRest: fit.AtRest{Findings: []sag.Finding{sag.FillAtMax}}, FillWanted: 0.5, Fill: 0.25}, "fill_at_max " + units.GaugePressure(0.5).String()},
		{"past every fill", fit.AirOption{AtRest: fit.AtRest{Findings: []sag.Finding{sag.FillAtMax}}, Fill: 5e5}, "fill_at_max "},
		{"no fill", fit.AirOption{AtRest: fit.AtRest{Findings: []sag.Finding{sag.FillImpossible}}}, "fill_impossible "},
	} {
		e := plainEnd(t)
		e.Coil, e.Air = nil, &fit.AirAnswer{Options: []fit.AirOption{test.one}}
		got := ""
		for _, w := range e.warnings("front") {
			got += w.Code + " " + w.Value
		}
		if got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}
