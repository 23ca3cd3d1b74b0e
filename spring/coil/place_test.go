package coil_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// codes lists what passed and what didn't.
func codes(list []coil.Criterion) (passed, failed []string) {
	for _, f := range list {
		if f.Passed {
			passed = append(passed, f.Code)
		} else {
			failed = append(failed, f.Code)
		}
	}
	return passed, failed
}

// The spring of 10 mm wire. EN's reserve for it is 1.5 · 6.587 mm = 9.8805 mm
// (the 6.587 mm and the 0.410869565217391 mm that it grows when solid were
// computed with mpmath 1.3.0 at 50 digits from the formulas as transcribed),
// so full travel may be 35.1195 mm; Shigley's is 45/1.15 = 39.1304 mm. At
// 26.935748427673 mm it carries 5500 N with 853.434277699626 MPa, and solid is
// 644.259209635992 MPa · 45/26.935748427673 = 1076.32 MPa uncorrected (same
// computation). Each row moves one value from one side of its limit to the other.
func TestEachCriterionHasItsLimit(t *testing.T) {
	s := coilOf(t, shockSpring)
	const stress, solid = 853.434277699626, 644.259209635992 * 45 / 26.935748427673
	good := coil.Place{Stroke: mm(25), Preload: mm(1.935748427673), Body: mm(35), Tube: mm(57),
		TensileStrength: 1e6 * units.Megapascal, Wire: coil.Tempered}
	type limit struct {
		name   string
		change func(f *coil.Place, over float64)
		codes  []string
	}
	limits := []limit{
		{"solid", func(f *coil.Place, over float64) { f.Stroke, f.Preload = mm(40), mm(5+over) },
			[]string{coil.GoesSolid}},
		{"EN's reserve", func(f *coil.Place, over float64) { f.Stroke, f.Preload = mm(30), mm(5.1195+over) },
			[]string{coil.LittleReserveEN}},
		{"Shigley's reserve", func(f *coil.Place, over float64) { f.Stroke, f.Preload = mm(39), mm(45/1.15-39+over) },
			[]string{coil.LittleReserve}},
		{"body", func(f *coil.Place, over float64) { f.Body = mm(36 + over) }, []string{coil.RubsInside}},
		{"tube", func(f *coil.Place, over float64) { f.Tube = mm(56.410869565217391 - over) }, []string{coil.RubsOutside}},
	}
	for _, c := range []struct {
		wire          coil.WireKind
		stress, share float64
		code          string
	}{
		{coil.Tempered, stress, 0.5, coil.StressUnset}, {coil.Tempered, stress, 0.65, coil.StressPreset},
		{coil.ColdDrawn, stress, 0.45, coil.StressUnset}, {coil.ColdDrawn, stress, 0.6, coil.StressPreset},
		{coil.Stainless, stress, 0.35, coil.StressUnset}, {coil.Stainless, stress, 0.55, coil.StressPreset},
		{coil.Tempered, solid, 0.56, coil.StressWhenSolidEN},
	} {
		limits = append(limits, limit{fmt.Sprint(c.wire, c.code), func(f *coil.Place, over float64) {
			f.Wire, f.TensileStrength = c.wire, mpa(c.stress/c.share-over)
		}, []string{c.code}})
	}
	for _, c := range limits {
		t.Run(c.name, func(t *testing.T) {
			before, after := good, good
			c.change(&before, -1e-6)
			c.change(&after, 1e-6)
			fits, err := coil.CheckPlace(s, before)
			require.NoError(t, err)
			doesnt, err := coil.CheckPlace(s, after)
			require.NoError(t, err)
			var changed []string
			for i, f := range fits {
				if doesnt[i].Code != f.Code {
					t.Fatalf("%s became %s", f.Code, doesnt[i].Code)
				}
				if f.Passed && !doesnt[i].Passed {
					changed = append(changed, f.Code)
				} else if f.Passed != doesnt[i].Passed {
					t.Errorf("%s came to pass", f.Code)
				}
			}
			if d := cmp.Diff(c.codes, changed); d != "" {
				t.Error(d)
			}
		})
	}
	list, err := coil.CheckPlace(s, good)
	require.NoError(t, err)
	passed, failed := codes(list)
	if d := cmp.Diff([]string{
		coil.GoesSolid, coil.LittleReserveEN, coil.LittleReserve, coil.RubsInside, coil.RubsOutside, coil.Bows,
		coil.StressUnset, coil.StressPreset, coil.StressWhenSolidEN,
	}, passed); d != "" || failed != nil {
		t.Error(failed, d)
	}
}

