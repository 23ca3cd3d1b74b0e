package certainty_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
	"example.com/wheelrate/units/unitstest"
)

// draws is how many draws a test takes, a quarter of those of a long run.
func draws(n int) int {
	if unitstest.Long() {
		return n
	}
	return n / 4
}

// counted holds a count of n draws against a probability, within four standard
// deviations of a binomial count.
func counted(t *testing.T, what string, got, n int, p float64) {
	t.Helper()
	if mean := float64(n) * p; !(math.Abs(float64(got)-mean) < 4*math.Sqrt(mean*(1-p))) || !(mean > 20) {
		t.Errorf("%s: %d of %d, want %v", what, got, n, mean)
	}
}

// agrees holds a spread against a mean and a standard deviation, within z times
// the standard errors of both, σ/√n and σ/√(2n), those of normal values. Without any
// deviation all draws are the mean.
func agrees[Q ~float64](t *testing.T, what string, got *certainty.Answer[Q], mean, deviation, z float64) {
	t.Helper()
	require.NotNil(t, got, what)
	n := float64(got.Spread.Draws)
	if deviation == 0 {
		near(t, what+" is the least", float64(got.Spread.Low), mean, 1e-11)
		near(t, what+" is the most", float64(got.Spread.High), mean, 1e-11)
		return
	}
	if d := float64(got.Value) - mean; !(math.Abs(d) <= z*deviation/math.Sqrt(n)+1e-12*math.Abs(mean)) {
		t.Errorf("%s: mean %v, want %v: %.2f standard errors off", what, got.Value, Q(mean), d/deviation*math.Sqrt(n))
	}
	if d := float64(got.Uncertainty) - deviation; !(math.Abs(d) <= z*deviation/math.Sqrt(2*n)) {
		t.Errorf("%s: standard deviation %v, want %v: %.2f standard errors off", what, got.Uncertainty, Q(deviation), d/deviation*math.Sqrt(2*n))
	}
}

// For small errors the draws scatter as first order says. Four standard errors
// are exceeded once in 16 000; 72 answers in 2 figures exceed them in one of a
// hundred seeds, and the seed is fixed.
func TestSmallErrorsScatterAsFirstOrder(t *testing.T) {
	for name, test := range map[string]struct {
		j setup.Job
		u certainty.Uncertainty
	}{
		"plain": {handJob(), certainty.Uncertainty{RiderMass: 0.3, BikeMass: 0.1, UnsprungFront: 0.05, UnsprungRear: 0.05, RearShare: 0.002, Ambient: 100,
			Front: certainty.EndUncertainty{HeadAngle: 0.003, Friction: 1, Reading: 2e-4, Fill: 1e3, GasTemperature: 0.002, Bore: 2e-5, PositiveVolume: 5e-7, OilVolume: 2e-7, Exponent: 0.005},
			Rear:  certainty.EndUncertainty{LeverRatio: 0.002, Friction: 2, Reading: 2e-4, SpringRate: 0.004, Preload: 1e-4}}},
		"table": {demoJob(t), certainty.Uncertainty{RiderMass: 0.3, RearShare: 0.002,
			Front: certainty.EndUncertainty{Fill: 1e3, NegativeVolume: 3e-7, PortTravel: 5e-5, Shaft: 2e-5, SpacerVolume: 1e-7},
			Rear:  certainty.EndUncertainty{TableTravel: 3e-5, SpringRate: 0.003, Reading: 2e-4}}},
	} {
		t.Run(name, func(t *testing.T) {
			const z = 4
			n := draws(10_000)
			b, s := propagate(t, test.j, test.u), simulate(t, test.j, test.u, n, 20)
			if diff := cmp.Diff(b.Exact, s.Exact); diff != "" {
				t.Errorf("exact (-first order +simulated):\n%s", diff)
			}
			agrees(t, "ratio", s.FrequencyRatio, b.FrequencyRatio.Value, b.FrequencyRatio.Uncertainty, z)
			for i, e := range []certainty.EndBudget{*b.Front, *b.Rear} {
				d, drawn := []certainty.EndBudget{*s.Front, *s.Rear}[i], map[string]int{}
				of := answers(d)
				for name, a := range answers(e) {
					drawn[name] = n
					agrees(t, fmt.Sprint(i, name), of[name], a.Value, a.Uncertainty, z)
				}
				if diff := cmp.Diff(drawn, drawsOf(d)); diff != "" || d.Counts.HeldAtTop+d.Counts.Collapses+d.Counts.Impossible != 0 {
					t.Errorf("held at top %d, collapses %d, impossible %d (-want +draws):\n%s", d.Counts.HeldAtTop, d.Counts.Collapses, d.Counts.Impossible, diff)
				}
			}
		})
	}
}

