package coil_test

import (
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

var ordinary = coil.Spec{WireDiameter: 0.0125, MeanDiameter: 0.065, ActiveCoils: 5, FreeLength: 0.2, ShearModulus: 79e9, ElasticModulus: 206e9, Density: 7850}

// Of coils whose numbers are next to nothing or enormous, every answer is finite.
func TestCoilsAreFinite(t *testing.T) {
	unitstest.FiniteOrRefused(t, "coil", ordinary, coil.New)
	type asked struct {
		Spec    coil.Spec
		Place   coil.Place
		Load    units.Force
		Stress  units.Stress
		Preload units.Length
		Fixity  float64
	}
	place := coil.Place{Stroke: 0.06, Preload: 0.002, Body: 0.04, Tube: 0.1, EndFixity: 0.5, TensileStrength: 1.6e9}
	unitstest.FiniteOrRefused(t, "answers", asked{ordinary, place, 1000, 500e6, 0.002, 0.5}, func(c asked) ([]any, error) {
		s, err := coil.New(c.Spec)
		if err != nil {
			return nil, err
		}
		law, err := s.WithPreload(c.Preload)
		if err != nil {
			return nil, err
		}
		criteria, err := coil.CheckPlace(s, c.Place)
		off, _ := s.LoadTolerance(c.Load, coil.Grade1)
		buckling, _ := s.Buckling(c.Fixity)
		stable, _ := s.StableSlenderness(c.Fixity)
		return []any{law, criteria, off, buckling, stable, s.StressUncorrected(c.Load), s.Stress(c.Load), s.StressWahl(c.Load),
			s.LoadForStress(c.Stress)}, err
	})
	unitstest.FiniteOrRefused(t, "even pitch", coil.LinearPitch{WireDiameter: 0.0125, MeanDiameter: 0.065, ShearModulus: 79e9, ActiveCoils: 5, FirstGap: 0.004, LastGap: 0.01}, coil.NewLinearPitch)
}

func TestDesignsAreFinite(t *testing.T) {
	type wanted struct {
		Spec coil.Spec
		Rate units.Stiffness
	}
	unitstest.FiniteOrRefused(t, "coils", wanted{ordinary, 80e3}, func(c wanted) (coil.Spec, error) {
		c.Spec.ActiveCoils, c.Spec.FreeLength = 0, 0
		return coil.ForRate(c.Spec, c.Rate)
	})
	unitstest.FiniteOrRefused(t, "diameter", wanted{ordinary, 80e3}, func(c wanted) (coil.Spec, error) {
		c.Spec.MeanDiameter = 0
		return coil.ForRate(c.Spec, c.Rate)
	})
}

func TestMeasuredCoilsAreFinite(t *testing.T) {
	unitstest.FiniteOrRefused(t, "caliper", coil.Caliper{WireDiameter: 0.0125, OuterDiameter: 0.0775, ActiveCoils: 5, ShearModulus: 79e9,
		WireUncertainty: 3e-5, DiameterUncertainty: 1e-4, CoilUncertainty: 0.1, ModulusUncertainty: 8e8, Correlation: 0.3}, func(c coil.Caliper) ([]any, error) {
		rate, err := c.Rate()
		steps, _ := c.Working()
		return []any{rate, steps}, err
	})
	type measured struct {
		Rate, Uncertainty units.Stiffness
		Shelf             []coil.Nominal
	}
	unitstest.FiniteOrRefused(t, "which", measured{80e3, 1e3, []coil.Nominal{{Rate: 79e3, Tolerance: 0.03}, {Rate: 83e3, Tolerance: 0.03}}}, func(m measured) ([]coil.Candidate, error) {
		return coil.Identify(m.Rate, m.Uncertainty, m.Shelf)
	})
	type drawn struct {
		Fit  coil.StrengthFit
		Wire units.Length
	}
	fit := coil.StrengthFit{AtUnit: 2e9, WireFrom: 0.001, WireTo: 0.02, WireUnit: 0.001}
	for _, form := range []coil.StrengthForm{coil.PowerStrength, coil.LogarithmicStrength} {
		fit.Form = form
		if form == coil.PowerStrength {
			fit.Exponent = 0.15
		} else {
			fit.Exponent, fit.PerDecade, fit.Cap = 0, 4e8, 1.9e9
		}
		unitstest.FiniteOrRefused(t, string(form), drawn{fit, 0.01}, func(d drawn) (units.Stress, error) { return coil.TensileStrength(d.Fit, d.Wire) })
	}
	type warm struct {
		At20        units.Stress
		Coefficient float64
		Temperature units.Temperature
	}
	unitstest.FiniteOrRefused(t, "warm", warm{79e9, 2.5e-4, 330}, func(w warm) (units.Stress, error) {
		return coil.WarmShearModulus(w.At20, w.Coefficient, w.Temperature)
	})
}
