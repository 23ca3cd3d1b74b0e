package setup_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// gaugeText is a fork of one chamber, bore 34 mm and 230 cm³, read with two fills by a rider of 78 kg:
// 0.4·94 kg less 2 kg on the spring, behind sin 64°.
const gaugeText = `{
  "schema": "wheelrate/job/1",
  "masses": {"rider_mass": "78 kg", "bike_mass": "16 kg", "rear_share": 0.6, "unsprung_front": "2 kg"},
  "ambient": "101.325 kPa(a)",
  "front": {"curve": {"fork": {"head_angle": "64 deg", "travel": "160 mm"}}, "sag": 0.2,
    "gauge": {"negative_chamber": "none", "max_fill": "10 bar", "ring_error": "0.5 mm", "exponent": 1.3, "readings": [READINGS]}}
}`

// forkOf is the fork of gaugeText: its area and volume, and the sprung load of a rider.
type forkOf struct{ area, volume float64 }

var fork = forkOf{math.Pi / 4 * 0.034 * 0.034, 230e-6}

func (forkOf) load(rider float64) float64 { return (0.4*(rider+16) - 2) * 9.80665 }

// fill returns the gauge pressure with which the fork carries a rider at a stroke, by Boyle's law.
func (f forkOf) fill(rider, stroke float64) float64 {
	along := f.load(rider) * math.Sin(64*math.Pi/180)
	return (along+f.area*101325)/f.area*(f.volume-f.area*stroke)/f.volume - 101325
}

// reading returns a reading by a rider at a stroke in mm, with more fields.
func (f forkOf) reading(rider, stroke float64, more string) string {
	fill := units.GaugePressure(f.fill(rider, stroke/1000))
	return `{"fill": "` + fill.String() + `", "stroke": "` + units.Length(stroke/1000).String() + `"` + more + `}`
}

func gaugeJob(t testing.TB, readings ...string) setup.Job {
	t.Helper()
	return readJob(t, strings.Replace(gaugeText, "READINGS", strings.Join(readings, ", "), 1))
}

// Two readings tell the fill, the rest and all that the end does, also where another rider made one.
func TestGaugeTellsTheFill(t *testing.T) {
	for _, second := range []string{fork.reading(78, 24, ""), fork.reading(95, 24, `, "rider_mass": "95 kg"`),
		fork.reading(95, 24, `, "load": "`+units.Force(fork.load(95)).String()+`"`)} {
		s := sheet(t, gaugeJob(t, fork.reading(78, 46, ""), second))
		g := s.Front.Gauge
		near(t, "load", s.Front.Load.Newtons(), fork.load(78), 1e-12)
		near(t, "fill", g.Fill.Pascals(), fork.fill(78, 0.032), 1e-9)
		near(t, "sag", s.Front.Rest.Sag, 0.2, 1e-9)
		near(t, "ring", s.Front.Measure[0].Expected.Metres(), 0.032, 1e-9)
		full := (g.Fill.Pascals()+101325)*math.Pow(fork.volume/(fork.volume-fork.area*0.16), 1.3) - 101325
		near(t, "force at full travel", s.Front.Reserve.FullForce.Newtons(), full*fork.area/math.Sin(64*math.Pi/180), 1e-9)
		require.True(t, g.Answer)
		steps := s.Working(sag.Front)
		require.Equal(t, g.FillWanted, steps[len(steps)-1].Result.Quantity)
		require.NotNil(t, s.Free)
	}
}

// Riders of other masses get the fill of the same spring: the readings stay those of the rider who made
// them.
func TestGaugeOfOtherRiders(t *testing.T) {
	job := gaugeJob(t, fork.reading(78, 46, ""), fork.reading(78, 24, ""))
	b, err := setup.NewTemplate(job)
	require.NoError(t, err)
	for _, rider := range []float64{60, 78, 90} {
		s, err := b.Sheet(units.Mass(rider))
		require.NoError(t, err)
		near(t, "fill", s.Front.Gauge.Fill.Pascals(), fork.fill(rider, 0.032), 1e-9)
	}
	job.Masses.RiderMass = 0
	_, err = setup.NewTemplate(job)
	require.Equal(t, []string{"masses.rider_mass"}, names(err))
}

// One reading is answered by a step: where the ring belongs is known, and what is not known is absent,
// not 0.
func TestGaugeStepSaysWhatItKnows(t *testing.T) {
	s := sheet(t, gaugeJob(t, fork.reading(78, 46, "")))
	require.False(t, s.Front.Gauge.Answer)
	require.Nil(t, s.Front.State)
	require.Nil(t, s.Front.Settled())
	near(t, "target", s.Front.Measure[0].Expected.Metres(), 0.032, 1e-12)
	out := text(t, s)
	for _, none := range []string{`"reserve"`, `"fast_frequency"`, `"rest"`, `"full_ratio"`, `"energy_left"`, `"fill_wanted"`} {
		if strings.Contains(out, none) {
			t.Errorf("the sheet has %s", none)
		}
	}
	if !strings.Contains(out, `"code":"chambers"`) || s.Working(sag.Front) == nil || s.RestWorking(sag.Front) != nil {
		t.Errorf("not said what is left out: %s", out)
	}
	slow, fast := s.Front.Wheel()
	require.Nil(t, slow)
	require.Nil(t, fast)
}

