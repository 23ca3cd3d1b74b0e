package sag

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func pressures() PressureRange {
	return PressureRange{
		Air: single(0, 1.3), MaxFill: units.BarGauge(14), End: RearEnd, RearShare: 0.6, BikeMass: 16, Unsprung: 3, Sag: 0.3,
		From: 50, To: 120, Step: 5,
	}
}

// By hand: the gas at 18 mm of stroke must push with 2.5 times the load,
// (p₀V₀/(V₀ − A·s) − p_a)·A, and the load is (0.6·(m + 16) − 3)·g₀.
func TestPressureChartByHand(t *testing.T) {
	rows, err := NewPressureChart(rearOf150(t), pressures())
	if err != nil {
		t.Fatal(err)
	}
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
			if row.Finding != FillAtMax || row.Fill != units.BarGauge(14) {
				t.Errorf("%v: %v %q, though it takes %.2f bar", row.RiderMass, row.Fill, row.Finding, want/1e5)
			}
			continue
		}
		unitstest.Near(t, "fill", float64(row.Fill), want, unitstest.Rel(1e-11))
		if row.Finding != "" {
			t.Errorf("%v: %q", row.RiderMass, row.Finding)
		}
		// Put back, it settles on target.
		air, err := airspring.New(single(row.Fill, 1))
		if err != nil {
			t.Fatal(err)
		}
		rest, err := Settle(rearOf150(t), air, row.Load, 0)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "sag", rest.Sag, 0.3, unitstest.Rel(1e-10))
	}
	if atMax == 0 {
		t.Error("no rider is too heavy for the marking: the test shows nothing")
	}
}

// A rider whom the chamber carries without any fill, and one who is not there.
func TestPressureChartAtTheLightEnd(t *testing.T) {
	r := pressures()
	r.BikeMass, r.From, r.To, r.Step, r.Unsprung = 1, 1, 9, 2.5, 2
	rows, err := NewPressureChart(rearOf150(t), r)
	if err != nil {
		t.Fatal(err)
	}
	// Loads of (0.6·(m + 1) − 2)·g₀: below 0 for 1 kg, 6.86 N for 3.5 kg. At 18 mm
	// the gas alone, closed at ambient pressure, pushes with 9.2 N at the wheel.
	if len(rows) != 3 || rows[0].RiderMass != 3.5 || rows[1].Finding != "" || rows[0].Finding != FillImpossible || rows[0].Fill != 0 {
		t.Errorf("%+v", rows)
	}
	r = pressures()
	r.End = FrontEnd
	front, err := NewPressureChart(rearOf150(t), r)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "front load", float64(front[0].Load), (0.4*66-3)*9.80665, unitstest.Rel(1e-12))
}

// A rider so heavy that no air spring holds the fill gets the marking, as all do
// who are too heavy for it, and not an empty chamber.
func TestPressureChartBeyondEveryFill(t *testing.T) {
	r := pressures()
	r.From, r.To, r.Step = 60000, 60000, 1
	rows, err := NewPressureChart(rearOf150(t), r)
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1 || rows[0].Finding != FillAtMax || rows[0].Fill != r.MaxFill {
		t.Errorf("%+v", rows)
	}
}

func TestPressureChartRefuses(t *testing.T) {
	nan := math.NaN()
	for _, test := range []struct {
		spoil func(*PressureRange)
		want  []string
	}{
		{func(r *PressureRange) { *r = PressureRange{} },
			[]string{"air.ambient", "air.bore", "air.positive_volume", "air.travel", "bike_mass", "end", "from", "max_fill", "rear_share", "sag", "step", "to"}},
		{func(r *PressureRange) { r.To = 40; r.Step = units.Mass(nan) }, []string{"step", "to"}},
		{func(r *PressureRange) { r.Step = 0.01 }, []string{"step"}},
		{func(r *PressureRange) { r.BikeMass, r.From, r.To, r.Step = 1e308, 1e308, 1e308, 1e308 }, []string{"to"}},
		{func(r *PressureRange) { r.MaxFill = 1e12 }, []string{"max_fill"}},
		{func(r *PressureRange) { r.Air.Travel = 0.05 }, []string{"air.travel"}},
		{func(r *PressureRange) {
			r.Air.Shaft, r.Air.NegativeVolume, r.Air.PortTravel, r.Sag = 0.01, 6e-6, 0.03, 0.002
		}, []string{"sag"}},
		{func(r *PressureRange) { r.Unsprung, r.Sag, r.RearShare = -1, 1, 1 }, []string{"rear_share", "sag", "unsprung"}},
	} {
		r := pressures()
		test.spoil(&r)
		rows, err := NewPressureChart(rearOf150(t), r)
		if rows != nil {
			t.Error("accepted")
		}
		var got []string
		for _, f := range units.Fields(err) {
			got = append(got, f.Field)
		}
		slices.Sort(got)
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("(-want +got):\n%s%v", diff, err)
		}
	}
	if _, err := NewPressureChart(nil, pressures()); err == nil {
		t.Error("a chart without a curve")
	}
}

