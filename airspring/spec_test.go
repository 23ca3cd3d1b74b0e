package airspring_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

// fieldsOf lists the fields an error names, sorted.
func fieldsOf(err error) []string {
	var names []string
	for _, f := range units.Fields(err) {
		names = append(names, f.Field)
	}
	slices.Sort(names)
	return names
}

func wantFields(t *testing.T, what string, err error, want ...string) {
	t.Helper()
	slices.Sort(want)
	if diff := cmp.Diff(want, fieldsOf(err)); diff != "" {
		t.Errorf("%s: fields (-want +got):\n%s%v", what, diff, err)
	}
}

var nan, inf = math.NaN(), math.Inf(1)

// Every field must be refused where it is no number, infinite, negative, and
// where it may not be left out, 0; and named alone.
func TestEachFieldRefused(t *testing.T) {
	full := twoRows[0].spec()
	full.SpacerVolume, full.Spacers, full.OilVolume = 5*cm3, 1, 2*cm3
	full.SecondVolume, full.SecondFill = 40*cm3, units.BarGauge(9)
	if _, err := airspring.New(full); err != nil {
		t.Fatal(err)
	}
	for field, set := range map[string]func(*airspring.Spec, float64){
		"bore":            func(s *airspring.Spec, v float64) { s.Bore = units.Length(v) },
		"shaft":           func(s *airspring.Spec, v float64) { s.Shaft = units.Length(v) },
		"travel":          func(s *airspring.Spec, v float64) { s.Travel = units.Length(v) },
		"positive_volume": func(s *airspring.Spec, v float64) { s.PositiveVolume = units.Volume(v) },
		"negative_volume": func(s *airspring.Spec, v float64) { s.NegativeVolume = units.Volume(v) },
		"spacer_volume":   func(s *airspring.Spec, v float64) { s.SpacerVolume = units.Volume(v) },
		"second_volume":   func(s *airspring.Spec, v float64) { s.SecondVolume = units.Volume(v) },
		"second_fill":     func(s *airspring.Spec, v float64) { s.SecondFill = units.GaugePressure(v) },
		"fill":            func(s *airspring.Spec, v float64) { s.Fill = units.GaugePressure(v) },
		"ambient":         func(s *airspring.Spec, v float64) { s.Ambient = units.AbsolutePressure(v) },
		"exponent":        func(s *airspring.Spec, v float64) { s.Exponent = v },
		"port_travel":     func(s *airspring.Spec, v float64) { s.PortTravel = units.Length(v) },
		"oil_volume":      func(s *airspring.Spec, v float64) { s.OilVolume = units.Volume(v) },
	} {
		for _, v := range []float64{nan, inf, -inf, -1e-3, 0, 1e12} {
			if v == 0 && (field == "port_travel" || field == "oil_volume") {
				continue
			}
			s := full
			set(&s, v)
			_, err := airspring.New(s)
			wantFields(t, fmt.Sprint(field, " ", v), err, field)
			if f := units.Fields(err); len(f) == 1 && !(errors.Is(err, units.ErrRange) || errors.Is(err, units.ErrMissing) || errors.Is(err, units.ErrConflict)) {
				t.Errorf("%s: class %v", field, f[0].Class)
			}
			if field == "fill" {
				continue
			}
			_, err = airspring.FillFor(s, 400, 0.01)
			wantFields(t, fmt.Sprint("FillFor ", field, " ", v), err, field)
		}
	}
}

