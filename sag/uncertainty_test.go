package sag

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/diff/fd"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// What handJob is made of, in SI units: 100 kg of which 60 % stand behind, a
// constant ratio there over 60 mm, a fork with one chamber in front.
const (
	tG                             = 9.80665
	tRider, tBike, tShare          = 80.0, 20.0, 0.6
	tUnsprungFront, tUnsprungRear  = 2.0, 3.0
	tRatio, tStroke, tSag          = 2.5, 0.060, 0.28
	tRate, tPreload, tPreloadMin   = 85e3, 0.004, 0.003
	tBore, tVolume, tOil, tAmbient = 0.035, 260e-6, 10e-6, 98e3
	tFork, tForkSag, tExponent     = 0.160, 0.2, 1.3
	tAngle                         = 64 * math.Pi / 180
)

// handJob has closed forms for every answer. The collar stands at tPreload
// whatever is wanted.
func handJob() Job {
	return Job{
		Schema:  JobSchema,
		Masses:  Masses{RiderMass: tRider, BikeMass: tBike, UnsprungFront: tUnsprungFront, UnsprungRear: tUnsprungRear, RearShare: tShare},
		Ambient: tAmbient,
		Front: EndJob{
			Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: tAngle, Travel: tFork}}, Sag: tForkSag,
			Air: &AirChoice{Spec: airspring.Spec{Bore: tBore, PositiveVolume: tVolume, OilVolume: tOil, Exponent: tExponent}, MaxFill: units.BarGauge(10)},
		},
		Rear: EndJob{
			Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: tRatio, Travel: tRatio * tStroke}}, Sag: tSag,
			Coil: &CoilChoice{Shelf: []ShelfSpring{{Rate: tRate, SolidTravel: 0.07}}, PreloadMin: tPreload, PreloadMax: tPreload},
		},
	}
}

func propagate(t testing.TB, j Job, u Uncertainty) *Budget {
	b, err := Propagate(j, u)
	require.NoError(t, err)
	return b
}

// effectOf is what a single uncertain input does to an answer, 0 for nothing.
func effectOf[Q ~float64](t *testing.T, a *Answer[Q]) float64 {
	t.Helper()
	require.NotNil(t, a)
	switch len(a.Contributions) {
	case 0:
		near(t, "uncertainty of no contributions", float64(a.Uncertainty), 0, 0)
		return 0
	case 1:
		near(t, "uncertainty of one contribution", float64(a.Uncertainty), math.Abs(float64(a.Contributions[0].Effect)), 1e-15)
		near(t, "its share", a.Contributions[0].Share, 1, 1e-15)
		return float64(a.Contributions[0].Effect)
	}
	t.Errorf("more than one input contributes: %+v", a.Contributions)
	return math.NaN()
}

