package coil

import (
	"cmp"
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// Place is where a coil spring is to go. A value of 0 is not known, and the criteria that need it are
// left out.
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

// allowed are the greatest shear stresses as fractions of the tensile strength, Shigley's table 10-6,
// with where each was seen. Preset is the lower end of the range that the table gives.
var allowed = map[WireKind]struct {
	unset, preset float64
	source        string
}{
	ColdDrawn: {0.45, 0.60, "seen in the published solution 10-3"},
	Tempered:  {0.50, 0.65, "implied by the published solution 10-5"},
	Stainless: {0.35, 0.55, "from memory"},
}

// Criterion is one condition of [CheckPlace]: what was found, the limit, and whether it passes.
type Criterion struct {
	units.Warning
	Passed bool `json:"passed"`
}

// Codes of the criteria, each by what is wrong where it fails, in the order of [CheckPlace].
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

const sourceEN = "EN 13906-1, as transcribed in an open-source program; the standard's own text was not opened"

// CheckPlace returns what makes a coil spring fit for a place or not. Full travel is the preload and
// the stroke together. As far as the spring's and the place's values are known, the criteria are that
//
//   - full travel is less than the travel to solid; if not, the other criteria do not matter
//   - the gaps left between the coils at full travel add to 1.5·n·(0.0015·D²/d + 0.1·d) or more,
//     EN 13906-1's reserve for cold-coiled springs that move all the time
//   - the travel to solid is 1.15 times full travel or more, Shigley's overrun
//   - the inner diameter is more than that of the body or sleeve inside
//   - the outer diameter is less than the tube's, with EN 13906-1's growth when solid,
//     0.1·(m² − 0.8·m·d − 0.2·d²)/D, m the pitch of the active coils
//   - it does not bow sideways within full travel ([Spring.Buckling]); slender fork springs do, which
//     is why they wear a sleeve at mid-length, or else rattle and rub in the tube (common practice)
//   - the stress at full travel ([Spring.Stress]) is within Shigley's share of the tensile strength,
//     for a spring that was not preset and for one that was; which of the two it is, its maker must say
//   - the uncorrected stress when solid is at most 0.56 of the tensile strength, EN 13906-1's limit
//     for cold-coiled springs
//
// The last two are static limits: they say nothing about fatigue. Criteria that depend on tolerances
// are as good as the free length and the diameters given: measure the part. The marking on it and the
// maker's manual win.
//
// The spring must have a free length. The error names every bad field: see [Place.Check].
func CheckPlace(s *Spring, p Place) ([]Criterion, error) {
	c := units.Checker{Package: "coil"}
	if s == nil {
		c.Fail("spring", nil, "a coil spring", units.ErrMissing)
	} else {
		s.checkFree(&c)
	}
	if p.Check(&c); !c.OK() {
		return nil, c.Err()
	}
	solid, _ := s.SolidTravel()
	full := p.Preload + p.Stroke
	gap := units.Length(1.5 * s.n * (0.0015*s.mean*s.mean/s.d + 0.1*s.d))
	list := []Criterion{
		criterion(full < solid, GoesSolid, "stroke", full, solid,
			"preload and stroke must be less than the travel to solid", ""),
		criterion(solid-full >= gap, LittleReserveEN, "stroke", solid-full, gap,
			"gap left between the coils at full travel, all together, against the least one", sourceEN),
		criterion(solid >= 1.15*full, LittleReserve, "stroke", solid, 1.15*full,
			"travel to solid against 1.15 times full travel", "Shigley's Mechanical Engineering Design, eq. 10-20, from memory"),
	}
	list = append(list, p.room(s, full, solid)...)
	return append(list, p.stress(s, min(full, solid))...), nil
}

// Check records every bad field: a stroke that is not more than 0 and less than 1 km, another length
// that is not from 0 to 1 km, a fixity that is neither 0 nor from 0.01 to 100, a strength that is not
// from 0 to 1 PPa, an unknown wire.
func (p Place) Check(c *units.Checker) {
	units.Inside(c, "stroke", p.Stroke, 0, maxLength)
	units.Between(c, "preload", p.Preload, 0, maxLength)
	units.Between(c, "body", p.Body, 0, maxLength)
	units.Between(c, "tube", p.Tube, 0, maxLength)
	if p.EndFixity != 0 {
		units.Between(c, "end_fixity", p.EndFixity, 0.01, 100)
	}
	units.Between(c, "tensile_strength", p.TensileStrength, 0, maxModulus)
	if _, ok := allowed[p.Wire]; p.Wire != "" && !ok {
		c.Fail("wire", string(p.Wire), units.OneOf("cold_drawn", "tempered", "stainless"), units.ErrUnknown)
	}
}

// criterion makes one: value and limit are of one kind.
func criterion[Q fmt.Formatter](passed bool, code, field string, value, limit Q, text, source string) Criterion {
	return Criterion{Passed: passed, Warning: units.Warning{
		Code: code, Field: field, Value: fmt.Sprintf("%.6g", value), Limit: fmt.Sprintf("%.6g", limit), Text: text, Source: source,
	}}
}

// room returns the criteria of what is inside and around the spring.
func (p Place) room(s *Spring, full, solid units.Length) []Criterion {
	var list []Criterion
	if p.Body > 0 {
		list = append(list, criterion(s.InnerDiameter() > p.Body, RubsInside, "body", s.InnerDiameter(), p.Body,
			"inner diameter against what is inside the spring", ""))
	}
	if p.Tube > 0 {
		m := (float64(solid) + (s.n+1.5*s.ends.over)*s.d) / s.n
		outer := s.OuterDiameter() + units.Length(0.1*max(m*m-0.8*m*s.d-0.2*s.d*s.d, 0)/s.mean)
		list = append(list, criterion(outer < p.Tube, RubsOutside, "tube", outer, p.Tube,
			"outer diameter when solid against what is around the spring", sourceEN))
	}
	if b, ok := s.Buckling(cmp.Or(p.EndFixity, 0.5)); ok {
		bows := criterion(!b.Buckles || b.Travel > full, Bows, "stroke", full, b.Travel,
			"full travel against that at which the spring bows out; a sleeve at mid-length keeps it off a tube", sourceEN)
		if !b.Buckles {
			bows.Limit, bows.Text = "", "the spring never bows out"
		}
		list = append(list, bows)
	}
	return list
}

// stress returns the criteria of what the wire bears; full is not beyond solid.
func (p Place) stress(s *Spring, full units.Length) []Criterion {
	if p.TensileStrength == 0 {
		return nil
	}
	var list []Criterion
	within := func(code string, stress units.Stress, share float64, text, source string) {
		limit := units.Stress(share) * p.TensileStrength
		list = append(list, criterion(stress <= limit, code, "tensile_strength", stress, limit, text, source))
	}
	if share, ok := allowed[p.Wire]; ok {
		const table = "Shigley's Mechanical Engineering Design, table 10-6, "
		stress := s.Stress(s.Rate().Times(full))
		within(StressUnset, stress, share.unset, "stress at full travel against what a spring that was not preset may take", table+share.source)
		within(StressPreset, stress, share.preset, "stress at full travel against what a preset spring may take", table+"from memory")
	}
	solid, _ := s.SolidForce()
	within(StressWhenSolidEN, s.StressUncorrected(solid), 0.56, "uncorrected stress when solid against the limit of cold-coiled springs", sourceEN)
	return list
}

// Buckling is how a slender spring behaves between two seats.
type Buckling struct {
	Slenderness       float64      `json:"slenderness"`        // free length over mean diameter
	StableSlenderness float64      `json:"stable_slenderness"` // slenderness below which a spring never buckles
	Buckles           bool         `json:"buckles"`            // whether the spring can buckle
	Travel            units.Length `json:"buckling_travel"`    // from free, at which it buckles; 0 where it never does
}

// Buckling returns when the spring bows out sideways. Fixity says how its ends are held: 0.5 both
// seated flat, 0.707 (EN: 0.7) one flat and one pivoted, 1 both pivoted, 2 one clamped and one free.
// With λ = fixity·L₀/D,
//
//	travel = L₀·C₁·(1 − √(1 − C₂/λ²)),  C₁ = E/(2(E − G)),  C₂ = 2π²(E − G)/(2G + E)
//
// and it never buckles where λ² < C₂ (Shigley, section 10-5, after Haringx, as on an open formula
// page; EN 13906-1, as transcribed in an open-source program, is algebraically the same). The travel
// may be beyond solid. It reports false without a free length or a modulus of elasticity, and for a fixity
// that is not between 0.01 and 100.
//
// Not modelled: a guide. A long fork spring bows until its tube or rod holds it, and rubs there; such
// springs wear a sleeve at mid-length (common practice).
func (s *Spring) Buckling(fixity float64) (Buckling, bool) {
	stable, ok := s.StableSlenderness(fixity)
	if !ok || !(s.free > 0) {
		return Buckling{}, false
	}
	b := Buckling{Slenderness: s.free / s.mean, StableSlenderness: stable}
	part := stable / b.Slenderness // √C₂/λ
	if b.Buckles = part <= 1; b.Buckles {
		b.Travel = units.Length(s.free * (s.e / (2 * (s.e - s.g))) * (1 - math.Sqrt(1-part*part)))
	}
	return b, true
}

// StableSlenderness returns the free length over the mean diameter below which a spring never bows
// out, √C₂/fixity with C₂ and the fixity as in [Spring.Buckling]. Steel between flat seats is stable
// to 5.2 mean diameters. It reports false without a modulus of elasticity, and for a fixity that is not
// between 0.01 and 100.
func (s *Spring) StableSlenderness(fixity float64) (float64, bool) {
	c2 := 2 * math.Pi * math.Pi * (s.e - s.g) / (2*s.g + s.e)
	return known(math.Sqrt(c2)/fixity, s.e > 0 && fixity >= 0.01 && fixity <= 100)
}