// Values and limits carry their units, and every limit that is not the
// place's own its source. What is not known of the place is not looked at.
func TestCriteriaCarryUnitsAndSources(t *testing.T) {
	list, err := coil.CheckPlace(coilOf(t, shockSpring), coil.Place{Stroke: mm(40), Body: mm(38)})
	require.NoError(t, err)
	want := []coil.Criterion{
		{Passed: true, Warning: units.Warning{Code: "goes_solid", Field: "stroke", Value: "40 mm", Limit: "45 mm"}},
		{Passed: false, Warning: units.Warning{Code: "little_reserve_en", Field: "stroke", Value: "5 mm", Limit: "9.8805 mm"}},
		{Passed: false, Warning: units.Warning{Code: "little_reserve", Field: "stroke", Value: "45 mm", Limit: "46 mm"}},
		{Passed: false, Warning: units.Warning{Code: "rubs_inside", Field: "body", Value: "36 mm", Limit: "38 mm"}},
		{Passed: true, Warning: units.Warning{Code: "bows", Field: "stroke", Value: "40 mm"}},
	}
	if d := cmp.Diff(want, list, cmpopts.IgnoreFields(units.Warning{}, "Text", "Source")); d != "" {
		t.Error(d)
	}
	list, err = coil.CheckPlace(coilOf(t, shockSpring), coil.Place{Stroke: 1e-3, TensileStrength: 1e9, Wire: coil.Tempered})
	require.NoError(t, err)
	for i, limit := range []string{"45 mm", "9.8805 mm", "1.15 mm", "", "500 MPa", "650 MPa", "560 MPa"} {
		if list[i].Limit != limit {
			t.Errorf("%s is told to be limited by %q, want %q", list[i].Code, list[i].Limit, limit)
		}
	}
	for _, f := range list {
		own := f.Code == coil.GoesSolid || f.Code == coil.RubsInside || f.Code == coil.RubsOutside
		if f.Text == "" || (f.Source == "") != own {
			t.Errorf("%s: text %q, source %q", f.Code, f.Text, f.Source)
		}
	}
}

// Shigley, problem 10-4 of the published solutions: a spring of 2.5 mm music
// wire that carries 130 N with 674 MPa and is solid at 167.9 N has an overrun
// of 0.29 and, at a limit of 871.2 MPa or 0.45 · 1936 MPa, passes. It goes
// solid after 167.9 N / 1.314 N/mm.
func TestPlaceOfShigley(t *testing.T) {
	s := coilOf(t, coil.Spec{
		WireDiameter: mm(2.5), OuterDiameter: mm(31), TotalCoils: 14, Ends: coil.PlainGround, ShearModulus: 81000 * units.Megapascal,
		FreeLength: mm(35 + 167.9/1.314),
	})
	load := 130 * units.Newton
	list, err := coil.CheckPlace(s, coil.Place{
		Stroke: units.Length(float64(load) / float64(s.Rate())), TensileStrength: 1936 * units.Megapascal, Wire: coil.ColdDrawn,
	})
	require.NoError(t, err)
	for _, f := range list {
		switch f.Code {
		case coil.LittleReserve, coil.StressUnset, coil.StressPreset, coil.StressWhenSolidEN, coil.GoesSolid:
			if !f.Passed {
				t.Errorf("%+v", f)
			}
		}
		if f.Code == coil.StressUnset {
			var found, limit float64
			if _, err := fmt.Sscanf(f.Value+" "+f.Limit, "%g MPa %g MPa", &found, &limit); err != nil {
				t.Fatal(err)
			}
			if math.Abs(found-674) > 1 || math.Abs(limit-871.2) > 0.05 { // printed 674 for 674.69
				t.Errorf("stress %v, limit %v MPa", found, limit)
			}
		}
	}
}

