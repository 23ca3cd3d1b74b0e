package sag

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

// plainJob is an invented job with one coil of 80 N/mm and a collar fixed at 1 mm
// behind a constant ratio of 2.5, and one of 9 N/mm without preload in a
// vertical fork: all of it can be worked by hand.
func plainJob(t testing.TB) Job {
	return readJob(t, `{
	  "schema": "wheelrate/job/1",
	  "masses": {"rider_mass": "80 kg", "bike_mass": "20 kg", "unsprung_front": "2 kg", "unsprung_rear": "3 kg", "rear_share": 0.6},
	  "front": {"curve": {"constant": 1, "travel": "160 mm"}, "sag": 0.25, "coil": {"shelf": [{"rate": "9 N/mm", "solid_travel": "170 mm"}]}},
	  "rear": {"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.28,
	    "coil": {"shelf": [{"rate": "80 N/mm", "solid_travel": "70 mm"}], "preload_min": "1 mm", "preload_max": "1 mm"}}
	}`)
}

const g0 = 9.80665

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
	if f := sheet(t, j).Free.Rear; f.Finding != HeldAtTop || f.Rest.Travel != 0 {
		t.Errorf("held by preload, yet %+v", f)
	}

	// Nobody stated the bike's own share: that with the rider is taken, and said.
	j.Masses.BikeRearShare = 0
	if f := sheet(t, j).Free; !f.ShareAssumed || f.Loads.RearShare != 0.6 {
		t.Errorf("share assumed: %+v", f.Loads)
	}
	// Nor is it taken where it leaves nothing on a spring: 20 % of 20 kg in front.
	j.Masses.RearShare, j.Masses.UnsprungFront = 0.8, 5
	s = sheet(t, j)
	if s.Free != nil || s.LeftOut[len(s.LeftOut)-1].Code != "free_sag" {
		t.Errorf("free sag %+v, left out %+v", s.Free, s.LeftOut)
	}
	j.Masses.BikeRearShare = 0.8
	_, err := NewSheet(j)
	if diff := cmp.Diff([]string{"masses.unsprung_front"}, names(err)); diff != "" {
		t.Errorf("a stated share (-want +got):\n%s", diff)
	}
}

// A negative chamber pulls an air spring in before any load is on it, so its
// free sag is more than where it stands in the hand.
func TestFreeSagOfAnAirFork(t *testing.T) {
	j := readJob(t, jobText)
	s := sheet(t, j)
	spec := j.Front.Air.Spec
	spec.Travel, spec.Ambient, spec.Exponent, spec.Fill = 0.17, j.Ambient, 1, s.Front.Air.Options[0].Fill
	law, err := airspring.New(spec)
	require.NoError(t, err)
	if f := s.Free.Front.Rest.Stroke; !(law.RestTravel() > 0 && f > law.RestTravel() && f < s.Front.Rest.Stroke) {
		t.Errorf("free %v, unloaded %v, with the rider %v", f, law.RestTravel(), s.Front.Rest.Stroke)
	}
}

func TestStances(t *testing.T) {
	j := plainJob(t)
	j.Stances = []NamedStance{{"seated", 0.7}, {"standing", 0.55}, {"descending", 0.5}}
	s := sheet(t, j)
	if len(s.Stances) != 3 {
		t.Fatalf("stances %+v", s.Stances)
	}
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
	// 97 % on the rear leaves 94 kg: 2305 N on the spring, more than the 1830 N
	// of a softer one at full travel. The sheet warns.
	j.Stances[0].RearShare = 0.97
	j.Rear.Coil.Shelf[0].Rate = 30e3
	s = sheet(t, j)
	if s.Stances[0].Rear.Finding != Collapses || !strings.Contains(strings.Join(codes(s), "\n"), "rear stance_collapses") {
		t.Errorf("stance %+v, warnings %v", s.Stances[0].Rear, codes(s))
	}
}

