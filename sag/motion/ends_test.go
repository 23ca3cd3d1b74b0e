package motion_test

import (
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"log"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

const g0 = units.StandardGravity

// coil is a linear spring of that rate, preload force and travel behind a constant ratio, all at
// the wheel.
func coil(t testing.TB, ratio float64, rate units.Stiffness, preload units.Force, travel units.Length) *linkage.WheelLaw {
	t.Helper()
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: ratio, Travel: travel})
	require.NoError(t, err)
	law, err := spring.NewLinear(spring.Linear{
		Rate: rate * units.Stiffness(ratio*ratio), Travel: travel / units.Length(ratio),
		Preload: units.Length(float64(preload) / float64(rate) / ratio),
	})
	require.NoError(t, err)
	wheel, err := linkage.AtWheel(curve, law)
	require.NoError(t, err)
	return wheel
}

// rider is the bike of testdata/dop853.py, with its dampers at the wheel.
func rider(t testing.TB) motion.TwoEnds {
	return motion.TwoEnds{
		Mass: 82, Gyration: 0.42, Ahead: 0.68, Behind: 0.52,
		Front: motion.Corner{Spring: coil(t, 1, 7e3, 60, 0.16), Stops: 150e3, Damping: 420, Unsprung: 3.2, Tyre: 90e3},
		Rear:  motion.Corner{Spring: coil(t, 2.5, 9.5e3, 90, 0.15), Stops: 170e3, Damping: 560, Unsprung: 4.1, Tyre: 110e3},
	}
}

// bump is half a sine of 80 mm over 1.2 m, 0.6 m ahead, met at 6 m/s; later by a delay.
func bump(delay float64) motion.Ground { return halfSine(6, 0.08, 1.2, delay) }

func halfSine(speed, height, length, delay float64) motion.Ground {
	return func(t float64) (units.Length, units.Speed) {
		x := speed*(t-delay) - 0.6
		if !(x > 0 && x < length) {
			return 0, 0
		}
		sin, cos := math.Sincos(math.Pi * x / length)
		return units.Length(height * sin), units.Speed(height * math.Pi / length * speed * cos)
	}
}

//go:embed testdata/dop853.json
var dop853 []byte

// Both ends over bumps, with wheels that lift off and stops that are touched, against SciPy's
// DOP853 on equations of its own; see testdata/dop853.py. The damper of the rear is at the shock.
func TestRidesAgainstAnotherIntegrator(t *testing.T) {
	var want struct {
		Rides []struct {
			Mass, Share, Speed, Height, Length float64
			Rest                               []float64
			Rows                               [][]float64
		}
	}
	require.NoError(t, json.Unmarshal(dop853, &want))
	require.Len(t, want.Rides, 10)
	for i, ride := range want.Rides {
		require.Len(t, ride.Rows, 12)
		bike, delay := rider(t), 1.2/ride.Speed
		bike.Mass, bike.Front.Damping, bike.Rear.Damping = units.Mass(ride.Mass), units.Damping(420*ride.Share), 0
		bike.Rear.Damper = linearDamper(560 * 2.5 * 2.5 * ride.Share)
		bike.Front.Ground, bike.Rear.Ground = halfSine(ride.Speed, ride.Height, ride.Length, 0), halfSine(ride.Speed, ride.Height, ride.Length, delay)
		rest, err := bike.Rest()
		require.NoError(t, err)
		for j, v := range ride.Rest {
			within(t, fmt.Sprintf("ride %d: rest[%d]", i, j), rest[j], v, 1e-12)
		}
		s := solver(t, motion.Problem{Slope: bike.Slope, Scale: bike.Scale(), Events: bike.Kinks(), Tolerance: 1e-11})
		s.Start(0, rest, 1e-3)
		from, to := 0.6/ride.Speed, (0.6+ride.Length)/ride.Speed
		kinks := []float64{from, from + delay, to, to + delay}
		slices.Sort(kinks)
		for _, row := range ride.Rows {
			for _, end := range append(slices.Clone(kinks), row[0]) {
				for end <= row[0] && s.Step(end) {
				}
			}
			what := fmt.Sprintf("ride %d at %.2f s: ", i, row[0])
			for j, at := range []int{motion.Heave, motion.Pitch, motion.FrontAxle, motion.RearAxle} {
				within(t, fmt.Sprintf("%sstate %d", what, at), s.State()[at], row[1+j], 2e-9)
			}
			within(t, what+"front work", s.State()[motion.FrontWork], row[5], 2e-6)
			within(t, what+"rear work", s.State()[motion.RearWork], row[6], 2e-6)
		}
	}
}

