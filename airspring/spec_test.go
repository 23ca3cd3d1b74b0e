package airspring_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

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
		}
	}
}

// Every fault is named. A missing field is of another class than one out of range, and a
// field that contradicts another one of a third.
func TestContradictorySpecsAreRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*airspring.Spec)
		want   []string
		class  error // nil is not compared
	}{
		{"nothing at all", func(s *airspring.Spec) { *s = airspring.Spec{} },
			[]string{"bore", "travel", "positive_volume", "fill", "ambient", "exponent"}, nil},
		{"chamber less than swept", func(s *airspring.Spec) { s.PositiveVolume = 140 * cm3 }, []string{"positive_volume"}, nil},
		{"chamber as much as swept", func(s *airspring.Spec) {
			s.PositiveVolume = units.Volume(math.Pi / 4 * float64(s.Bore) * float64(s.Bore) * float64(s.Travel))
		}, []string{"positive_volume"}, nil},
		{"oil leaves less than swept", func(s *airspring.Spec) { s.OilVolume = 50 * cm3 }, []string{"positive_volume"}, nil},
		{"more oil than chamber", func(s *airspring.Spec) { s.OilVolume = 500 * cm3 }, []string{"positive_volume"}, nil},
		{"spacers leave less than swept", func(s *airspring.Spec) { s.SpacerVolume, s.Spacers = 10*cm3, 5 }, []string{"spacers"}, nil},
		{"spacers beyond the chamber", func(s *airspring.Spec) { s.SpacerVolume, s.Spacers = 10*cm3, 50 }, []string{"spacers"}, nil},
		{"spacers in a chamber too small anyway", func(s *airspring.Spec) {
			s.PositiveVolume, s.SpacerVolume, s.Spacers = 140*cm3, 10*cm3, 5
		}, []string{"positive_volume"}, nil},
		{"spacers below 0", func(s *airspring.Spec) { s.SpacerVolume, s.Spacers = 10*cm3, -1 }, []string{"spacers"}, nil},
		{"spacers of no volume", func(s *airspring.Spec) { s.Spacers = 2 }, []string{"spacer_volume"}, units.ErrMissing},
		{"far too many spacers", func(s *airspring.Spec) { s.SpacerVolume, s.Spacers = 1e-12, math.MaxInt32 }, []string{"spacers"}, nil},
		{"shaft as thick as the bore", func(s *airspring.Spec) { s.Shaft = s.Bore }, []string{"shaft"}, units.ErrConflict},
		{"negative chamber without a shaft", func(s *airspring.Spec) { s.Shaft = 0 }, []string{"shaft"}, units.ErrMissing},
		{"port without a negative chamber", func(s *airspring.Spec) { s.NegativeVolume = 0 }, []string{"negative_volume"}, units.ErrMissing},
		{"shaft too thick without a negative chamber", func(s *airspring.Spec) { s.NegativeVolume, s.PortTravel, s.Shaft = 0, 0, 1 }, []string{"shaft"}, nil},
		{"port at full travel", func(s *airspring.Spec) { s.PortTravel = s.Travel }, []string{"port_travel"}, units.ErrConflict},
		{"port beyond", func(s *airspring.Spec) { s.PortTravel = 2 * s.Travel }, []string{"port_travel"}, nil},
		{"second volume alone", func(s *airspring.Spec) { s.SecondVolume = 40 * cm3 }, []string{"second_fill"}, units.ErrMissing},
		{"second fill alone", func(s *airspring.Spec) { s.SecondFill = units.BarGauge(9) }, []string{"second_volume"}, units.ErrMissing},
		{"both of the second bad", func(s *airspring.Spec) { s.SecondVolume, s.SecondFill = -1, -1 }, []string{"second_fill", "second_volume"}, nil},
		{"gas that cools as it is compressed", func(s *airspring.Spec) { s.Exponent = 0.9 }, []string{"exponent"}, nil},
		{"exponent above 2", func(s *airspring.Spec) { s.Exponent = 2.1 }, []string{"exponent"}, nil},
		{"millimetres taken for metres", func(s *airspring.Spec) { s.Bore, s.Travel = 34, 160 }, []string{"bore", "travel"}, nil},
		{"psi taken for pascals", func(s *airspring.Spec) { s.Ambient = 14.7 }, []string{"ambient"}, units.ErrRange},
		{"no ambient", func(s *airspring.Spec) { s.Ambient = 0 }, []string{"ambient"}, units.ErrMissing},
		{"second fill below 0", func(s *airspring.Spec) { s.SecondVolume, s.SecondFill = 40*cm3, -1 }, []string{"second_fill"}, units.ErrRange},
		{"shaft of an invalid bore", func(s *airspring.Spec) { s.Bore, s.Shaft = units.Length(nan), 1.2 }, []string{"bore", "shaft"}, nil},
		{"port of an invalid travel", func(s *airspring.Spec) { s.Travel, s.PortTravel = units.Length(nan), 12 }, []string{"travel", "port_travel"}, nil},
		{"port of an invalid travel, as far as possible", func(s *airspring.Spec) { s.Travel, s.PortTravel = units.Length(nan), 10 }, []string{"travel"}, nil},
		{"second chamber too large, not filled", func(s *airspring.Spec) { s.SecondVolume = 1.2 }, []string{"second_volume", "second_fill"}, nil},
		{"port beyond the travel, to nowhere", func(s *airspring.Spec) { s.PortTravel, s.NegativeVolume = 0.2, 0 }, []string{"port_travel", "negative_volume"}, nil},
		{"spacers of no volume in a chamber too small", func(s *airspring.Spec) { s.PositiveVolume, s.Spacers = 140*cm3, 2 }, []string{"positive_volume", "spacer_volume"}, nil},
		{"far too many spacers in a chamber too small", func(s *airspring.Spec) { s.PositiveVolume, s.SpacerVolume, s.Spacers = 140*cm3, cm3, 2000 }, []string{"spacers"}, nil},
		{"many", func(s *airspring.Spec) { s.Bore, s.Travel, s.Fill, s.Exponent = 0, -1, 0, 0 },
			[]string{"bore", "exponent", "fill", "travel"}, nil},
	} {
		s := twoRows[0].spec()
		c.change(&s)
		law, err := airspring.New(s)
		wantFields(t, c.name, err, c.want...)
		if law != nil {
			t.Errorf("%s: a law beside the error", c.name)
		}
		if c.class != nil && !errors.Is(err, c.class) {
			t.Errorf("%s: %v, want the class %v", c.name, err, c.class)
		}
	}
}

