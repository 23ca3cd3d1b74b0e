package coil

import (
	"fmt"

	"example.com/wheelrate/units"
)

// Place describes the place a coil spring is to go into. A value of 0 is not
// known, and what it would be needed for is not looked at.
type Place struct {
	Stroke          units.Length `json:"stroke"`                     // that the spring must follow: a shock's, or a fork's along its stanchion; more than 0
	Preload         units.Length `json:"preload,omitempty"`          // 0 or more
	Body            units.Length `json:"body,omitempty"`             // largest diameter inside the spring: shock body, sleeve, rod
	Tube            units.Length `json:"tube,omitempty"`             // smallest diameter around it: a fork's tube
	EndFixity       float64      `json:"end_fixity,omitempty"`       // as in [Spring.Buckling]; 0 is 0.5, both ends seated flat
	TensileStrength units.Stress `json:"tensile_strength,omitempty"` // the least one of this very wire
	Wire            WireKind     `json:"wire,omitempty"`
}

// WireKind is a kind of wire, as handbooks group them for the stress they may take.
type WireKind string

// The kinds of Shigley's table 10-6 that suspension springs are made of.
const (
	ColdDrawn WireKind = "cold_drawn" // music wire and hard-drawn carbon steel
	Tempered  WireKind = "tempered"   // hardened and tempered (oil-tempered) carbon and alloy steel
	Stainless WireKind = "stainless"  // austenitic stainless steel
)

// Criterion is one thing that [CheckPlace] looked at: what was found, what it was
// held against, and whether it passes.
type Criterion struct {
	units.Warning
	Passed bool `json:"passed"`
}

// Codes of criteria, in the order CheckPlace gives them.
const (
	GoesSolid         = "goes_solid"           // solid before the stroke is used
	LittleReserveEN   = "little_reserve_en"    // gap left between coils, EN 13906-1
	LittleReserve     = "little_reserve"       // overrun to solid, Shigley
	RubsInside        = "rubs_inside"          // on the shock body or sleeve
	RubsOutside       = "rubs_outside"         // on the tube
	Bows              = "bows"                 // sideways, within the stroke
	StressUnset       = "stress_unset"         // more than a spring that was not preset may take
	StressPreset      = "stress_preset"        // more than a preset one may take
	StressWhenSolidEN = "stress_when_solid_en" // at solid, EN 13906-1
)

const (
	sourceEN      = "EN 13906-1, as transcribed in an open-source program; the standard's own text was not opened"
	sourceOverrun = "Shigley's Mechanical Engineering Design, eq. 10-20, from memory"
)

// allowed are the greatest shear stresses as fractions of the tensile
// strength, Shigley's table 10-6, with where each was seen. Preset is the lower
// end of the range that the table gives.
var allowed = map[WireKind]struct {
	unset, preset float64
	source        string
}{
	ColdDrawn: {0.45, 0.60, "seen in the published solution 10-3"},
	Tempered:  {0.50, 0.65, "implied by the published solution 10-5"},
	Stainless: {0.35, 0.55, "from memory"},
}

// CheckPlace tells whether a coil spring is fit for a place. Full travel is the
// preload and the stroke together. What it looks at, as far as the spring's
// and the place's values are known:
//
//   - full travel is less than the travel to solid; nothing else matters if not
//   - the gaps left between the coils at full travel add to 1.5·n·(0.0015·D²/d + 0.1·d)
//     or more, EN 13906-1's reserve for cold-coiled springs that move all the time
//   - the travel to solid is 1.15 times full travel or more, Shigley's overrun
//   - the inner diameter is more than that of the body or sleeve inside
//   - the outer diameter is less than the tube's, with EN 13906-1's growth when
//     solid, 0.1·(m² − 0.8·m·d − 0.2·d²)/D, m the pitch of the active coils
//   - it does not bow sideways within full travel ([Spring.Buckling]);
//     slender fork springs do, which is why they wear a sleeve at mid-length,
//     or else rattle and rub in the tube (common practice, no source)
//   - the stress at full travel ([Spring.Stress]) is within Shigley's share
//     of the tensile strength, for a spring that was not preset and for one that
//     was; which of the two it is, its maker must say
//   - the uncorrected stress when solid is at most 0.56 of the tensile
//     strength, EN 13906-1's limit for cold-coiled springs
//
// The last two are static limits: they say nothing about fatigue. Findings
// that depend on tolerances are as good as the free length and the diameters
// given: measure the part. The marking on it and the maker's manual win.
//
// The spring must have a free length. Every value of the fit must be 0 or more
// and below all nonsense (a kilometre, 1 PPa), the stroke more than 0; the error
// names every bad field.
func CheckPlace(s *Spring, fit Place) ([]Criterion, error) {
	if err := fit.check(s); err != nil {
		return nil, err
	}
	solid, _ := s.SolidTravel()
	full := fit.Preload + fit.Stroke
	list := fitReserve(s, full, solid)
	list = append(list, fitRoom(s, fit, full, solid)...)
	return append(list, fitStress(s, fit, min(full, solid))...), nil
}