// follow follows a problem to a time and calls each at the end of every step.
func follow(s *motion.Solver, end float64, each func(t float64, y []float64)) {
	for s.Step(end) {
		each(s.Time(), s.State())
	}
}

// shock is an invented air shock behind a rising lever ratio, with stops.
func shock(t testing.TB) *linkage.WheelLaw {
	t.Helper()
	law, err := airspring.New(airspring.Spec{Bore: 0.045, Travel: 0.06, PositiveVolume: 190e-6, Ambient: 98e3, Exponent: 1.4, Fill: 900e3})
	require.NoError(t, err)
	curve, err := linkage.NewTable(linkage.Table{
		Stroke: []units.Length{0, 0.02, 0.04, 0.06}, Travel: []units.Length{0, 0.054, 0.103, 0.149},
	})
	require.NoError(t, err)
	wheel, err := linkage.AtWheel(curve, law)
	require.NoError(t, err)
	return wheel
}

// digressive is an invented damper, as measured: in pairs, speed and force.
var digressive = measured{{-0.52, -1000}, {-0.26, -760}, {-0.13, -520}, {-0.05, -260}, {0, 0}, {0.05, 120}, {0.13, 260}, {0.26, 380}, {0.52, 520}, {1, 700}}

// stored returns the energy of spring, stops and tyre in J, and that of the axle's motion and height.
func stored(e motion.Corner, f motion.Forces, axle, speed float64) float64 {
	end := min(max(f.Travel, 0), e.Spring.Travel())
	over := float64(f.Travel - end)
	sum := float64(e.Spring.Energy(end)) + float64(e.Spring.Force(end))*over + float64(e.Stops)*over*over/2
	if e.Tyre > 0 {
		sum += math.Pow(float64(f.Ground), 2)/float64(2*e.Tyre) + float64(e.Unsprung)*(speed*speed/2+g0*axle)
	}
	return sum
}

// What the bike has lost of its energy is what its dampers have taken, in a drop onto both
// wheels that bottoms out and bounces, and over ground that moves with the work of the ground, on tyres
// and on rigid wheels. The work is its force times its speed, a state of its own here.
func TestEnergyBalance(t *testing.T) {
	bike := rider(t)
	bike.Rear.Spring, bike.Rear.Damping = shock(t), 0
	bike.Rear.Damper = digressive.curve(t)
	for name, ground := range map[string][2]motion.Ground{"drop": {}, "bump": {bump(0), bump(0.2)}, "rigid": {bump(0), bump(0.2)}} {
		b := bike
		b.Front.Ground, b.Rear.Ground = ground[0], ground[1]
		if name == "rigid" {
			b.Front.Tyre, b.Rear.Tyre = 0, 0
		}
		y, err := b.Rest()
		require.NoError(t, err)
		if name == "drop" {
			for _, i := range []int{motion.Heave, motion.FrontAxle, motion.RearAxle} {
				y[i] += 1.2
			}
			y[motion.Pitch] -= 0.1
		}
		states := motion.TwoEndStates
		s := solver(t, motion.Problem{Scale: append(b.Scale(), 150), Tolerance: 1e-11, Slope: func(t float64, y, slope []float64) {
			b.Slope(t, y[:states], slope[:states])
			front, rear := b.Forces(t, y[:states])
			slope[states] = 0
			for i, f := range []motion.Forces{front, rear} {
				if ground[i] != nil {
					_, speed := ground[i](t)
					slope[states] += float64(f.Ground) * float64(speed)
				}
			}
		}})
		s.Start(0, append(y, 0), 1e-3)
		energy := func(at float64, y []float64) float64 {
			front, rear := b.Forces(at, y)
			turn := float64(b.Gyration) * y[motion.PitchSpeed]
			return float64(b.Mass)*((y[motion.HeaveSpeed]*y[motion.HeaveSpeed]+turn*turn)/2+g0*y[motion.Heave]) +
				stored(b.Front, front, y[motion.FrontAxle], y[motion.FrontAxleSpeed]) + stored(b.Rear, rear, y[motion.RearAxle], y[motion.RearAxleSpeed])
		}
		begin := energy(0, y)
		bottomed, lifted, work, worst := false, false, 0.0, 0.0
		for _, end := range []float64{0.1, 0.3, 0.5, 2} { // the speed of the ground jumps there, which a rigid wheel has to follow
			follow(s, end, func(at float64, y []float64) {
				work = y[motion.FrontWork] + y[motion.RearWork]
				worst = max(worst, math.Abs(energy(at, y)+work-y[states]-begin))
				front, rear := b.Forces(at, y[:states])
				bottomed = bottomed || front.Travel > 0.16 || rear.Travel > 0.149
				lifted = lifted || front.Ground == 0 || rear.Ground == 0
			})
		}
		if !(worst < 1e-5) || !(work > 50) || lifted == (name == "rigid") || bottomed != (name == "drop") {
			t.Errorf("%s: off by %v J; dampers took %v J; lifted %v, bottomed %v", name, worst, work, lifted, bottomed)
		}
	}
}

