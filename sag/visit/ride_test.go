package visit_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// rides is the bike of handRecord with an end in place of its rear one, 558.97905 N on it.
func rides(s visit.Setting) visit.Record {
	r := handRecord()
	r.Rear = &visit.EndRecord{Setting: s}
	return r
}

func ridden(t testing.TB, r visit.Record, stroke, off units.Length) *visit.RideReport {
	t.Helper()
	a, err := ride(r, sag.Rear, visit.Ride{Stroke: stroke * milli, Error: off * milli})
	require.NoError(t, err)
	return a
}

// deepest lets a load fall on an end from a height and follows it by its forces alone, in small
// steps; it returns the deepest travel, or the full travel.
func deepest(t testing.TB, e sag.End, load units.Force, height units.Length) float64 {
	t.Helper()
	_, fast, err := e.Wheel()
	require.NoError(t, err)
	const step = 2e-6
	x, v := 0.0, math.Sqrt(2*units.StandardGravity*float64(height))
	push := func(x float64) float64 {
		return units.StandardGravity * (1 - float64(fast.Force(units.Length(x)))/float64(load))
	}
	for v > 0 || x == 0 { // leapfrog
		v += push(x) * step / 2
		x += v * step
		v += push(x) * step / 2
		if x >= float64(fast.Travel()) {
			return float64(fast.Travel())
		}
	}
	return x
}

// By hand: 80 N/mm over 2 to 52 mm of compression stores ½·80·(52² − 2²) = 108 000 N·mm. Under
// 558.97905 N that is 193.210 mm of fall, of which 50·2.5 = 125 mm are travel. Over the full stroke it
// is ½·80·(62² − 2²) = 153.6 J, 274.787 mm less 150.
func TestRideIsADropByItsEnergy(t *testing.T) {
	a := ridden(t, rides(coilEnd()), 50, 1)
	near(t, "travel", float64(a.Travel), 0.125, 1e-12)
	near(t, "used", a.Used, 125.0/150, 1e-12)
	near(t, "least", a.UsedLow, 122.5/150, 1e-12)
	near(t, "most", a.UsedHigh, 127.5/150, 1e-12)
	near(t, "drop", float64(a.Drop), 108/558.97905-0.125, 1e-9)
	near(t, "reserve", float64(a.Reserve.DropHeight), 153.6/558.97905-0.15, 1e-9)
	if a.Landing != nil {
		t.Error("a landing that nobody asked about")
	}
}

// A drop of the height that is reported uses the travel that was used, and with every option the travel
// that is reported, by forces in small steps: neither knows of energies.
func TestTheSameHitFallsAsFarAsReported(t *testing.T) {
	air := airEnd()
	air.Air.Exponent, air.Air.SpacerVolume, air.Air.Spacers, air.Air.OilVolume = 1.35, 8e-6, 1, 5e-6
	few := 0
	for _, test := range []struct {
		name    string
		s       visit.Setting
		stroke  units.Length
		verdict visit.RideVerdict
		options int
	}{
		{"coil, all used", coilEnd(), 60, visit.AllUsed, 3},
		{"coil, little used", coilEnd(), 46, visit.LittleUsed, 2},
		{"table, all used", tableEnd(), 65, visit.AllUsed, 3},
		{"table, little used", tableEnd(), 45, visit.LittleUsed, 2},
		{"air, all used", air, 160, visit.AllUsed, 3},
		{"air, little used", air, 130, visit.LittleUsed, 3},
	} {
		r := rides(test.s)
		o := outcome(t, r, sag.Rear)
		a := ridden(t, r, test.stroke, 0.5)
		if a.Verdict != test.verdict || len(a.Options) < test.options {
			t.Errorf("%s: %s, %d options: %+v", test.name, a.Verdict, len(a.Options), a.Options)
		}
		fast := func(s visit.Setting) sag.End {
			end := stands(t, s)
			if s.Air != nil {
				spec := gasOf(t, s)
				spec.Exponent = s.Air.Exponent
				var err error
				end, err = sag.AirEnd(end.Curve, spec)
				require.NoError(t, err)
			}
			return end
		}
		full := float64(fast(test.s).Curve.Travel())
		near(t, test.name, deepest(t, fast(test.s), o.Load, a.Drop)/full, a.Used, 1e-5)
		for _, option := range a.Options {
			s := test.s
			if s.Air != nil {
				other := *s.Air
				other.Fill, other.Spacers = option.Fill, option.Spacers
				s.Air = &other
			} else {
				s.Coil = &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: option.Rate}, Preload: option.Preload}
			}
			end := fast(s)
			what := test.name + ", " + string(option.Adjustment)
			near(t, what, deepest(t, end, o.Load, a.Drop)/full, option.Used, 1e-5)
			rest, _, err := end.SettleWithin(o.Load)
			require.NoError(t, err)
			near(t, what+" at rest", option.Sag, rest.Sag, 1e-9)
			few++
		}
	}
	if few < 15 {
		t.Errorf("only %d options were followed", few)
	}
}

