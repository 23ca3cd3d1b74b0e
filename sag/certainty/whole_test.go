package certainty_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// whole is wholeJob as numbers, with the fill that was chosen.
type whole struct {
	rider, bike, unsprungFront, unsprungRear, share    float64
	wheelbase, height, frontRadius, rearRadius         float64
	offset, bracket, stay, angle                       float64
	fill, volume, bore, rate, preload, ratio, friction float64
}

// energy returns the energy of the bike at a pair of strokes, and how it lies there, of complex numbers so
// that a derivative is an imaginary part. The wheels touch a line below them; springs and sprung mass have
// the energy, and the friction pushes like a spring of constant force.
func (b *whole) energy(front, rear complex128) (energy, pitch, share, wheelbase, bracket complex128) {
	c := func(x float64) complex128 { return complex(x, 0) }
	sin, cos := math.Sincos(b.angle)
	// From the rear axle to the front one, which the line below keeps frontRadius − rearRadius farther off.
	x, y := c(b.wheelbase)-front*c(cos), c(b.frontRadius-b.rearRadius)+front*c(sin)-rear*c(b.ratio)
	step := c(b.frontRadius - b.rearRadius)
	long := x*x + y*y
	wheelbase = cmplx.Sqrt(long - step*step)
	level, rise := (wheelbase*x+step*y)/long, (wheelbase*y-step*x)/long // cosine and sine of the ground in the frame
	total := b.rider + b.bike
	sprung := total - b.unsprungFront - b.unsprungRear
	mx := c(((1-b.share)*total - b.unsprungFront) * b.wheelbase / sprung)
	my := c(b.height-b.rearRadius) - rear*c(b.ratio)
	height := c(b.rearRadius) - rise*mx + level*my
	along := level*mx + rise*my
	area := math.Pi / 4 * b.bore * b.bore
	gas := b.volume - tOil
	full := b.fill + tAmbient
	energy = c(full*gas)*cmplx.Log(c(gas)/(c(gas)-c(area)*front)) - c(tAmbient*area)*front
	energy += c(b.rate)*((rear+c(b.preload))*(rear+c(b.preload)))/2 + c(b.friction)*rear
	energy += c(sprung*tG) * height
	share = (c(sprung)*(1-along/wheelbase) + c(b.unsprungRear)) / c(total)
	bx, by := c(math.Sqrt(b.stay*b.stay-math.Pow(b.bracket-b.rearRadius, 2))), c(b.bracket-b.rearRadius)-rear*c(b.ratio)
	bracket = c(b.rearRadius) - rise*bx + level*by
	return energy, -cmplx.Atan(rise / level), share, wheelbase, bracket
}

// rest returns the answers where the energy is least: its slopes, by a complex step, are 0.
func (b *whole) rest(t *testing.T) map[string]float64 {
	t.Helper()
	const h = 1e-30
	slope := func(s [2]float64) [2]float64 {
		front, _, _, _, _ := b.energy(complex(s[0], h), complex(s[1], 0))
		rear, _, _, _, _ := b.energy(complex(s[0], 0), complex(s[1], h))
		return [2]float64{imag(front) / h, imag(rear) / h}
	}
	s := [2]float64{0.03, 0.015}
	for range 50 {
		g, d := slope(s), 1e-7
		a, c := slope([2]float64{s[0] + d, s[1]}), slope([2]float64{s[0], s[1] + d})
		j := [2][2]float64{{(a[0] - g[0]) / d, (c[0] - g[0]) / d}, {(a[1] - g[1]) / d, (c[1] - g[1]) / d}}
		det := j[0][0]*j[1][1] - j[0][1]*j[1][0]
		s[0] -= (g[0]*j[1][1] - g[1]*j[0][1]) / det
		s[1] -= (g[1]*j[0][0] - g[0]*j[1][0]) / det
	}
	g := slope(s)
	require.True(t, math.Hypot(g[0], g[1]) < 1e-8, "no least energy: %v", g)
	_, pitch, share, wheelbase, bracket := b.energy(complex(s[0], 0), complex(s[1], 0))
	angle := b.angle - real(pitch)
	return map[string]float64{
		"FrontSag": s[0] / tFork, "RearSag": s[1] / tStroke, "FrontStroke": s[0], "RearStroke": s[1], "Pitch": real(pitch), "RearShare": real(share),
		"Wheelbase": real(wheelbase), "HeadAngle": angle, "Trail": (b.frontRadius*math.Cos(angle) - b.offset) / math.Sin(angle), "BottomBracketHeight": real(bracket),
	}
}

