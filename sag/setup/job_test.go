package setup_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Check, NewSheet and NewTemplate report the same faults, those of the masses
// apart, and every fault at once.
func TestJobNamesEveryBadField(t *testing.T) {
	j := readJob(t, jobText)
	j.Schema = "something else"
	j.Masses.RiderMass = -1
	j.Front.Sag = 1.2
	j.Front.Friction = -1
	j.Front.Air.Bore = 0
	j.Front.Air.MaxFill = 0
	j.Front.Air.MaxSpacers = -1
	j.Rear.Curve.Table.Travel[2] = 0
	j.Rear.Coil.Springs[1].Rate = units.Stiffness(math.NaN())
	j.Rear.Coil.PreloadMax = 0
	j.Rear.Damping = -1
	j.Stances = []setup.NamedStance{{Name: "", RearShare: 0.5}}
	j.Uncertainty = &certainty.Uncertainty{RearShare: 2}
	_, err := setup.NewSheet(j)
	got := names(err)
	for _, want := range []string{"schema", "masses.rider_mass", "stances[0].name", "front.sag", "front.friction", "front.air.bore", "front.air.max_fill",
		"front.air.max_spacers", "rear.curve.table.travel[2]", "rear.coil.shelf[1].rate", "rear.coil.preload_max", "rear.damping", "uncertainty.rear_share"} {
		if !slices.Contains(got, want) {
			t.Errorf("%q is not named; named are %q", want, got)
		}
	}
	c := units.Checker{Package: "sag"}
	j.Check(&c)
	if diff := cmp.Diff(got, names(c.Err())); diff != "" {
		t.Errorf("(-NewSheet +Check):\n%s", diff)
	}
	_, err = setup.NewTemplate(j)
	if diff := cmp.Diff(slices.DeleteFunc(got, func(f string) bool { return f == "masses.rider_mass" }), names(err)); diff != "" {
		t.Errorf("(-NewSheet +NewTemplate):\n%s", diff)
	}
	for _, f := range units.Fields(err) {
		if want := map[bool]string{true: "linkage", false: "sag"}[strings.Contains(f.Field, "curve")]; f.Package != want {
			t.Errorf("%s is reported by %q, want %q", f.Field, f.Package, want)
		}
	}
	good := units.Checker{}
	if readJob(t, jobText).Check(&good); !good.OK() {
		t.Error(good.Err())
	}
}

func TestEndHasEitherCoilOrAir(t *testing.T) {
	j := readJob(t, jobText)
	j.Rear.Coil, j.Front.Coil = nil, &fit.Shelf{}
	_, err := setup.NewSheet(j)
	refused(t, "neither and both", err, "front.coil", "rear.coil")
}

// An air spring that states its own travel may be longer than the curve's stroke, but
// not shorter; and what is wrong with the curve is not told of the spring.
func TestAirSpringAtItsLimits(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*setup.EndJob)
		want   []string
	}{
		{"the stroke", func(e *setup.EndJob) { e.Air.Travel = 0.06 }, nil},
		{"less", func(e *setup.EndJob) { e.Air.Travel = units.Length(justBelow(0.06)) }, []string{"rear.air.travel"}},
		{"more", func(e *setup.EndJob) { e.Air.Travel = 0.061 }, nil},
		{"left out", func(e *setup.EndJob) { e.Air.Travel = 0 }, nil},
		{"of a curve that is invalid", func(e *setup.EndJob) { e.Curve.ConstantRatio.Ratio, e.Air.Travel = -1, 0.06 }, []string{"rear.curve.constant"}},
		{"both kinds", func(e *setup.EndJob) { e.Coil = &fit.Shelf{} }, []string{"rear.coil"}},
		{"neither", func(e *setup.EndJob) { e.Air = nil }, []string{"rear.coil"}},
		{"friction", func(e *setup.EndJob) { e.Friction = -1 }, []string{"rear.friction"}},
		{"the least sag", func(e *setup.EndJob) { e.Sag = justBelow(1e-6) }, []string{"rear.sag"}},
	} {
		j := plainJob(t)
		j.Rear.Coil, j.Rear.Air = nil, airSpring()
		test.change(&j.Rear)
		_, err := setup.NewSheet(j)
		refused(t, test.name, err, test.want...)
	}
}

// Damping, ratio and drop height are taken at their limits and refused beyond them.
func TestDampingAndDropAtTheirLimits(t *testing.T) {
	for _, test := range []struct {
		e    setup.EndJob // these fields of it
		want []string
	}{
		{setup.EndJob{DropHeight: 1000}, nil},
		{setup.EndJob{DropHeight: units.Length(justAbove(1000))}, []string{"rear.drop_height"}},
		{setup.EndJob{DropHeight: units.Length(math.NaN())}, []string{"rear.drop_height"}},
		{setup.EndJob{DampingRatio: 20}, nil},
		{setup.EndJob{DampingRatio: justAbove(20)}, []string{"rear.damping_ratio"}},
		{setup.EndJob{Damping: 0.5, DampingRatio: 0.5}, []string{"rear.damping_ratio"}},
		{setup.EndJob{Damping: 0.5}, nil},
		{setup.EndJob{Damping: -1, DampingRatio: -1, DropHeight: -1}, []string{"rear.damping", "rear.damping_ratio", "rear.drop_height"}},
	} {
		j := plainJob(t)
		j.Rear.Damping, j.Rear.DampingRatio, j.Rear.DropHeight = test.e.Damping, test.e.DampingRatio, test.e.DropHeight
		var c units.Checker
		j.Check(&c)
		refused(t, text(t, test.want), c.Err(), test.want...)
	}
}

