package airspring_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// topUpRow is an independent computation (mpmath, 40 digits) of invented
// springs: sizes in mm and cm³, fills and limit in bar; the part that the
// negative chamber takes, its pressure at first in Pa absolute, the cycles, and
// readings in Pa above ambient and negative pressures in Pa absolute after each
// of the first four.
type topUpRow struct {
	bore, shaft, positive, negative, port, old, fill, within float64
	carry, first                                             float64
	cycles                                                   int
	reading, pressure                                        [4]float64
}

var topUpRows = []topUpRow{
	{34.0, 10.0, 190.0, 60.0, 8.0, 0.0, 5.5, 0.01, 0.267211751116936, 101325.0, 5,
		[4]float64{399405.60177789105, 509759.4071426691, 539247.2407166089, 547126.7363625462},
		[4]float64{578207.2610366783, 705635.805084893, 739686.209482298, 748784.8776675685}},
	{36.0, 10.0, 230.0, 85.0, 5.0, 0.0, 5.0, 0.01, 0.2851068006219271, 101325.0, 5,
		[4]float64{355328.1837303396, 458753.08132319385, 488240.222980543, 496647.20759795536},
		[4]float64{492789.9146120223, 604399.2239727918, 636219.7970842638, 645292.0588780317}},
	{34.0, 10.0, 190.0, 60.0, 8.0, 5.5, 6.5, 0.01, 0.267211751116936, 752102.7134302515, 4,
		[4]float64{623278.8248883064, 642859.7880065021, 648092.0514498713, 649490.1737268791},
		[4]float64{836719.7679506146, 859330.439263358, 865372.2763387656, 866986.7262036485}},
	{40.0, 12.7, 105.0, 45.0, 3.0, 0.0, 14.0, 0.05, 0.323418596942982, 101325.0, 5,
		[4]float64{943824.1223723285, 1252464.237698425, 1352284.1907575112, 1384567.8199227953},
		[4]float64{1165735.3811312334, 1509985.4931682416, 1621322.381400715, 1657330.8015808593}},
	{46.0, 14.0, 135.0, 70.0, 2.0, 15.0, 18.0, 0.05, 0.35671098403376555, 1712480.200848012, 4,
		[4]float64{1692986.7047898702, 1761827.1821608988, 1786383.3365852726, 1795142.786594076},
		[4]float64{1918862.9844675476, 1992481.9903001, 2018742.6983142174, 2028110.1813113564}},
}

func (r topUpRow) ask() airspring.TopUp {
	return airspring.TopUp{
		Bore: units.Length(r.bore) * mm, Shaft: units.Length(r.shaft) * mm, PortTravel: units.Length(r.port) * mm,
		PositiveVolume: units.Volume(r.positive) * cm3, NegativeVolume: units.Volume(r.negative) * cm3,
		OldFill: units.BarGauge(r.old), Fill: units.BarGauge(r.fill), Within: units.BarGauge(r.within), Ambient: airspring.SeaLevel,
	}
}

func TestTopUpTables(t *testing.T) {
	for _, r := range topUpRows {
		ask := r.ask()
		plan, err := airspring.PlanTopUp(ask)
		if err != nil {
			t.Fatal(err)
		}
		if plan.Cycles != r.cycles || len(plan.Reading) != r.cycles || len(plan.NegativePressure) != r.cycles {
			t.Errorf("%d cycles, want %d", plan.Cycles, r.cycles)
		}
		unitstest.Near(t, "carry", plan.Carry, r.carry, close12)
		ask.Within = 1e-3 // far enough for four
		if plan, err = airspring.PlanTopUp(ask); err != nil {
			t.Fatal(err)
		}
		for i := range 4 {
			unitstest.Near(t, "reading", plan.Reading[i], units.GaugePressure(r.reading[i]), close12)
			unitstest.Near(t, "pressure", plan.NegativePressure[i], units.AbsolutePressure(r.pressure[i]), close12)
		}
	}
}