func (fit Place) check(s *Spring) error {
	c := units.Checker{Package: "coil"}
	if s == nil {
		c.Fail("spring", nil, "a coil spring", units.ErrMissing)
	} else if _, ok := s.SolidTravel(); !ok {
		c.Fail("free_length", nil, "a free length: without it nobody knows where the spring is solid", units.ErrMissing)
	}
	units.Inside(&c, "stroke", fit.Stroke, 0, maxCoilLength)
	units.Between(&c, "preload", fit.Preload, 0, maxCoilLength)
	units.Between(&c, "body", fit.Body, 0, maxCoilLength)
	units.Between(&c, "tube", fit.Tube, 0, maxCoilLength)
	if fit.EndFixity != 0 {
		units.Between(&c, "end_fixity", fit.EndFixity, 0.01, 100)
	}
	units.Between(&c, "tensile_strength", fit.TensileStrength, 0, maxModulus)
	if _, ok := allowed[fit.Wire]; fit.Wire != "" && !ok {
		c.Fail("wire", string(fit.Wire), "one of cold_drawn, tempered, stainless", units.ErrUnknown)
	}
	return c.Err()
}

// finding makes one: value and limit are of one kind.
func finding[Q fmt.Formatter](passed bool, code, field string, value, limit Q, text, source string) Criterion {
	return Criterion{Passed: passed, Warning: units.Warning{
		Code: code, Field: field, Value: fmt.Sprintf("%.6g", value), Limit: fmt.Sprintf("%.6g", limit), Text: text, Source: source,
	}}
}

// fitReserve looks at how much is left at full travel.
func fitReserve(s *Spring, full, solid units.Length) []Criterion {
	gap := 1.5 * s.n * (0.0015*s.mean*s.mean/s.d + 0.1*s.d)
	return []Criterion{
		finding(full < solid, GoesSolid, "stroke", full, solid,
			"preload and stroke must be less than the travel to solid", ""),
		finding(solid-full >= units.Length(gap), LittleReserveEN, "stroke", solid-full, units.Length(gap),
			"gap left between the coils at full travel, all together, against the least one", sourceEN),
		finding(solid >= 1.15*full, LittleReserve, "stroke", solid, 1.15*full,
			"travel to solid against 1.15 times full travel", sourceOverrun),
	}
}

// fitRoom looks at what is inside and around the spring.
func fitRoom(s *Spring, fit Place, full, solid units.Length) []Criterion {
	var list []Criterion
	if fit.Body > 0 {
		list = append(list, finding(s.InnerDiameter() > fit.Body, RubsInside, "body", s.InnerDiameter(), fit.Body,
			"inner diameter against what is inside the spring", ""))
	}
	if fit.Tube > 0 {
		turns := s.n
		if s.ends == Plain || s.ends == Squared {
			turns += 1.5
		}
		m := (float64(solid) + turns*s.d) / s.n
		outer := s.OuterDiameter() + units.Length(0.1*max(m*m-0.8*m*s.d-0.2*s.d*s.d, 0)/s.mean)
		list = append(list, finding(outer < fit.Tube, RubsOutside, "tube", outer, fit.Tube,
			"outer diameter when solid against what is around the spring", sourceEN))
	}
	fixity := fit.EndFixity
	if fixity == 0 {
		fixity = 0.5
	}
	if b, ok := s.Buckling(fixity); ok {
		bows := Criterion{Passed: !b.Buckles || b.Travel > full, Warning: units.Warning{
			Code: Bows, Field: "stroke", Value: fmt.Sprintf("%.6g", full), Limit: fmt.Sprintf("%.6g", b.Travel),
			Text:   "full travel against that at which the spring bows out; a sleeve at mid-length keeps it off a tube",
			Source: sourceEN,
		}}
		if !b.Buckles {
			bows.Limit, bows.Text = "", "the spring never bows out"
		}
		list = append(list, bows)
	}
	return list
}

// fitStress looks at what the wire bears; full is not beyond solid.
func fitStress(s *Spring, fit Place, full units.Length) []Criterion {
	if fit.TensileStrength == 0 {
		return nil
	}
	var list []Criterion
	if limit, ok := allowed[fit.Wire]; ok {
		stress := s.Stress(s.Rate().Times(full))
		source := "Shigley's Mechanical Engineering Design, table 10-6, "
		list = append(list,
			finding(stress <= units.Stress(limit.unset)*fit.TensileStrength, StressUnset, "tensile_strength",
				stress, units.Stress(limit.unset)*fit.TensileStrength,
				"stress at full travel against what a spring that was not preset may take", source+limit.source),
			finding(stress <= units.Stress(limit.preset)*fit.TensileStrength, StressPreset, "tensile_strength",
				stress, units.Stress(limit.preset)*fit.TensileStrength,
				"stress at full travel against what a preset spring may take", source+"from memory"))
	}
	solidForce, _ := s.SolidForce()
	stress, limit := s.StressUncorrected(solidForce), 0.56*fit.TensileStrength
	return append(list, finding(stress <= limit, StressWhenSolidEN, "tensile_strength", stress, limit,
		"uncorrected stress when solid against the limit of cold-coiled springs", sourceEN))
}
