package sag_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// pressures is an invented shock and riders of 50 to 120 kg.
func pressures() sag.PressureRange {
	return sag.PressureRange{
		Air: single(0, 1.3), MaxFill: units.BarGauge(14), AxleShare: sag.AxleShare{End: sag.Rear, RearShare: 0.6, BikeMass: 16, Unsprung: 3}, Sag: 0.3,
		From: 50, To: 120, Step: 5,
	}
}

// By hand: the gas at 18 mm of stroke must push with 2.5 times the load,
// (p₀V₀/(V₀ − A·s) − p_a)·A, and the load is (0.6·(m + 16) − 3)·g₀.
func TestPressureChartByHand(t *testing.T) {
	rows, err := sag.PressureChart(rearOf150(t), pressures())
	require.NoError(t, err)
	if len(rows) != 15 {
		t.Fatalf("%d rows, want 15", len(rows))
	}
	const area, v0, pa, s = math.Pi / 4 * 0.036 * 0.036, 100e-6, 101325.0, 0.018
	atMax := 0
	for i, row := range rows {
		mass := 50 + 5*float64(i)
		load := (0.6*(mass+16) - 3) * 9.80665
		want := (load*2.5/area+pa)*(v0-area*s)/v0 - pa
		unitstest.Near(t, "mass", float64(row.RiderMass), mass, unitstest.Rel(1e-12))
		unitstest.Near(t, "load", float64(row.Load), load, unitstest.Rel(1e-12))
		if want > 14e5 {
			atMax++
			if row.Finding != sag.FillAtMax || row.Fill != units.BarGauge(14) {
				t.Errorf("%v: %v %q, though it takes %.2f bar", row.RiderMass, row.Fill, row.Finding, want/1e5)
			}
			continue
		}
		unitstest.Near(t, "fill", float64(row.Fill), want, unitstest.Rel(1e-11))
		if row.Finding != "" {
			t.Errorf("%v: %q", row.RiderMass, row.Finding)
		}
		// Put back, it settles on target.
		air := made(airspring.New(single(row.Fill, 1)))
		near(t, "sag", made(settle(rearOf150(t), air, row.Load, 0)).Sag, 0.3, 1e-10)
	}
	if atMax == 0 {
		t.Error("no rider is too heavy for the marking: the test shows nothing")
	}
}

// On a curved linkage, with a negative chamber, spacers and oil: put back, every
// fill settles on target, and over the riders the fills lie on a straight line.
func TestPressureChartSettlesOnTarget(t *testing.T) {
	curve := progressive(t)
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
			rows, err := sag.PressureChart(curve, r)
			require.NoError(t, err)
			if len(rows) != 15 {
				t.Fatalf("%d rows", len(rows))
			}
			per := (rows[1].Fill - rows[0].Fill) / units.GaugePressure(rows[1].RiderMass-rows[0].RiderMass)
			for i, row := range rows {
				if row.Finding != "" {
					t.Fatalf("%+v", row)
				}
				spec := r.Air
				spec.Fill, spec.Exponent = row.Fill, 1
				air, err := airspring.New(spec)
				require.NoError(t, err)
				rest, err := settle(curve, air, row.Load, 0)
				require.NoError(t, err)
				unitstest.Near(t, "sag", rest.Sag, target, unitstest.Rel(1e-9))
				straight := rows[0].Fill + per*units.GaugePressure(row.RiderMass-rows[0].RiderMass)
				unitstest.Near(t, "straight line", row.Fill, straight, unitstest.Rel(1e-9))
				if i > 0 && !(row.Fill > rows[i-1].Fill) {
					t.Errorf("%v wants no more than %v", row.RiderMass, rows[i-1].RiderMass)
				}
			}
		}
	}
}