// A spring that was topped up has the negative pressure that New gives it.
func TestTopUpEndsAtSpring(t *testing.T) {
	s := twoRows[0].spec()
	s.SpacerVolume, s.Spacers, s.Exponent = 4*cm3, 3, 1
	ask := airspring.TopUpOf(s, units.BarGauge(7), 1e-6)
	plan, err := airspring.PlanTopUp(ask)
	if err != nil {
		t.Fatal(err)
	}
	s.Fill = units.BarGauge(7)
	unitstest.Near(t, "negative pressure", plan.NegativePressure[plan.Cycles-1], make1(t, s).NegativePressure(0), unitstest.Rel(1e-11))
}

// Common practice: a fork raised from 64.5 to 72 psi and cycled past its port
// reads 1 to 2 psi low, and a couple of rounds are enough. A change Δ leaves the
// reading Δ·β low, so this holds for any fork whose negative chamber, at the
// port, has between 1/7.5 and 2/7.5 of both volumes: 0.154 to 0.364 of the
// positive one. The forks below are invented, of ordinary proportions, and lie
// inside.
func TestTopUpCommonPractice(t *testing.T) {
	raise := func(bore, shaft, positive, negative, port float64) airspring.TopUpPlan {
		r := topUpRow{bore: bore, shaft: shaft, positive: positive, negative: negative, port: port, within: 0.02}
		ask := r.ask()
		ask.OldFill, ask.Fill = units.PSIGauge(64.5), units.PSIGauge(72)
		plan, err := airspring.PlanTopUp(ask)
		if err != nil {
			t.Fatal(err)
		}
		return plan
	}
	for _, f := range [][5]float64{{36, 10, 220, 50, 8}, {34, 10, 190, 45, 6}, {32, 9, 150, 35, 5}, {38, 12, 270, 60, 10}, {35, 10, 210, 40, 8}} {
		plan := raise(f[0], f[1], f[2], f[3], f[4])
		if f[4] > 25.4 || !(plan.Carry > 2.0/15 && plan.Carry < 4.0/15) {
			t.Errorf("%v is not cycled by an inch past its port, or carries %.3f", f, plan.Carry)
		}
		if low := 72 - plan.Reading[0].PSI(); !(low >= 1 && low <= 2) {
			t.Errorf("%v reads %.2f psi low", f, low)
		}
		if low := 72 - plan.Reading[1].PSI(); !(low > 0 && low < 0.55) { // less than a gauge shows
			t.Errorf("%v reads %.2f psi low after two rounds", f, low)
		}
		if plan.Cycles > 3 {
			t.Errorf("%v takes %d cycles to 0.3 psi", f, plan.Cycles)
		}
	}
}

// Common practice too: a change of a couple of psi needs hardly any rounds. Up or
// down by 2 psi, one cycle leaves less than the 0.55 psi that a gauge shows for any
// spring within those limits of proportion, and more beyond the upper one.
func TestSmallChangeCommonPractice(t *testing.T) {
	for _, c := range []struct {
		ratio  float64
		cycles int
	}{{2.0 / 13, 1}, {0.25, 1}, {4.0 / 11, 1}, {0.5, 2}} {
		for _, old := range []float64{70, 74} {
			r := topUpRow{bore: 36, shaft: 10, positive: 220, negative: 220 * c.ratio}
			ask := r.ask()
			ask.OldFill, ask.Fill, ask.Within = units.PSIGauge(old), units.PSIGauge(72), units.PSIGauge(0.55)
			plan, err := airspring.PlanTopUp(ask)
			if err != nil {
				t.Fatal(err)
			}
			if plan.Cycles != c.cycles {
				t.Errorf("proportion %.3f from %g psi: %d cycles, want %d", c.ratio, old, plan.Cycles, c.cycles)
			}
			// By hand: 2 psi·β is left, on the side that it came from.
			unitstest.Near(t, "off by", 72-plan.Reading[0].PSI(), (72-old)*c.ratio/(1+c.ratio), unitstest.Rel(1e-9))
		}
	}
}