func TestContradictions(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*airspring.Spec)
		want   []string
	}{
		{"nothing at all", func(s *airspring.Spec) { *s = airspring.Spec{} },
			[]string{"bore", "travel", "positive_volume", "fill", "ambient", "exponent"}},
		{"chamber less than swept", func(s *airspring.Spec) { s.PositiveVolume = 140 * cm3 }, []string{"positive_volume"}},
		{"chamber as much as swept", func(s *airspring.Spec) {
			s.PositiveVolume = units.Volume(math.Pi / 4 * float64(s.Bore) * float64(s.Bore) * float64(s.Travel))
		}, []string{"positive_volume"}},
		{"oil leaves less than swept", func(s *airspring.Spec) { s.OilVolume = 50 * cm3 }, []string{"positive_volume"}},
		{"more oil than chamber", func(s *airspring.Spec) { s.OilVolume = 500 * cm3 }, []string{"positive_volume"}},
		{"spacers leave less than swept", func(s *airspring.Spec) { s.SpacerVolume, s.Spacers = 10*cm3, 5 }, []string{"spacers"}},
		{"spacers beyond the chamber", func(s *airspring.Spec) { s.SpacerVolume, s.Spacers = 10*cm3, 50 }, []string{"spacers"}},
		{"spacers in a chamber too small anyway", func(s *airspring.Spec) {
			s.PositiveVolume, s.SpacerVolume, s.Spacers = 140*cm3, 10*cm3, 5
		}, []string{"positive_volume"}},
		{"spacers below 0", func(s *airspring.Spec) { s.SpacerVolume, s.Spacers = 10*cm3, -1 }, []string{"spacers"}},
		{"spacers of no volume", func(s *airspring.Spec) { s.Spacers = 2 }, []string{"spacer_volume"}},
		{"far too many spacers", func(s *airspring.Spec) { s.SpacerVolume, s.Spacers = 1e-12, math.MaxInt32 }, []string{"spacers"}},
		{"shaft as thick as the bore", func(s *airspring.Spec) { s.Shaft = s.Bore }, []string{"shaft"}},
		{"negative chamber without a shaft", func(s *airspring.Spec) { s.Shaft = 0 }, []string{"shaft"}},
		{"port without a negative chamber", func(s *airspring.Spec) { s.NegativeVolume = 0 }, []string{"negative_volume"}},
		{"shaft too thick without a negative chamber", func(s *airspring.Spec) { s.NegativeVolume, s.PortTravel, s.Shaft = 0, 0, 1 }, []string{"shaft"}},
		{"port at full travel", func(s *airspring.Spec) { s.PortTravel = s.Travel }, []string{"port_travel"}},
		{"port beyond", func(s *airspring.Spec) { s.PortTravel = 2 * s.Travel }, []string{"port_travel"}},
		{"second volume alone", func(s *airspring.Spec) { s.SecondVolume = 40 * cm3 }, []string{"second_fill"}},
		{"second fill alone", func(s *airspring.Spec) { s.SecondFill = units.BarGauge(9) }, []string{"second_volume"}},
		{"both of the second bad", func(s *airspring.Spec) { s.SecondVolume, s.SecondFill = -1, -1 }, []string{"second_fill", "second_volume"}},
		{"gas that cools as it is compressed", func(s *airspring.Spec) { s.Exponent = 0.9 }, []string{"exponent"}},
		{"exponent above 2", func(s *airspring.Spec) { s.Exponent = 2.1 }, []string{"exponent"}},
		{"millimetres taken for metres", func(s *airspring.Spec) { s.Bore, s.Travel = 34, 160 }, []string{"bore", "travel"}},
		{"psi taken for pascals", func(s *airspring.Spec) { s.Ambient = 14.7 }, []string{"ambient"}},
		{"many", func(s *airspring.Spec) { s.Bore, s.Travel, s.Fill, s.Exponent = 0, -1, 0, 0 },
			[]string{"bore", "exponent", "fill", "travel"}},
	} {
		s := twoRows[0].spec()
		c.change(&s)
		law, err := airspring.New(s)
		wantFields(t, c.name, err, c.want...)
		if law != nil {
			t.Errorf("%s: a law beside the error", c.name)
		}
	}
}

// What is unusual but possible.
func TestPermitted(t *testing.T) {
	for name, change := range map[string]func(*airspring.Spec){
		"a shaft alone":           func(s *airspring.Spec) { s.NegativeVolume, s.PortTravel = 0, 0 },
		"spacers that aren't in":  func(s *airspring.Spec) { s.SpacerVolume = 10 * cm3 },
		"port at full extension":  func(s *airspring.Spec) { s.PortTravel = 0 },
		"hardly any fill":         func(s *airspring.Spec) { s.Fill = 1 },
		"exponents at the limits": func(s *airspring.Spec) { s.Exponent = 2 },
	} {
		s := twoRows[0].spec()
		change(&s)
		checkLaw(t, s)
		if got := make1(t, s).Spec(); got != s {
			t.Errorf("%s: spec %+v", name, got)
		}
	}
	// A shaft with nothing but ambient air around it changes nothing.
	s := one(34, 160, 190, 5, 1.3)
	bare := make1(t, s)
	s.Shaft = 10 * mm
	if shafted := make1(t, s); shafted.Force(0.1) != bare.Force(0.1) || shafted.Energy(0.1) != bare.Energy(0.1) {
		t.Error("a shaft alone changes the force")
	}
}