// The derivatives of every answer behind a constant ratio with a linear spring,
// by hand from
//
//	load = (q·m − m_u)·g
//	s = (load·LR − f)/k − p,  w = LR·s,  k_w = k/LR²
//	ideal = load·LR/(s* + p_min),  wanted = load·LR/k − s*,  s* = 0.28·60 mm
//	E = k·L·(L/2 + p),  h = E/load − LR·L,  F = k·(L + p)/LR
//
// with f a force left at the spring, 0 here.
func TestPropagateCoilByHand(t *testing.T) {
	const (
		mass   = tRider + tBike
		load   = (tShare*mass - tUnsprungRear) * tG
		force  = load * tRatio
		target = tSag * tStroke
		s      = force/tRate - tPreload
		w      = tRatio * s
		kw     = tRate / (tRatio * tRatio)
		energy = tRate * tStroke * (tStroke/2 + tPreload)
		left   = energy - tRate*s*(s/2+tPreload)
		full   = tRate * (tStroke + tPreload) / tRatio
		ideal  = force / (target + tPreload)
	)
	freq := math.Sqrt(kw*tG/load) / (2 * math.Pi)
	// d holds the derivatives with respect to one input.
	type d struct{ load, ideal, wanted, s, w, kw, freq, left, energy, drop, full, ratio float64 }
	// Those that come by way of the load.
	loadD := d{
		load: 1, ideal: ideal / load, wanted: tRatio / tRate, s: tRatio / tRate, w: tRatio * tRatio / tRate,
		freq: -freq / (2 * load), left: -tRate * (s + tPreload) * tRatio / tRate, drop: -energy / (load * load), ratio: -full / (load * load),
	}
	times := func(k float64) d {
		return d{k * loadD.load, k * loadD.ideal, k * loadD.wanted, k * loadD.s, k * loadD.w, 0, k * loadD.freq, k * loadD.left, 0, k * loadD.drop, 0, k * loadD.ratio}
	}
	const dLeft = -tRate * (s + tPreload) // of the energy left with s
	for _, test := range []struct {
		name string
		u    Uncertainty
		by   float64
		want d
	}{
		{"rider_mass", Uncertainty{RiderMass: 2}, 2, times(tShare * tG)},
		{"bike_mass", Uncertainty{BikeMass: 0.5}, 0.5, times(tShare * tG)},
		{"unsprung_rear", Uncertainty{UnsprungRear: 0.3}, 0.3, times(-tG)},
		{"unsprung_front", Uncertainty{UnsprungFront: 0.3}, 0.3, d{}},
		{"rear_share", Uncertainty{RearShare: 0.01}, 0.01, times(mass * tG)},
		{"ambient", Uncertainty{Ambient: 1e3}, 1e3, d{}},
		{"rear.spring_rate", Uncertainty{Rear: EndUncertainty{SpringRate: 0.03}}, 0.03, d{
			wanted: -force / tRate, s: -force / tRate, w: -tRatio * force / tRate, kw: kw, freq: freq / 2,
			left: left + dLeft*(-force/tRate), energy: energy, drop: energy / load, full: full, ratio: full / load}},
		{"rear.preload", Uncertainty{Rear: EndUncertainty{Preload: 5e-4}}, 5e-4, d{
			s: -1, w: -tRatio, left: tRate*(tStroke-s) - dLeft, energy: tRate * tStroke, drop: tRate * tStroke / load, full: tRate / tRatio, ratio: tRate / tRatio / load}},
		{"rear.lever_ratio", Uncertainty{Rear: EndUncertainty{LeverRatio: 0.02}}, 0.02, d{
			ideal: ideal, wanted: force / tRate, s: force / tRate, w: w + tRatio*force/tRate, kw: -2 * kw, freq: -freq,
			left: dLeft * force / tRate, drop: -tRatio * tStroke, full: -full, ratio: -full / load}},
		{"rear.friction", Uncertainty{Rear: EndUncertainty{Friction: 20}}, 20, d{s: -1 / tRate, w: -tRatio / tRate, left: -dLeft / tRate}},
		{"rear.reading", Uncertainty{Rear: EndUncertainty{Reading: 1e-3}}, 1e-3, d{}},
	} {
		t.Run(test.name, func(t *testing.T) {
			e := propagate(t, handJob(), test.u).Rear
			at := func(what string, got, want float64) {
				t.Helper()
				near(t, what, got, want*test.by, 1e-7)
			}
			x := test.want
			at("load", effectOf(t, e.Load), x.load)
			at("ideal rate", effectOf(t, e.IdealRate), x.ideal)
			at("preload wanted", effectOf(t, e.PreloadWanted), x.wanted)
			at("stroke", effectOf(t, e.Stroke), x.s)
			at("shock sag", effectOf(t, e.ShockSag), x.s/tStroke)
			at("sag", effectOf(t, e.Sag), x.s/tStroke)
			at("travel", effectOf(t, e.Travel), x.w)
			at("wheel rate", effectOf(t, e.WheelRate), x.kw)
			at("fast wheel rate", effectOf(t, e.FastWheelRate), x.kw)
			at("frequency", effectOf(t, e.Frequency), x.freq)
			at("fast frequency", effectOf(t, e.FastFrequency), x.freq)
			at("energy left", effectOf(t, e.EnergyLeft), x.left)
			at("energy", effectOf(t, e.Energy), x.energy)
			at("drop height", effectOf(t, e.DropHeight), x.drop)
			at("full force", effectOf(t, e.FullForce), x.full)
			at("full ratio", effectOf(t, e.FullRatio), x.ratio)
			reading, travelLeft := x.s, -x.w
			switch test.name {
			case "rear.reading":
				reading = 1
			case "rear.lever_ratio":
				travelLeft += tRatio * tStroke
			}
			at("reading", effectOf(t, e.StrokeReading), reading)
			at("travel left", effectOf(t, e.TravelLeft), travelLeft)
			if e.FillWanted != nil {
				t.Error("a coil has no fill")
			}
		})
	}
}