// alike is a bike of two equal ends under a mass each, which heaves alone.
func alike(mass units.Mass, end motion.Corner) motion.TwoEnds {
	return motion.TwoEnds{Mass: 2 * mass, Gyration: 0.5, Ahead: 0.6, Behind: 0.6, Front: end, Rear: end}
}

// crossings returns the times at which a bike that heaves passes its rest upward.
func crossings(t testing.TB, b motion.TwoEnds, rest, from, end float64) (times []float64, peaks []float64) {
	s := solver(t, motion.Problem{Slope: b.Slope, Scale: b.Scale(), Tolerance: 1e-11})
	y := make([]float64, motion.TwoEndStates)
	y[motion.Heave] = from
	s.Start(0, y, 1e-3)
	follow(s, end, func(float64, []float64) {
		if at, ok := s.Find(func(_ float64, y []float64) float64 { return y[motion.Heave] - rest }); ok {
			times = append(times, at)
		}
		if at, ok := s.Find(func(_ float64, y []float64) float64 { return -y[motion.HeaveSpeed] }); ok {
			y := make([]float64, motion.TwoEndStates)
			s.At(at, y)
			peaks = append(peaks, y[motion.Heave]-rest)
		}
	})
	return times, peaks
}

// Bevan, The Theory of Machines, chapter 15, example 4: 50 lbf on 100 lbf/in swings at 4.424 Hz,
// with a damper of which (k/m)/(c/m)² = 20.79 at 4.398 Hz. McLean, Engineering Mechanics, problem
// 19.19 and 19.20: 12 lbf on 20 lbf/in and a damper of 10 lbf at 20 in/s swing with 24.0 rad/s,
// and the logarithm of the decrement is 2.095. Both are read in an open collection of notebooks
// that work the books' examples, not in the books. They take 32.2 ft/s² and 386 in/s².
func TestPublishedDampedSwings(t *testing.T) {
	const lbf, inch = 4.4482216152605, 0.0254
	k, m := 100*lbf/inch, 50*lbf/(32.2*12*inch)
	for _, test := range []struct {
		name          string
		rate, mass, c float64
		frequency, by float64 // Hz
		decrement     float64 // 0: not published
	}{
		{"Bevan, free", k, m, 0, 4.424, 0.0005, 0},
		{"Bevan, damped", k, m, math.Sqrt(k * m / 20.79), 4.398, 0.0005, 0},
		// One unit of the last printed digit: the notebook has 24.0, and says the book has 24.1.
		{"McLean", 20 * lbf / inch, 12 * lbf / (386 * inch), 0.5 * lbf / inch, 24.0 / (2 * math.Pi), 0.1 / (2 * math.Pi), 2.095},
	} {
		e := alike(units.Mass(test.mass), motion.Corner{Spring: coil(t, 1, units.Stiffness(test.rate), 0, 0.5), Damping: units.Damping(test.c)})
		rest := -test.mass * g0 / test.rate
		times, peaks := crossings(t, e, rest, rest-0.005, 1.2)
		require.Greater(t, len(times), 2, test.name)
		within(t, test.name, 1/(times[2]-times[1]), test.frequency, test.by)
		if test.decrement > 0 {
			// They take ζ = 0.316 of 0.3171, to three digits: 2.095 of 2.101.
			within(t, "decrement", math.Log(peaks[0]/peaks[1]), test.decrement, 0.01)
		}
	}
}

// Let go at full extension on a preload that holds it up, an end is at rest in the upper stop.
func TestRestInTheStops(t *testing.T) {
	bike := alike((50 * units.Newton).Mass(), motion.Corner{Spring: coil(t, 1, 1e4, 80, 0.1), Stops: 1e5, Tyre: 1e5, Unsprung: 3})
	y, err := bike.Rest()
	require.NoError(t, err)
	f, _ := bike.Forces(0, y)
	near(t, "in the upper stop", float64(f.Travel), -30/1e5, 1e-12)
	near(t, "force", float64(f.Spring), 50, 1e-12)
	near(t, "ground", float64(f.Ground), 50+3*g0, 1e-12)
	bike.Mass = 2 * (2000 * units.Newton).Mass()
	y, err = bike.Rest()
	require.NoError(t, err)
	_, f = bike.Forces(0, y)
	near(t, "in the lower stop", float64(f.Travel), 0.1+(2000-1080)/1e5, 1e-12)
	slope := make([]float64, motion.TwoEndStates)
	bike.Slope(0, y, slope)
	for i, v := range slope {
		within(t, fmt.Sprintf("slope %d", i), v, 0, 1e-10)
	}
	bike.Rear.Stops = 0
	y, err = bike.Rest()
	require.True(t, errors.Is(err, spring.ErrBottomedOut) && y == nil, "%v", err)
	b := rider(t)
	b.Front.Stops, b.Front.Spring = 0, coil(t, 1, 1e4, 5000, 0.1)
	_, err = b.Rest()
	require.ErrorIs(t, err, spring.ErrToppedOut)
	require.ErrorContains(t, err, "front")
	b.Rear.Stops, b.Front, b.Rear.Spring = 0, b.Rear, b.Front.Spring
	_, err = b.Rest()
	require.ErrorContains(t, err, "rear")
}

