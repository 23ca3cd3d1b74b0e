package airspring_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// roomy is a spring that holds whatever one of its sizes is set to: neither bore
// nor travel sweeps a chamber of 0.9 m³ away.
func roomy() airspring.Spec {
	return airspring.Spec{
		Bore: 36 * mm, Shaft: 10 * mm, Travel: 160 * mm, PositiveVolume: 0.9, NegativeVolume: 50 * cm3, PortTravel: 8 * mm,
		Fill: units.BarGauge(5), Ambient: airspring.SeaLevel, Exponent: 1,
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

func TestSpecBounds(t *testing.T) {
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
	// Spacers that lie beside the spring need not fit.
	s := one(36, 160, 230, 5, 1)
	s.SpacerVolume = 200 * cm3
	_, err := airspring.New(s)
	wantFields(t, "spacers beside", err)
}

// What depends on another field is checked by its own limits where that one is
// bad, and each fault is told.
func TestFaultsTogether(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*airspring.Spec)
		want   []string
	}{
		{"shaft of a bore that is none", func(s *airspring.Spec) { s.Bore, s.Shaft = units.Length(nan), 1.2 }, []string{"bore", "shaft"}},
		{"port of a travel that is none", func(s *airspring.Spec) { s.Travel, s.PortTravel = units.Length(nan), 12 }, []string{"travel", "port_travel"}},
		{"port of a travel that is none, as far as possible", func(s *airspring.Spec) { s.Travel, s.PortTravel = units.Length(nan), 10 }, []string{"travel"}},
		{"second chamber too large, not filled", func(s *airspring.Spec) { s.SecondVolume = 1.2 }, []string{"second_volume", "second_fill"}},
		{"port beyond the travel, to nowhere", func(s *airspring.Spec) { s.PortTravel, s.NegativeVolume = 0.2, 0 }, []string{"port_travel", "negative_volume"}},
		{"spacers of no volume in a chamber too small", func(s *airspring.Spec) { s.PositiveVolume, s.Spacers = 140*cm3, 2 }, []string{"positive_volume", "spacer_volume"}},
		{"far too many spacers in a chamber too small", func(s *airspring.Spec) { s.PositiveVolume, s.SpacerVolume, s.Spacers = 140*cm3, cm3, 2000 }, []string{"spacers"}},
	} {
		s := roomy()
		c.change(&s)
		_, err := airspring.New(s)
		wantFields(t, c.name, err, c.want...)
	}
}

// What is left out is told from what is out of range.
func TestMissingIsTold(t *testing.T) {
	for _, c := range []struct {
		field  string
		change func(*airspring.Spec)
		class  error
	}{
		{"shaft", func(s *airspring.Spec) { s.Shaft = 0 }, units.ErrMissing},
		{"shaft", func(s *airspring.Spec) { s.Shaft = 1 }, units.ErrConflict}, // as long as that is wide
		{"ambient", func(s *airspring.Spec) { s.Ambient = 0 }, units.ErrMissing},
		{"ambient", func(s *airspring.Spec) { s.Ambient = 1 }, units.ErrRange},
		{"second_fill", func(s *airspring.Spec) { s.SecondVolume = 40 * cm3 }, units.ErrMissing},
		{"second_fill", func(s *airspring.Spec) { s.SecondVolume, s.SecondFill = 40*cm3, -1 }, units.ErrRange},
		{"second_volume", func(s *airspring.Spec) { s.SecondFill = 9e5 }, units.ErrMissing},
		{"negative_volume", func(s *airspring.Spec) { s.NegativeVolume = 0 }, units.ErrMissing},
		{"spacer_volume", func(s *airspring.Spec) { s.Spacers = 1 }, units.ErrMissing},
		{"port_travel", func(s *airspring.Spec) { s.PortTravel = s.Travel }, units.ErrConflict},
	} {
		s := roomy()
		c.change(&s)
		_, err := airspring.New(s)
		wantFields(t, c.field, err, c.field)
		if !errors.Is(err, c.class) {
			t.Errorf("%s: %v, want the class %v", c.field, err, c.class)
		}
	}
}