// The same for one chamber behind a fork, by hand from
//
//	load = ((1 − q)·m − m_u)·g,  F = load·sin φ,  P = F/A + p_a
//	wanted = P·(1 − A·s*/V) − p_a
//	s = V/A·(1 − p₀/P),  p₀ = fill + p_a
//	full force = A·(p₀·rⁿ − p_a)/sin φ,  r = V/(V − A·L)
func TestPropagateAirByHand(t *testing.T) {
	const (
		mass = tRider + tBike
		load = ((1-tShare)*mass - tUnsprungFront) * tG
		vol  = tVolume - tOil
	)
	sin, cos := math.Sin(tAngle), math.Cos(tAngle)
	area := math.Pi / 4 * tBore * tBore
	force := load * sin
	p := force/area + tAmbient
	const target = tForkSag * tFork
	fill := p*(1-area*target/vol) - tAmbient
	p0 := fill + tAmbient
	r := vol / (vol - area*tFork)
	rn := math.Pow(r, tExponent)
	// The derivatives of what is wanted, of the stroke at the recommended fill,
	// and of the force at full travel, by the quantities they are made of.
	type d struct{ wanted, s, full float64 }
	byForce := d{(1 - area*target/vol) / area, vol * p0 / (area * area * p * p), 0}
	byFill := d{0, -vol / (area * p), area * rn / sin}
	byVolume := d{p * area * target / (vol * vol), (1 - p0/p) / area, area * p0 * tExponent * rn / r / sin * (-area * tFork / ((vol - area*tFork) * (vol - area*tFork)))}
	byArea := d{
		-force/(area*area)*(1-area*target/vol) - p*target/vol,
		-vol/(area*area)*(1-p0/p) + vol/area*p0/(p*p)*(-force/(area*area)),
		((p0*rn - tAmbient) + area*p0*tExponent*rn/r*vol*tFork/((vol-area*tFork)*(vol-area*tFork))) / sin,
	}
	times := func(a d, k float64) d { return d{a.wanted * k, a.s * k, a.full * k} }
	full := area * (p0*rn - tAmbient) / sin
	for _, test := range []struct {
		name string
		u    Uncertainty
		by   float64
		want d
	}{
		{"rider_mass", Uncertainty{RiderMass: 2}, 2, times(byForce, (1-tShare)*tG*sin)},
		{"unsprung_front", Uncertainty{UnsprungFront: 0.3}, 0.3, times(byForce, -tG*sin)},
		{"rear_share", Uncertainty{RearShare: 0.01}, 0.01, times(byForce, -mass*tG*sin)},
		{"ambient", Uncertainty{Ambient: 1e3}, 1e3, d{-area * target / vol, -vol/(area*p) + vol*p0/(area*p*p), area * (rn - 1) / sin}},
		{"head_angle", Uncertainty{Front: EndUncertainty{HeadAngle: 0.01}}, 0.01, d{byForce.wanted * load * cos, byForce.s * load * cos, -full * cos / sin}},
		{"friction", Uncertainty{Front: EndUncertainty{Friction: 10}}, 10, d{0, -byForce.s, 0}},
		{"fill", Uncertainty{Front: EndUncertainty{Fill: 7e3}}, 7e3, byFill},
		{"gas_temperature", Uncertainty{Front: EndUncertainty{GasTemperature: 0.02}}, 0.02, times(byFill, p0)},
		{"positive_volume", Uncertainty{Front: EndUncertainty{PositiveVolume: 4e-6}}, 4e-6, byVolume},
		{"oil_volume", Uncertainty{Front: EndUncertainty{OilVolume: 2e-6}}, 2e-6, times(byVolume, -1)},
		{"bore", Uncertainty{Front: EndUncertainty{Bore: 1e-4}}, 1e-4, times(byArea, 2*area/tBore)},
		{"exponent", Uncertainty{Front: EndUncertainty{Exponent: 0.05}}, 0.05, d{0, 0, area * p0 * rn * math.Log(r) / sin}},
	} {
		t.Run(test.name, func(t *testing.T) {
			e := propagate(t, handJob(), test.u).Front
			near(t, "fill wanted", effectOf(t, e.FillWanted), test.want.wanted*test.by, 1e-6)
			near(t, "stroke", effectOf(t, e.Stroke), test.want.s*test.by, 1e-6)
			near(t, "full force", effectOf(t, e.FullForce), test.want.full*test.by, 1e-6)
			if e.IdealRate != nil || e.PreloadWanted != nil || e.Rivals != nil {
				t.Error("an air spring has no rate to choose")
			}
		})
	}
	// The fast rate about the same rest is the exponent times the slow one.
	e := propagate(t, handJob(), Uncertainty{Front: EndUncertainty{Exponent: 0.05}}).Front
	near(t, "fast wheel rate", effectOf(t, e.FastWheelRate), float64(e.WheelRate.Value)*0.05, 1e-7)
	near(t, "slow wheel rate", effectOf(t, e.WheelRate), 0, 0)
}

// What else an air spring is made of, against differences of what RequiredFill
// and Settle say of springs made a little different by hand.
func TestPropagateChambers(t *testing.T) {
	const travel = 0.065
	j := readJob(t, jobText)
	j.Rear.Coil = nil
	j.Rear.Air = &AirChoice{MaxFill: units.BarGauge(40), Spec: airspring.Spec{
		Bore: bore, Shaft: 0.012, Travel: travel, PositiveVolume: volume, NegativeVolume: 25e-6, PortTravel: 0.006,
		SpacerVolume: 4e-6, Spacers: 2, SecondVolume: 30e-6, SecondFill: units.BarGauge(22), Exponent: fast,
	}}
	s := sheet(t, j).Rear
	c := curveOf(t, j.Rear)
	fill := s.Air.Options[0].Fill
	for _, test := range []struct {
		name string
		u    EndUncertainty
		by   float64
		add  func(*airspring.Spec, float64)
	}{
		{"shaft", EndUncertainty{Shaft: 1e-4}, 1e-4, func(s *airspring.Spec, d float64) { s.Shaft += units.Length(d) }},
		{"negative volume", EndUncertainty{NegativeVolume: 1e-6}, 1e-6, func(s *airspring.Spec, d float64) { s.NegativeVolume += units.Volume(d) }},
		{"port travel", EndUncertainty{PortTravel: 3e-4}, 3e-4, func(s *airspring.Spec, d float64) { s.PortTravel += units.Length(d) }},
		{"spacer volume", EndUncertainty{SpacerVolume: 3e-7}, 3e-7, func(s *airspring.Spec, d float64) { s.SpacerVolume += units.Volume(d) }},
		{"second volume", EndUncertainty{SecondVolume: 1e-6}, 1e-6, func(s *airspring.Spec, d float64) { s.SecondVolume += units.Volume(d) }},
		{"second fill", EndUncertainty{SecondFill: 2e4}, 2e4, func(s *airspring.Spec, d float64) { s.SecondFill += units.GaugePressure(d) }},
	} {
		t.Run(test.name, func(t *testing.T) {
			e := propagate(t, j, Uncertainty{Rear: test.u}).Rear
			spec := func(d, exponent float64) airspring.Spec {
				spec := j.Rear.Air.Spec
				spec.Ambient, spec.Fill, spec.Exponent = j.Ambient, fill, exponent
				test.add(&spec, d)
				return spec
			}
			wanted := func(d float64) float64 {
				p, err := RequiredFill(c, Target{Load: s.Load, Sag: j.Rear.Sag}, spec(d, 1))
				require.NoError(t, err)
				return float64(p)
			}
			sagged := func(d float64) float64 {
				law, err := airspring.New(spec(d, 1))
				require.NoError(t, err)
				r, err := Settle(c, law, s.Load, 0)
				require.NoError(t, err)
				return float64(r.Stroke)
			}
			full := func(d float64) float64 {
				law, err := airspring.New(spec(d, fast))
				require.NoError(t, err)
				return float64(law.Force(travel)) / c.LeverRatio(travel)
			}
			h := &fd.Settings{Formula: fd.Central, Step: test.by / 30}
			far := func(what string, got, slope, size float64) {
				t.Helper()
				if !(math.Abs(got-slope*test.by) <= 1e-4*math.Abs(slope*test.by)+1e-9*size) {
					t.Errorf("%s: %v, want %v", what, got, slope*test.by)
				}
			}
			far("fill wanted", effectOf(t, e.FillWanted), fd.Derivative(wanted, 0, h), float64(fill))
			far("stroke", effectOf(t, e.Stroke), fd.Derivative(sagged, 0, h), travel)
			far("full force", effectOf(t, e.FullForce), fd.Derivative(full, 0, h), full(0))
			if full(test.by) == full(0) {
				t.Error("an input that does nothing tests nothing")
			}
		})
	}
}