// What each input does to both ends settled together, against the least of an energy of its own.
func TestCoupledDerivativesAreThoseOfTheLeastEnergy(t *testing.T) {
	j := wholeJob()
	s := sheet(t, j)
	nominal := whole{tRider, tBike, tUnsprungFront, tUnsprungRear, tShare, tWheelbase, tHeight, tFrontRadius, tRearRadius, tOffset, tBracket, tStay,
		tAngle, float64(s.Front.Air.Options[0].Fill), tVolume, tBore, tRate, tPreload, tRatio, 0}
	for name, a := range answers(propagate(t, j, certainty.Uncertainty{}).Coupled) {
		near(t, name, a.Value, nominal.rest(t)[name], 1e-9)
	}
	type ends = certainty.EndUncertainty
	for _, test := range []struct {
		name string
		u    certainty.Uncertainty
		by   float64
		of   func(*whole) *float64
	}{
		{"rider_mass", certainty.Uncertainty{RiderMass: 2}, 2, func(b *whole) *float64 { return &b.rider }},
		{"bike_mass", certainty.Uncertainty{BikeMass: 0.5}, 0.5, func(b *whole) *float64 { return &b.bike }},
		{"unsprung_front", certainty.Uncertainty{UnsprungFront: 0.2}, 0.2, func(b *whole) *float64 { return &b.unsprungFront }},
		{"unsprung_rear", certainty.Uncertainty{UnsprungRear: 0.2}, 0.2, func(b *whole) *float64 { return &b.unsprungRear }},
		{"rear_share", certainty.Uncertainty{RearShare: 0.01}, 0.01, func(b *whole) *float64 { return &b.share }},
		{"wheelbase", certainty.Uncertainty{Wheelbase: 0.01}, 0.01, func(b *whole) *float64 { return &b.wheelbase }},
		{"mass_centre_height", certainty.Uncertainty{MassCentreHeight: 0.05}, 0.05, func(b *whole) *float64 { return &b.height }},
		{"front_wheel_radius", certainty.Uncertainty{FrontWheelRadius: 0.002}, 0.002, func(b *whole) *float64 { return &b.frontRadius }},
		{"rear_wheel_radius", certainty.Uncertainty{RearWheelRadius: 0.002}, 0.002, func(b *whole) *float64 { return &b.rearRadius }},
		{"fork_offset", certainty.Uncertainty{ForkOffset: 0.001}, 0.001, func(b *whole) *float64 { return &b.offset }},
		{"bottom_bracket_height", certainty.Uncertainty{BottomBracketHeight: 0.003}, 0.003, func(b *whole) *float64 { return &b.bracket }},
		{"chainstay_length", certainty.Uncertainty{ChainstayLength: 0.003}, 0.003, func(b *whole) *float64 { return &b.stay }},
		{"head_angle", certainty.Uncertainty{Front: ends{HeadAngle: 0.005}}, 0.005, func(b *whole) *float64 { return &b.angle }},
		{"fill", certainty.Uncertainty{Front: ends{Fill: 5e3}}, 5e3, func(b *whole) *float64 { return &b.fill }},
		{"positive_volume", certainty.Uncertainty{Front: ends{PositiveVolume: 2e-6}}, 2e-6, func(b *whole) *float64 { return &b.volume }},
		{"bore", certainty.Uncertainty{Front: ends{Bore: 1e-4}}, 1e-4, func(b *whole) *float64 { return &b.bore }},
		{"spring_rate", certainty.Uncertainty{Rear: ends{SpringRate: 0.02}}, 0.02 * tRate, func(b *whole) *float64 { return &b.rate }},
		{"preload", certainty.Uncertainty{Rear: ends{Preload: 3e-4}}, 3e-4, func(b *whole) *float64 { return &b.preload }},
		{"lever_ratio", certainty.Uncertainty{Rear: ends{LeverRatio: 0.01}}, 0.01 * tRatio, func(b *whole) *float64 { return &b.ratio }},
		{"friction", certainty.Uncertainty{Rear: ends{Friction: 20}}, 20, func(b *whole) *float64 { return &b.friction }},
	} {
		t.Run(test.name, func(t *testing.T) {
			at := func(part float64) map[string]float64 {
				b := nominal
				*test.of(&b) += part * test.by
				return b.rest(t)
			}
			const h = 0.02
			more, less, value := at(h), at(-h), nominal.rest(t)
			moves := false
			for name, a := range answers(propagate(t, j, test.u).Coupled) {
				got, want := effectOf(t, a), (more[name]-less[name])/(2*h)
				if moves = moves || want != 0; !(math.Abs(got-want) <= 1e-5*math.Abs(want)+1e-9*math.Abs(value[name])) {
					t.Errorf("%s: %v, want %v", name, got, want)
				}
			}
			require.True(t, moves, "an input that does nothing tests nothing")
		})
	}
}