// The sheet's coupled answer is NewStance's for what the sheet recommends.
func TestCoupled(t *testing.T) {
	j := plainJob(t)
	s := sheet(t, j)
	if s.Coupled != nil || len(s.LeftOut) != 1 || s.LeftOut[0].Code != "coupled" {
		t.Errorf("coupled %+v, left out %+v", s.Coupled, s.LeftOut)
	}
	j.Masses.Wheelbase = 1.2
	if s = sheet(t, j); s.Coupled != nil || len(s.LeftOut) != 1 {
		t.Errorf("without a height: coupled %+v, left out %+v", s.Coupled, s.LeftOut)
	}
	j.Masses.MassCentreHeight = 1.05
	j.Stances = []NamedStance{{"seated", 0.68}}
	s = sheet(t, j)
	if s.Coupled == nil || len(s.LeftOut) != 0 {
		t.Fatalf("coupled %+v, left out %+v", s.Coupled, s.LeftOut)
	}
	b := Bike{
		Masses: j.Masses,
		Front:  Fitted{curveOf(t, j.Front), linear(t, 9e3, 0.16, 0)},
		Rear:   Fitted{curveOf(t, j.Rear), linear(t, 80e3, 0.06, 1e-3)},
	}
	want, err := NewStance(b)
	require.NoError(t, err)
	if diff := cmp.Diff(want, s.Coupled.Stance); diff != "" {
		t.Errorf("coupled (-want +got):\n%s", diff)
	}
	near(t, "front change", s.Coupled.FrontSagChange, want.FrontSag-s.Front.Rest.Sag, 1e-12)
	near(t, "rear change", s.Coupled.RearSagChange, want.RearSag-s.Rear.Rest.Sag, 1e-12)
	near(t, "share change", s.Coupled.RearShareChange, want.RearShare-0.6, 1e-12)
	b.RearShare = 0.68
	seated, err := NewStance(b)
	require.NoError(t, err)
	if diff := cmp.Diff(&seated, s.Stances[0].Coupled); diff != "" {
		t.Errorf("seated (-want +got):\n%s", diff)
	}
	j.Masses.MassCentreHeight = 1e4
	_, err = NewSheet(j)
	if diff := cmp.Diff([]string{"masses.mass_centre_height"}, names(err)); diff != "" {
		t.Errorf("a pencil on its point (-want +got):\n%s", diff)
	}
}

func TestSheetFromScales(t *testing.T) {
	j := plainJob(t)
	j.Masses.RearShare, j.Masses.RiderMass = 0, 0
	j.Masses.FrontScale, j.Masses.RearScale = 40, 60 // the same 60 % of 100 kg
	j.Masses.Wheelbase, j.Masses.MassCentreHeight = 1.2, 1.05
	s := sheet(t, j)
	near(t, "rear", float64(s.Rear.Load), 57*g0, 1e-12)
	near(t, "rider", float64(s.RiderMass), 80, 1e-12)
	if s.Coupled != nil || s.LeftOut[0].Code != "coupled" || !strings.Contains(s.LeftOut[0].Text, "scales") {
		t.Errorf("scales weigh the pitched bike: coupled %+v, left out %+v", s.Coupled, s.LeftOut)
	}
	// A percent of 99 kg is 0.99 kg: at 99.2 they agree, at 98 they don't.
	for _, test := range []struct {
		rider units.Mass
		warns bool
	}{{79.2, false}, {78, true}, {82, true}} {
		j.Masses.RiderMass = test.rider
		if got := strings.Contains(strings.Join(codes(sheet(t, j)), "\n"), "masses scales_disagree"); got != test.warns {
			t.Errorf("rider %v: warns %v", test.rider, got)
		}
	}
}

func TestStancesRefused(t *testing.T) {
	j := plainJob(t)
	j.Stances = []NamedStance{{"", 0.6}, {"up", 0}, {"up", math.NaN()}, {"down", 1}}
	_, err := NewSheet(j)
	want := []string{"stances[0].name", "stances[1].rear_share", "stances[2].name", "stances[2].rear_share", "stances[3].rear_share"}
	if diff := cmp.Diff(want, names(err)); diff != "" {
		t.Errorf("fields (-want +got):\n%s", diff)
	}
	j.Stances = []NamedStance{{"wheelie", 0.99}, {"up", 0.6}}
	_, err = NewSheet(j)
	if diff := cmp.Diff([]string{"stances[0].rear_share"}, names(err)); diff != "" {
		t.Errorf("1 kg on a front wheel of 2 kg (-want +got):\n%s", diff)
	}
}