// Behind any curve, implicit differentiation of F_w(w) = load gives
// dw = dload/k_w, and a force at the spring counts 1/LR at the wheel. The second
// end is an air spring with a negative chamber.
func TestPropagateByImplicitDifferentiation(t *testing.T) {
	j := readJob(t, jobText)
	s := sheet(t, j)
	q := j.Masses.RearShare
	rear, front, best := &s.Rear.Rest, &s.Front.Rest, &s.Rear.Coil.Candidates[0]
	kw, lr, k := float64(rear.WheelRate), rear.LeverRatio, float64(best.Rate)
	travel := func(u Uncertainty) float64 { return effectOf(t, propagate(t, j, u).Rear.Travel) }
	near(t, "rider mass", travel(Uncertainty{RiderMass: 3}), 3*q*tG/kw, 1e-6)
	near(t, "friction", travel(Uncertainty{Rear: EndUncertainty{Friction: 20}}), -20/lr/kw, 1e-6)
	near(t, "preload", travel(Uncertainty{Rear: EndUncertainty{Preload: 1e-3}}), -1e-3*k/lr/kw, 1e-6)
	near(t, "rate", travel(Uncertainty{Rear: EndUncertainty{SpringRate: 0.05}}), -0.05*float64(s.Rear.Load)/kw, 1e-6)
	// w = c·w₀(c·load).
	near(t, "ratio", travel(Uncertainty{Rear: EndUncertainty{LeverRatio: 0.01}}), 0.01*(float64(rear.Travel)+float64(s.Rear.Load)/kw), 1e-6)

	b := propagate(t, j, Uncertainty{RiderMass: 3})
	near(t, "front", effectOf(t, b.Front.Travel), 3*(1-q)*tG/float64(front.WheelRate), 1e-6)
	b = propagate(t, j, Uncertainty{Front: EndUncertainty{Friction: 8}})
	near(t, "front friction", effectOf(t, b.Front.Travel), -8/front.LeverRatio/float64(front.WheelRate), 1e-6)
}

// A curve of pivots, invented, is stretched without being solved anew: of
// w = c·w₀(c·load), ideal = c·load·LR(s*)/(s* + p), k_w a derivative by w.
func TestPropagateMechanism(t *testing.T) {
	j := handJob()
	j.Rear.Curve = linkage.Spec{Mechanism: &mechanism.Spec{
		Points: map[string]mechanism.Point{"P": {0.012, 0.072}, "A": {-0.438, 0.028}, "S1": {-0.092, 0.238}, "S2": {0.112, 0.292}},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "swingarm": {"P", "A", "S1"}}, Axle: "A", Shock: [2]string{"S1", "S2"}, Stroke: 0.0575,
	}}
	s := sheet(t, j).Rear
	e := propagate(t, j, Uncertainty{Rear: EndUncertainty{LeverRatio: 0.01}}).Rear
	near(t, "travel", effectOf(t, e.Travel), 0.01*float64(s.Rest.Travel+units.Length(s.Load)/units.Length(s.Rest.WheelRate)), 1e-5)
	near(t, "ideal rate", effectOf(t, e.IdealRate), 0.01*float64(s.Coil.IdealRate), 1e-9)
	near(t, "full force", effectOf(t, e.FullForce), -0.01*float64(s.Reserve.FullForce), 1e-7)
}

// A table of two points is a constant ratio, and an error of its last travel
// one of the ratio.
func TestPropagateTableOfTwo(t *testing.T) {
	j := handJob()
	whole := propagate(t, j, Uncertainty{Rear: EndUncertainty{LeverRatio: 0.01}}).Rear
	j.Rear.Curve = linkage.Spec{Table: &linkage.Table{Stroke: []units.Length{0, tStroke}, Travel: []units.Length{0, tRatio * tStroke}}}
	table := propagate(t, j, Uncertainty{Rear: EndUncertainty{TableTravel: 0.01 * tRatio * tStroke}}).Rear
	for _, a := range []struct {
		what        string
		whole, tabl float64
	}{
		{"ideal rate", effectOf(t, whole.IdealRate), effectOf(t, table.IdealRate)},
		{"sag", effectOf(t, whole.Sag), effectOf(t, table.Sag)},
		{"travel", effectOf(t, whole.Travel), effectOf(t, table.Travel)},
		{"travel left", effectOf(t, whole.TravelLeft), effectOf(t, table.TravelLeft)},
		{"wheel rate", effectOf(t, whole.WheelRate), effectOf(t, table.WheelRate)},
		{"drop height", effectOf(t, whole.DropHeight), effectOf(t, table.DropHeight)},
		{"full force", effectOf(t, whole.FullForce), effectOf(t, table.FullForce)},
	} {
		near(t, a.what, a.tabl, a.whole, 1e-6)
	}
}