// A chart for each number of spacers: less volume, less fill for the same sag in
// a spring of one chamber, by hand (F/A + p_a)·(V − A·s)/V − p_a with V the
// chamber less 6 cm³ for each.
func TestSpacersLowerTheFillsOfAChart(t *testing.T) {
	const area, pa, s = math.Pi / 4 * 0.036 * 0.036, 101325.0, 0.018
	last := math.Inf(1)
	for spacers := range 4 {
		r := pressures()
		r.From, r.To, r.Air.SpacerVolume, r.Air.Spacers = 80, 80, 6*units.CubicCentimetre, spacers
		rows, err := sag.PressureChart(rearOf150(t), r)
		require.NoError(t, err)
		v := 100e-6 - 6e-6*float64(spacers)
		want := ((0.6*96-3)*9.80665*2.5/area+pa)*(v-area*s)/v - pa
		unitstest.Near(t, "fill", float64(rows[0].Fill), want, unitstest.Rel(1e-11))
		if !(float64(rows[0].Fill) < last) {
			t.Errorf("%d spacers want no less than one fewer", spacers)
		}
		last = float64(rows[0].Fill)
	}
}

// A rider whom the chamber carries without any fill gets none, and one whose end is
// not even carried is left out.
func TestPressureChartOfLightRiders(t *testing.T) {
	r := pressures()
	r.BikeMass, r.From, r.To, r.Step, r.Unsprung = 1, 1, 9, 2.5, 2
	rows, err := sag.PressureChart(rearOf150(t), r)
	require.NoError(t, err)
	// Loads of (0.6·(m + 1) − 2)·g₀: below 0 for 1 kg, 6.86 N for 3.5 kg. At 18 mm
	// the gas alone, closed at ambient pressure, pushes with 9.2 N at the wheel.
	if len(rows) != 3 || rows[0].RiderMass != 3.5 || rows[1].Finding != "" || rows[0].Finding != sag.FillImpossible || rows[0].Fill != 0 {
		t.Errorf("%+v", rows)
	}
	r = pressures()
	r.End = sag.Front
	front, err := sag.PressureChart(rearOf150(t), r)
	require.NoError(t, err)
	unitstest.Near(t, "front load", float64(front[0].Load), (0.4*66-3)*9.80665, unitstest.Rel(1e-12))
}

// A rider so heavy that no air spring holds the fill gets the marking, as all do
// who are too heavy for it.
func TestPressureChartOfHeavyRiders(t *testing.T) {
	r := pressures()
	r.From, r.To, r.Step = 60000, 60000, 1
	rows, err := sag.PressureChart(rearOf150(t), r)
	require.NoError(t, err)
	if len(rows) != 1 || rows[0].Finding != sag.FillAtMax || rows[0].Fill != r.MaxFill {
		t.Errorf("%+v", rows)
	}
}

// About the marking: one a millionth above a rider's fill is enough, one a
// millionth below is not, and then no fill above it is told.
func TestPressureChartAtTheMarking(t *testing.T) {
	r := pressures()
	r.From, r.To = 80, 80
	// By hand, as in TestPressureChartByHand: what 80 kg take.
	const area, v0, pa, s = math.Pi / 4 * 0.036 * 0.036, 100e-6, 101325.0, 0.018
	fill := (0.6*96-3)*9.80665*2.5*(v0-area*s)/(area*v0) + pa*(v0-area*s)/v0 - pa
	for _, test := range []struct {
		marking float64
		want    sag.Finding
	}{{fill * (1 + 1e-6), ""}, {fill * (1 - 1e-6), sag.FillAtMax}} {
		r.MaxFill = units.GaugePressure(test.marking)
		rows, err := sag.PressureChart(rearOf150(t), r)
		require.NoError(t, err)
		if len(rows) != 1 || rows[0].Finding != test.want || rows[0].Fill > r.MaxFill {
			t.Errorf("%v: %+v", r.MaxFill, rows)
		}
		unitstest.Near(t, "fill", float64(rows[0].Fill), fill, unitstest.Rel(2e-6))
	}
}