// A long fork spring bows within its stroke; the exact travel is checked with
// Buckling itself. Held at both ends more firmly it would not.
func TestLongSpringBows(t *testing.T) {
	s := coilOf(t, coil.Spec{
		WireDiameter: mm(5), MeanDiameter: mm(25.4), ActiveCoils: 24, FreeLength: mm(240),
		ShearModulus: 79500 * units.Megapascal, ElasticModulus: 206 * units.Gigapascal,
	})
	b, ok := s.Buckling(0.5)
	require.True(t, ok && b.Buckles)
	for _, c := range []struct {
		stroke units.Length
		fixity float64
		passed bool
	}{{b.Travel * 0.999, 0, true}, {b.Travel * 1.001, 0, false}, {b.Travel * 1.001, 0.1, true}, {b.Travel * 0.9, 1, false}} {
		list, err := coil.CheckPlace(s, coil.Place{Stroke: c.stroke, EndFixity: c.fixity})
		require.NoError(t, err)
		last := list[len(list)-1]
		if last.Code != coil.Bows || last.Passed != c.passed || (c.fixity == 0) != strings.Contains(last.Text, "sleeve") && c.fixity != 1 {
			t.Errorf("%v at %v: %+v", c.fixity, c.stroke, last)
		}
	}
}

// Growth of closed ends that are not ground, by hand: 60 mm to solid, so
// m = (60 + 11.5·5)/10 = 11.75 mm and 30 + 0.1·(11.75² − 0.8·11.75·5 − 0.2·25)/25 mm.
func TestUngroundSpringInATube(t *testing.T) {
	s := coilOf(t, coil.Spec{
		WireDiameter: mm(5), MeanDiameter: mm(25), ActiveCoils: 10, Ends: coil.Squared, FreeLength: mm(125),
		ShearModulus: 79500 * units.Megapascal,
	})
	for _, tube := range []float64{30.34426, 30.34424} {
		list, err := coil.CheckPlace(s, coil.Place{Stroke: mm(30), Tube: mm(tube)})
		require.NoError(t, err)
		if last := list[len(list)-1]; last.Code != coil.RubsOutside || last.Passed != (tube > 30.34425) {
			t.Errorf("%v mm: %+v", tube, last)
		}
	}
}

// edgeCoil is a spring whose lengths are exact in float64: wire of 1/128 m, 4
// active coils of 1/32 m, solid at 6/128 m, and a travel to solid as wanted.
func edgeCoil(t *testing.T, travel units.Length) *coil.Spring {
	t.Helper()
	s := coilOf(t, coil.Spec{WireDiameter: 1.0 / 128, MeanDiameter: 1.0 / 32, ActiveCoils: 4, FreeLength: 6.0/128 + travel,
		ShearModulus: 80e9, ElasticModulus: 206e9})
	if got, _ := s.SolidTravel(); got != travel {
		t.Fatalf("travel to solid %v, want %v", got, travel)
	}
	return s
}

// findings are those of a fit, by code.
func findings(t *testing.T, s *coil.Spring, fit coil.Place) map[string]coil.Criterion {
	t.Helper()
	list, err := coil.CheckPlace(s, fit)
	require.NoError(t, err)
	m := map[string]coil.Criterion{}
	for _, f := range list {
		m[f.Code] = f
	}
	return m
}

func passed(t *testing.T, list map[string]coil.Criterion, code string, want bool) {
	t.Helper()
	if f, ok := list[code]; !ok || f.Passed != want {
		t.Errorf("%s passed: %v (%v), want %v", code, f.Passed, ok, want)
	}
}

