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

// A fault is named by its path in the job.
func TestFaultsAreNamedByTheirPath(t *testing.T) {
	straight := linkage.Table{Method: linkage.Smooth} // of more readings than are moved one at a time
	for i := range 102 {
		s := 65 * units.Millimetre * units.Length(i) / 101
		straight.Stroke, straight.Travel = append(straight.Stroke, s), append(straight.Travel, 2.7*s)
	}
	for _, test := range []struct {
		name   string
		change func(*setup.Job)
		want   []string
	}{
		{"neither spring, and both", func(j *setup.Job) { j.Uncertainty, j.Rear.Coil, j.Front.Coil = nil, nil, &fit.Shelf{} }, []string{"front.coil", "rear.coil"}},
		{"no ambient anywhere", func(j *setup.Job) { j.Ambient = 0 }, []string{"front.air.ambient"}},
		{"ambient of the air spring's own", func(j *setup.Job) { j.Ambient, j.Front.Air.Ambient = 0, 97.7e3 }, nil},
		{"a damper shorter than the stroke", func(j *setup.Job) { j.Front.Air.Travel = units.Length(justBelow(0.17)) }, []string{"front.air.travel"}},
		{"a longer one", func(j *setup.Job) { j.Front.Air.Travel = 0.171 }, nil},
		{"a curve that is invalid", func(j *setup.Job) { j.Front.Curve.Fork.Travel, j.Front.Air.Travel = -1, 0.17 }, []string{"front.curve.fork.travel"}},
		{"more fill pulls in harder", func(j *setup.Job) {
			j.Front.Sag, j.Front.Air.NegativeVolume, j.Front.Air.PortTravel = 0.002, 12e-6, 0.03
		}, []string{"front.sag"}},
		{"hardly a load", func(j *setup.Job) {
			j.Uncertainty, j.Masses = nil, sag.Masses{RiderMass: 1e-153, BikeMass: 1e-153, UnsprungFront: new(units.Mass(0)), UnsprungRear: new(units.Mass(0)), RearShare: 0.5}
		}, []string{"front.load", "rear.load"}},
		{"an uncertainty", func(j *setup.Job) { j.Uncertainty.RiderMass = -1 }, []string{"uncertainty.rider_mass"}},
		{"an uncertainty and more", func(j *setup.Job) { j.Uncertainty.Rear.SpringRate, j.Front.Sag, j.Schema = 2, 3, "" },
			[]string{"front.sag", "schema", "uncertainty.rear.spring_rate"}},
		{"a long table", func(j *setup.Job) { j.Rear.Curve.Table = &straight }, []string{"uncertainty.rear.table_travel"}},
		{"a long table, exactly known", func(j *setup.Job) { j.Rear.Curve.Table, j.Uncertainty.Rear.TableTravel = &straight, 0 }, nil},
	} {
		j := readJob(t, jobText)
		j.Uncertainty = known()
		test.change(&j)
		_, err := setup.NewSheet(j)
		refused(t, test.name, err, test.want...)
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

// Faults that JSON can't hold and those of the values are told at once, each of them once, and none
// that is only the trail of another.
func TestReadJobNamesAllThatIsWrong(t *testing.T) {
	for name, test := range map[string]struct {
		replace []string
		want    []string
	}{
		"eight": {[]string{`"rider_mass": "82 kg"`, `"rider_mas": "82 kg"`, `"16.8 kg"`, `"16,8 kg"`, `"unsprung_rear": "3.2 kg", `, ``, `"sag": 0.29`, `"sag": 29`,
			`"35 mm"`, `"35"`, `"exponent": 1.35`, `"exponent": "1.35"`, `"friction": "20 N"`, `"friction": "-20 N"`, `"34 mm"`, `"34"`, `"51.3"`, `"x"`, `"400 lbf/in"`, `"400 lbf/ni"`},
			[]string{"masses.rider_mas", "masses.bike_mass", "masses.unsprung_rear", "rear.sag", "front.air.bore", "front.air.exponent", "front.friction", "rear.coil.shelf[1].rate"}},
		"no mass, whose share is given": {[]string{`"rider_mass": "82 kg"`, `"rider_mass": 82`}, []string{"masses.rider_mass"}},
		"a whole end":                   {[]string{`"coil": {"shelf"`, `"coils": {"shelf"`}, []string{"rear.coils"}},
		"a count":                       {[]string{`"spacers": 1`, `"spacers": "1"`, `"max_spacers": 5`, `"max_spacers": 0`}, []string{"front.air.spacers"}},
		"a chamber":                     {[]string{`"252 cm³"`, `"252 ccm³"`, `"sag": 0.2,`, `"sag": 2,`}, []string{"front.air.positive_volume", "front.sag"}},
		"a curve":                       {[]string{`"travel": "170 mm"`, `"travel": "170"`}, []string{"front.curve.fork.travel"}},
		"a column":                      {[]string{`"37.63 mm"`, `"37.63"`, `"method": "smooth"`, `"method": "smoth"`}, []string{"rear.curve.table.travel[1]", "rear.curve.table.method"}},
		"a list by another name":        {[]string{`"stroke": [`, `"strokes": [`, `"350 lbf/in"`, `"-350 lbf/in"`}, []string{"rear.curve.table.strokes", "rear.coil.shelf[0].rate"}},
	} {
		bad := strings.NewReplacer(test.replace...).Replace(jobText)
		_, err := setup.ReadJob(strings.NewReader(bad))
		refused(t, name, err, test.want...)
		if fields := units.Fields(err); len(fields) != len(test.want) {
			t.Errorf("%s: %d faults, want %d: %v", name, len(fields), len(test.want), err)
		}
	}
}

// A job spelled as people write is the same job.
func TestReadJobTakesWhatPeopleWrite(t *testing.T) {
	spelled := strings.NewReplacer(`"82 kg"`, `"82 KG"`, ` lbf/in"`, ` LBS/IN"`, `"5.2 bar"`, `"5.2 Bar"`, `"sag": 0.29`, `"sag": "29 %"`, `"rear_share": 0.58`, `"rear_share": "58%"`, `"35 mm"`, `"35MM"`, `" cm³"`, `" ccm"`).Replace(jobText)
	j, err := setup.ReadJob(strings.NewReader(spelled))
	require.NoError(t, err)
	if diff := cmp.Diff(readJob(t, jobText), j); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// As many bytes as JobLimit are read, one more is not.
func TestReadJobAtItsLimit(t *testing.T) {
	_, err := setup.ReadJob(strings.NewReader(jobText + strings.Repeat(" ", setup.JobLimit-len(jobText))))
	require.NoError(t, err)
	_, err = setup.ReadJob(strings.NewReader(jobText + strings.Repeat(" ", setup.JobLimit-len(jobText)+1)))
	require.Error(t, err)
}
