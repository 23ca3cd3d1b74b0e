package main

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// rearOf150 is a rear end of 150 mm of a constant ratio.
func rearOf150(t testing.TB) *linkage.Curve {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 0.15})
	require.NoError(t, err)
	return curve
}

// single is an invented chamber of 36 mm bore and 100 cm³ over 60 mm.
func single() airspring.Spec {
	return airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 60 * units.Millimetre, PositiveVolume: 100 * units.CubicCentimetre,
		Ambient: units.StandardAtmosphere, Exponent: 1.3,
	}
}

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	unitstest.Near(t, what, got, want, unitstest.Rel(relative))
}

// named checks that an error names the fields, and no others.
func named(t *testing.T, what string, err error, want ...string) {
	t.Helper()
	var got []string
	for _, f := range units.Fields(err) {
		got = append(got, f.Field)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s: names %q, want %q: %v", what, got, want, err)
	}
}

func made[T any](value T, err error) T {
	if err != nil {
		panic(err)
	}
	return value
}

// pressures is an invented shock and riders of 50 to 120 kg.
func pressures() pressureRange {
	return pressureRange{
		Air: single(), MaxFill: units.BarGauge(14), AxleShare: sag.AxleShare{End: sag.Rear, RearShare: 0.6, BikeMass: 16, Unsprung: 3}, Sag: 0.3,
		From: 50, To: 120, Step: 5,
	}
}

// By hand: the gas at 18 mm of stroke must push with 2.5 times the load,
// (p₀V₀/(V₀ − A·s) − p_a)·A, and the load is (0.6·(m + 16) − 3)·g₀. Each spacer takes
// 6 cm³ from V₀.
func TestChartByHand(t *testing.T) {
	const area, pa, s = math.Pi / 4 * 0.036 * 0.036, 101325.0, 0.018
	last := math.Inf(1) // the fill of the lightest rider, with one spacer fewer
	for spacers := range 4 {
		r := pressures()
		r.Air.SpacerVolume, r.Air.Spacers = 6*units.CubicCentimetre, spacers
		rows, err := pressureChart(rearOf150(t), r)
		require.NoError(t, err)
		require.Len(t, rows, 15)
		atMax := 0
		for i, row := range rows {
			mass := 50 + 5*float64(i)
			load, v0 := (0.6*(mass+16)-3)*9.80665, 100e-6-6e-6*float64(spacers)
			want := (load*2.5/area+pa)*(v0-area*s)/v0 - pa
			near(t, "mass", float64(row.RiderMass), mass, 1e-12)
			near(t, "load", float64(row.Load), load, 1e-12)
			if want > 14e5 {
				atMax++
				if row.Finding != sag.FillAtMax || row.Fill != units.BarGauge(14) {
					t.Errorf("%v: %v %q, though it takes %.2f bar", row.RiderMass, row.Fill, row.Finding, want/1e5)
				}
				continue
			}
			near(t, "fill", float64(row.Fill), want, 1e-11)
			if row.Finding != "" {
				t.Errorf("%v: %q", row.RiderMass, row.Finding)
			}
		}
		if atMax == 0 || !(float64(rows[0].Fill) < last) {
			t.Errorf("%d spacers: %d riders are too heavy for the marking, and the lightest takes %v after %v", spacers, atMax, rows[0].Fill, last)
		}
		last = float64(rows[0].Fill)
	}
}

// On a curved linkage, with a negative chamber, spacers and oil: put back, every
// fill settles on target, and over the riders the fills lie on a straight line.
func TestChartSettlesOnTarget(t *testing.T) {
	var strokes, travels []units.Length // w = 2.8·s − 5·s², in metres
	for s := units.Length(0); s <= 0.0601; s += 0.005 {
		strokes, travels = append(strokes, s), append(travels, 2.8*s-5*s*s)
	}
	curve := made(linkage.NewTable(linkage.Table{Stroke: strokes, Travel: travels}))
	r := pressures()
	r.Air = airspring.Spec{
		Bore: 36 * units.Millimetre, Shaft: 10 * units.Millimetre, Travel: 60 * units.Millimetre,
		PositiveVolume: 110 * units.CubicCentimetre, NegativeVolume: 8 * units.CubicCentimetre, PortTravel: 1 * units.Millimetre,
		OilVolume: 2 * units.CubicCentimetre, SpacerVolume: 5 * units.CubicCentimetre, Spacers: 2,
		Ambient: units.StandardAtmosphere, Exponent: 1.3,
	}
	r.MaxFill = units.BarGauge(60) // out of the way
	for _, end := range []sag.Axle{sag.Front, sag.Rear} {
		for _, target := range []float64{0.15, 0.25, 0.35} {
			r.End, r.Sag = end, target
			rows, err := pressureChart(curve, r)
			require.NoError(t, err)
			require.Len(t, rows, 15)
			require.Greater(t, rows[1].Fill, rows[0].Fill)
			per := (rows[1].Fill - rows[0].Fill) / units.GaugePressure(rows[1].RiderMass-rows[0].RiderMass)
			for _, row := range rows {
				if row.Finding != "" {
					t.Fatalf("%+v", row)
				}
				spec := r.Air
				spec.Fill, spec.Exponent = row.Fill, 1
				near(t, "sag", made(sag.End{Curve: curve, Law: made(airspring.New(spec))}.Settle(row.Load)).Sag, target, 1e-9)
				straight := rows[0].Fill + per*units.GaugePressure(row.RiderMass-rows[0].RiderMass)
				near(t, "straight line", float64(row.Fill), float64(straight), 1e-9)
			}
		}
	}
}

