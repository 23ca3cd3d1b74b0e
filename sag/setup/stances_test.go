package setup_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// By hand: 45 % of 20 kg less 3 kg are 6 kg, 58.84 N at the wheel and 147.1 N
// on the spring, 1.839 mm of it: 0.839 mm beyond the preload. In front 55 %
// less 2 kg are 9 kg on 9 N/mm.
func TestFreeSag(t *testing.T) {
	j := plainJob(t)
	j.Masses.BikeRearShare = 0.45
	s := sheet(t, j)
	require.NotNil(t, s.Free)
	near(t, "rear load", float64(s.Free.Rear.Load), 6*g0, 1e-12)
	near(t, "rear wheel", float64(s.Free.Rear.WheelLoad), 9*g0, 1e-12)
	near(t, "rear stroke", float64(s.Free.Rear.Rest.Stroke), 6*g0*2.5/80e3-1e-3, 1e-10)
	near(t, "front travel", float64(s.Free.Front.Rest.Travel), 9*g0/9e3, 1e-11)
	near(t, "front sag", s.Free.Front.Rest.Sag, 9*g0/9e3/0.16, 1e-11)
	if s.Free.ShareAssumed || s.Free.Rear.Finding != "" || s.Free.Front.Finding != "" {
		t.Errorf("free sag %+v", s.Free)
	}

	// 2 mm of preload hold 160 N on the spring, more than the 147.1 N.
	j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = 2e-3, 2e-3
	if f := sheet(t, j).Free.Rear; f.Finding != sag.HeldAtTop || f.Rest.Travel != 0 {
		t.Errorf("held by preload, yet %+v", f)
	}

	// The bike's own share is not stated: that with the rider is taken, and said.
	j.Masses.BikeRearShare = 0
	if f := sheet(t, j).Free; !f.ShareAssumed || f.Loads.RearShare != 0.6 {
		t.Errorf("share assumed: %+v", f.Loads)
	}
	// Nor is it taken where it leaves nothing on a spring: 20 % of 20 kg in front.
	j.Masses.RearShare, j.Masses.UnsprungFront = 0.8, new(units.Mass(5))
	s = sheet(t, j)
	omission(t, s, "free_sag", "masses.bike_rear_share")
	if s.Free != nil {
		t.Errorf("free sag %+v", s.Free)
	}
	j.Masses.BikeRearShare = 0.8
	_, err := setup.NewSheet(j)
	refused(t, "a stated share", err, "masses.unsprung_front")

	// With a share of its own the bike stands where the rider's would not let it.
	j.Masses.BikeRearShare = 0.5
	s = sheet(t, j)
	if s.Free == nil || s.Free.ShareAssumed || s.Free.Loads.RearShare != 0.5 {
		t.Errorf("%+v", s.Free)
	}
	near(t, "front load", float64(s.Free.Front.Load), 5*g0, 1e-12)
}

func TestStancesByHand(t *testing.T) {
	j := plainJob(t)
	j.Stances = []setup.NamedStance{{Name: "seated", RearShare: 0.7}, {Name: "standing", RearShare: 0.55}, {Name: "descending", RearShare: 0.5}}
	s := sheet(t, j)
	require.Len(t, s.Stances, 3)
	for i, q := range []float64{0.7, 0.55, 0.5} {
		st := s.Stances[i]
		if st.Name != j.Stances[i].Name || st.Coupled != nil || st.Rear.Finding != "" {
			t.Errorf("stance %+v", st)
		}
		near(t, "front travel", float64(st.Front.Rest.Travel), ((1-q)*100-2)*g0/9e3, 1e-11)
		near(t, "rear stroke", float64(st.Rear.Rest.Stroke), (q*100-3)*g0*2.5/80e3-1e-3, 1e-11)
		near(t, "rear wheel", float64(st.Rear.WheelLoad), q*100*g0, 1e-12)
		near(t, "share", st.Loads.RearShare, q, 1e-15)
	}
}