// A smooth table of four points is the cubic through them, so that an error δ
// of one travel adds δ·ℓ(s) with ℓ Lagrange's polynomial of the point. On a
// straight table, with w* = 0.28·w₃ the target,
//
//	ds* = (0.28·δ₃ − Σδᵢℓᵢ(s*))/LR,  dLR = Σδᵢℓᵢ′(s*)
//	ideal = load·LR/(s* + p)
func TestPropagateTableOfFour(t *testing.T) {
	const h, u, n = tStroke / 3, 0.4e-3, 4
	var table linkage.Table
	for i := range n {
		table.Stroke = append(table.Stroke, units.Length(float64(i)*h))
		table.Travel = append(table.Travel, units.Length(tRatio*float64(i)*h))
	}
	table.Method = linkage.Smooth
	j := handJob()
	j.Rear.Curve = linkage.Spec{Table: &table}
	const load, target = (tShare*(tRider+tBike) - tUnsprungRear) * tG, tSag * tStroke
	variance := 0.0
	for i := 1; i < n; i++ {
		// In steps of h: ℓ is the product, ℓ′ the sum of products less a factor.
		l, slope := 1.0, 0.0
		for k := range n {
			if k == i {
				continue
			}
			l *= (target/h - float64(k)) / float64(i-k)
			part := 1 / (h * float64(i-k))
			for m := range n {
				if m != i && m != k {
					part *= (target/h - float64(m)) / float64(i-m)
				}
			}
			slope += part
		}
		ds := -l / tRatio
		if i == n-1 {
			ds += tSag / tRatio
		}
		effect := load*slope/(target+tPreload) - load*tRatio/math.Pow(target+tPreload, 2)*ds
		variance += math.Pow(effect*u, 2)
	}
	b := propagate(t, j, Uncertainty{Rear: EndUncertainty{TableTravel: u}})
	near(t, "ideal rate", effectOf(t, b.Rear.IdealRate), math.Sqrt(variance), 1e-6)
	if got := b.Rear.IdealRate.Dominant; got != "rear.table_travel" {
		t.Errorf("dominant %q", got)
	}
}

// Worked by hand: with u(m) = 2 kg, u(q) = 0.01, u(k)/k = 3 % and u(p) = 0.5 mm,
// in mm at the shock,
//
//	rider  2·0.6·g·2.5/85e3   = 0.346117 mm
//	share  0.01·100·g·2.5/85e3 = 0.288431 mm
//	rate   0.03·1397.4476/85e3 = 0.493217 mm
//	preload                    = 0.5 mm
//
// u² = 0.119797 + 0.083192 + 0.243263 + 0.25 = 0.696252 mm², u = 0.834417 mm.
func TestPropagateCombines(t *testing.T) {
	u := Uncertainty{RiderMass: 2, RearShare: 0.01, Rear: EndUncertainty{SpringRate: 0.03, Preload: 5e-4}}
	a := propagate(t, handJob(), u).Rear.Stroke
	near(t, "stroke", float64(a.Uncertainty), 0.834417e-3, 1e-6)
	if a.Dominant != "rear.preload" {
		t.Errorf("dominant %q", a.Dominant)
	}
	wants := []struct {
		input         string
		effect, share float64
	}{
		{"rear.preload", -0.5e-3, 0.25 / 0.696252}, {"rear.spring_rate", -0.493217e-3, 0.243263 / 0.696252},
		{"rider_mass", 0.346117e-3, 0.119797 / 0.696252}, {"rear_share", 0.288431e-3, 0.083192 / 0.696252},
	}
	require.Len(t, a.Contributions, len(wants))
	total := 0.0
	for i, want := range wants {
		got := a.Contributions[i]
		if got.Input != want.input {
			t.Errorf("contribution %d is %q, want %q", i, got.Input, want.input)
		}
		near(t, want.input, float64(got.Effect), want.effect, 3e-6)
		near(t, want.input+" share", got.Share, want.share, 1e-5)
		total += got.Share
	}
	near(t, "shares", total, 1, 1e-14)
	// To first order, twice the errors are twice the uncertainty.
	u = Uncertainty{RiderMass: 4, RearShare: 0.02, Rear: EndUncertainty{SpringRate: 0.06, Preload: 1e-3}}
	near(t, "doubled", float64(propagate(t, handJob(), u).Rear.Stroke.Uncertainty), 2*float64(a.Uncertainty), 1e-14)
}

// The share is a/L: u(q)² = (u(a)/L)² + (a·u(L)/L²)².
func TestPropagateMassCentre(t *testing.T) {
	const l, a = 1.25, 0.75
	j := handJob()
	j.Masses.RearShare, j.Masses.Wheelbase, j.Masses.MassCentreBehindFrontAxle = 0, l, a
	b := propagate(t, j, Uncertainty{Wheelbase: 0.01, MassCentreBehindFrontAxle: 0.02})
	q := math.Hypot(0.02/l, a*0.01/(l*l))
	near(t, "rear", float64(b.Rear.Load.Uncertainty), q*100*tG, 1e-7)
	near(t, "front", float64(b.Front.Load.Uncertainty), q*100*tG, 1e-7)
}