// A rider with whom the end carries just its unsprung mass is left out; the marking
// that is just enough is enough.
func TestPressureChartMeetsTheMarking(t *testing.T) {
	r := pressures()
	r.RearShare, r.BikeMass, r.Unsprung, r.From, r.To, r.Step = 0.5, 2, 2, 2, 3, 1
	rows, err := sag.PressureChart(rearOf150(t), r)
	require.NoError(t, err)
	if len(rows) != 1 || rows[0].RiderMass != 3 {
		t.Errorf("%+v", rows)
	}
	near(t, "load", float64(rows[0].Load), 0.5*g0, 1e-14)
	r.From, r.To = 2.1, 2.1
	rows, err = sag.PressureChart(rearOf150(t), r)
	require.NoError(t, err)
	require.Len(t, rows, 1)
	near(t, "a load below 1 N", float64(rows[0].Load), 0.05*g0, 1e-12)

	met := 0
	for bar := 5.0; bar < 9; bar += 0.25 {
		r = pressures()
		r.RearShare, r.BikeMass, r.Unsprung, r.MaxFill, r.Step = 0.5, 16, 0, units.BarGauge(bar), 1
		spec := r.Air
		spec.Fill, spec.Exponent = r.MaxFill, 1
		air, err := airspring.New(spec)
		require.NoError(t, err)
		c := rearOf150(t)
		s := c.StrokeAt(units.Length(r.Sag) * c.Travel())
		carries := units.Force(float64(air.Force(s)) / c.LeverRatio(s))
		m := float64(carries)/g0/0.5 - 16
		for range 8 {
			m = justBelow(m)
		}
		for range 16 {
			m = justAbove(m)
			if (0.5 * (units.Mass(m) + 16)).Weight() != carries {
				continue
			}
			met++
			r.From, r.To = units.Mass(m), units.Mass(m)
			rows, err := sag.PressureChart(c, r)
			require.NoError(t, err)
			if len(rows) != 1 || rows[0].Finding != "" || rows[0].Fill > r.MaxFill {
				t.Errorf("%v: %+v", r.MaxFill, rows)
			}
			near(t, fmt.Sprint(r.MaxFill), float64(rows[0].Fill), float64(r.MaxFill), 1e-12)
		}
	}
	if met == 0 {
		t.Error("no rider takes just the marking: the test shows nothing")
	}
}

// A step that would make more than 1000 rows, or repeat a mass, is refused, and the
// last row is not lost to a rounding.
func TestPressureChartCountsItsRows(t *testing.T) {
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
		rows, err := sag.PressureChart(rearOf150(t), r)
		if (err != nil) != (test.want == 0) || len(rows) != test.want {
			t.Errorf("%v to %v by %v: %d rows, want %d: %v", test.from, test.to, test.step, len(rows), test.want, err)
		}
		if err != nil {
			named(t, test.step.String(), err, "step")
		}
	}
}