// Each end of each stance that goes to full travel is warned of, by name. By hand:
// 97 % on the rear leaves 94 kg, 2305 N on the spring, more than the 1830 N of
// 30 N/mm at full travel; 1 N/mm in front, 160 N at most, carries neither 45 % nor
// 60 % of the weight, but 3 % of it less the 2 kg.
func TestEveryStanceThatCollapsesIsWarnedOf(t *testing.T) {
	j := plainJob(t)
	j.Rear.Coil.Springs[0].Rate, j.Front.Coil.Springs[0].Rate = 30e3, 1e3
	j.Stances = []setup.NamedStance{{Name: "up", RearShare: 0.97}, {Name: "down", RearShare: 0.4}}
	s := sheet(t, j)
	var got [][2]string
	for _, w := range s.Warnings {
		if w.Code == "stance_collapses" {
			got = append(got, [2]string{w.Field, w.Value})
			if !strings.Contains(w.Text, w.Value) {
				t.Errorf("%+v", w)
			}
		}
	}
	if diff := cmp.Diff([][2]string{{"rear", "up"}, {"front", "down"}}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if s.Stances[0].Rear.Finding != sag.Collapses || s.Stances[0].Front.Finding != "" {
		t.Errorf("%+v", s.Stances[0])
	}
}

// leaves reports whether a sheet leaves something out.
func leaves(s *setup.Sheet, code string) bool {
	return slices.ContainsFunc(s.LeftOut, func(o setup.Omission) bool { return o.Code == code })
}

// The sheet's coupled answer is the bike's stance with what the sheet recommends.
func TestCoupledEnds(t *testing.T) {
	j := plainJob(t)
	j.Masses.Wheelbase, j.Masses.MassCentreHeight, j.Masses.WheelRadius = 1.2, 1.05, 0.36
	j.Stances = []setup.NamedStance{{Name: "seated", RearShare: 0.68}}
	s := sheet(t, j)
	if s.Coupled == nil || leaves(s, "coupled") || leaves(s, "geometry") {
		t.Fatalf("coupled %+v, left out %+v", s.Coupled, s.LeftOut)
	}
	b := sag.Bike{
		Masses: j.Masses,
		Front:  sag.End{Curve: curveOf(t, *j.Front), Law: linear(t, 9e3, 0.16, 0)},
		Rear:   sag.End{Curve: curveOf(t, *j.Rear), Law: linear(t, 80e3, 0.06, 1e-3)},
	}
	want, err := b.Stance()
	require.NoError(t, err)
	if diff := cmp.Diff(want, s.Coupled.Stance); diff != "" {
		t.Errorf("coupled (-want +got):\n%s", diff)
	}
	near(t, "front change", s.Coupled.FrontSagChange, want.FrontSag-s.Front.Rest.Sag, 1e-12)
	near(t, "rear change", s.Coupled.RearSagChange, want.RearSag-s.Rear.Rest.Sag, 1e-12)
	near(t, "share change", s.Coupled.RearShareChange, want.RearShare-0.6, 1e-12)
	b.RearShare = 0.68
	seated, err := b.Stance()
	require.NoError(t, err)
	if diff := cmp.Diff(&seated, s.Stances[0].Coupled); diff != "" {
		t.Errorf("seated (-want +got):\n%s", diff)
	}
}

// Where the ends are not settled together, the sheet says what is missing.
func TestLeftOutSaysWhatIsMissing(t *testing.T) {
	for _, test := range []struct {
		change func(*sag.Masses)
		says   string // empty where nothing is missing
	}{
		{func(*sag.Masses) {}, "give wheelbase and mass_centre_height"},
		{func(m *sag.Masses) { m.Wheelbase = 1.2 }, "give mass_centre_height"},
		{func(m *sag.Masses) {
			m.Wheelbase, m.MassCentreHeight, m.RearShare, m.FrontScale, m.RearScale = 1.2, 1, 0, 40, 60
		}, "scales"},
		{func(m *sag.Masses) { m.Wheelbase, m.MassCentreHeight, m.FrontWheelRadius = 1.2, 1, 0.36 }, "give wheel_radius"},
		{func(m *sag.Masses) { m.Wheelbase, m.MassCentreHeight, m.WheelRadius = 0.9, 0.5, 0.3 }, ""},
	} {
		j := plainJob(t)
		test.change(&j.Masses)
		s := sheet(t, j)
		if (s.Coupled != nil) != (test.says == "") || leaves(s, "coupled") != (test.says != "") {
			t.Errorf("%+v: coupled %v, left out %+v", j.Masses, s.Coupled != nil, s.LeftOut)
			continue
		}
		if test.says != "" && (s.LeftOut[0].Code != "coupled" || !strings.Contains(s.LeftOut[0].Text, test.says)) {
			t.Errorf("%+v: %+v", j.Masses, s.LeftOut)
		}
	}
}

// Scales give the loads; where they differ from the masses by more than a hundredth
// the sheet says so, in both units.
func TestSheetFromScales(t *testing.T) {
	j := plainJob(t)
	j.Masses.RearShare, j.Masses.RiderMass = 0, 0
	j.Masses.FrontScale, j.Masses.RearScale = 40, 60 // the same 60 % of 100 kg
	s := sheet(t, j)
	near(t, "rear", float64(s.Rear.Load), 57*g0, 1e-12)
	near(t, "rider", float64(s.RiderMass), 80, 1e-12)
	for _, test := range []struct {
		rider, front units.Mass
		warns        bool
	}{
		{80, 41, false}, {80, 41.001, true}, {80, 39, false}, {80, 38.999, true}, {0, 40, false}, {79.2, 40, false}, {78, 40, true}, {82, 40, true},
	} {
		j.Masses.RiderMass, j.Masses.FrontScale = test.rider, test.front
		s := sheet(t, j)
		if got := slices.Contains(codes(s), "masses scales_disagree"); got != test.warns {
			t.Errorf("rider %v, %v in front: warns %v", test.rider, test.front, got)
		}
	}
	j.Masses.RiderMass, j.Masses.FrontScale = 78, 40
	w := warning(t, sheet(t, j), "masses", "scales_disagree")
	if want := "The scales show 100.0 kg (220.5 lb) together, rider and bike are said to be 98.0 kg (216.1 lb). This sheet goes by the scales."; w.Text != want || w.Value != "100 kg" || w.Limit != "98 kg" {
		t.Errorf("%+v", w)
	}
}

// softJob has two ends of 0.5 N/mm over 100 mm, which any rider takes to full
// travel: level at an even split of 97 kg, so that it stands. With 95 % on the
// rear the front of 47.6 N begins to rise, by 2 mm for each newton less, and the
// mass centre, 0.94 m above the axles, goes back by more than that unloads: by hand
// 97·g₀·0.94/500/1.2² = 1.24 for each part of the weight. It rises until the wheel
// leaves the ground, and has no stance.
func softJob(t *testing.T) setup.Job {
	return readJob(t, `{
	  "schema": "wheelrate/job/1",
	  "masses": {"rider_mass": "80 kg", "bike_mass": "17 kg", "unsprung_front": "0 kg", "unsprung_rear": "0 kg", "rear_share": 0.5, "wheelbase": "1.2 m", "mass_centre_height": "1.4 m", "wheel_radius": "360 mm"},
	  "front": {"curve": {"constant": 1, "travel": "100 mm"}, "sag": 0.25, "coil": {"shelf": [{"rate": "0.5 N/mm", "solid_travel": "170 mm"}]}},
	  "rear": {"curve": {"constant": 1, "travel": "100 mm"}, "sag": 0.25, "coil": {"shelf": [{"rate": "0.5 N/mm", "solid_travel": "170 mm"}]}}
	}`)
}

func TestStanceThatDoesNotStandIsRefused(t *testing.T) {
	j := softJob(t)
	j.Stances = []setup.NamedStance{{Name: "level", RearShare: 0.5}, {Name: "back", RearShare: 0.9}}
	s := sheet(t, j)
	require.NotNil(t, s.Coupled)
	require.Len(t, s.Stances, 2)
	if s.Coupled.Pitch != 0 || s.Stances[1].Coupled == nil || s.Coupled.FrontSag != 1 || s.Coupled.RearShareChange > 1e-12 {
		t.Errorf("%+v", s.Coupled)
	}
	j.Stances = []setup.NamedStance{{Name: "wheelie", RearShare: 0.95}, {Name: "level", RearShare: 0.5}}
	_, err := setup.NewSheet(j)
	refused(t, "a stance", err, "masses.mass_centre_height")
	if !strings.Contains(err.Error(), "wheelie") {
		t.Errorf("does not say which: %v", err)
	}
	// The bike itself, when the job has no stances.
	j.Stances, j.Masses.RearShare = nil, 0.95
	_, err = setup.NewSheet(j)
	refused(t, "the bike", err, "masses.mass_centre_height")
	if strings.Contains(err.Error(), "wheelie") {
		t.Errorf("%v", err)
	}
}

func TestStancesAreRefused(t *testing.T) {
	j := plainJob(t)
	j.Stances = []setup.NamedStance{{Name: "", RearShare: 0.6}, {Name: "up", RearShare: 0}, {Name: "up", RearShare: math.NaN()}, {Name: "down", RearShare: 1}}
	_, err := setup.NewSheet(j)
	refused(t, "fields", err, "stances[0].name", "stances[1].rear_share", "stances[2].name", "stances[2].rear_share", "stances[3].rear_share")
	j.Stances = []setup.NamedStance{{Name: "wheelie", RearShare: 0.99}, {Name: "up", RearShare: 0.6}}
	_, err = setup.NewSheet(j)
	refused(t, "1 kg on a front wheel of 2 kg", err, "stances[0].rear_share")
}

// A hundred stances are worked out; of more none is looked at.
func TestStancesAreBounded(t *testing.T) {
	j := plainJob(t)
	for i := range 100 {
		j.Stances = append(j.Stances, setup.NamedStance{Name: strconv.Itoa(i), RearShare: 0.5})
	}
	if s := sheet(t, j); len(s.Stances) != 100 {
		t.Errorf("%d stances", len(s.Stances))
	}
	j.Stances = append(make([]setup.NamedStance, 1), j.Stances...)
	_, err := setup.NewSheet(j)
	refused(t, "one more", err, "stances")
}

// drawnJob is the plain job with a fork in front, and all that the geometry needs.
func drawnJob(t *testing.T) setup.Job {
	j := plainJob(t)
	j.Front.Curve = linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 0.16}}
	m := &j.Masses
	m.Wheelbase, m.MassCentreHeight, m.WheelRadius, m.ForkOffset, m.BottomBracketHeight, m.ChainstayLength = 1.2, 1.05, 0.36, new(units.Length(0.044)), 0.34, 0.44
	return j
}