// A rider whom the chamber carries without any fill gets none, one with whom the end
// does not carry more than its unsprung mass is left out, and one so heavy that no air
// spring holds the fill gets the marking.
func TestChartOfLightAndHeavyRiders(t *testing.T) {
	chart := func(change func(*pressureRange)) []pressureRow {
		r := pressures()
		change(&r)
		return made(pressureChart(rearOf150(t), r))
	}
	// Loads of (0.6·(m + 1) − 2)·g₀: below 0 for 1 kg, 6.86 N for 3.5 kg. At 18 mm
	// the gas alone, closed at ambient pressure, pushes with 9.2 N at the wheel.
	rows := chart(func(r *pressureRange) { r.BikeMass, r.From, r.To, r.Step, r.Unsprung = 1, 1, 9, 2.5, 2 })
	if len(rows) != 3 || rows[0].RiderMass != 3.5 || rows[1].Finding != "" || rows[0].Finding != sag.FillImpossible || rows[0].Fill != 0 {
		t.Errorf("%+v", rows)
	}
	rows = chart(func(r *pressureRange) {
		r.RearShare, r.BikeMass, r.Unsprung, r.From, r.To, r.Step = 0.5, 2, 2, 2, 2.2, 0.1 // 2 kg: just the unsprung mass
	})
	if len(rows) != 2 {
		t.Errorf("%+v", rows)
	}
	near(t, "a load below 1 N", float64(rows[0].Load), 0.05*9.80665, 1e-12)
	rows = chart(func(r *pressureRange) { r.From, r.To, r.Step = 60000, 60000, 1 })
	if len(rows) != 1 || rows[0].Finding != sag.FillAtMax || rows[0].Fill != pressures().MaxFill {
		t.Errorf("%+v", rows)
	}
	rows = chart(func(r *pressureRange) { r.End = sag.Front })
	near(t, "front load", float64(rows[0].Load), (0.4*66-3)*9.80665, 1e-12)
}

// A marking that falls short of a rider's fill by a rounding is enough, one that falls
// short by a millionth is not. No fill exceeds it either way.
func TestChartMeetsTheMarking(t *testing.T) {
	r := pressures()
	r.From, r.To = 80, 80
	// By hand, as in TestChartByHand: what 80 kg take.
	const area, v0, pa, s = math.Pi / 4 * 0.036 * 0.036, 100e-6, 101325.0, 0.018
	fill := (0.6*96-3)*9.80665*2.5*(v0-area*s)/(area*v0) + pa*(v0-area*s)/v0 - pa
	for _, test := range []struct {
		marking float64
		want    sag.Finding
	}{{fill * (1 + 1e-6), ""}, {fill * (1 - 1e-13), ""}, {fill * (1 - 1e-6), sag.FillAtMax}} {
		r.MaxFill = units.GaugePressure(test.marking)
		rows := made(pressureChart(rearOf150(t), r))
		if len(rows) != 1 || rows[0].Finding != test.want || rows[0].Fill > r.MaxFill {
			t.Errorf("%v: %+v", r.MaxFill, rows)
		}
		near(t, "fill", float64(rows[0].Fill), min(fill, test.marking), 1e-12)
	}
}

// A step that would make more than 1000 rows, or repeat a mass, is refused, and the
// last row is not lost to a rounding.
func TestChartCountsItsRows(t *testing.T) {
	for _, test := range []struct {
		from, to, step units.Mass
		want           int // 0 for refused
	}{
		{50, 50, 5, 1},
		{50, 54.9, 5, 1},
		{50, 55, 5, 2},
		{50, 120, 0.1, 701}, // 0.1 is no binary fraction
		{50, 50.3, 0.1, 4},
		{1, 1000, 1, 1000},
		{1, 1000.999, 1, 1000},
		{1, 1000.9999999999, 1, 0}, // 1001 rows but for a rounding
		{1, 1001, 1, 0},
		{60, 60, 1e-20, 0},
	} {
		r := pressures()
		r.From, r.To, r.Step = test.from, test.to, test.step
		rows, err := pressureChart(rearOf150(t), r)
		if (err != nil) != (test.want == 0) || len(rows) != test.want {
			t.Errorf("%v to %v by %v: %d rows, want %d: %v", test.from, test.to, test.step, len(rows), test.want, err)
		}
		if err != nil {
			named(t, test.step.String(), err, "step")
		}
	}
}