// drawsOf returns how many draws have each answer of an end.
func drawsOf(end certainty.EndBudget) map[string]int {
	n := map[string]int{}
	for name, s := range answers(end) {
		n[name] = s.Spread.Draws
	}
	return n
}

// A load is in proportion to the rider's mass, and normal with it. The standard
// error of a percentile is √(p(1 − p)/n)/φ of the normal density φ there.
func TestPercentilesOfALoadAreNormal(t *testing.T) {
	const u = 2 * tShare * tG
	n := draws(20_000)
	s := simulate(t, handJob(), certainty.Uncertainty{RiderMass: 2}, n, 4).Rear.Load
	const load = handLoad
	agrees(t, "load", s, load, u, 4)
	z := distuv.UnitNormal.Quantile(0.975)
	within := 4 * u * math.Sqrt(0.025*0.975/float64(n)) / distuv.UnitNormal.Prob(z)
	if !(math.Abs(float64(s.Spread.High)-load-z*u) < within && math.Abs(float64(s.Spread.Low)-load+z*u) < within) {
		t.Errorf("from %v to %v, want %v to %v within %v", s.Spread.Low, s.Spread.High, load-z*u, load+z*u, within)
	}
}

// The ideal rate of a coil behind a fork is in proportion to sin φ. Of a
// normal φ of standard deviation σ,
//
//	E sin φ = e^(−σ²/2)·sin φ₀
//	E sin²φ = (1 − e^(−2σ²)·cos 2φ₀)/2
//
// so the mean falls by about ½σ²·sin φ₀ from the value, the second derivative
// that first order leaves out, and the deviation is not σ·cos φ₀.
// The angle is cut off at 90°, 4.4 σ away, which moves neither by 1e-4.
func TestDrawsShowWhatFirstOrderLeavesOut(t *testing.T) {
	const sigma, phi = 0.1, 65 * math.Pi / 180
	n := draws(100_000)
	j := handJob()
	j.Front.Curve.Fork.HeadAngle = phi
	j.Front.Air, j.Front.Coil = nil, &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 9e3}}}
	u := certainty.Uncertainty{Front: certainty.EndUncertainty{HeadAngle: sigma}}
	first, s := propagate(t, j, u).Front.IdealRate, simulate(t, j, u, n, 7).Front.IdealRate
	value := float64(first.Value)
	near(t, "first order", float64(first.Uncertainty), value*sigma/math.Tan(phi), 1e-7)
	mean := math.Exp(-sigma*sigma/2) * math.Sin(phi)
	square := (1 - math.Exp(-2*sigma*sigma)*math.Cos(2*phi)) / 2
	deviation := math.Sqrt(square - mean*mean)
	agrees(t, "ideal rate", s, value*mean/math.Sin(phi), value*deviation/math.Sin(phi), 4)
	// And it is the shift, not its absence, that the draws confirm.
	if shift := (float64(s.Value) - value) / (value * deviation / math.Sin(phi) / math.Sqrt(float64(n))); !(shift < -10) {
		t.Errorf("the mean is off by %v standard errors only", shift)
	}
}