// The sheet's geometry is the bike's, with nobody on, at rest and at full travel. At rest is where both
// ends settle together, or each by itself where they don't.
func TestGeometryOfASheet(t *testing.T) {
	for _, height := range []units.Length{1.05, 0} {
		j := drawnJob(t)
		j.Masses.MassCentreHeight = height
		s := sheet(t, j)
		require.NotNil(t, s.Geometry)
		b := sag.Bike{Masses: j.Masses, Front: sag.End{Curve: curveOf(t, *j.Front)}, Rear: sag.End{Curve: curveOf(t, *j.Rear)}}
		front, rear := s.Front.Rest.Stroke, s.Rear.Rest.Stroke
		if height > 0 {
			front, rear = s.Coupled.FrontStroke, s.Coupled.RearStroke
		}
		for _, one := range []struct {
			front, rear units.Length
			got         sag.Geometry
		}{{0, 0, s.Geometry.Extended}, {front, rear, s.Geometry.Rest}, {0.16, b.Rear.Curve.Stroke(), s.Geometry.Full}} {
			want, err := b.GeometryAt(one.front, one.rear)
			require.NoError(t, err)
			if diff := cmp.Diff(want, one.got); diff != "" || want.Trail == 0 || want.BottomBracketHeight == 0 {
				t.Errorf("(-want +got):\n%s", diff)
			}
		}
	}
}