// Each bad field is named, and limits are met.
func TestPressureChartRefuses(t *testing.T) {
	nan := math.NaN()
	for _, test := range []struct {
		name   string
		change func(*sag.PressureRange)
		want   []string
	}{
		{"nothing", func(r *sag.PressureRange) { *r = sag.PressureRange{} },
			[]string{"sag", "rear_share", "bike_mass", "end", "from", "to", "step", "max_fill", "air.bore", "air.travel", "air.positive_volume", "air.ambient"}},
		{"to before from, by NaN", func(r *sag.PressureRange) { r.To = 40; r.Step = units.Mass(nan) }, []string{"step", "to"}},
		{"steps without number", func(r *sag.PressureRange) { r.Step = 0.01 }, []string{"step"}},
		{"a weight without end", func(r *sag.PressureRange) { r.BikeMass, r.From, r.To, r.Step = 1e308, 1e308, 1e308, 1e308 }, []string{"to"}},
		{"a marking beyond all air springs", func(r *sag.PressureRange) { r.MaxFill = 1e12 }, []string{"max_fill"}},
		{"a sag where more fill pulls in harder", func(r *sag.PressureRange) {
			r.Air.Shaft, r.Air.NegativeVolume, r.Air.PortTravel, r.Sag = 0.01, 6e-6, 0.03, 0.002
		}, []string{"sag"}},
		{"several", func(r *sag.PressureRange) { r.Unsprung, r.Sag, r.RearShare = -1, 1, 1 }, []string{"sag", "rear_share", "unsprung"}},
		{"masses below 1 kg", func(r *sag.PressureRange) { r.BikeMass, r.From, r.To, r.Step, r.Unsprung = 0.5, 0.25, 0.5, 0.25, 0 }, nil},
		{"a travel of just the stroke", func(r *sag.PressureRange) { r.Air.Travel = 0.06 }, nil},
		{"a travel a little less", func(r *sag.PressureRange) { r.Air.Travel = units.Length(justBelow(0.06)) }, []string{"air.travel"}},
		{"a travel much less", func(r *sag.PressureRange) { r.Air.Travel = 0.05 }, []string{"air.travel"}},
		{"no travel", func(r *sag.PressureRange) { r.Air.Travel = 0 }, []string{"air.travel"}},
		{"no bike", func(r *sag.PressureRange) { r.BikeMass = -1 }, []string{"bike_mass"}},
		{"a bike of infinite weight", func(r *sag.PressureRange) { r.BikeMass = units.Mass(math.Inf(1)) }, []string{"bike_mass"}},
		{"no marking", func(r *sag.PressureRange) { r.MaxFill = -1 }, []string{"max_fill"}},
		{"all on the rear", func(r *sag.PressureRange) { r.RearShare = 1 }, []string{"rear_share"}},
		{"all on the front", func(r *sag.PressureRange) { r.RearShare = 0 }, []string{"rear_share"}},
		{"next to nothing on this end", func(r *sag.PressureRange) { r.RearShare = 1e-9 }, nil},
		{"from no number", func(r *sag.PressureRange) { r.From = units.Mass(nan) }, []string{"from"}},
		{"to no number", func(r *sag.PressureRange) { r.To = units.Mass(nan) }, []string{"to"}},
		{"from far below", func(r *sag.PressureRange) { r.From = -1e9 }, []string{"from"}},
		{"to far above, without an end", func(r *sag.PressureRange) { r.To = units.Mass(math.Inf(1)) }, []string{"to"}},
		{"from below", func(r *sag.PressureRange) { r.From = 0 }, []string{"from"}},
		{"to below", func(r *sag.PressureRange) { r.To = -1 }, []string{"to"}},
		{"no step", func(r *sag.PressureRange) { r.Step = 0 }, []string{"step"}},
		{"a step of all", func(r *sag.PressureRange) { r.Step = 1000 }, nil},
		{"no end", func(r *sag.PressureRange) { r.End = "middle" }, []string{"end"}},
		{"fill and exponent are ignored", func(r *sag.PressureRange) { r.Air.Exponent, r.Air.Fill = -1, -1 }, nil},
	} {
		r := pressures()
		test.change(&r)
		rows, err := sag.PressureChart(rearOf150(t), r)
		got := names(err)
		slices.Sort(got)
		slices.Sort(test.want)
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s%v", test.name, diff, err)
		}
		if (rows == nil) != (err != nil) {
			t.Errorf("%s: %d rows beside %v", test.name, len(rows), err)
		}
	}
	for _, curve := range []*linkage.Curve{nil, new(linkage.Curve)} {
		_, err := sag.PressureChart(curve, pressures())
		named(t, "no curve", err, "curve")
	}
}

// Whatever is given: an error that names fields, or fills that rise with the rider up
// to the marking.
func FuzzPressureChart(f *testing.F) {
	f.Add(36.0, 100.0, 14.0, 0.6, 16.0, 3.0, 0.3, 50.0, 120.0, 5.0)
	f.Add(36.0, 100.0, 14.0, 0.6, 1e308, 3.0, 0.3, 1e308, 1e308, 1.0)
	f.Add(1e-300, 1e300, -1.0, 2.0, 0.0, -1e-300, 1.0, 1.0, 0.5, 1e-9)
	f.Fuzz(func(t *testing.T, bore, volume, most, share, bike, unsprung, target, from, to, step float64) {
		r := sag.PressureRange{
			Air: single(0, 1), MaxFill: units.BarGauge(most), Sag: target,
			AxleShare: sag.AxleShare{End: sag.Rear, RearShare: share, BikeMass: units.Mass(bike), Unsprung: units.Mass(unsprung)}, From: units.Mass(from), To: units.Mass(to), Step: units.Mass(step),
		}
		r.Air.Bore, r.Air.PositiveVolume = units.Length(bore)*units.Millimetre, units.Volume(volume)*units.CubicCentimetre
		rows, err := sag.PressureChart(rearOf150(t), r)
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
			if !(row.Fill >= last*(1-1e-12)) || !(row.Fill <= r.MaxFill) || !(row.Load > 0) || math.IsInf(float64(row.Load), 0) {
				t.Fatalf("%+v after %v", row, last)
			}
			last = row.Fill
		}
	})
}