// Rows are counted, not walked: a step that would make more than 1000, or repeat
// a mass, is refused, and the last row is not lost to a rounding.
func TestPressureChartRows(t *testing.T) {
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
		rows, err := NewPressureChart(rearOf150(t), r)
		if (err != nil) != (test.want == 0) || len(rows) != test.want {
			t.Errorf("%v to %v by %v: %d rows, want %d: %v", test.from, test.to, test.step, len(rows), test.want, err)
		}
		if err != nil && !isFault(err, "step") {
			t.Error(err)
		}
	}
}

// On a curved linkage, with a negative chamber, spacers and oil: put back, every
// fill settles on target, and over the riders the fills lie on a straight line.
func TestPressureChartPutBack(t *testing.T) {
	curve := progressive(t)
	r := pressures()
	r.Air = airspring.Spec{
		Bore: 36 * units.Millimetre, Shaft: 10 * units.Millimetre, Travel: 60 * units.Millimetre,
		PositiveVolume: 110 * units.CubicCentimetre, NegativeVolume: 8 * units.CubicCentimetre, PortTravel: 1 * units.Millimetre,
		OilVolume: 2 * units.CubicCentimetre, SpacerVolume: 5 * units.CubicCentimetre, Spacers: 2,
		Ambient: units.StandardAtmosphere, Exponent: 1.3,
	}
	r.MaxFill = units.BarGauge(60) // out of the way
	for _, end := range []End{FrontEnd, RearEnd} {
		for _, target := range []float64{0.15, 0.25, 0.35} {
			r.End, r.Sag = end, target
			rows, err := NewPressureChart(curve, r)
			if err != nil {
				t.Fatal(err)
			}
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
				if err != nil {
					t.Fatal(err)
				}
				rest, err := Settle(curve, air, row.Load, 0)
				if err != nil {
					t.Fatal(err)
				}
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
func TestPressureChartWithSpacers(t *testing.T) {
	const area, pa, s = math.Pi / 4 * 0.036 * 0.036, 101325.0, 0.018
	last := math.Inf(1)
	for spacers := range 4 {
		r := pressures()
		r.From, r.To, r.Air.SpacerVolume, r.Air.Spacers = 80, 80, 6*units.CubicCentimetre, spacers
		rows, err := NewPressureChart(rearOf150(t), r)
		if err != nil {
			t.Fatal(err)
		}
		v := 100e-6 - 6e-6*float64(spacers)
		want := ((0.6*96-3)*9.80665*2.5/area+pa)*(v-area*s)/v - pa
		unitstest.Near(t, "fill", float64(rows[0].Fill), want, unitstest.Rel(1e-11))
		if !(float64(rows[0].Fill) < last) {
			t.Errorf("%d spacers want no less than one fewer", spacers)
		}
		last = float64(rows[0].Fill)
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
		want    Finding
	}{{fill * (1 + 1e-6), ""}, {fill * (1 - 1e-6), FillAtMax}} {
		r.MaxFill = units.GaugePressure(test.marking)
		rows, err := NewPressureChart(rearOf150(t), r)
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) != 1 || rows[0].Finding != test.want || rows[0].Fill > r.MaxFill {
			t.Errorf("%v: %+v", r.MaxFill, rows)
		}
		unitstest.Near(t, "fill", float64(rows[0].Fill), fill, unitstest.Rel(2e-6))
	}
}

// A fact of the trade, common practice with no source: one fork's springs step
// at riders of 140, 160, 180 and 200 lb, and springs for equal sag step by 14,
// 12.5 and 11 %: ideal rates are in the ratio of the loads, on any linkage.
func TestEqualSagSpringsStepAsTheirLoads(t *testing.T) {
	for name, curve := range map[string]*linkage.Curve{"constant": rearOf150(t), "progressive": progressive(t)} {
		var rates []float64
		for _, lb := range []float64{140, 160, 180, 200} {
			k, err := RequiredRate(curve, Target{Load: (units.Mass(lb) * units.Pound).Weight(), Sag: 0.25}, 0)
			if err != nil {
				t.Fatal(err)
			}
			rates = append(rates, float64(k.Rate))
		}
		for i, want := range []float64{0.14, 0.125, 0.11} { // as told, in whole and half per cents
			unitstest.Near(t, name+" step", rates[i+1]/rates[i]-1, want, unitstest.Abs(0.003))
		}
	}
}

// The same trade: a rider of 172 lb gets the spring for 160 to 180 lb. Springs
// made for 150, 170 and 190 lb part at the harmonic means of the loads, by hand:
// on a constant ratio the neighbours miss w alike by u where
// k₁(w + u) = k₂(w − u), which is at 2k₁k₂/(k₁ + k₂)·w.
func TestRiderGetsTheSpringOfTheStep(t *testing.T) {
	curve := rearOf150(t)
	var rates []units.Stiffness
	masses := []float64{150, 170, 190} // the middles of 140–160, 160–180 and 180–200
	for _, lb := range masses {
		k, err := RequiredRate(curve, Target{Load: (units.Mass(lb) * units.Pound).Weight(), Sag: 0.25}, 0)
		if err != nil {
			t.Fatal(err)
		}
		rates = append(rates, k.Rate)
	}
	// With next to no bike and all the weight on this end, masses are loads.
	b, err := NewBands(curve, Range{Rates: rates, End: RearEnd, RearShare: 1 - 1e-9, BikeMass: 1e-6, Sag: 0.25})
	if err != nil {
		t.Fatal(err)
	}
	for i, lb := range []float64{160, 180} {
		unitstest.Near(t, "edge", b.EdgeMass[i], units.Mass(lb)*units.Pound, unitstest.Abs(1*units.Pound))
		mean := 2 * masses[i] * masses[i+1] / (masses[i] + masses[i+1])
		unitstest.Near(t, "harmonic mean", b.EdgeMass[i], units.Mass(mean)*units.Pound, unitstest.Rel(1e-6))
	}
	for _, test := range []struct {
		lb   float64
		want int
	}{{150, 0}, {158, 0}, {161, 1}, {172, 1}, {178, 1}, {181, 2}, {200, 2}} {
		if got := b.For(units.Mass(test.lb) * units.Pound); got != test.want {
			t.Errorf("%v lb gets spring %d, want %d, with edges at %v", test.lb, got, test.want, b.EdgeMass)
		}
	}
}

func FuzzNewPressureChart(f *testing.F) {
	f.Add(36.0, 100.0, 14.0, 0.6, 16.0, 3.0, 0.3, 50.0, 120.0, 5.0)
	f.Add(36.0, 100.0, 14.0, 0.6, 1e308, 3.0, 0.3, 1e308, 1e308, 1.0)
	f.Add(1e-300, 1e300, -1.0, 2.0, 0.0, -1e-300, 1.0, 1.0, 0.5, 1e-9)
	f.Fuzz(func(t *testing.T, bore, volume, most, share, bike, unsprung, sag, from, to, step float64) {
		r := PressureRange{
			Air: single(0, 1), MaxFill: units.BarGauge(most), End: RearEnd, RearShare: share, BikeMass: units.Mass(bike),
			Unsprung: units.Mass(unsprung), Sag: sag, From: units.Mass(from), To: units.Mass(to), Step: units.Mass(step),
		}
		r.Air.Bore, r.Air.PositiveVolume = units.Length(bore)*units.Millimetre, units.Volume(volume)*units.CubicCentimetre
		rows, err := NewPressureChart(rearOf150(t), r)
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

func TestBandsFor(t *testing.T) {
	b := Bands{EdgeMass: []units.Mass{60, 70, 80}}
	for _, test := range []struct {
		rider float64
		want  int
	}{{math.Inf(-1), 0}, {59, 0}, {60, 1}, {69.9, 1}, {75, 2}, {200, 3}, {math.NaN(), 0}} {
		if got := b.For(units.Mass(test.rider)); got != test.want {
			t.Errorf("%v kg gets spring %d, want %d", test.rider, got, test.want)
		}
	}
	if (Bands{}).For(80) != 0 {
		t.Error("no bands, yet a choice")
	}
}