// An old fill of 0 is a spring just put together: both chambers at ambient.
func TestTopUpInLimitingCases(t *testing.T) {
	ask := topUpRows[2].ask()
	ask.OldFill = ask.Fill
	plan, err := airspring.PlanTopUp(ask)
	if err != nil {
		t.Fatal(err)
	}
	if plan.Cycles != 1 || len(plan.Steps) != 1 || plan.Steps[0].Action != airspring.Cycle || plan.PullIn != 0 || plan.Steps[0].Stands != 0 {
		t.Errorf("nothing to do: %+v", plan)
	}
	unitstest.Near(t, "reading", plan.Reading[0], ask.Fill, close12)
	ask.OldFill, ask.Within = 0, units.BarGauge(100)
	if plan, err = airspring.PlanTopUp(ask); err != nil || plan.Cycles != 1 {
		t.Errorf("%+v %v", plan, err)
	}
	want := []airspring.TopUpStep{{Action: airspring.Pump, Before: 0, After: ask.Fill}, {Action: airspring.Cycle, Before: ask.Fill, After: plan.Reading[0]}}
	if diff := cmp.Diff(want, plan.Steps, cmpopts.IgnoreFields(airspring.TopUpStep{}, "Text")); diff != "" {
		t.Error(diff)
	}
}

// At most 1000 cycles. By hand, the k-th reading is Δ·β^k off: with β = 0.99 and
// Δ = 1 bar the 1000th 4.317 Pa. So it is for 0.4 bar less, since the air that may be
// let out at once is A_s/A_p = 0.077 of 5.4 bar, 0.417 bar.
func TestTopUpMostCycles(t *testing.T) {
	ask := topUpRow{bore: 36, shaft: 10, positive: 2, negative: 198}.ask()
	ask.OldFill, ask.Fill = units.BarGauge(4), units.BarGauge(5)
	for _, old := range []float64{4, 5.4} {
		last := 1e5 * math.Abs(old-5) * math.Pow(0.99, 1000)
		ask.OldFill, ask.Within = units.BarGauge(old), units.GaugePressure(last*(1+1e-6))
		plan, err := airspring.PlanTopUp(ask)
		if err != nil || plan.Cycles != 1000 {
			t.Errorf("%d cycles, %v", plan.Cycles, err)
		}
		ask.Within = units.GaugePressure(last * (1 - 1e-6))
		_, err = airspring.PlanTopUp(ask)
		wantFields(t, "one more", err, "within")
	}
}

func TestTopUpRefuses(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*airspring.TopUp)
		want   []string
	}{
		{"nothing", func(a *airspring.TopUp) { *a = airspring.TopUp{} },
			[]string{"bore", "shaft", "positive_volume", "negative_volume", "fill", "ambient", "within"}},
		{"NaN", func(a *airspring.TopUp) {
			*a = airspring.TopUp{Bore: units.Length(nan), Shaft: units.Length(nan), PositiveVolume: units.Volume(nan), NegativeVolume: units.Volume(nan),
				PortTravel: units.Length(nan), OldFill: units.GaugePressure(nan), Fill: units.GaugePressure(nan), Ambient: units.AbsolutePressure(nan), Within: units.GaugePressure(nan), PullIn: units.Length(nan)}
		}, []string{"bore", "shaft", "positive_volume", "negative_volume", "port_travel", "old_fill", "fill", "ambient", "within", "pull_in"}},
		{"infinite", func(a *airspring.TopUp) {
			*a = airspring.TopUp{Bore: units.Length(inf), Shaft: units.Length(inf), PositiveVolume: units.Volume(inf), NegativeVolume: units.Volume(inf),
				PortTravel: units.Length(inf), OldFill: units.GaugePressure(inf), Fill: units.GaugePressure(inf), Ambient: units.AbsolutePressure(inf), Within: units.GaugePressure(inf), PullIn: units.Length(inf)}
		}, []string{"bore", "shaft", "positive_volume", "negative_volume", "port_travel", "old_fill", "fill", "ambient", "within", "pull_in"}},
		{"pulled in to the port", func(a *airspring.TopUp) { a.PullIn = 8 * mm }, []string{"pull_in"}},
		{"pulled in to where it stands", func(a *airspring.TopUp) { a.Fill, a.PullIn = units.BarGauge(4.5), 3.4*mm }, []string{"pull_in"}},
		{"pulled in on a spring with its port at full extension", func(a *airspring.TopUp) { a.PortTravel, a.PullIn = 0, 1*mm }, []string{"pull_in"}},
		{"a shaft too thin to push", func(a *airspring.TopUp) { a.Fill, a.Shaft = units.BarGauge(2), 0.1*mm }, []string{"fill"}},
		{"shaft", func(a *airspring.TopUp) { a.Shaft = a.Bore }, []string{"shaft"}},
		{"bore alone", func(a *airspring.TopUp) { a.Bore = units.Length(nan) }, []string{"bore"}},
		{"shaft alone", func(a *airspring.TopUp) { a.Shaft = units.Length(nan) }, []string{"shaft"}},
		{"chamber alone", func(a *airspring.TopUp) { a.PositiveVolume = units.Volume(nan) }, []string{"positive_volume"}},
		{"negative chamber alone", func(a *airspring.TopUp) { a.NegativeVolume = units.Volume(nan) }, []string{"negative_volume"}},
		{"port alone", func(a *airspring.TopUp) { a.PortTravel = units.Length(nan) }, []string{"port_travel"}},
		{"port beyond the chamber", func(a *airspring.TopUp) { a.PortTravel = 250 * mm }, []string{"positive_volume"}},
		{"vacuum", func(a *airspring.TopUp) { a.OldFill = -1 }, []string{"old_fill"}},
		{"never", func(a *airspring.TopUp) { a.NegativeVolume, a.Within = 1, 1e-9 }, []string{"within"}},
	} {
		ask := topUpRows[2].ask()
		c.change(&ask)
		plan, err := airspring.PlanTopUp(ask)
		wantFields(t, c.name, err, c.want...)
		if plan.Cycles != 0 {
			t.Errorf("%s: a plan beside the error", c.name)
		}
	}
}