// The greatest and least of what the functions beside New take: at the bound
// there is an answer, beyond it an error that names the field alone.
func TestFunctionBounds(t *testing.T) {
	topUp := func(set func(*airspring.TopUp, float64)) func(float64) error {
		return func(x float64) error {
			a := topUpRows[2].ask()
			set(&a, x)
			_, err := airspring.PlanTopUp(a)
			return err
		}
	}
	reading := func(set func(chamber, hose *units.Volume, fill *units.GaugePressure, v float64)) func(float64) error {
		return func(x float64) error {
			chamber, hose, fill := units.Volume(1e-4), units.Volume(1e-6), units.GaugePressure(5e5)
			set(&chamber, &hose, &fill, x)
			_, err := airspring.HoseReading(chamber, hose, fill)
			return err
		}
	}
	for _, c := range []struct {
		field      string
		at, beyond float64
		ask        func(float64) error
	}{
		{"positive_volume", 1, 1.2, topUp(func(a *airspring.TopUp, x float64) { a.PositiveVolume = units.Volume(x) })},
		{"negative_volume", 1e-3, 1.2, topUp(func(a *airspring.TopUp, x float64) { a.NegativeVolume = units.Volume(x) })},
		{"port_travel", 10, 12, topUp(func(a *airspring.TopUp, x float64) {
			a.PositiveVolume, a.PortTravel, a.Within = 0.9, units.Length(x), 1e6
		})},
		{"old_fill", 1e8, 1.2e8, topUp(func(a *airspring.TopUp, x float64) { a.OldFill = units.GaugePressure(x) })},
		{"chamber_volume", 1, 1.2, reading(func(v, _ *units.Volume, _ *units.GaugePressure, x float64) { *v = units.Volume(x) })},
		{"hose_volume", 1, 1.2, reading(func(_, h *units.Volume, _ *units.GaugePressure, x float64) { *h = units.Volume(x) })},
		{"fill", 1e8, 1.2e8, reading(func(_, _ *units.Volume, g *units.GaugePressure, x float64) { *g = units.GaugePressure(x) })},
	} {
		wantFields(t, fmt.Sprint(c.field, " ", c.at), c.ask(c.at))
		wantFields(t, fmt.Sprint(c.field, " ", c.beyond), c.ask(c.beyond), c.field)
	}
}

// A top-up with one size that is no number names that one alone.
func TestTopUpFaultsAlone(t *testing.T) {
	for field, set := range map[string]func(*airspring.TopUp){
		"bore":            func(a *airspring.TopUp) { a.Bore = units.Length(nan) },
		"shaft":           func(a *airspring.TopUp) { a.Shaft = units.Length(nan) },
		"positive_volume": func(a *airspring.TopUp) { a.PositiveVolume = units.Volume(nan) },
		"negative_volume": func(a *airspring.TopUp) { a.NegativeVolume = units.Volume(nan) },
		"port_travel":     func(a *airspring.TopUp) { a.PortTravel = units.Length(nan) },
	} {
		ask := topUpRows[2].ask()
		set(&ask)
		_, err := airspring.PlanTopUp(ask)
		wantFields(t, field, err, field)
	}
}