// What the geometry lacks is left out by name, and asks for what is missing.
func TestGeometryLeftOut(t *testing.T) {
	all := map[string]string{"geometry": "masses.wheelbase", "head_angle": "front.curve", "trail": "masses.fork_offset", "bottom_bracket": "masses.bottom_bracket_height"}
	for _, test := range []struct {
		change func(*setup.Job)
		want   []string
	}{
		{func(*setup.Job) {}, nil},
		{func(j *setup.Job) { j.Masses.Wheelbase, j.Masses.MassCentreHeight = 0, 0 }, []string{"geometry"}},
		{func(j *setup.Job) { j.Masses.WheelRadius, j.Masses.RearWheelRadius = 0, 0.36 }, []string{"geometry"}},
		{func(j *setup.Job) { j.Masses.WheelRadius, j.Masses.FrontWheelRadius = 0, 0.36 }, []string{"geometry"}},
		{func(j *setup.Job) { j.Front = nil }, nil}, // as a whole, with what needs both ends
		{func(j *setup.Job) { j.Rear = nil }, nil},
		{func(j *setup.Job) { j.Masses.ForkOffset = nil }, []string{"trail"}},
		{func(j *setup.Job) { j.Masses.BottomBracketHeight = 0 }, []string{"bottom_bracket"}},
		{func(j *setup.Job) { j.Masses.ChainstayLength = 0 }, []string{"bottom_bracket"}},
		{func(j *setup.Job) {
			j.Front.Curve = linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 0.9, Travel: 0.16}}
		}, []string{"head_angle"}},
	} {
		j := drawnJob(t)
		test.change(&j)
		s := sheet(t, j)
		for code, field := range all {
			if wanted := slices.Contains(test.want, code); leaves(s, code) != wanted {
				t.Errorf("%v: left out %+v", test.want, s.LeftOut)
			} else if wanted {
				omission(t, s, code, field)
			}
		}
		if (s.Geometry == nil) != (s.Front == nil || s.Rear == nil || slices.Contains(test.want, "geometry")) {
			t.Errorf("%v: %+v", test.want, s.Geometry)
		}
	}
}