// hoseRows are an independent computation (mpmath, 40 digits): volumes in cm³,
// the fill in bar, the reading in Pa above ambient.
var hoseRows = []struct{ chamber, hose, fill, reading float64 }{
	{190, 4.0, 5.5, 538659.793814433},
	{120, 6.0, 8.0, 761904.7619047619},
	{250, 3.0, 3.0, 296442.6877470356},
	{105, 4.0, 14.0, 1348623.8532110092},
	{60, 5.0, 20.0, 1846153.8461538462},
	{150, 8.0, 18.0, 1708860.759493671},
}

func TestHose(t *testing.T) {
	for _, r := range hoseRows {
		chamber, hose, fill := units.Volume(r.chamber)*cm3, units.Volume(r.hose)*cm3, units.BarGauge(r.fill)
		reading, err := airspring.HoseReading(chamber, hose, fill)
		wantFields(t, "reading", err)
		unitstest.Near(t, "reading", reading, units.GaugePressure(r.reading), close12)
		back, err := airspring.HoseFill(chamber, hose, reading)
		wantFields(t, "back", err)
		unitstest.Near(t, "fill", back, fill, close12)
	}
}

func TestHoseRefuses(t *testing.T) {
	for _, v := range []float64{nan, inf, -inf, -1} {
		reading, err := airspring.HoseReading(units.Volume(v), units.Volume(v), units.GaugePressure(v))
		wantFields(t, "reading", err, "chamber_volume", "hose_volume", "fill")
		fill, err := airspring.HoseFill(units.Volume(v), units.Volume(v), units.GaugePressure(v))
		wantFields(t, "fill", err, "chamber_volume", "hose_volume", "reading")
		if reading != 0 || fill != 0 {
			t.Errorf("%v and %v beside the errors", reading, fill)
		}
	}
	_, err := airspring.HoseReading(0, 0, 0)
	wantFields(t, "zero", err, "chamber_volume")
}