// Each bad field is named, and limits are met.
func TestChartRefuses(t *testing.T) {
	nan := math.NaN()
	for _, test := range []struct {
		name   string
		change func(*pressureRange)
		want   []string
	}{
		{"nothing", func(r *pressureRange) { *r = pressureRange{} },
			[]string{"sag", "rear_share", "bike_mass", "end", "from", "to", "step", "max_fill", "air.bore", "air.travel", "air.positive_volume", "air.ambient"}},
		{"steps without number", func(r *pressureRange) { r.Step = 0.01 }, []string{"step"}},
		{"a weight without end", func(r *pressureRange) { r.BikeMass, r.From, r.To, r.Step = 1e308, 1e308, 1e308, 1e308 }, []string{"to"}},
		{"a marking beyond all air springs", func(r *pressureRange) { r.MaxFill = 1e12 }, []string{"max_fill"}},
		{"a sag where more fill pulls in harder", func(r *pressureRange) {
			r.Air.Shaft, r.Air.NegativeVolume, r.Air.PortTravel, r.Sag = 0.01, 6e-6, 0.03, 0.002
		}, []string{"sag"}},
		{"several", func(r *pressureRange) { r.Unsprung, r.Sag, r.RearShare = -1, 1, 1 }, []string{"sag", "rear_share", "unsprung"}},
		{"masses below 1 kg", func(r *pressureRange) { r.BikeMass, r.From, r.To, r.Step, r.Unsprung = 0.5, 0.25, 0.5, 0.25, 0 }, nil},
		{"a travel of just the stroke", func(r *pressureRange) { r.Air.Travel = 0.06 }, nil},
		{"a travel a little less", func(r *pressureRange) { r.Air.Travel = units.Length(math.Nextafter(0.06, 0)) }, []string{"air.travel"}},
		{"no travel", func(r *pressureRange) { r.Air.Travel = 0 }, []string{"air.travel"}},
		{"a bike of infinite weight", func(r *pressureRange) { r.BikeMass = units.Mass(math.Inf(1)) }, []string{"bike_mass"}},
		{"no marking", func(r *pressureRange) { r.MaxFill = -1 }, []string{"max_fill"}},
		{"all on the rear", func(r *pressureRange) { r.RearShare = 1 }, []string{"rear_share"}},
		{"next to nothing on this end", func(r *pressureRange) { r.RearShare = 1e-9 }, nil},
		{"from no number", func(r *pressureRange) { r.From = units.Mass(nan) }, []string{"from"}},
		{"to no number", func(r *pressureRange) { r.To = units.Mass(nan) }, []string{"to"}},
		{"to below from", func(r *pressureRange) { r.To = 40 }, []string{"to"}},
		{"from below", func(r *pressureRange) { r.From = 0 }, []string{"from"}},
		{"to below", func(r *pressureRange) { r.To = -1 }, []string{"to"}},
		{"no step", func(r *pressureRange) { r.Step = 0 }, []string{"step"}},
		{"a step of all", func(r *pressureRange) { r.Step = 1000 }, nil},
		{"no end", func(r *pressureRange) { r.End = "middle" }, []string{"end"}},
		{"fill and exponent are ignored", func(r *pressureRange) { r.Air.Exponent, r.Air.Fill = -1, -1 }, nil},
	} {
		r := pressures()
		test.change(&r)
		rows, err := pressureChart(rearOf150(t), r)
		named(t, test.name, err, test.want...)
		if (rows == nil) != (err != nil) {
			t.Errorf("%s: %d rows beside %v", test.name, len(rows), err)
		}
	}
	for _, curve := range []*linkage.Curve{nil, new(linkage.Curve)} {
		_, err := pressureChart(curve, pressures())
		named(t, "no curve", err, "curve")
	}
}

// Whatever is given: an error that names fields, or fills that rise with the rider up
// to the marking.
func FuzzChart(f *testing.F) {
	f.Add(36.0, 100.0, 14.0, 0.6, 16.0, 3.0, 0.3, 50.0, 120.0, 5.0)
	f.Add(36.0, 100.0, 14.0, 0.6, 1e308, 3.0, 0.3, 1e308, 1e308, 1.0)
	f.Add(1e-300, 1e300, -1.0, 2.0, 0.0, -1e-300, 1.0, 1.0, 0.5, 1e-9)
	f.Fuzz(func(t *testing.T, bore, volume, most, share, bike, unsprung, target, from, to, step float64) {
		r := pressureRange{
			Air: single(), MaxFill: units.BarGauge(most), Sag: target,
			AxleShare: sag.AxleShare{End: sag.Rear, RearShare: share, BikeMass: units.Mass(bike), Unsprung: units.Mass(unsprung)}, From: units.Mass(from), To: units.Mass(to), Step: units.Mass(step),
		}
		r.Air.Bore, r.Air.PositiveVolume = units.Length(bore)*units.Millimetre, units.Volume(volume)*units.CubicCentimetre
		rows, err := pressureChart(rearOf150(t), r)
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatal(err)
			}
			return
		}
		if len(rows) > 1000 {
			t.Fatalf("%d rows", len(rows))
		}
		last := units.GaugePressure(-1)
		for _, row := range rows {
			if !(row.Fill >= last*(1-1e-12)) || !(row.Fill <= r.MaxFill) || !(row.Load > 0) {
				t.Fatalf("%+v after %v", row, last)
			}
			last = row.Fill
		}
	})
}