// All used is full stroke within the ring's error, well used 85 % within it. On 60 mm of stroke that
// is 59 mm with 1 mm, and 50 mm with 1 mm at a constant ratio.
func TestRideVerdicts(t *testing.T) {
	for _, test := range []struct {
		stroke, off units.Length
		want        visit.RideVerdict
	}{
		{60, 1, visit.AllUsed}, {60.5, 1, visit.AllUsed}, {59.01, 1, visit.AllUsed}, {58.9, 1, visit.WellUsed},
		{51, 0.5, visit.WellUsed}, {50.01, 1, visit.WellUsed}, {49.9, 1, visit.LittleUsed}, {5, 1, visit.LittleUsed},
	} {
		a := ridden(t, rides(coilEnd()), test.stroke, test.off)
		if a.Verdict != test.want {
			t.Errorf("%v ± %v mm: %s", float64(test.stroke), float64(test.off), a.Verdict)
		}
		if a.Verdict == visit.WellUsed != (len(a.Options) == 0) {
			t.Errorf("%s with options %+v", a.Verdict, a.Options)
		}
		if a.UsedHigh > 1 || a.Used > 1 || a.Stroke > 60*milli {
			t.Errorf("more than all is used: %+v", a)
		}
	}
	// A spring that binds at 55 mm of stroke uses its all there.
	s := coilEnd()
	s.Coil.SolidTravel = 57 * milli
	if a := ridden(t, rides(s), 54.5, 1); a.Verdict != visit.AllUsed {
		t.Errorf("bound: %s", a.Verdict)
	}
}

// The job's shelf gives the next rate, its count of spacers the end of them, its drop a landing; and
// nothing is offered that makes the hit go the wrong way.
func TestRideAsksTheJob(t *testing.T) {
	r := visited(t)
	r.Job.Rear.DropHeight, r.Job.Rear.DampingRatio = 300*milli, 0.3
	a := ridden(t, r, 65, 1)
	rate := func(a *visit.RideReport) float64 {
		for _, o := range a.Options {
			if o.Adjustment == visit.AdjustRate {
				return o.Rate.PoundsForcePerInch()
			}
		}
		return 0
	}
	fitted := r.Rear.Coil.Rate.PoundsForcePerInch()
	near(t, "harder", rate(a), fitted+50, 1e-9)
	near(t, "softer", rate(ridden(t, r, 40, 1)), fitted-50, 1e-9)
	// The nearest of several, and none beyond the last; of the sag a step is 2 %.
	other := visited(t)
	other.Rear.Coil.Rate, other.Rear.Coil.SolidTravel = 350*units.PoundForcePerInch, 76*milli
	near(t, "the next of three", rate(ridden(t, other, 65, 1)), 400, 1e-9)
	near(t, "none is softer", rate(ridden(t, other, 40, 1)), 0, 0)
	other.Rear.Coil.Rate = 510 * units.PoundForcePerInch
	near(t, "none is harder", rate(ridden(t, other, 65, 1)), 0, 0)
	near(t, "the next below", rate(ridden(t, other, 40, 1)), 500, 1e-9)
	free := coilEnd()
	free.Coil.ThreadPitch, free.Sag = 0, 0.25
	for stroke, want := range map[units.Length]float64{60: 0.23, 40: 0.27} {
		options := ridden(t, rides(free), stroke, 1).Options
		near(t, "first the target", options[0].Sag, 0.25, 1e-6)
		near(t, "then a step", options[len(options)-1].Sag, want, 1e-6)
	}
	if a.Landing == nil || a.Landing.Height != 300*milli || !(a.Landing.Used > 0.3 && a.Landing.Used <= 1) {
		t.Errorf("landing %+v", a.Landing)
	}
	s := sheet(t, *r.Job)
	near(t, "as the sheet lands it", a.Landing.Used, s.Rear.Landing.Used, 1e-9)
	r.Job.Rear.Coil.Springs = r.Job.Rear.Coil.Springs[:0:0]
	near(t, "an empty shelf has nothing", rate(ridden(t, r, 65, 1)), 0, 0)
	r.Job = nil
	near(t, "5 % without a job", rate(ridden(t, r, 65, 1)), fitted*1.05, 1e-9)

	r = visited(t)
	spacers := func(most int) (list []int) {
		r.Job.Front.Air.MaxSpacers, r.Front.Air.Spacers = most, 5
		a, err := ride(r, sag.Front, visit.Ride{Stroke: 0.169, Error: 0.002})
		require.NoError(t, err)
		for _, o := range a.Options {
			if o.Adjustment == visit.AdjustSpacers {
				list = append(list, o.Spacers)
			}
		}
		return list
	}
	require.Empty(t, spacers(5))
	require.Equal(t, []int{6}, spacers(6))
	for _, stroke := range []units.Length{40, 65} {
		a := ridden(t, visited(t), stroke, 1)
		for _, o := range a.Options {
			if (o.Used > a.Used) != (a.Verdict == visit.LittleUsed) && o.Used < 1 {
				t.Errorf("%s of %v: %+v", a.Verdict, a.Used, o)
			}
		}
	}
}

