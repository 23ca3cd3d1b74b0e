package sag

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
)

// titles are the names of steps, in order.
func titles(steps []units.Step) []string {
	var list []string
	for _, s := range steps {
		list = append(list, s.Name)
	}
	return list
}

var (
	toTarget = []string{"load of the wheel", "load on the spring, at the wheel", "travel at the target", "stroke there", "lever ratio there", "force that the spring must carry"}
	toRest   = []string{"stroke where it rests", "lever ratio there", "force of the spring there, which proves it", "travel of the wheel there", "sag"}
	toBounce = []string{"wheel rate there", "bounce frequency"}
	toGas    = []string{"spring rate over a fast stroke"}
)

func join(lists ...[]string) []string {
	var all []string
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

// By hand from handJob: 28 % of 150 mm and 20 % of 160 mm along the stanchions
// times sin φ.
func TestWorkingOfTheTarget(t *testing.T) {
	j := handJob()
	s := sheet(t, j)
	rear, front := s.Working(j, RearEnd), s.Working(j, FrontEnd)
	near(t, "travel", float64(found(t, rear, "travel at the target").(units.Length)), 0.28*0.15, 1e-12)
	near(t, "stroke", float64(found(t, rear, "stroke there").(units.Length)), 0.28*0.06, 1e-12)
	near(t, "force", float64(found(t, rear, "force that the spring must carry").(units.Force)), handForce, 1e-12)
	near(t, "rate", float64(found(t, rear, "exact spring").(units.Stiffness)), handIdeal, 1e-12)
	if exact := rear[len(rear)-1]; exact.Source != "a linear spring, with the collar's least preload" || exact.Given[2].Quantity != units.Length(tPreload) {
		t.Errorf("exact spring by %q with %v", exact.Source, exact.Given[2])
	}
	near(t, "stroke in front", float64(found(t, front, "stroke there").(units.Length)), 0.2*0.16, 1e-12)
	if diff := cmp.Diff(join(toTarget, []string{"exact spring"}), titles(rear)); diff != "" {
		t.Errorf("rear (-want +got):\n%s", diff)
	}
	// A single number of spacers, none, has its fill too.
	if got := titles(front); got[len(got)-1] != "fill" {
		t.Errorf("front: %v", got)
	}
	if diff := cmp.Diff(join([]string{"preload that this spring wants", "preload to set"}, toRest, toBounce), titles(s.RestWorking(j, RearEnd))); diff != "" {
		t.Errorf("rear at rest (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(join(toRest, toGas, toBounce), titles(s.RestWorking(j, FrontEnd))); diff != "" {
		t.Errorf("front at rest (-want +got):\n%s", diff)
	}
}

// The pitch of the collar is told where it is known.
func TestWorkingTellsThePitch(t *testing.T) {
	for _, pitch := range []units.Length{0, 1.5e-3} {
		j := handJob()
		j.Rear.Coil.ThreadPitch = pitch
		steps := sheet(t, j).RestWorking(j, RearEnd)
		var got any
		for _, g := range steps[1].Given {
			if g.Symbol == "pitch" {
				got = g.Quantity
			}
		}
		if (got != nil) != (pitch > 0) || got != nil && got != pitch {
			t.Errorf("a pitch of %v is told as %v", pitch, got)
		}
	}
}

// Where there is no balance nothing is said of rest: of a coil only its preload,
// of air nothing.
func TestWorkingWithoutARest(t *testing.T) {
	top := handJob()
	top.Rear.Coil.PreloadMin, top.Rear.Coil.PreloadMax = 0.03, 0.03 // 2550 N, of 1397 N
	s := sheet(t, top)
	if !has(s.Rear.Coil.Candidates[0].Findings, HeldAtTop) {
		t.Fatalf("findings %v", s.Rear.Coil.Candidates[0].Findings)
	}
	if diff := cmp.Diff([]string{"preload that this spring wants", "preload to set"}, titles(s.RestWorking(top, RearEnd))); diff != "" {
		t.Errorf("a coil at the top (-want +got):\n%s", diff)
	}

	// With 0.1 bar at the most, 108 kPa absolute, 962 mm² carry at the end, 1.63
	// times compressed, (1.63·108 − 98) kPa·962 mm² = 75 N, and 335 N press on them.
	low := handJob()
	low.Front.Air.MaxFill, low.Front.Air.Bore, low.Front.Air.PositiveVolume, low.Front.Air.OilVolume = 1e4, 0.035, 400e-6, 0
	s = sheet(t, low)
	if !has(s.Front.Air.Options[0].Findings, Collapses) {
		t.Fatalf("findings %v", s.Front.Air.Options[0].Findings)
	}
	if steps := s.RestWorking(low, FrontEnd); steps != nil {
		t.Errorf("air at the end of its travel: %v", titles(steps))
	}
}

// With another job than its own a sheet's working stops where the two part.
func TestWorkingOfAnotherJob(t *testing.T) {
	own := handJob()
	s := sheet(t, own)
	swapped := handJob()
	swapped.Front.Air, swapped.Front.Coil = nil, own.Rear.Coil
	swapped.Rear.Coil, swapped.Rear.Air = nil, own.Front.Air
	for _, end := range []End{FrontEnd, RearEnd} {
		if diff := cmp.Diff(toTarget, titles(s.Working(swapped, end))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", end, diff)
		}
	}
	if got := titles(s.RestWorking(swapped, RearEnd)); len(got) > 0 && strings.HasPrefix(got[0], "preload") {
		t.Errorf("a preload of a job without a collar: %v", got)
	}
	s.Rear.Coil.Candidates, s.Front.Air.Options = nil, nil
	if diff := cmp.Diff(toTarget, titles(s.Working(own, FrontEnd))); diff != "" {
		t.Errorf("no options (-want +got):\n%s", diff)
	}
	for _, end := range []End{FrontEnd, RearEnd} {
		for _, name := range titles(s.RestWorking(own, end)) {
			if strings.HasPrefix(name, "preload") {
				t.Errorf("%s: %s, of no spring", end, name)
			}
		}
	}
	s.Rear.Coil = nil
	if diff := cmp.Diff(toTarget, titles(s.Working(own, RearEnd))); diff != "" {
		t.Errorf("no spring at all (-want +got):\n%s", diff)
	}
}