// Cut off at 0, the preload that was to be none is a half-normal one: its mean
// is σ·√(2/π), its variance σ²·(1 − 2/π), and the shock sags by that much less.
func TestPreloadIsCutOffAtNone(t *testing.T) {
	const sigma = 1e-3
	n := draws(20_000)
	j := handJob()
	j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = 0, 0
	s := simulate(t, j, certainty.Uncertainty{Rear: certainty.EndUncertainty{Preload: sigma}}, n, 3).Rear.Stroke
	const value = handForce / tRate
	// Of a skew answer the deviation has a larger standard error: 6 instead of 4.
	agrees(t, "stroke", s, value-sigma*math.Sqrt(2/math.Pi), sigma*math.Sqrt(1-2/math.Pi), 6)
	if float64(s.Spread.High) > value {
		t.Errorf("%v is above what no preload at all gives, %v", s.Spread.High, value)
	}
}

// An exponent at its least goes up only: n = 1 + |δ|, and the fast rate about
// the rest is n times the slow one. So is a head angle of 90°, which only falls:
// with δ half-normal, cos δ has the mean e^(−σ²/2).
func TestExponentAndAngleAreCutOffAtTheirLimits(t *testing.T) {
	const sigma = 0.1
	n := draws(20_000)
	j := handJob()
	j.Front.Air.Exponent = 1
	j.Front.Curve.Fork.HeadAngle = 90 * units.Degree
	front := simulate(t, j, certainty.Uncertainty{Front: certainty.EndUncertainty{Exponent: sigma}}, n, 11).Front
	k := float64(propagate(t, j, certainty.Uncertainty{}).Front.WheelRate.Value)
	agrees(t, "fast wheel rate", front.FastWheelRate, k*(1+sigma*math.Sqrt(2/math.Pi)), k*sigma*math.Sqrt(1-2/math.Pi), 6)
	if front.Counts.Impossible != 0 || float64(front.FastWheelRate.Spread.Low) < k {
		t.Errorf("%d impossible, fast wheel rate from %v", front.Counts.Impossible, front.FastWheelRate.Spread.Low)
	}
	// The fill wanted is linear in the force sin φ·load: (F/A + p_a)(1 − A·s/V) − p_a.
	front = simulate(t, j, certainty.Uncertainty{Front: certainty.EndUncertainty{HeadAngle: sigma}}, n, 12).Front
	area, load := math.Pi/4*tBore*tBore, ((1-tShare)*(tRider+tBike)-tUnsprungFront)*tG
	left := 1 - area*tForkSag*tFork/(tVolume-tOil)
	mean, square := math.Exp(-sigma*sigma/2), (1+math.Exp(-2*sigma*sigma))/2 // of cos δ, and of its square
	agrees(t, "fill wanted", front.FillWanted, (load*mean/area+tAmbient)*left-tAmbient, load/area*left*math.Sqrt(square-mean*mean), 8)
}