// Which side of a limit the limit itself is on, as CheckPlace has it.
func TestWhichSideALimitIsOn(t *testing.T) {
	// Full travel that is the travel to solid is not less than it.
	s := edgeCoil(t, 1.0/32)
	passed(t, findings(t, s, coil.Place{Stroke: 1.0 / 32}), coil.GoesSolid, false)
	passed(t, findings(t, s, coil.Place{Stroke: 1.0/32 - 1e-9}), coil.GoesSolid, true)

	// EN's reserve: 1.5·4·(0.0015·2⁻¹⁰·2⁷ + 0.1·2⁻⁷) m; a gap of just that is enough.
	gap := 1.5 * 4 * units.Length(0.0015/8+0.1/128)
	s = edgeCoil(t, 1.0/128)
	solid, _ := s.SolidTravel()
	stroke := solid - gap
	if solid-stroke != gap {
		t.Fatal("the stroke is rounded")
	}
	passed(t, findings(t, s, coil.Place{Stroke: stroke}), coil.LittleReserveEN, true)
	passed(t, findings(t, s, coil.Place{Stroke: stroke + 1e-9}), coil.LittleReserveEN, false)

	// Shigley's overrun: 1.15 times full travel is enough.
	tiny := coilOf(t, coil.Spec{WireDiameter: 0x1p-19, MeanDiameter: 0x1p-17, ActiveCoils: 4, FreeLength: 6*0x1p-19 + 1.15*0x1p-6, ShearModulus: 80e9})
	if got, _ := tiny.SolidTravel(); got != 1.15*0x1p-6 {
		t.Fatalf("travel to solid %v", got)
	}
	passed(t, findings(t, tiny, coil.Place{Stroke: 0x1p-6}), coil.LittleReserve, true)
	passed(t, findings(t, tiny, coil.Place{Stroke: 0x1p-6 + 1e-12}), coil.LittleReserve, false)

	// A body as wide as the spring is inside rubs.
	s = edgeCoil(t, 1.0/32)
	passed(t, findings(t, s, coil.Place{Stroke: 1e-3, Body: 3.0 / 128}), coil.RubsInside, false)
	passed(t, findings(t, s, coil.Place{Stroke: 1e-3, Body: 3.0/128 - 1e-9}), coil.RubsInside, true)

	// So does a tube as narrow as the spring is when solid. The pitch m is twice
	// the wire d, D four times it: 2, 8 and 32 in 1/128 m.
	m, d := 2.0/128, 1.0/128
	outer := units.Length(5.0/128) + units.Length(0.1*(m*m-0.8*m*d-0.2*d*d)/(4*d))
	passed(t, findings(t, s, coil.Place{Stroke: 1e-3, Tube: outer}), coil.RubsOutside, false)
	passed(t, findings(t, s, coil.Place{Stroke: 1e-3, Tube: outer + 1e-12}), coil.RubsOutside, true)

	// A spring that bows out at full travel bows out within it.
	long := coilOf(t, coil.Spec{WireDiameter: 4e-3, MeanDiameter: 20e-3, ActiveCoils: 10, FreeLength: 0.2, ShearModulus: 80e9, ElasticModulus: 206e9})
	b, ok := long.Buckling(0.5)
	require.True(t, ok && b.Buckles)
	passed(t, findings(t, long, coil.Place{Stroke: b.Travel}), coil.Bows, false)
	passed(t, findings(t, long, coil.Place{Stroke: b.Travel - 1e-9}), coil.Bows, true)
}

// A stress of just what the wire may take is within it. The strength is looked
// for, among neighbours in float64, at which the share comes to the stress.
func TestWhichSideAStressLimitIsOn(t *testing.T) {
	s := edgeCoil(t, 1.0/32)
	stroke := units.Length(1.0 / 64)
	bent := s.Stress(s.Rate().Times(stroke))
	force, _ := s.SolidForce()
	straight := s.StressUncorrected(force)
	for _, c := range []struct {
		code   string
		stress units.Stress
		share  units.Stress
	}{
		{coil.StressUnset, bent, 0.5}, {coil.StressPreset, bent, 0.65}, {coil.StressWhenSolidEN, straight, 0.56},
	} {
		// Of strengths a little off, some share is the stress itself: the last
		// one that passes and the first one whose share is less are neighbours.
		strength := c.stress / c.share
		equal := 0
		for i := -40; i <= 40; i++ {
			near := strength * (1 + units.Stress(i)*0x1p-53)
			list := findings(t, s, coil.Place{Stroke: stroke, TensileStrength: near, Wire: coil.Tempered})
			passed(t, list, c.code, c.share*near >= c.stress)
			if c.share*near == c.stress {
				equal++
			}
		}
		if equal == 0 {
			t.Errorf("%s: no strength is just enough", c.code)
		}
	}
}