// A target and a pitch next to nothing would make rates and turns infinite.
func TestTargetsAndPitchesNextToNothingAreRefused(t *testing.T) {
	for _, row := range []struct {
		from, to string
		fields   []string
	}{
		{`"sag": 0.29`, `"sag": 1e-320`, []string{"rear.sag"}},
		{`"sag": 0.29`, `"sag": 1e-7`, []string{"rear.sag"}},
		{`"thread_pitch": "1.5 mm"`, `"thread_pitch": "1e-320 mm"`, []string{"rear.coil.thread_pitch"}},
		{`"thread_pitch": "1.5 mm"`, `"thread_pitch": "0.001 mm"`, nil},
		{`"thread_pitch": "1.5 mm"`, `"thread_pitch": "0 mm"`, nil},
	} {
		_, err := setup.NewSheet(readJob(t, strings.Replace(jobText, row.from, row.to, 1)))
		refused(t, row.to, err, row.fields...)
	}
}

// What would take a job minutes is refused by its field.
func TestJobsAreBounded(t *testing.T) {
	j := readJob(t, jobText)
	for len(j.Rear.Coil.Springs) <= sag.MostSprings {
		j.Rear.Coil.Springs = append(j.Rear.Coil.Springs, j.Rear.Coil.Springs...)
	}
	_, err := setup.NewSheet(j)
	refused(t, "more springs", err, "rear.coil.shelf")
	j.Rear.Coil.Springs = j.Rear.Coil.Springs[:sag.MostSprings]
	_, err = setup.NewSheet(j)
	refused(t, "as many springs", err)

	const readings = 100 // whose uncertainty is asked for
	j = readJob(t, jobText)
	table := linkage.Table{Method: linkage.Smooth}
	for i := range readings + 2 {
		s := 65 * units.Millimetre * units.Length(i) / units.Length(readings+1)
		table.Stroke, table.Travel = append(table.Stroke, s), append(table.Travel, 2.7*s)
	}
	j.Rear.Curve = linkage.Spec{Table: &table}
	j.Uncertainty = &certainty.Uncertainty{Rear: certainty.EndUncertainty{TableTravel: 0.1 * units.Millimetre}}
	_, err = setup.NewSheet(j)
	refused(t, "a long table", err, "uncertainty.rear.table_travel")
	j.Uncertainty.Rear = certainty.EndUncertainty{SpringRate: 0.01}
	_, err = setup.NewSheet(j)
	refused(t, "a long table, exactly known", err)
}

// Faults of a job and of its uncertainty are reported together.
func TestFaultsOfUncertaintyAreNamed(t *testing.T) {
	for _, test := range []struct {
		spoil func(*setup.Job)
		want  []string
	}{
		{func(j *setup.Job) { j.Uncertainty.RiderMass = -1 }, []string{"uncertainty.rider_mass"}},
		{func(j *setup.Job) { j.Uncertainty.Rear.SpringRate = 2; j.Front.Sag = 3; j.Schema = "" },
			[]string{"front.sag", "schema", "uncertainty.rear.spring_rate"}},
	} {
		j := readJob(t, jobText)
		j.Uncertainty = known()
		test.spoil(&j)
		_, err := setup.NewSheet(j)
		refused(t, text(t, test.want), err, test.want...)
	}
}

func TestJobReadsBackTheSame(t *testing.T) {
	j := readJob(t, jobText)
	if diff := cmp.Diff(j, readJob(t, text(t, j))); diff != "" {
		t.Errorf("the job read back (-want +got):\n%s", diff)
	}
}

func TestReadJobNamesEveryBadField(t *testing.T) {
	bad := strings.NewReplacer(`"82 kg"`, `"82"`, `"sag": 0.2,`, `"sag": "0.2",`, `"35 mm"`, `"35 furlongs"`, `"ambient"`, `"ambiant"`).Replace(jobText)
	_, err := setup.ReadJob(strings.NewReader(bad))
	refused(t, "what can't be read", err, "masses.rider_mass", "front.sag", "front.air.bore", "ambiant")
}

// As many bytes as JobLimit are read, one more is not.
func TestReadJobAtItsLimit(t *testing.T) {
	_, err := setup.ReadJob(strings.NewReader(jobText + strings.Repeat(" ", setup.JobLimit-len(jobText))))
	require.NoError(t, err)
	_, err = setup.ReadJob(strings.NewReader(jobText + strings.Repeat(" ", setup.JobLimit-len(jobText)+1)))
	require.Error(t, err)
}