// The draws in which an end can't be have no answers there at all, not even the load:
// those of a chamber that the piston sweeps empty, and of a wheel that carries less
// than its own unsprung mass. The other end keeps them.
func TestDrawsOfNoBikeAreImpossible(t *testing.T) {
	const swept, unsprung, scale = 40e-6, 1.5, 30.0 // standard uncertainties
	n := draws(20_000)
	light := handJob() // in front
	light.Masses.RearShare, light.Masses.UnsprungFront = 0.8, new(units.Mass(18))
	light.Front.Air, light.Front.Coil = nil, &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 1e3}}}
	// A scale's readings are cut off at 0, and one that reads a little more than the unsprung
	// mass stands for a wheel held at the top, k·p/LR = 136 N.
	reads := func(x float64) float64 {
		none := distuv.UnitNormal.CDF(-60 / scale)
		return (distuv.UnitNormal.CDF((x-60)/scale) - none) / (1 - none)
	}
	for _, test := range []struct {
		name   string
		j      setup.Job
		u      certainty.Uncertainty
		rear   bool
		p, top float64
	}{
		{"swept", handJob(), certainty.Uncertainty{Front: certainty.EndUncertainty{PositiveVolume: swept}}, false,
			distuv.UnitNormal.CDF((math.Pi/4*tBore*tBore*tFork + tOil - tVolume) / swept), 0},
		{"light", light, certainty.Uncertainty{UnsprungFront: unsprung}, false, distuv.UnitNormal.CDF((18 - 0.2*(tRider+tBike)) / unsprung), 0},
		{"scale", scaleJob(40, 60), certainty.Uncertainty{RearScale: scale}, true,
			reads(tUnsprungRear), reads(tUnsprungRear+tRate*tPreload/tRatio/tG) - reads(tUnsprungRear)},
	} {
		s := simulate(t, test.j, test.u, n, 13)
		e, other := s.Front, s.Rear
		if test.rear {
			e, other = other, e
		}
		counted(t, test.name+": impossible", e.Counts.Impossible, n, test.p)
		if test.top > 0 {
			counted(t, test.name+": held at the top", e.Counts.HeldAtTop, n, test.top)
		}
		for name, got := range drawsOf(*e) {
			if most := n - e.Counts.Impossible; got > most || got < most && (name == "Load" || name == "Energy" || name == "Sag") {
				t.Errorf("%s: %s of %d draws, want %d", test.name, name, got, most)
			}
		}
		if other.Counts.Impossible != 0 || other.Load.Spread.Draws != n || !(e.Load.Spread.Low > 0) {
			t.Errorf("%s: %d impossible at the other end, loads of %d, from %v", test.name, other.Counts.Impossible, other.Load.Spread.Draws, e.Load.Spread.Low)
		}
		for _, one := range e.Counts.Springs {
			near(t, "the one spring there is", one.Share, 1, 0)
		}
	}
}

// Draws that find no rest are counted, and sag as far as the wheel goes. The
// spring force at full extension k·p, or at full stroke k·(L + p), is a load
// over LR; the rider's mass is normal.
func TestDrawsThatDoNotRestAreCounted(t *testing.T) {
	const u = 12.0
	n := draws(20_000)
	for _, test := range []struct {
		name          string
		rate, preload float64
		at            float64 // where the wheel stays
	}{{"top", tRate, 0.014, 0}, {"bottom", 21e3, 0.004, 1}} {
		t.Run(test.name, func(t *testing.T) {
			j := handJob()
			j.Rear.Coil.Springs[0] = fit.ShelfSpring{Rate: units.Stiffness(test.rate)}
			j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = units.Length(test.preload), units.Length(test.preload)
			e := simulate(t, j, certainty.Uncertainty{RiderMass: u}, n, 5).Rear
			limit := test.rate * (test.preload + test.at*tStroke) / tRatio
			rider := (limit/tG+tUnsprungRear)/tShare - tBike // who is just carried there
			p := distuv.UnitNormal.CDF((rider - tRider) / u)
			count, other := e.Counts.HeldAtTop, e.Counts.Collapses
			if test.at == 1 {
				p, count, other = 1-p, other, count
			}
			if counted(t, "without a rest", count, n, p); other != 0 || e.Counts.Impossible != 0 {
				t.Errorf("%d at the other end, %d impossible", other, e.Counts.Impossible)
			}
			for name, got := range drawsOf(*e) {
				want := n
				if strings.HasSuffix(name, "Rate") && name != "IdealRate" || strings.HasSuffix(name, "Frequency") {
					want -= count
				}
				if got != want {
					t.Errorf("%s of %d draws, want %d", name, got, want)
				}
			}
			end := e.Sag.Spread.Low
			if test.at == 1 {
				end = e.Sag.Spread.High
			}
			if end != test.at {
				t.Errorf("sag of the last draws %v", end)
			}
		})
	}
}