// The gauge may show less than the ambient, down to vacuum; a fill that is to stay
// one is more than 0 after all.
func TestConditionBounds(t *testing.T) {
	level := airspring.Conditions{Temperature: 293.15, Altitude: 0}
	for _, c := range []struct {
		fill float64
		want []string
	}{
		{-101324.5, nil}, {-101325, []string{"fill"}}, {-101326, []string{"fill"}}, {1e8, nil}, {1.2e8, []string{"fill"}},
	} {
		got, err := airspring.FillAt(units.GaugePressure(c.fill), level, level)
		wantFields(t, fmt.Sprint(c.fill), err, c.want...)
		if c.want != nil && got != 0 {
			t.Errorf("%v beside the error", got)
		}
	}
	first := func(s *airspring.Spec, fill units.GaugePressure) { s.Fill = fill }
	second := func(s *airspring.Spec, fill units.GaugePressure) { s.SecondVolume, s.SecondFill = 40*cm3, fill }
	for name, set := range map[string]func(*airspring.Spec, units.GaugePressure){"first": first, "second": second} {
		for _, c := range []struct {
			fill          units.GaugePressure
			ambient, then units.AbsolutePressure
			good          bool
		}{
			{1e5, 1e5, 2e5, false},      // nothing above ambient is left
			{1e5, 1e5, 199999.5, true},  // half a pascal is
			{1e5, 1e5, 200000.5, false}, // less than nothing
			{1e8, 1e5, 1e5, true},
			{1e8, 1e5, 0.9e5, false}, // 1000 bar and 0.1 bar
			{5e6, 1e5, 1e6, true},
			{5e6, 1e5, 1.2e6, false}, // that is no ambient
		} {
			s := roomy()
			s.Ambient, s.Fill = c.ambient, 5e6
			set(&s, c.fill)
			moved, err := airspring.SpecAt(s, 300, 300, c.then)
			if c.good {
				wantFields(t, name, err)
				continue
			}
			wantFields(t, fmt.Sprint(name, " ", c.fill, " to ", c.then), err, "to_ambient")
			if moved != (airspring.Spec{}) {
				t.Errorf("%s: a spec beside the error", name)
			}
		}
	}
}

// Nothing stands beside an error that could be taken for an answer.
func TestNothingBesideErrors(t *testing.T) {
	far := units.Length(200e3)
	for name, ask := range map[string]func() (float64, error){
		"geopotential": func() (float64, error) { v, err := airspring.GeopotentialAltitude(far); return float64(v), err },
		"geometric":    func() (float64, error) { v, err := airspring.GeometricAltitude(far); return float64(v), err },
		"hose reading": func() (float64, error) { v, err := airspring.HoseReading(0, 0, 5e5); return float64(v), err },
		"hose fill":    func() (float64, error) { v, err := airspring.HoseFill(0, 0, 5e5); return float64(v), err },
		"fill": func() (float64, error) {
			v, err := airspring.FillFor(roomy(), units.Force(math.Inf(1)), 0.1)
			return float64(v), err
		},
	} {
		if v, err := ask(); v != 0 || err == nil {
			t.Errorf("%s: %v, %v", name, v, err)
		}
	}
}

// A real gas is known up to 40 bar(a), ambient counted, and where one size of the
// spring is no number, only that one is told.
func TestCheckIdealBounds(t *testing.T) {
	spec := compressed(40e5-101325, 3, 1.4)
	_, err := airspring.CheckIdeal(spec, gas.DryAir, 300)
	wantFields(t, "40 bar(a)", err)
	for field, set := range map[string]func(*airspring.Spec){
		"bore":            func(s *airspring.Spec) { s.Bore = units.Length(nan) },
		"travel":          func(s *airspring.Spec) { s.Travel = units.Length(nan) },
		"positive_volume": func(s *airspring.Spec) { s.PositiveVolume = units.Volume(nan) },
		"oil_volume":      func(s *airspring.Spec) { s.OilVolume = units.Volume(nan) },
		"spacer_volume":   func(s *airspring.Spec) { s.SpacerVolume = units.Volume(nan) },
		"spacers":         func(s *airspring.Spec) { s.Spacers, s.SpacerVolume = 1001, cm3 },
	} {
		spec := compressed(5e5, 3, 1.4)
		set(&spec)
		_, err := airspring.CheckIdeal(spec, gas.DryAir, 300)
		wantFields(t, field, err, field)
	}
}