// With scales under the wheels each end's load errs by itself.
func TestPropagateScales(t *testing.T) {
	j := handJob()
	j.Masses.RearShare, j.Masses.RiderMass = 0, 0
	j.Masses.FrontScale, j.Masses.RearScale = 40, 60
	b := propagate(t, j, Uncertainty{FrontScale: 0.3, RearScale: 0.4, UnsprungRear: 0.3})
	near(t, "front", float64(b.Front.Load.Uncertainty), 0.3*tG, 1e-9)
	near(t, "rear", float64(b.Rear.Load.Uncertainty), 0.5*tG, 1e-9)
	near(t, "rear load", float64(b.Rear.Load.Value), 57*tG, 1e-12)
}

// The frequency ratio is √(front k_w/load)/√(rear k_w/load): a share moves the
// two loads against each other. ln r = ½(ln(k_f/load_f) − ln(k_r/load_r)), and
// the rear rate is constant; what the front's does is its own answer.
func TestPropagateFrequencyRatio(t *testing.T) {
	b := propagate(t, handJob(), Uncertainty{RearShare: 0.01})
	front, rear := b.Front.FastFrequency, b.Rear.FastFrequency
	want := b.FrequencyRatio.Value * (effectOf(t, front)/float64(front.Value) - effectOf(t, rear)/float64(rear.Value))
	near(t, "ratio", effectOf(t, b.FrequencyRatio), want, 1e-6)
	near(t, "value", b.FrequencyRatio.Value, sheet(t, handJob()).FrequencyRatio, 1e-12)
}

// The values are those of the sheet.
func TestPropagateValuesAreTheSheets(t *testing.T) {
	swapped := readJob(t, jobText)
	swapped.Front.Coil, swapped.Front.Air = swapped.Rear.Coil, nil
	swapped.Rear.Coil, swapped.Rear.Air = nil, &AirChoice{Spec: airspring.Spec{Bore: bore, PositiveVolume: volume, Exponent: fast, SecondVolume: 40e-6, SecondFill: units.BarGauge(25)}, MaxFill: units.BarGauge(40)}
	for name, j := range map[string]Job{"air in front": readJob(t, jobText), "coil in front": swapped, "plain": handJob()} {
		t.Run(name, func(t *testing.T) {
			s, b := sheet(t, j), propagate(t, j, Uncertainty{})
			for i, e := range []*EndBudget{&b.Front, &b.Rear} {
				w := []*EndSheet{&s.Front, &s.Rear}[i]
				is := func(what string, got, want float64) {
					t.Helper()
					near(t, fmt.Sprint(i, " ", what), got, want, 1e-11)
				}
				is("load", float64(e.Load.Value), float64(w.Load))
				is("sag", e.Sag.Value, w.Rest.Sag)
				is("shock sag", e.ShockSag.Value, w.Rest.ShockSag)
				is("travel", float64(e.Travel.Value), float64(w.Rest.Travel))
				is("stroke", float64(e.Stroke.Value), float64(w.Rest.Stroke))
				is("reading", float64(e.StrokeReading.Value), float64(w.Measure[0].Expected))
				is("wheel rate", float64(e.WheelRate.Value), float64(w.Rest.WheelRate))
				is("frequency", float64(e.Frequency.Value), float64(w.Rest.Frequency))
				is("fast wheel rate", float64(e.FastWheelRate.Value), float64(w.FastWheelRate))
				is("fast frequency", float64(e.FastFrequency.Value), float64(w.FastFrequency))
				is("travel left", float64(e.TravelLeft.Value), float64(w.TravelLeft))
				is("energy left", float64(e.EnergyLeft.Value), float64(w.EnergyLeft))
				is("energy", float64(e.Energy.Value), float64(w.Reserve.Energy))
				is("drop height", float64(e.DropHeight.Value), float64(w.Reserve.DropHeight))
				is("full force", float64(e.FullForce.Value), float64(w.Reserve.FullForce))
				is("full ratio", e.FullRatio.Value, w.FullRatio)
				if w.Coil != nil {
					is("ideal rate", float64(e.IdealRate.Value), float64(w.Coil.IdealRate))
					is("preload wanted", float64(e.PreloadWanted.Value), float64(w.Coil.Candidates[0].PreloadWanted))
				} else {
					is("fill wanted", float64(e.FillWanted.Value), float64(w.Air.Options[0].FillWanted))
				}
				if e.Load.Uncertainty != 0 || e.Load.Dominant != "" || len(e.Load.Contributions) != 0 {
					t.Errorf("everything exact, yet %+v", e.Load)
				}
			}
		})
	}
}

// What is not stated is listed as exact, and only what the job has.
func TestPropagateListsTheExact(t *testing.T) {
	b := propagate(t, handJob(), Uncertainty{RiderMass: 1, Front: EndUncertainty{Fill: 1e3}, Rear: EndUncertainty{SpringRate: 0.01}})
	want := []string{"bike_mass", "unsprung_front", "unsprung_rear", "rear_share", "ambient",
		"front.head_angle", "front.friction", "front.reading", "front.gas_temperature", "front.bore", "front.positive_volume", "front.oil_volume", "front.exponent",
		"rear.lever_ratio", "rear.friction", "rear.reading", "rear.preload"}
	if diff := cmp.Diff(want, b.Exact); diff != "" {
		t.Errorf("exact (-want +got):\n%s", diff)
	}
}

