package coil_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func TestWarnings(t *testing.T) {
	codes := func(d, index, n, free, elastic float64) (list []string) {
		for _, w := range coilOf(t, coil.Spec{
			WireDiameter: mm(d), MeanDiameter: mm(d * index), ActiveCoils: n, FreeLength: mm(free),
			ShearModulus: 79500e6, ElasticModulus: mpa(elastic),
		}).Warnings() {
			if w.Text == "" || w.Value == "" || w.Limit == "" || (w.Source == "") != (w.Code == coil.WarnHelix) {
				t.Errorf("incomplete: %+v", w)
			}
			list = append(list, w.Code)
		}
		return list
	}
	for _, row := range []struct {
		name                       string
		d, index, n, free, elastic float64
		want                       []string
	}{
		{"an ordinary spring", 10, 4.5, 5, 0, 0, nil},
		{"at the lower ends", 10, 4, 3, 0, 0, nil},
		{"at the upper ends", 10, 12, 15, 0, 0, nil},
		{"thick for its diameter, hot coiled", 10, 3.5, 5, 0, 0, []string{coil.WarnIndex}},
		{"thick for its diameter, cold coiled", 7, 3.5, 5, 0, 0, []string{coil.WarnIndex, coil.WarnScope}},
		{"wide", 10, 15, 5, 0, 0, []string{coil.WarnIndex}},
		{"wider than the standard goes", 7, 21, 5, 0, 0, []string{coil.WarnIndex, coil.WarnScope}},
		{"a long fork spring", 5, 5, 24, 0, 0, []string{coil.WarnCoils}},
		{"short", 10, 5, 2.5, 0, 0, []string{coil.WarnCoils}},
		{"too short", 10, 5, 1.5, 0, 0, []string{coil.WarnCoils, coil.WarnScope}},
		{"hot coiled only", 30, 5, 5, 0, 0, nil},
		{"between 2 and 3 coils of thick wire", 30, 5, 2.5, 0, 0, []string{coil.WarnCoils, coil.WarnScope}},
		{"beyond hot coiling", 101, 5, 5, 0, 0, []string{coil.WarnScope}},
		{"thick and wide", 30, 12.5, 5, 0, 0, []string{coil.WarnIndex, coil.WarnScope}},
		{"a little long", 10, 5, 15.5, 0, 0, []string{coil.WarnCoils}},
		{"the thickest cold coiled wire", 20, 5, 2.5, 0, 0, []string{coil.WarnCoils}},
		{"thicker than cold coiled wire", 20.01, 5, 2.5, 0, 0, []string{coil.WarnCoils, coil.WarnScope}},
		{"the thinnest hot coiled wire", 8, 3.5, 5, 0, 0, []string{coil.WarnIndex}},
		{"thinner than hot coiled wire", 7.99, 3.5, 5, 0, 0, []string{coil.WarnIndex, coil.WarnScope}},
		{"the thickest hot coiled wire", 100, 5, 3, 0, 0, nil},
		{"thicker than hot coiled wire", 100.05, 5, 3, 0, 0, []string{coil.WarnScope}},
		{"the smallest index of all", 10, 3, 3, 0, 0, []string{coil.WarnIndex}},
		// Springs of the computed table: the rate with ends held is 1.7 % below
		// the simple one, and 0.35 % in the other.
		{"steep", 5, 4, 10, 190, 206000, []string{coil.WarnHelix}},
		{"not steep", 10, 4.6, 5, 115, 206000, nil},
	} {
		if diff := cmp.Diff(row.want, codes(row.d, row.index, row.n, row.free, row.elastic)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", row.name, diff)
		}
	}
	// 0.018 over 0.0015 is more than 12 in float64: rounding is no reason.
	s := coilOf(t, coil.Spec{WireDiameter: mm(1.5), MeanDiameter: mm(18), ActiveCoils: 5, ShearModulus: 79500e6})
	if !(s.Index() > 12) || s.Warnings() != nil {
		t.Errorf("index %v: %v", s.Index(), s.Warnings())
	}
	s = coilOf(t, coil.Spec{WireDiameter: mm(1.2), MeanDiameter: mm(24), ActiveCoils: 5, ShearModulus: 79500e6})
	if _, ok := s.FreeLengthTolerance(coil.Grade1); !(s.Index() > 20) || !ok {
		t.Errorf("no tolerance at index %v", s.Index())
	}
	if list := new(coil.Spring).Warnings(); list != nil {
		t.Errorf("warnings of nothing: %v", list)
	}
}

func TestWarningTexts(t *testing.T) {
	got := coilOf(t, coil.Spec{WireDiameter: 7e-3, MeanDiameter: 24.5e-3, ActiveCoils: 5, ShearModulus: 79500e6}).Warnings()
	want := []units.Warning{
		{Code: "index_unusual", Field: "index", Value: "3.5", Limit: "4 to 12",
			Text: "mean diameter over wire diameter is outside what is usual", Source: "Shigley's Mechanical Engineering Design, eqs. 10-18 and 10-19, seen in the published solution 10-4"},
		{Code: "outside_en_scope", Value: "7 mm of wire, 5 coils, index 3.5",
			Limit: "cold coiled up to 20 mm, 2 coils or more, index 4 to 20; hot coiled 8 mm to 100 mm, 3 coils or more, index 3 to 12",
			Text:  "outside the scope of the standard for coil springs", Source: "EN 13906-1, as transcribed in an open-source program; the standard's own text was not opened"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	// The steep one of the computed table: 77.63671875 N/mm flat, 76.307757 N/mm
	// with its ends held.
	got = coilOf(t, coil.Spec{WireDiameter: 5e-3, MeanDiameter: 20e-3, ActiveCoils: 10, FreeLength: 190e-3, ShearModulus: 79500e6, ElasticModulus: 206e9}).Warnings()
	want = []units.Warning{{Code: "steep_helix", Field: "free_length", Value: "76.3078 N/mm", Limit: "76.8604 N/mm",
		Text: "the wire climbs so steeply that the spring is more than 1 % softer than its simple rate"}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// An invented spring of a long fork.
func ExampleSpring_Warnings() {
	s := coilOr(coil.Spec{
		WireDiameter: 5 * units.Millimetre, MeanDiameter: 25 * units.Millimetre, ActiveCoils: 24, ShearModulus: 79500 * units.Megapascal,
	})
	for _, w := range s.Warnings() {
		fmt.Printf("%s: %s = %s, not %s\n", w.Code, w.Field, w.Value, w.Limit)
	}
	// Output: coils_unusual: active_coils = 24, not 3 to 15
}
