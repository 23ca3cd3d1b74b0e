package certainty_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/diff/fd"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/units"
)

// The same for one chamber behind a fork, by hand from
//
//	load = ((1 − q)·m − m_u)·g,  F = load·sin φ,  P = F/A + p_a
//	wanted = P·(1 − A·s*/V) − p_a
//	s = V/A·(1 − p₀/P),  p₀ = fill + p_a
//	full force = A·(p₀·rⁿ − p_a)/sin φ,  r = V/(V − A·L)
func TestAirDerivativesAreTheClosedForms(t *testing.T) {
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
		u    certainty.Uncertainty
		by   float64
		want d
	}{
		{"rider_mass", certainty.Uncertainty{RiderMass: 2}, 2, times(byForce, (1-tShare)*tG*sin)},
		{"unsprung_front", certainty.Uncertainty{UnsprungFront: 0.3}, 0.3, times(byForce, -tG*sin)},
		{"rear_share", certainty.Uncertainty{RearShare: 0.01}, 0.01, times(byForce, -mass*tG*sin)},
		{"ambient", certainty.Uncertainty{Ambient: 1e3}, 1e3, d{-area * target / vol, -vol/(area*p) + vol*p0/(area*p*p), area * (rn - 1) / sin}},
		{"head_angle", certainty.Uncertainty{Front: certainty.EndUncertainty{HeadAngle: 0.01}}, 0.01, d{byForce.wanted * load * cos, byForce.s * load * cos, -full * cos / sin}},
		{"friction", certainty.Uncertainty{Front: certainty.EndUncertainty{Friction: 10}}, 10, d{0, -byForce.s, 0}},
		{"fill", certainty.Uncertainty{Front: certainty.EndUncertainty{Fill: 7e3}}, 7e3, byFill},
		{"gas_temperature", certainty.Uncertainty{Front: certainty.EndUncertainty{GasTemperature: 0.02}}, 0.02, times(byFill, p0)},
		{"positive_volume", certainty.Uncertainty{Front: certainty.EndUncertainty{PositiveVolume: 4e-6}}, 4e-6, byVolume},
		{"oil_volume", certainty.Uncertainty{Front: certainty.EndUncertainty{OilVolume: 2e-6}}, 2e-6, times(byVolume, -1)},
		{"bore", certainty.Uncertainty{Front: certainty.EndUncertainty{Bore: 1e-4}}, 1e-4, times(byArea, 2*area/tBore)},
		{"exponent", certainty.Uncertainty{Front: certainty.EndUncertainty{Exponent: 0.05}}, 0.05, d{0, 0, area * p0 * rn * math.Log(r) / sin}},
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
	e := propagate(t, handJob(), certainty.Uncertainty{Front: certainty.EndUncertainty{Exponent: 0.05}}).Front
	near(t, "fast wheel rate", effectOf(t, e.FastWheelRate), float64(e.WheelRate.Value)*0.05, 1e-7)
	near(t, "slow wheel rate", effectOf(t, e.WheelRate), 0, 0)
}