// Where a bike stands. By hand: the front carries 80 kg · 0.45/1.2 = 30 kg on 5 N/mm, 58.8 mm.
func ExampleTwoEnds() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: 160 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	law, err := spring.NewLinear(spring.Linear{Rate: 5 * units.NewtonPerMillimetre, Travel: 160 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	wheel, err := linkage.AtWheel(curve, law)
	if err != nil {
		log.Fatal(err)
	}
	end := motion.Corner{Spring: wheel}
	bike := motion.TwoEnds{Mass: 80, Gyration: 0.6, Ahead: 0.75, Behind: 0.45, Front: end, Rear: end}
	rest, err := bike.Rest()
	if err != nil {
		log.Fatal(err)
	}
	front, rear := bike.Forces(0, rest)
	fmt.Printf("front %.1f, rear %.1f, nose up by %.1f\n", front.Travel, rear.Travel, units.Angle(rest[motion.Pitch]))
	// Output: front 58.8 mm, rear 98.1 mm, nose up by 1.9°
}

// The budget is 2 ms for one second of a two-wheel ride, with errors below 1e-6 of the travel and
// no allocations while it runs; [TestRideWithinItsAccuracy] holds the accuracy.
func BenchmarkRide(b *testing.B) {
	_, s, rest := ride(b, rideTolerance)
	b.ReportAllocs()
	for b.Loop() {
		s.Start(0, rest, 1e-3)
		for _, end := range rideEnds {
			for s.Step(end) {
			}
		}
		if s.Time() != 1 {
			b.Fatal(s.Time())
		}
	}
}

// rideTolerance is that of the benchmark.
const rideTolerance = 1.5e-7

// rideEnds are where the ground of the ride has kinks, and its end.
var rideEnds = [...]float64{0.1, 0.3, 0.5, 1}

// ride is a second over a bump, on a coil in front and air behind a linkage, with measured dampers.
func ride(t testing.TB, tolerance float64) (*motion.TwoEnds, *motion.Solver, []float64) {
	bike := rider(t)
	bike.Front.Damping, bike.Front.Damper = 0, digressive.curve(t)
	bike.Rear.Spring, bike.Rear.Damping, bike.Rear.Damper = shock(t), 0, digressive.curve(t)
	bike.Front.Ground, bike.Rear.Ground = bump(0), bump(0.2)
	rest, err := bike.Rest()
	require.NoError(t, err)
	return &bike, solver(t, motion.Problem{Slope: bike.Slope, Scale: bike.Scale(), Events: bike.Kinks(), Tolerance: tolerance}), rest
}

// The ride of the benchmark is within 1e-6 of the travel of one with a thousandth of the
// permitted error, at and within all steps, and does not allocate.
func TestRideWithinItsAccuracy(t *testing.T) {
	_, fine, rest := ride(t, rideTolerance*1e-3)
	_, s, _ := ride(t, rideTolerance)
	fine.Start(0, rest, 1e-3)
	s.Start(0, rest, 1e-3)
	worst, got, want := 0.0, make([]float64, motion.TwoEndStates), make([]float64, motion.TwoEndStates)
	for _, end := range rideEnds {
		for s.Step(end) {
			for i := range 4 {
				from, _ := s.Last()
				at := from + (s.Time()-from)*float64(i+1)/4
				for fine.Time() < at && fine.Step(end) {
				}
				s.At(at, got)
				fine.At(at, want)
				for j := motion.Heave; j < motion.HeaveSpeed; j++ {
					worst = max(worst, math.Abs(got[j]-want[j]))
				}
			}
		}
	}
	if !(worst < 1e-6*0.149) || !(worst > 1e-9*0.149) {
		t.Errorf("off by %v of the travel", worst/0.149)
	}
	if n := testing.AllocsPerRun(3, func() {
		s.Start(0, rest, 1e-3)
		for s.Step(1) {
		}
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