// The least reading of a spring that was cycled is not that of one just put
// together, whose negative chamber was open to the ambient: at a port at 8 mm the
// volumes have V_p/V_p0 = 0.9618 and V_n/V_n0 = 1.1106.
func TestTopUpFromTracesOfAFill(t *testing.T) {
	ask := topUpRows[2].ask()
	first := func(old float64) float64 {
		ask.OldFill = units.GaugePressure(old)
		plan, err := airspring.PlanTopUp(ask)
		wantFields(t, fmt.Sprint("old fill ", old), err)
		return float64(plan.Reading[0])
	}
	ap, an := math.Pi/4*0.034*0.034, math.Pi/4*(0.034*0.034-0.010*0.010)
	vp, vn := 190e-6-ap*0.008, 60e-6+an*0.008
	for _, old := range []float64{0.25, 0.5, 0.9, 1.5, 0} {
		pn := (old + 101325) * 190e-6 / vp * vn / 60e-6
		if old == 0 {
			pn = 101325
		}
		pe := ((6.5e5+101325)*190e-6 + pn*60e-6) / (vp + vn)
		unitstest.Near(t, fmt.Sprint("reading from ", old), first(old), pe*vp/190e-6-101325, unitstest.Rel(1e-11))
	}
}

// A reading that is off by as much as it may be is near enough. With a port at
// full extension, a quarter of the volume in the negative chamber, and powers of
// two, all is exact: the first cycle leaves a quarter of the fill, the second a
// sixteenth.
func TestTopUpWithinExactly(t *testing.T) {
	ask := airspring.TopUp{
		Bore: 34 * mm, Shaft: 10 * mm, PositiveVolume: 3.0 / 16384, NegativeVolume: 1.0 / 16384,
		Fill: 1 << 20, Ambient: 1 << 17,
	}
	for within, cycles := range map[units.GaugePressure]int{1 << 18: 1, 1<<18 - 1: 2, 1 << 16: 2, 1<<16 - 1: 3} {
		ask.Within = within
		plan, err := airspring.PlanTopUp(ask)
		wantFields(t, "within", err)
		if plan.Cycles != cycles || plan.Reading[0] != 3<<18 {
			t.Errorf("%v cycles within %v, %v after the first", plan.Cycles, within, plan.Reading)
		}
	}
}

// The greatest and least of what the functions beside New take: at the bound
// there is an answer, beyond it an error that names the field alone.
func TestTopUpAndHoseTakeTheirLimitsOnly(t *testing.T) {
	topUp := func(set func(*airspring.TopUp, float64)) func(float64) error {
		return func(x float64) error {
			a := topUpRows[2].ask()
			set(&a, x)
			_, err := airspring.PlanTopUp(a)
			return err
		}
	}
	reading := func(set func(chamber, hose *units.Volume, fill *units.GaugePressure, v float64)) func(float64) error {
		return func(x float64) error {
			chamber, hose, fill := units.Volume(1e-4), units.Volume(1e-6), units.GaugePressure(5e5)
			set(&chamber, &hose, &fill, x)
			_, err := airspring.HoseReading(chamber, hose, fill)
			return err
		}
	}
	for _, c := range []struct {
		field      string
		at, beyond float64
		ask        func(float64) error
	}{
		{"bore", 1, 1.2, topUp(func(a *airspring.TopUp, x float64) { a.Bore, a.PortTravel = units.Length(x), 0 })},
		{"positive_volume", 1, 1.2, topUp(func(a *airspring.TopUp, x float64) { a.PositiveVolume = units.Volume(x) })},
		{"negative_volume", 1e-3, 1.2, topUp(func(a *airspring.TopUp, x float64) { a.NegativeVolume = units.Volume(x) })},
		{"port_travel", 10, 12, topUp(func(a *airspring.TopUp, x float64) {
			a.PositiveVolume, a.PortTravel, a.Within = 0.9, units.Length(x), 1e6
		})},
		{"old_fill", 1e8, 1.2e8, topUp(func(a *airspring.TopUp, x float64) { a.OldFill = units.GaugePressure(x) })},
		{"chamber_volume", 1, 1.2, reading(func(v, _ *units.Volume, _ *units.GaugePressure, x float64) { *v = units.Volume(x) })},
		{"hose_volume", 1, 1.2, reading(func(_, h *units.Volume, _ *units.GaugePressure, x float64) { *h = units.Volume(x) })},
		{"fill", 1e8, 1.2e8, reading(func(_, _ *units.Volume, g *units.GaugePressure, x float64) { *g = units.GaugePressure(x) })},
	} {
		wantFields(t, fmt.Sprint(c.field, " ", c.at), c.ask(c.at))
		wantFields(t, fmt.Sprint(c.field, " ", c.beyond), c.ask(c.beyond), c.field)
	}
}