// What else an air spring is made of, against differences of what RequiredFill
// and Settle say of springs made a little different by hand. Gas that is warmer
// by a part δ of its absolute temperature has that much more of its absolute
// pressure, in both chambers: it moves the rest, and not what the target needs.
func TestChamberDerivativesAreTheDifferencesOfSprings(t *testing.T) {
	const travel, exponent = 0.065, 1.4
	j := airJob(t, airspring.Spec{Shaft: 0.012, NegativeVolume: 25e-6, PortTravel: 0.006, SpacerVolume: 4e-6, Spacers: 2, SecondVolume: 30e-6, SecondFill: units.BarGauge(22)})
	s := sheet(t, j).Rear
	c, fill := s.Curve(), s.Air.Options[0].Fill
	for _, test := range []struct {
		name string
		u    certainty.EndUncertainty
		by   float64
		add  func(*airspring.Spec, float64)
	}{
		{"shaft", certainty.EndUncertainty{Shaft: 1e-4}, 1e-4, func(s *airspring.Spec, d float64) { s.Shaft += units.Length(d) }},
		{"negative volume", certainty.EndUncertainty{NegativeVolume: 1e-6}, 1e-6, func(s *airspring.Spec, d float64) { s.NegativeVolume += units.Volume(d) }},
		{"port travel", certainty.EndUncertainty{PortTravel: 3e-4}, 3e-4, func(s *airspring.Spec, d float64) { s.PortTravel += units.Length(d) }},
		{"spacer volume", certainty.EndUncertainty{SpacerVolume: 3e-7}, 3e-7, func(s *airspring.Spec, d float64) { s.SpacerVolume += units.Volume(d) }},
		{"second volume", certainty.EndUncertainty{SecondVolume: 1e-6}, 1e-6, func(s *airspring.Spec, d float64) { s.SecondVolume += units.Volume(d) }},
		{"second fill", certainty.EndUncertainty{SecondFill: 2e4}, 2e4, func(s *airspring.Spec, d float64) { s.SecondFill += units.GaugePressure(d) }},
		{"warmth", certainty.EndUncertainty{GasTemperature: 0.02}, 0.02, func(s *airspring.Spec, d float64) {
			s.Fill += units.GaugePressure(d) * (s.Fill + units.GaugePressure(j.Ambient))
			s.SecondFill += units.GaugePressure(d) * (s.SecondFill + units.GaugePressure(j.Ambient))
		}},
	} {
		t.Run(test.name, func(t *testing.T) {
			e := propagate(t, j, certainty.Uncertainty{Rear: test.u}).Rear
			spec := func(d, n float64) airspring.Spec {
				spec := j.Rear.Air.Spec
				spec.Ambient, spec.Fill, spec.Exponent = j.Ambient, fill, n
				test.add(&spec, d)
				return spec
			}
			wanted := func(d float64) float64 {
				p, err := sag.RequiredFill(c, sag.Target{Load: s.Load, Sag: j.Rear.Sag}, spec(d, 1))
				require.NoError(t, err)
				return float64(p)
			}
			sagged := func(d float64) float64 {
				law, err := airspring.New(spec(d, 1))
				require.NoError(t, err)
				r, err := sag.End{Curve: c, Law: law}.Settle(s.Load)
				require.NoError(t, err)
				return float64(r.Stroke)
			}
			full := func(d float64) float64 {
				law, err := airspring.New(spec(d, exponent))
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
			if slope := fd.Derivative(wanted, 0, h); test.name == "warmth" {
				far("fill wanted", effectOf(t, e.FillWanted), 0, float64(fill))
			} else {
				far("fill wanted", effectOf(t, e.FillWanted), slope, float64(fill))
			}
			far("stroke", effectOf(t, e.Stroke), fd.Derivative(sagged, 0, h), travel)
			far("full force", effectOf(t, e.FullForce), fd.Derivative(full, 0, h), full(0))
			if full(test.by) == full(0) {
				t.Error("an input that does nothing tests nothing")
			}
		})
	}
}

// The ambient is around both ends: with air at both, each moves as it does beside a coil.
func TestAmbientMovesBothEnds(t *testing.T) {
	j := airJob(t, airspring.Spec{})
	u := certainty.Uncertainty{Ambient: 300}
	both := propagate(t, j, u)
	near(t, "front", effectOf(t, both.Front.FillWanted), effectOf(t, propagate(t, demoJob(t), u).Front.FillWanted), 1e-9)
	// One chamber wants F/A·(1 − A·s/V) − p_a·A·s/V.
	rear := sheet(t, j).Rear
	at := rear.Curve().StrokeAt(0.29 * rear.Travel)
	near(t, "rear", effectOf(t, both.Rear.FillWanted), -300*math.Pi/4*0.045*0.045*float64(at)/190e-6, 1e-6)
}