// An end that the load tops out has no first-order rest.
func TestPropagateWithoutARest(t *testing.T) {
	for _, test := range []struct {
		name    string
		preload units.Length
		rate    units.Stiffness
	}{{"topped out", 0.03, tRate}, {"bottomed out", 0, 10e3}} {
		t.Run(test.name, func(t *testing.T) {
			j := handJob()
			j.Rear.Coil.Shelf[0] = ShelfSpring{Rate: test.rate}
			j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = test.preload, test.preload
			e := propagate(t, j, Uncertainty{RiderMass: 1}).Rear
			if e.Sag != nil || e.Travel != nil || e.StrokeReading != nil || e.EnergyLeft != nil || e.WheelRate != nil || e.FastFrequency != nil {
				t.Errorf("a rest: %+v", e)
			}
			near(t, "load", effectOf(t, e.Load), tShare*tG, 1e-9)
			if e.IdealRate == nil || e.PreloadWanted == nil || e.DropHeight == nil {
				t.Errorf("what needs no rest is missing: %+v", e)
			}
		})
	}
}

// At the edge of what an input can be the difference is one-sided.
func TestPropagateAtAnEdge(t *testing.T) {
	j := handJob()
	j.Front.Air.Exponent = 1
	e := propagate(t, j, Uncertainty{Front: EndUncertainty{Exponent: 0.05}}).Front
	near(t, "fast wheel rate", effectOf(t, e.FastWheelRate), float64(e.WheelRate.Value)*0.05, 1e-7)
	// From one side, a step of 1e-4 leaves an error of its own size in what bends.
	area := math.Pi / 4 * tBore * tBore
	r := (tVolume - tOil) / (tVolume - tOil - area*tFork)
	p0 := float64(sheet(t, j).Front.Air.Options[0].Fill) + tAmbient
	near(t, "full force", effectOf(t, e.FullForce), area*p0*r*math.Log(r)/math.Sin(tAngle)*0.05, 2e-4)

	j.Front.Air.Exponent = 2
	e = propagate(t, j, Uncertainty{Front: EndUncertainty{Exponent: 0.05}}).Front
	near(t, "fast wheel rate at the other edge", effectOf(t, e.FastWheelRate), float64(e.WheelRate.Value)*0.05, 1e-7)

	j = handJob()
	j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = 0, 0
	near(t, "no preload", effectOf(t, propagate(t, j, Uncertainty{Rear: EndUncertainty{Preload: 1e-3}}).Rear.Stroke), -1e-3, 1e-9)
}

func TestUncertaintyRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	everything := EndUncertainty{HeadAngle: 0.01, LeverRatio: 0.01, TableTravel: 1e-4, Friction: 1, Reading: 1e-4, SpringRate: 0.01, Preload: 1e-4,
		Fill: 1, GasTemperature: 0.01, Bore: 1e-6, Shaft: 1e-6, PositiveVolume: 1e-9, NegativeVolume: 1e-9, PortTravel: 1e-6, OilVolume: 1e-9,
		SpacerVolume: 1e-9, SecondVolume: 1e-9, SecondFill: 1, Exponent: 0.01}
	coils := handJob()
	coils.Front.Air, coils.Front.Coil = nil, coils.Rear.Coil
	centre := handJob()
	centre.Masses.RearShare, centre.Masses.Wheelbase, centre.Masses.MassCentreBehindFrontAxle = 0, 1.2, 0.7
	scales := handJob()
	scales.Masses.RearShare, scales.Masses.RiderMass, scales.Masses.FrontScale, scales.Masses.RearScale = 0, 0, 40, 60
	bad := handJob()
	bad.Masses.RiderMass, bad.Front.Air.Bore = -1, 0
	for _, test := range []struct {
		name  string
		job   Job
		u     Uncertainty
		class error
		want  []string
	}{
		{"not finite or negative", handJob(), Uncertainty{RiderMass: -1, BikeMass: units.Mass(nan), UnsprungFront: units.Mass(inf), RearShare: -0.1, Ambient: units.AbsolutePressure(nan),
			Front: EndUncertainty{HeadAngle: units.Angle(nan), Fill: -1, Exponent: nan}, Rear: EndUncertainty{LeverRatio: -1, SpringRate: inf, Preload: units.Length(nan), Friction: -1, Reading: units.Length(inf)}},
			units.ErrRange, []string{"rider_mass", "bike_mass", "unsprung_front", "rear_share", "ambient", "front.head_angle", "front.fill", "front.exponent",
				"rear.lever_ratio", "rear.friction", "rear.reading", "rear.spring_rate", "rear.preload"}},
		{"too large", handJob(), Uncertainty{RiderMass: 80.1, BikeMass: 20.1, UnsprungFront: 20.1, UnsprungRear: 20.1, RearShare: 0.41, Ambient: 98.1e3,
			Front: EndUncertainty{HeadAngle: 0.53, Fill: 1.1e6, Bore: 0.036, PositiveVolume: 261e-6, OilVolume: 261e-6, GasTemperature: 1.1, Exponent: 1.1},
			Rear:  EndUncertainty{LeverRatio: 1.1, SpringRate: 1.1, Preload: 0.061, Friction: 981, Reading: 0.061}},
			units.ErrRange, []string{"rider_mass", "bike_mass", "unsprung_front", "unsprung_rear", "rear_share", "ambient", "front.head_angle", "front.fill", "front.gas_temperature", "front.bore",
				"front.positive_volume", "front.oil_volume", "front.exponent", "rear.lever_ratio", "rear.friction", "rear.reading", "rear.spring_rate", "rear.preload"}},
		{"not of this job", handJob(), Uncertainty{Wheelbase: 0.01, MassCentreBehindFrontAxle: 0.01, FrontScale: 1, RearScale: 1, Front: everything, Rear: everything},
			units.ErrConflict, []string{"wheelbase", "mass_centre_behind_front_axle", "front_scale", "rear_scale",
				"front.lever_ratio", "front.table_travel", "front.spring_rate", "front.preload", "front.shaft", "front.negative_volume", "front.port_travel", "front.spacer_volume", "front.second_volume", "front.second_fill",
				"rear.head_angle", "rear.table_travel", "rear.fill", "rear.gas_temperature", "rear.bore", "rear.shaft", "rear.positive_volume", "rear.negative_volume", "rear.port_travel", "rear.oil_volume",
				"rear.spacer_volume", "rear.second_volume", "rear.second_fill", "rear.exponent"}},
		{"no air", coils, Uncertainty{Ambient: 100}, units.ErrConflict, []string{"ambient"}},
		{"mass centre", centre, Uncertainty{RearShare: 0.01, Wheelbase: 0.6, MassCentreBehindFrontAxle: 0.6}, units.ErrRange,
			[]string{"rear_share", "wheelbase", "mass_centre_behind_front_axle"}},
		{"scales", scales, Uncertainty{RiderMass: 1, BikeMass: 1, RearShare: 0.01, FrontScale: 41, RearScale: 61}, units.ErrRange,
			[]string{"rider_mass", "bike_mass", "rear_share", "front_scale", "rear_scale"}},
		{"job and uncertainty", bad, Uncertainty{BikeMass: -1, Front: EndUncertainty{Shaft: 1e-6}, Rear: EndUncertainty{SpringRate: 2}}, units.ErrRange,
			[]string{"masses.rider_mass", "front.air.bore", "bike_mass", "front.shaft", "rear.spring_rate"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			want := append([]string(nil), test.want...)
			for i, name := range want {
				if !strings.HasPrefix(name, "masses.") && name != "front.air.bore" {
					want[i] = "uncertainty." + name
				}
			}
			for _, err := range []error{second(Propagate(test.job, test.u)), second(Simulate(test.job, test.u, 100, 1))} {
				if diff := cmp.Diff(want, names(err)); diff != "" {
					t.Errorf("named (-want +got):\n%s", diff)
				}
				if !errors.Is(err, test.class) {
					t.Errorf("%v is not %v", err, test.class)
				}
			}
		})
	}
	// At the very limits all is well.
	most := Uncertainty{RiderMass: 80, BikeMass: 20, UnsprungFront: 20, UnsprungRear: 20, RearShare: 0.4, Ambient: 98e3,
		Front: EndUncertainty{HeadAngle: 30 * units.Degree, Fill: units.BarGauge(10), Bore: 0.035, GasTemperature: 1, PositiveVolume: 260e-6, OilVolume: 260e-6, Exponent: 1},
		Rear:  EndUncertainty{LeverRatio: 1, SpringRate: 1, Preload: tStroke, Friction: 980, Reading: tStroke}}
	require.NoError(t, second(Propagate(handJob(), most)))
	s, err := Simulate(handJob(), most, 2000, 1)
	require.NoError(t, err)
	_, err = json.Marshal(s)
	require.NoError(t, err)
}