// The spring that is right, drawn, against the normal approximation of its
// rivals: within four standard errors, and the little that the approximation
// itself is off (the edge bends with both rates). Errors of the rates alone make
// another spring the right one, too.
func TestSharesOfSpringsAreTheProbabilitiesOfRivals(t *testing.T) {
	n := draws(10_000)
	for name, test := range map[string]struct {
		u     certainty.Uncertainty
		shelf []units.Stiffness // 67.2 N/mm are wanted
	}{
		"rider":       {certainty.Uncertainty{RiderMass: 4}, []units.Stiffness{60e3, 68e3, 76e3}},
		"rates":       {certainty.Uncertainty{RiderMass: 3, Rear: certainty.EndUncertainty{SpringRate: 0.015, LeverRatio: 0.015}}, []units.Stiffness{60e3, 68e3, 76e3}},
		"rates alone": {certainty.Uncertainty{Rear: certainty.EndUncertainty{SpringRate: 0.02}}, []units.Stiffness{62e3, 70e3}},
	} {
		j := shelfJob(test.shelf...)
		rivals, springs := propagate(t, j, test.u).Rear.Rivals, simulate(t, j, test.u, n, 8).Rear.Counts.Springs
		require.Len(t, springs, len(test.shelf))
		require.Len(t, rivals, len(test.shelf)-1)
		total := 0.0
		for i, got := range springs {
			total += got.Share
			if got.Rate != test.shelf[i] {
				t.Errorf("%s: %v beside %v", name, got.Rate, test.shelf[i])
			}
		}
		for i, r := range rivals {
			got, p := springs[2*i], r.Probability
			if d := got.Share - p; got.Rate != r.Rate || !(p > 0.02) || !(math.Abs(d) < 4*math.Sqrt(p*(1-p)/float64(n))+0.003) {
				t.Errorf("%s: %v is right in %v of the draws, want %v in %v", name, got.Rate, got.Share, r.Rate, p)
			}
		}
		near(t, "shares", total, 1, 1e-12)
	}
}

// The draws are those of the generator, one each in the order of the inputs,
// turned normal by the inverse distribution as gonum has it. The setup stays as it is.
func TestDrawsAreThoseOfTheSeed(t *testing.T) {
	const n, seed = 500, 42
	u := certainty.Uncertainty{RiderMass: 2, UnsprungRear: 0.3, Rear: certainty.EndUncertainty{SpringRate: 0.02}}
	bike := sheet(t, handJob()).Setup()
	s, err := certainty.Simulate(bike, u, n, seed)
	require.NoError(t, err)
	random, sum := rand.New(rand.NewPCG(seed, 0)), 0.0
	normal := func(sigma float64) float64 {
		return distuv.Normal{Mu: 0, Sigma: sigma}.Quantile(random.Float64())
	}
	for range n {
		rider := tRider + normal(2)
		sum += (tShare*(rider+tBike) - tUnsprungRear - normal(0.3)) * tG
		normal(1) // the rate, which the load does not depend on
	}
	near(t, "mean load", float64(s.Rear.Load.Value), sum/n, 1e-12)
	again, err := certainty.Simulate(bike, u, n, seed)
	require.NoError(t, err)
	if diff := cmp.Diff(s, again); diff != "" {
		t.Errorf("the same seed again (-first +second):\n%s", diff)
	}
	if other := simulate(t, handJob(), u, n, seed+1); other.Rear.Load.Value == s.Rear.Load.Value {
		t.Error("another seed gives the same draws")
	}
	if s.Draws != n || s.Seed != seed {
		t.Errorf("%d draws of seed %d", s.Draws, s.Seed)
	}
}