// Where collar or marking end, a step of the sag sets what the target does, and is not offered twice; a
// spring and a spacer more still are.
func TestStepsThatChangeNothingAreLeftOut(t *testing.T) {
	coil, air := coilEnd(), airEnd()
	coil.Sag, coil.Coil.PreloadMax = 0.22, 3*milli // which wants 4.3 mm
	air.Sag, air.Air.SpacerVolume, air.Air.MaxFill = 0.1, 8e-6, air.Air.Fill+2e4
	for _, test := range []struct {
		s      visit.Setting
		stroke units.Length
		want   []visit.Adjustment
	}{
		{coil, 60, []visit.Adjustment{visit.AdjustPreload, visit.AdjustRate}},
		{air, 160, []visit.Adjustment{visit.AdjustFill, visit.AdjustSpacers}},
	} {
		var got []visit.Adjustment
		for _, o := range ridden(t, rides(test.s), test.stroke, 0.5).Options {
			require.Less(t, o.Used, 1.0)
			got = append(got, o.Adjustment)
		}
		require.Equal(t, test.want, got)
	}
}

func TestRidesAreRefusedByField(t *testing.T) {
	nan := units.Length(math.NaN())
	for _, test := range []struct {
		ride visit.Ride
		want []string
	}{
		{visit.Ride{}, []string{"stroke", "error"}},
		{visit.Ride{Stroke: nan, Error: nan}, []string{"stroke", "error"}},
		{visit.Ride{Stroke: 0.05}, []string{"error"}},
		{visit.Ride{Stroke: 0.05, Error: 0.05}, []string{"error"}},
		{visit.Ride{Stroke: 0.05, Error: nan}, []string{"error"}},
		{visit.Ride{Stroke: 0.061, Error: 0.001}, []string{"stroke"}},
		{visit.Ride{Stroke: units.Length(math.Inf(1)), Error: 0.001}, []string{"stroke"}},
	} {
		named(t, test.ride.Stroke.String(), second(ride(rides(coilEnd()), sag.Rear, test.ride)), test.want...)
		r := rides(coilEnd())
		r.Rear.Ride = &test.ride
		if got := names(check(r)); len(got) != len(test.want) || got[0] != "rear.ride."+test.want[0] {
			t.Errorf("in a record: %v", got)
		}
	}
	named(t, "no such end", second(ride(rides(coilEnd()), "middle", visit.Ride{Stroke: 0.05, Error: 0.001})), "end")
	r := rides(coilEnd())
	r.Rear.Coil.Rate = 0
	named(t, "no rate", second(ride(r, sag.Rear, visit.Ride{Stroke: 0.05, Error: 0.001})), "coil.rate")
	r = rides(coilEnd())
	j := recordJob()
	r.Job = &j
	r.Job.Rear.DropHeight, r.Job.Rear.Damping = 0.1, 1e12
	named(t, "a damper of no bike", second(ride(r, sag.Rear, visit.Ride{Stroke: 0.05, Error: 0.001})), "damping")
}