// Behind a constant ratio a linear spring with a damper lands as a damped oscillator does: with x from
// where it would rest, at the speed v₀, x = e^(−δt)·(x₀·cos ωt + (v₀ + δx₀)/ω·sin ωt) until ẋ is 0.
func TestLandingDerivativesAreThoseOfAnOscillator(t *testing.T) {
	type fall struct{ load, rate, preload, ratio, height, damping float64 }
	land := func(f fall) map[string]float64 {
		m, k, full := f.load/tG, f.rate/(f.ratio*f.ratio), tStroke*f.ratio
		hold := f.rate * f.preload / f.ratio
		x0, v0 := -(f.load-hold)/k, math.Sqrt(2*tG*f.height)
		d := f.damping / (2 * m)
		w := math.Sqrt(k/m - d*d)
		// ẋ = e^(−δt)·(v₀·cos ωt − (ω·x₀ + δ·(v₀ + δx₀)/ω)·sin ωt)
		b := (v0 + d*x0) / w
		time := math.Atan2(v0, w*x0+d*b) / w
		travel := math.Exp(-d*time)*(x0*math.Cos(w*time)+b*math.Sin(w*time)) - x0
		stored := hold*travel + k*travel*travel/2
		// The force k·x + c·ẋ is greatest where its slope, k·ẋ + c·ẍ, is 0: of a tangent as the stop.
		p, q := k*x0+f.damping*v0, k*b-f.damping*(w*x0+d*b) // of cos and sin, decaying
		top := math.Atan2(w*q-d*p, w*p+d*q) / w
		peak := math.Exp(-d*top)*(p*math.Cos(w*top)+q*math.Sin(w*top)) + f.load
		return map[string]float64{"LandingTravel": travel, "LandingUsed": travel / full, "LandingTime": time,
			"LandingDamperWork": f.load*(f.height+travel) - stored, "LandingPeakForce": max(peak, hold+f.damping*v0), "LandingEnergyLeft": 0}
	}
	nominal := fall{handLoad, tRate, tPreload, tRatio, tRearDrop, tRearDamping}
	j := wholeJob()
	got := answers(propagate(t, j, certainty.Uncertainty{}).Rear)
	for name, want := range land(nominal) {
		near(t, name, got[name].Value, want, 1e-8)
	}
	type ends = certainty.EndUncertainty
	for _, test := range []struct {
		name string
		u    certainty.Uncertainty
		move func(f *fall, part float64)
	}{
		{"rider_mass", certainty.Uncertainty{RiderMass: 2}, func(f *fall, part float64) { f.load += part * 2 * tShare * tG }},
		{"spring_rate", certainty.Uncertainty{Rear: ends{SpringRate: 0.02}}, func(f *fall, part float64) { f.rate *= 1 + 0.02*part }},
		{"preload", certainty.Uncertainty{Rear: ends{Preload: 3e-4}}, func(f *fall, part float64) { f.preload += 3e-4 * part }},
		{"lever_ratio", certainty.Uncertainty{Rear: ends{LeverRatio: 0.01}}, func(f *fall, part float64) { f.ratio *= 1 + 0.01*part }},
		{"drop_height", certainty.Uncertainty{Rear: ends{DropHeight: 0.02}}, func(f *fall, part float64) { f.height += 0.02 * part }},
		{"damping", certainty.Uncertainty{Rear: ends{Damping: 0.1}}, func(f *fall, part float64) { f.damping *= 1 + 0.1*part }},
		{"friction", certainty.Uncertainty{Rear: ends{Friction: 20}}, func(*fall, float64) {}},
	} {
		b := propagate(t, j, test.u)
		at := func(part float64) map[string]float64 { f := nominal; test.move(&f, part); return land(f) }
		const h = 0.01
		more, less, got := at(h), at(-h), answers(b.Rear)
		for name, value := range land(nominal) {
			effect, want := effectOf(t, got[name]), (more[name]-less[name])/(2*h)
			if !(math.Abs(effect-want) <= 1e-4*math.Abs(want)+1e-7*math.Abs(value)) {
				t.Errorf("%s by %s: %v, want %v", name, test.name, effect, want)
			}
		}
		if b.Front.LandingUsed.Uncertainty != 0 && test.name != "rider_mass" {
			t.Errorf("%s moves the landing of the front", test.name)
		}
	}
}