func TestPlaceBounds(t *testing.T) {
	s := coilOf(t, shockSpring)
	try := func(change func(p *coil.Place, v float64)) func(float64) error {
		return func(v float64) error {
			p := coil.Place{Stroke: 1e-3}
			change(&p, v)
			return second(coil.CheckPlace(s, p))
		}
	}
	bounds(t, "preload", 0, 1000, try(func(p *coil.Place, v float64) { p.Preload = units.Length(v) }))
	bounds(t, "body", 0, 1000, try(func(p *coil.Place, v float64) { p.Body = units.Length(v) }))
	bounds(t, "tube", 0, 1000, try(func(p *coil.Place, v float64) { p.Tube = units.Length(v) }))
	bounds(t, "end_fixity", 0.01, 100, try(func(p *coil.Place, v float64) { p.EndFixity = v }))
	bounds(t, "tensile_strength", 0, 1e15, try(func(p *coil.Place, v float64) { p.TensileStrength = units.Stress(v) }))
	stroke := try(func(p *coil.Place, v float64) { p.Stroke = units.Length(v) })
	refuses(t, stroke(999))
	refuses(t, stroke(1000), "stroke")
}

func TestPlaceRefused(t *testing.T) {
	s := coilOf(t, shockSpring)
	loose := coilOf(t, coil.Spec{WireDiameter: mm(10), MeanDiameter: mm(46), ActiveCoils: 5, ShearModulus: 79500 * units.Megapascal})
	for _, v := range bad {
		_, err := coil.CheckPlace(s, coil.Place{Stroke: units.Length(v), Preload: -1, Body: -1, Tube: units.Length(math.NaN()),
			EndFixity: -1, TensileStrength: units.Stress(math.Inf(1)), Wire: "cheese"})
		refuses(t, err, "stroke", "preload", "body", "tube", "end_fixity", "tensile_strength", "wire")
	}
	_, err := coil.CheckPlace(nil, coil.Place{Stroke: mm(40)})
	refuses(t, err, "spring")
	_, err = coil.CheckPlace(loose, coil.Place{})
	refuses(t, err, "free_length", "stroke")
	_, err = coil.CheckPlace(&coil.Spring{}, coil.Place{Stroke: mm(40)})
	refuses(t, err, "free_length")
}

func FuzzCheckPlace(f *testing.F) {
	f.Add(0.01, 0.046, 5.0, 0.115, 0.04, 0.002, 0.03, 0.06, 0.5, 1.5e9)
	f.Fuzz(func(t *testing.T, d, mean, n, free, stroke, preload, body, tube, fixity, strength float64) {
		s, err := coil.New(coil.Spec{
			WireDiameter: units.Length(d), MeanDiameter: units.Length(mean), ActiveCoils: n, FreeLength: units.Length(free),
			ShearModulus: 79500 * units.Megapascal, ElasticModulus: 206 * units.Gigapascal,
		})
		if err != nil {
			return
		}
		list, err := coil.CheckPlace(s, coil.Place{
			Stroke: units.Length(stroke), Preload: units.Length(preload), Body: units.Length(body), Tube: units.Length(tube),
			EndFixity: fixity, TensileStrength: units.Stress(strength), Wire: coil.Tempered,
		})
		if err != nil {
			named(t, "refused", err)
			return
		}
		for _, f := range list {
			if strings.Contains(f.Value+f.Limit, "NaN") || strings.Contains(f.Value+f.Limit, "Inf") {
				t.Fatalf("%+v", f)
			}
		}
	})
}

// An invented spring that is too short for its shock by the usual reserves and
// too narrow for its body.
func ExampleCheckPlace() {
	s := coilOr(coil.Spec{
		WireDiameter: 10 * units.Millimetre,
		MeanDiameter: 46 * units.Millimetre,
		ActiveCoils:  5,
		FreeLength:   115 * units.Millimetre,
		ShearModulus: 79500 * units.Megapascal,
	})
	list, err := coil.CheckPlace(s, coil.Place{Stroke: 40 * units.Millimetre, Body: 38 * units.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range list {
		fmt.Printf("%-18s %-5v %s against %s\n", f.Code, f.Passed, f.Value, f.Limit)
	}
	// Output:
	// goes_solid         true  40 mm against 45 mm
	// little_reserve_en  false 5 mm against 9.8805 mm
	// little_reserve     false 45 mm against 46 mm
	// rubs_inside        false 36 mm against 38 mm
}