// The readings' faults are named with those of the masses, each once.
func TestGaugeFaults(t *testing.T) {
	good := fork.reading(78, 46, "")
	for _, test := range []struct {
		readings string
		also     []string // old and new in the job
		want     []string
	}{
		{good + "," + fork.reading(78, 24, `, "rider_mass": "-3 kg"`), nil, []string{"front.gauge.readings[1].rider_mass"}},
		{good + "," + fork.reading(78, 24, `, "rider_mass": "70 kg", "load": "300 N"`), nil, []string{"front.gauge.readings[1].load"}},
		{good + "," + fork.reading(78, 24, ""), []string{`"78 kg"`, `"-78 kg"`, `"0.5 mm"`, `"-1 mm"`}, []string{"masses.rider_mass", "front.gauge.ring_error"}},
		{strings.Replace(good, "46 mm", "160 mm", 1), nil, []string{"front.gauge.readings[0].stroke"}},
		{"", nil, []string{"front.gauge.readings"}},
		{good, []string{`"none"`, `"maybe"`}, []string{"front.gauge.negative_chamber"}},
		{good, []string{`"gauge": {`, `"coil": {"shelf": [{"rate": "5 N/mm"}]}, "gauge": {`}, []string{"front.coil"}},
		{good, []string{`"10 bar"`, `"1 bar"`}, []string{"front.gauge.readings[0].fill"}},
	} {
		job := readJob(t, strings.NewReplacer(test.also...).Replace(strings.Replace(gaugeText, "READINGS", test.readings, 1)))
		_, err := setup.NewSheet(job)
		require.Equal(t, test.want, names(err), "%v: %v", test, err)
	}
}

// A job of springs known by their gauges may leave out what hardly changes their fill. Each blank is
// said, with what another value would change; with readings by one rider that is nothing, which is said
// once, and with readings by two riders it is the difference that a job with that value has.
func TestGaugeTakesForGranted(t *testing.T) {
	const bare = `{"schema": "wheelrate/job/1", "masses": {"rider_mass": "78 kg"}, "front": {"curve": {"fork": {"travel": "160 mm"}}, "sag": 0.2,
		"gauge": {"negative_chamber": "self_filling", "readings": [{"fill": "70 psi", "stroke": "46 mm"}, {"fill": "95 psi", "stroke": "24 mm"SECOND}]}}}`
	blanks := []string{"bike_mass", "rear_share", "ambient", "unsprung", "head_angle", "outside_diameter"}
	said := func(second string) (*setup.Sheet, map[string]string) {
		s, texts := sheet(t, readJob(t, strings.Replace(bare, "SECOND", second, 1))), map[string]string{}
		for _, o := range s.LeftOut {
			texts[o.Code] = o.Text
		}
		return s, texts
	}
	s, texts := said("")
	for _, code := range append(blanks, "max_fill", "ring_error", "gauge_error", "chambers") {
		if texts[code] == "" {
			t.Errorf("%s is not said", code)
		}
	}
	for _, o := range s.LeftOut {
		if strings.Contains(o.Text, "nothing changes") || slices.Contains(blanks, o.Code) && (o.Effects[0].Fill != 0 || !strings.Contains(texts["unchanged"], o.Field)) {
			t.Errorf("%+v, %s", o, texts["unchanged"])
		}
	}
	// Between two readings by one rider the gauge against the ring is a straight line.
	near(t, "fill", s.Front.Gauge.Fill.PSI(), 95+(70-95)*(32-24.0)/(46-24.0), 1e-9)
	require.Equal(t, units.Mass(16), s.Setup().Masses.BikeMass)

	s, texts = said(`, "rider_mass": "95 kg"`)
	filled := readJob(t, strings.NewReplacer("SECOND", `, "rider_mass": "95 kg"`, `"78 kg"`, `"78 kg", "rear_share": 0.5`).Replace(bare))
	by := sheet(t, filled).Front.Gauge.Fill - s.Front.Gauge.Fill
	require.Greater(t, math.Abs(by.Pascals()), 100.0)
	if texts["unchanged"] == "" || strings.Contains(texts["unchanged"], "rear_share") {
		t.Errorf("%q", texts["unchanged"])
	}
	if want := max(by, -by).Both().String(); !strings.Contains(texts["rear_share"], want) {
		t.Errorf("want %s in: %s", want, texts["rear_share"])
	}

	// A job with any other spring leaves nothing out.
	other := readJob(t, strings.Replace(strings.Replace(bare, "SECOND", "", 1), `"masses": {`, `"rear": {"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.3, "coil": {"shelf": [{"rate": "80 N/mm"}]}}, "masses": {`, 1))
	_, err := setup.NewSheet(other)
	require.ElementsMatch(t, []string{"masses.bike_mass", "masses.rear_share", "masses.unsprung_front", "masses.unsprung_rear",
		"front.curve.fork.head_angle", "front.gauge.ambient", "front.gauge.outside_diameter"}, names(err))
}

// A bore other than that stated is told with the bore that the readings give, also where the load
// needs no air at all.
func TestGaugeTellsAnotherBoreWithoutAFill(t *testing.T) {
	load := `, "load": "` + units.Force(fork.load(78)).String() + `"`
	j := gaugeJob(t, fork.reading(78, 46, load), fork.reading(78, 24, load))
	j.Front.Gauge.OutsideDiameter = 40 * units.Millimetre
	j.Masses.RiderMass, j.Masses.BikeMass = 0.5, 7
	s := sheet(t, j)
	require.Nil(t, s.Front.Gauge.Chambers)
	near(t, "bore", s.Front.Gauge.Bore.Metres(), 0.034, 1e-9)
	require.True(t, slices.ContainsFunc(s.Warnings, func(w units.Warning) bool { return w.Code == "bore_differs" }))
}