func TestUncertaintyRoundTrip(t *testing.T) {
	u := Uncertainty{RiderMass: 2, RearShare: 0.01, Ambient: 500, Front: EndUncertainty{HeadAngle: units.Degree / 2, Fill: units.PSIGauge(2)},
		Rear: EndUncertainty{SpringRate: 0.03, Preload: 0.5 * units.Millimetre}}
	text, err := json.Marshal(u)
	require.NoError(t, err)
	var back Uncertainty
	require.NoError(t, strictjson.Decode("uncertainty", strings.NewReader(string(text)), JobLimit, &back))
	if diff := cmp.Diff(u, back); diff != "" {
		t.Errorf("read back (-want +got):\n%s", diff)
	}
	text, err = json.Marshal(Uncertainty{})
	require.NoError(t, err)
	if string(text) != "{}" {
		t.Errorf("nothing stated is written as %s", text)
	}
}

// The uncertainty that a job states of itself gives way to the one asked for.
func TestPropagateTakesThePlaceOfTheJobs(t *testing.T) {
	j, u := handJob(), Uncertainty{RiderMass: 2}
	want := propagate(t, j, u)
	j.Uncertainty = &Uncertainty{RiderMass: -1}
	if diff := cmp.Diff(want, propagate(t, j, u)); diff != "" {
		t.Errorf("(-without +with the job's own):\n%s", diff)
	}
}

func BenchmarkPropagate(b *testing.B) { // budget: 10 ms for a table of 6 points, 4 springs and 12 uncertain inputs
	j := readJob(b, jobText)
	u := fullUncertainty()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Propagate(j, u); err != nil {
			b.Fatal(err)
		}
	}
}

// fullUncertainty is of most inputs of jobText, invented.
func fullUncertainty() Uncertainty {
	return Uncertainty{
		RiderMass: 0.5, BikeMass: 0.1, UnsprungFront: 0.2, UnsprungRear: 0.2, RearShare: 0.005, Ambient: 300,
		Front: EndUncertainty{HeadAngle: 0.005, Fill: 5e3, PositiveVolume: 2e-6, NegativeVolume: 1e-6, GasTemperature: 0.005, Friction: 5},
		Rear:  EndUncertainty{SpringRate: 0.02, Preload: 3e-4, TableTravel: 2e-4, LeverRatio: 0.002, Friction: 15, Reading: 5e-4},
	}
}