// wholeJobs are ten invented bikes that settle together and land, of every kind of curve and spring.
func wholeJobs() map[string]setup.Job {
	with := func(change func(*setup.Job)) setup.Job { j := wholeJob(); change(&j); return j }
	coilFork := func(j *setup.Job) {
		j.Front.Air, j.Front.Coil = nil, &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 9e3}}}
	}
	return map[string]setup.Job{
		"plain": wholeJob(),
		"equal wheels": with(func(j *setup.Job) {
			j.Masses.FrontWheelRadius, j.Masses.RearWheelRadius, j.Masses.WheelRadius = 0, 0, 0.36
		}),
		"small rear": with(func(j *setup.Job) { j.Masses.RearWheelRadius, j.Masses.ChainstayLength = 0.29, 0 }),
		"coil fork":  with(coilFork),
		"table": with(func(j *setup.Job) { // with less damping, so that the force is not at its most in two places
			table(j, 0, 0.032, 0.0625, 0.0915, 0.119, 0.145, 0.1695)
			j.Rear.Damping = 450
		}),
		"mass centre": with(func(j *setup.Job) { j.Masses.RearShare, j.Masses.MassCentreBehindFrontAxle = 0, 0.75 }),
		"tall":        with(func(j *setup.Job) { j.Masses.MassCentreHeight, j.Masses.ForkOffset = 1.3, nil }),
		"light rider": with(func(j *setup.Job) { j.Masses.RiderMass = 55 }),
		"undamped": with(func(j *setup.Job) {
			j.Front.Damping, j.Rear.Damping, j.Front.DropHeight, j.Rear.DropHeight = 0, 0, 0.05, 0.06
		}),
		"straight rear and front": with(func(j *setup.Job) {
			coilFork(j)
			j.Front.Curve = linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 0.92, Travel: 0.15}}
		}),
		"bottoms": with(func(j *setup.Job) { j.Rear.DropHeight = 0.8 }),
	}
}

// Of ten bikes, the answers for both ends settled together and for the landings scatter as first order
// says when the errors are small. Five standard errors are exceeded once in two millions.
func TestWholeBikesScatterAsFirstOrder(t *testing.T) {
	jobs := wholeJobs()
	require.True(t, len(jobs) >= 10)
	n := draws(2000)
	for name, j := range jobs {
		t.Run(name, func(t *testing.T) {
			m := &j.Masses
			u := certainty.Uncertainty{RiderMass: 0.2, UnsprungRear: 0.05, MassCentreHeight: 0.005,
				Front: certainty.EndUncertainty{Friction: 0.5, DropHeight: 0.002},
				Rear:  certainty.EndUncertainty{LeverRatio: 0.001, Friction: 1, SpringRate: 0.003, Preload: 1e-4, DropHeight: 0.002}}
			if m.MassCentreBehindFrontAxle != 0 {
				u.MassCentreBehindFrontAxle, u.Wheelbase = 0.002, 0.002
			} else {
				u.RearShare, u.Wheelbase = 0.001, 0.002
			}
			if m.WheelRadius != 0 {
				u.WheelRadius = 0.0005
			} else {
				u.FrontWheelRadius, u.RearWheelRadius = 0.0005, 0.0005
			}
			if m.ForkOffset != nil {
				u.ForkOffset = 0.0003
			}
			if m.ChainstayLength != 0 {
				u.BottomBracketHeight, u.ChainstayLength = 0.001, 0.001
			}
			if j.Rear.Damping > 0 {
				u.Front.Damping, u.Rear.Damping = 0.02, 0.02
			}
			b, s := propagate(t, j, u), simulate(t, j, u, n, 20)
			require.Empty(t, b.NotUsed)
			compared := 0
			for i, pair := range [][2]any{{b.Front, s.Front}, {b.Rear, s.Rear}, {b.Coupled, s.Coupled}} {
				drawn := answers(pair[1])
				for answer, a := range answers(pair[0]) {
					compared++
					agrees(t, fmt.Sprint(i, answer), drawn[answer], a.Value, a.Uncertainty, 5)
				}
			}
			require.True(t, compared > 45, "%d answers", compared)
			if want := map[bool]int{true: n}[name == "bottoms"]; s.Rear.Counts.Bottoms != want || s.Front.Counts.Bottoms != 0 {
				t.Errorf("%d and %d draws bottom, want %d behind", s.Front.Counts.Bottoms, s.Rear.Counts.Bottoms, want)
			}
		})
	}
}