// A stance on a slope is the bike's there; with one end it is on level ground, and that is said. Its
// faults are named in it, and so is what makes it fall over.
func TestStanceOnASlope(t *testing.T) {
	j := drawnJob(t)
	down := sag.Ground{Slope: -20 * units.Degree, FrontBraking: 0.15, RearBraking: 0.1}
	j.Stances = []setup.NamedStance{{Name: "down", RearShare: 0.55, Ground: down}}
	s := sheet(t, j)
	b := sag.Bike{
		Masses: j.Masses.WithRearShare(0.55), Ground: down,
		Front: sag.End{Curve: curveOf(t, *j.Front), Law: linear(t, 9e3, 0.16, 0)}, Rear: sag.End{Curve: curveOf(t, *j.Rear), Law: linear(t, 80e3, 0.06, 1e-3)},
	}
	want, err := b.Stance()
	require.NoError(t, err)
	if diff := cmp.Diff(&want, s.Stances[0].Coupled); diff != "" || s.Stances[0].Ground != down || leaves(s, "stances") {
		t.Errorf("(-want +got):\n%s", diff)
	}
	near(t, "each by itself is level", s.Stances[0].Loads.RearShare, 0.55, 1e-15)

	j.Stances[0].Ground = sag.Ground{Slope: 61 * units.Degree, FrontBraking: -1}
	_, err = setup.NewSheet(j)
	refused(t, "no such ground", err, "stances[0].slope", "stances[0].front_braking")
	j.Stances = append([]setup.NamedStance{{Name: "level", RearShare: 0.5}}, setup.NamedStance{Name: "stops", RearShare: 0.5, Ground: sag.Ground{FrontBraking: 1.2}})
	_, err = setup.NewSheet(j)
	refused(t, "over the front wheel", err, "stances[1].front_braking")

	j.Stances[1].Ground = down
	j.Front = nil
	omission(t, sheet(t, j), "stances", "stances")
	j.Stances = j.Stances[:1]
	if s := sheet(t, j); leaves(s, "stances") {
		t.Errorf("%+v", s.LeftOut)
	}
}