// FuzzUncertainty: whatever is said of a job's inputs is read back the same, and there
// is a budget and a simulation without NaN, with what is wrong named otherwise.
func FuzzUncertainty(f *testing.F) {
	all, err := json.Marshal(demoUncertainty())
	require.NoError(f, err)
	f.Add([]byte(demoText), all)
	f.Add([]byte(demoText), []byte(`{}`))
	f.Add([]byte(strings.Replace(demoText, `"82 kg"`, `"8200 kg"`, 1)), []byte(`{"rider_mass": "8 t"}`))
	f.Add([]byte(strings.Replace(demoText, `"smooth"`, `"monotone"`, 1)), []byte(`{"rear": {"table_travel": "20 mm", "spring_rate": 0.9}, "rear_share": 0.4}`))
	f.Add([]byte(demoText), []byte(`{"front": {"exponent": 0.9, "gas_temperature": 1, "bore": "30 mm", "port_travel": "90 mm", "shaft": "9 mm", "oil_volume": "9 cm³"}}`))
	f.Fuzz(func(t *testing.T, job, uncertainty []byte) {
		j, err := setup.ReadJob(bytes.NewReader(job))
		if err != nil {
			return
		}
		for _, e := range []*setup.EndJob{j.Front, j.Rear} { // large ones are slow, not different
			if t := e.Curve.Table; t != nil && len(t.Travel) > 20 || e.Coil != nil && len(e.Coil.Springs) > 10 || e.Air != nil && e.Air.MaxSpacers > 10 {
				return
			}
		}
		var u certainty.Uncertainty
		if strictjson.Decode("uncertainty", bytes.NewReader(uncertainty), setup.JobLimit, &u) != nil {
			return
		}
		text, err := json.Marshal(u)
		var back certainty.Uncertainty
		if err != nil || strictjson.Unmarshal("uncertainty", text, &back) != nil || back != u || u == (certainty.Uncertainty{}) && string(text) != "{}" {
			t.Fatalf("%s is read back as %+v", text, back)
		}
		made, err := setup.NewSheet(j)
		if err != nil {
			return
		}
		b, err := certainty.Propagate(made.Setup(), u)
		s, errDrawn := certainty.Simulate(made.Setup(), u, 100, 1)
		if (err == nil) != (errDrawn == nil) {
			t.Fatalf("%v, but %v", err, errDrawn)
		}
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		for _, v := range []any{b, s} {
			text, err := json.Marshal(v)
			if err != nil || bytes.Contains(text, []byte("NaN")) || bytes.Contains(text, []byte("Inf")) {
				t.Fatalf("can't be written: %v\n%s", err, text)
			}
		}
	})
}

// benchmarks are the demonstration, a table of 6 points with 4 springs and 12 uncertain inputs, and the
// same with both ends settled together and 15 uncertain inputs.
func benchmarks(b *testing.B, do func(certainty.Setup, certainty.Uncertainty) error) {
	j, u := demoJob(b), demoUncertainty()
	run := func(name string) {
		s := sheet(b, j).Setup()
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := do(s, u); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	run("ends")
	m := &j.Masses
	m.Wheelbase, m.MassCentreHeight, m.WheelRadius = tWheelbase, tHeight, tFrontRadius
	u.Wheelbase, u.MassCentreHeight, u.WheelRadius = 0.003, 0.02, 0.002
	run("whole")
	j.Front.DropHeight, j.Front.Damping, j.Rear.DropHeight, j.Rear.Damping = tFrontDrop, tFrontDamping, tRearDrop, tRearDamping
	run("landing")
}

func BenchmarkPropagate(b *testing.B) { // budget: 1 ms, and 3 ms with a landing of each end, which is integrated some 50 times
	benchmarks(b, func(s certainty.Setup, u certainty.Uncertainty) error {
		_, err := certainty.Propagate(s, u)
		return err
	})
}

func BenchmarkSimulate(b *testing.B) { // budget: 1 s for 10 000 draws, and 2 s with a landing of each end
	benchmarks(b, func(s certainty.Setup, u certainty.Uncertainty) error {
		_, err := certainty.Simulate(s, u, 10000, 1)
		return err
	})
}
