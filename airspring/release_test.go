package airspring_test

import (
	"fmt"
	"strings"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// releases are invented springs from which air is let out: sizes in mm and cm³, fills in psi, and
// how far they may be pulled in, 0 for the usual.
var releases = []struct{ bore, shaft, positive, negative, port, old, fill, pull float64 }{
	{34, 10, 220, 50, 8, 120, 40, 0}, {34, 10, 220, 50, 8, 120, 40, 6}, {36, 10, 220, 50, 8, 64.5, 55, 0},
	{32, 9, 150, 40, 5, 100, 50, 0}, {32, 9, 150, 40, 5, 100, 50, 3}, {38, 12, 280, 110, 12, 90, 20, 0},
	{35, 10, 210, 40, 8, 80, 5, 0}, {40, 12.7, 105, 45, 3, 215, 180, 0}, {46, 14, 135, 70, 2, 260, 120, 1},
	{36, 10, 62, 120, 4, 150, 90, 0}, {36, 10, 62, 30, 0, 150, 90, 0}, {30, 8, 300, 60, 30, 110, 60, 0},
	{33, 20, 170, 45, 10, 95, 10, 0}, {34, 10, 220, 50, 1, 80, 78, 0},
}

func release(i int) airspring.TopUp {
	r := releases[i]
	return airspring.TopUp{
		Bore: units.Length(r.bore) * mm, Shaft: units.Length(r.shaft) * mm, PortTravel: units.Length(r.port) * mm, PullIn: units.Length(r.pull) * mm,
		PositiveVolume: units.Volume(r.positive) * cm3, NegativeVolume: units.Volume(r.negative) * cm3,
		OldFill: units.PSIGauge(r.old), Fill: units.PSIGauge(r.fill), Within: units.PSIGauge(0.1), Ambient: airspring.SeaLevel,
	}
}

// A rig from which gas is let out, a twentieth of a step at a time, until the gauge
// shows what the plan says, stands where the plan says, and never farther in than it
// may. So it does after each cycle, and at the end it holds the fill.
func TestReleaseKeepsTheSpringShortOfItsPort(t *testing.T) {
	for i := range releases {
		ask := release(i)
		plan, err := airspring.PlanTopUp(ask)
		if err != nil {
			t.Errorf("%v: %v", releases[i], err)
			continue
		}
		if ask.PullIn > 0 && plan.PullIn != ask.PullIn || !(plan.PullIn <= ask.PortTravel) {
			t.Errorf("%v: pulled in by %v", releases[i], plan.PullIn)
		}
		r := newRig(ask)
		same := func(what string, got, want float64) {
			t.Helper()
			unitstest.Near(t, what, got, want, unitstest.Rel(1e-9), unitstest.Abs(1e-9))
		}
		_, gauge := r.stands()
		same("gauge at first", plan.Steps[0].Before.Pascals(), gauge)
		farthest, cycles := 0.0, 0
		for _, step := range plan.Steps {
			switch step.Action {
			case airspring.Release:
				left := bisect(0, r.molesAbove, func(moles float64) float64 {
					bled := *r
					bled.molesAbove = moles
					_, gauge := bled.stands()
					return gauge - step.After.Pascals()
				})
				for from, k := r.molesAbove, 1; k <= 20; k++ {
					r.molesAbove = from + (left-from)*float64(k)/20
					x, _ := r.stands()
					farthest = max(farthest, x)
				}
			case airspring.Cycle:
				r.cycle()
				above, below := r.pressures(0)
				same("reading at full extension", plan.Reading[cycles].Pascals(), above-r.outside)
				same("negative chamber", plan.NegativePressure[cycles].Pascals(), below)
				cycles++
			default:
				t.Errorf("%v: %v while letting air out", releases[i], step.Action)
			}
			x, gauge := r.stands()
			same("gauge", step.After.Pascals(), gauge)
			same("where it stands", step.Stands.Metres(), x)
		}
		if !(farthest <= plan.PullIn.Metres()+1e-9) {
			t.Errorf("%v: pulled in by %.3f mm, the plan says %v at most", releases[i], farthest*1e3, plan.PullIn)
		}
		if off := plan.Reading[cycles-1] - ask.Fill; !(off >= -1e-3 && off <= ask.Within) {
			t.Errorf("%v: ends %v above", releases[i], off)
		}
	}
}

// Setting the fill at once lets the negative chamber pull the spring past its port, as the
// rig shows: from 120 to 40 psi more than half of an invented fork's travel.
func TestReleaseAtOncePullsPastThePort(t *testing.T) {
	r := newRig(release(0))
	r.molesAbove *= (40 + 14.696) / (120 + 14.696)
	if x, _ := r.stands(); !(x > 5*r.port) {
		t.Errorf("pulled in by %.1f mm", x*1e3)
	}
}

// A shorter stroke takes more rounds; none goes beyond it. The usual one is three quarters
// of the way from where the spring stands at the end to the port.
func TestReleaseTakesMoreRoundsOverAShorterStroke(t *testing.T) {
	ask, before := release(0), 0
	for _, pull := range []float64{7.9, 7, 6, 5, 4.7} {
		ask.PullIn = units.Length(pull) * mm
		plan, err := airspring.PlanTopUp(ask)
		if err != nil || plan.Cycles <= before {
			t.Errorf("%v: %d rounds after %d, %v", pull, plan.Cycles, before, err)
		}
		before = plan.Cycles
	}
	ask.PullIn, ask.Within = 0, 1e-3
	plan, err := airspring.PlanTopUp(ask)
	if err != nil {
		t.Fatal(err)
	}
	last := plan.Steps[len(plan.Steps)-1].Stands
	unitstest.Near(t, "stroke", plan.PullIn-last, 3*(ask.PortTravel-plan.PullIn), unitstest.Rel(1e-6))
}

// A stroke must lead farther in than the spring stands once it was cycled at the new
// fill. A thin shaft pushes so little that any stroke takes too many rounds.
func TestReleaseNeedsAStroke(t *testing.T) {
	ask := release(0)
	ask.Within = 1e-3
	plan, err := airspring.PlanTopUp(ask)
	if err != nil {
		t.Fatal(err)
	}
	short, thin := ask, ask
	short.PullIn = plan.Steps[len(plan.Steps)-1].Stands * (1 - 1e-6)
	thin.PullIn, thin.Shaft = 7.9999*mm, 0.1*mm
	for want, ask := range map[string]airspring.TopUp{"more than 4.502012 mm, where the spring stands": short, "at most 1000 cycles": thin} {
		_, err := airspring.PlanTopUp(ask)
		if wantFields(t, want, err, "pull_in"); !strings.Contains(fmt.Sprint(err), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// The port lies past an inch on few springs; the words fit both.
func TestTopUpSaysHowFarToCycle(t *testing.T) {
	for i, want := range map[int]string{
		0:  "unscrew the pump and cycle slowly about an inch, past the port at 8.0 mm",
		11: "unscrew the pump and cycle slowly, past the port at 30.0 mm",
	} {
		plan, err := airspring.PlanTopUp(release(i))
		if err != nil {
			t.Fatal(err)
		}
		if plan.Steps[0].Text != "let air out slowly, with no load on the spring" || plan.Steps[1].Text != want {
			t.Errorf("%q, %q", plan.Steps[0].Text, plan.Steps[1].Text)
		}
	}
}