// What is unusual but possible.
func TestUnusualSpecsArePermitted(t *testing.T) {
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
}

// A bound is a greatest or a least value: taken itself, but not what is beyond.
type bound struct {
	field  string
	at     float64
	beyond float64 // refused, and named alone
	set    func(s *airspring.Spec, v float64)
}

var specBounds = []bound{
	{"bore", 1, 1.2, func(s *airspring.Spec, v float64) { s.Bore = units.Length(v) }},
	{"bore", 1e-6, 0.9e-6, func(s *airspring.Spec, v float64) {
		s.Bore, s.Shaft, s.NegativeVolume, s.PortTravel = units.Length(v), 0, 0, 0
	}},
	{"travel", 10, 12, func(s *airspring.Spec, v float64) { s.Travel = units.Length(v) }},
	{"travel", 1e-6, 0.9e-6, func(s *airspring.Spec, v float64) { s.Travel, s.PortTravel = units.Length(v), 0 }},
	{"positive_volume", 1, 1.2, func(s *airspring.Spec, v float64) { s.PositiveVolume = units.Volume(v) }},
	{"positive_volume", 1e-9, 0.9e-9, func(s *airspring.Spec, v float64) {
		s.PositiveVolume, s.Travel, s.PortTravel = units.Volume(v), 1e-6, 0
		s.Bore = 20 * mm // sweeps 0.31 mm³ of the 1 mm³
	}},
	{"negative_volume", 1, 1.2, func(s *airspring.Spec, v float64) { s.NegativeVolume = units.Volume(v) }},
	{"negative_volume", 1e-9, 0.9e-9, func(s *airspring.Spec, v float64) { s.NegativeVolume = units.Volume(v) }},
	{"oil_volume", 0, 1.2, func(s *airspring.Spec, v float64) { s.OilVolume = units.Volume(v) }},
	{"spacer_volume", 1, 1.2, func(s *airspring.Spec, v float64) { s.SpacerVolume = units.Volume(v) }},
	{"spacers", 1000, 1001, func(s *airspring.Spec, v float64) { s.Spacers, s.SpacerVolume = int(v), 1e-9 }},
	{"second_volume", 1, 1.2, func(s *airspring.Spec, v float64) { s.SecondVolume, s.SecondFill = units.Volume(v), 9e5 }},
	{"second_volume", 1e-9, 0.9e-9, func(s *airspring.Spec, v float64) { s.SecondVolume, s.SecondFill = units.Volume(v), 9e5 }},
	{"second_fill", 1e8, 1.2e8, func(s *airspring.Spec, v float64) { s.SecondVolume, s.SecondFill = 40*cm3, units.GaugePressure(v) }},
	{"second_fill", 1, -1, func(s *airspring.Spec, v float64) { s.SecondVolume, s.SecondFill = 40*cm3, units.GaugePressure(v) }},
	{"fill", 1e8, 1.2e8, func(s *airspring.Spec, v float64) { s.Fill = units.GaugePressure(v) }},
	{"fill", 5e-324, 0, func(s *airspring.Spec, v float64) { s.Fill = units.GaugePressure(v) }},
	{"ambient", 1e3, 0.9e3, func(s *airspring.Spec, v float64) { s.Ambient = units.AbsolutePressure(v) }},
	{"ambient", 1e6, 1.2e6, func(s *airspring.Spec, v float64) { s.Ambient = units.AbsolutePressure(v) }},
	{"exponent", 1, 0.999, func(s *airspring.Spec, v float64) { s.Exponent = v }},
	{"exponent", 2, 2.001, func(s *airspring.Spec, v float64) { s.Exponent = v }},
}

func TestSpecTakesItsLimitsOnly(t *testing.T) {
	for _, b := range specBounds {
		s := roomy()
		b.set(&s, b.at)
		_, err := airspring.New(s)
		wantFields(t, fmt.Sprint(b.field, " ", b.at), err)
		s = roomy()
		b.set(&s, b.beyond)
		_, err = airspring.New(s)
		wantFields(t, fmt.Sprint(b.field, " ", b.beyond), err, b.field)
	}
	// A billionth of the chamber is left at full travel, or more.
	swept := math.Pi / 4 * 0.036 * 0.036 * 0.16
	for left, want := range map[float64][]string{1.001e-9: nil, 0.999e-9: {"positive_volume"}} {
		s := one(36, 160, 0, 5, 1)
		s.PositiveVolume = units.Volume(swept / (1 - left))
		_, err := airspring.New(s)
		wantFields(t, fmt.Sprint(left, " left"), err, want...)
	}
	// Spacers that lie beside the spring need not fit.
	s := one(36, 160, 230, 5, 1)
	s.SpacerVolume = 200 * cm3
	_, err := airspring.New(s)
	wantFields(t, "spacers beside", err)
}