// Draws in which the bike does not stand, tall on soft springs, have no answer for both ends together.
func TestDrawsThatFallOverAreLeftOut(t *testing.T) {
	const n = 400
	j := wholeJob()
	j.Masses.MassCentreHeight, j.Front.DropHeight, j.Rear.DropHeight = 10, 0, 0
	s := simulate(t, j, certainty.Uncertainty{MassCentreHeight: 5}, n, 4)
	stands := 0
	r := rand.New(rand.NewPCG(4, 0))
	for range n {
		p := r.Float64()
		none := distuv.UnitNormal.CDF(-2) // a height is more than 0
		j.Masses.MassCentreHeight = units.Length(10 + 5*distuv.UnitNormal.Quantile(none+p*(1-none)))
		if _, err := setup.NewSheet(j); err == nil {
			stands++
		}
	}
	require.True(t, stands > n/10 && stands < n-n/10, "%d stand", stands)
	if got := s.Coupled.RearSag.Spread; got.Draws != stands || !(got.Low > 0.05) {
		t.Errorf("%+v, want %d draws", got, stands)
	}
	require.Equal(t, n, s.Rear.Sag.Spread.Draws)
}

// What the whole bike needs is not used where the ends do not settle together, nor a drop that nobody asks about.
func TestInputsOfTheWholeBikeAreUsedByIt(t *testing.T) {
	u := certainty.Uncertainty{Wheelbase: 0.01, MassCentreHeight: 0.01, WheelRadius: 0.001, FrontWheelRadius: 0.001, RearWheelRadius: 0.001,
		ForkOffset: 0.001, BottomBracketHeight: 0.001, ChainstayLength: 0.001,
		Front: certainty.EndUncertainty{DropHeight: 0.1, Damping: 0.1}, Rear: certainty.EndUncertainty{DropHeight: 0.1, Damping: 0.1}}
	for _, test := range []struct {
		name   string
		change func(*setup.Job)
		unused []string
	}{
		{"whole", func(*setup.Job) {}, []string{"wheel_radius"}},
		{"one radius", func(j *setup.Job) { j.Masses.FrontWheelRadius, j.Masses.WheelRadius = 0, 0.36 }, []string{"front_wheel_radius"}},
		{"no offset, no stay, no damper", func(j *setup.Job) {
			j.Masses.ForkOffset, j.Masses.ChainstayLength, j.Rear.Damping = nil, 0, 0
		}, []string{"wheel_radius", "fork_offset", "bottom_bracket_height", "chainstay_length", "rear.damping"}},
		{"no height", func(j *setup.Job) { j.Masses.MassCentreHeight, j.Front.DropHeight = 0, 0 }, []string{"wheelbase", "mass_centre_height", "wheel_radius",
			"front_wheel_radius", "rear_wheel_radius", "fork_offset", "bottom_bracket_height", "chainstay_length", "front.drop_height", "front.damping"}},
	} {
		j := wholeJob()
		test.change(&j)
		b := propagate(t, j, u)
		var unused []string
		for _, one := range b.NotUsed {
			unused = append(unused, one.Input)
		}
		require.Equal(t, test.unused, unused, test.name)
		require.Equal(t, j.Masses.MassCentreHeight != 0, b.Coupled != nil, test.name)
	}
	offset := units.Length(tOffset)
	j := wholeJob()
	j.Masses.ForkOffset = &offset
	propagate(t, j, u)
	require.Equal(t, units.Length(tOffset), offset, "the job is changed")
}
