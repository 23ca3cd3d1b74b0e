package fit

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// statedSag is the largest miss of a target sag that still counts as on target: sag is stated in
// whole per cents of the travel, and this is half of one.
const statedSag = 0.005

// trial is a target for an end, and what a miss of it is judged against.
type trial struct {
	target   sag.Target
	at       units.Length // stroke of the target
	ratio    float64      // lever ratio there
	force    units.Force  // of the spring that carries the load there
	friction units.Force
	reading  units.Length // standard uncertainty of the ring
}

// trial returns the trial of a checked spec behind a curve, without a load.
func (s *Spec) trial(curve *linkage.Curve) trial {
	t := trial{target: sag.Target{Sag: s.Sag}, friction: s.Friction, reading: s.Reading}
	t.at = curve.StrokeAt(units.Length(s.Sag) * curve.Travel())
	t.ratio = curve.LeverRatio(t.at)
	return t
}

// carry sets the load of a trial.
func (t *trial) carry(load units.Force) {
	t.target.Load, t.force = load, units.Force(float64(load)*t.ratio)
}

// AtRest is where an end rests, and by how much it misses its target.
type AtRest struct {
	Rest      sag.Rest      `json:"rest"`
	Miss      float64       `json:"miss"`      // Rest.Sag less the target
	Tolerance float64       `json:"tolerance"` // the largest miss that can't be told from none here, see [Options.Choose]
	Findings  []sag.Finding `json:"findings"`  // what speaks for or against it
}

// RestOf returns where an end rests under the load of a target. The reading is the standard uncertainty
// of a reading of the ring in m, finite and 0 or more. The error names every bad field.
func RestOf(end sag.End, target sag.Target, reading units.Length) (AtRest, error) {
	s := Spec{Sag: target.Sag, Friction: end.Friction, Reading: reading}
	c := units.Checker{Package: "sag"}
	units.NonNegative(&c, "reading", reading)
	if target.Check(&c, end.Curve); !c.OK() {
		return AtRest{}, c.Err()
	}
	t := s.trial(end.Curve)
	t.carry(target.Load)
	r := AtRest{Findings: []sag.Finding{}}
	if _, err := t.rest(&end, &r); err != nil {
		return AtRest{}, err
	}
	return r, nil
}

// rest sets where an end rests, and appends the findings about it. An end that the load tops or bottoms
// out is not on target. Off is that of judge.
func (t *trial) rest(end *sag.End, r *AtRest) (off float64, err error) {
	rest, held, err := end.SettleWithin(t.target.Load)
	r.Rest, r.Miss, r.Tolerance = rest, rest.Sag-t.target.Sag, statedSag
	switch {
	case err != nil:
	case held == sag.HeldAtTop:
		r.Findings = append(r.Findings, held, sag.TooHard)
	case held == sag.Collapses:
		r.Findings = append(r.Findings, held, sag.TooSoft)
	default:
		found := sag.TooHard
		if off = t.judge(end, r); math.Abs(r.Miss) <= r.Tolerance {
			found = sag.OnTarget
		} else if r.Miss > 0 {
			found = sag.TooSoft
		}
		r.Findings = append(r.Findings, found)
	}
	return off, err
}

// judge sets the tolerance of a rest within the travel: the largest of half a per cent, two standard
// uncertainties of the ring, and how far friction reaches from the rest to the side of the target.
// Friction that holds the wheel at the target itself reaches as far as that, whether or not the rest
// has a band. Where the wheel force rises all the way the band says the same. Off is more than 0 if the miss
// can be told, and changes with the load without a jump.
func (t *trial) judge(end *sag.End, r *AtRest) (off float64) {
	full := float64(end.Curve.Travel())
	missed, reach := math.Abs(r.Miss), float64(r.Rest.Travel-r.Rest.TravelLow)/full
	if r.Miss < 0 {
		reach = float64(r.Rest.TravelHigh-r.Rest.Travel) / full
	}
	r.Tolerance = max(statedSag, min(1, 2*float64(t.reading)*r.Rest.LeverRatio/full)) // no miss is more than the travel
	if reach < missed {
		r.Tolerance = max(r.Tolerance, reach)
	}
	off = missed - r.Tolerance
	if t.at <= end.Law.Travel() {
		free := math.Abs(float64(end.Law.Force(t.at)-t.force)) - float64(t.friction) // what friction does not hold
		off = min(off, free/float64(t.force))
		if free <= 0 {
			r.Tolerance = max(r.Tolerance, reach, missed)
		}
	}
	return off
}

// Has reports whether a list of findings includes one.
func Has(list []sag.Finding, one sag.Finding) bool { return slices.Contains(list, one) }

// place is what the rank of a spring or a fill follows from.
type place struct {
	index int        // of the spring on the shelf, or of the option
	class int        // 0 if on target, 1 if not; 2 more if it goes solid; less comes first
	by    float64    // less comes first
	off   float64    // that of its miss
	left  [2]float64 // at full travel; more comes first
}

// compare orders places.
func (p place) compare(q place) int {
	return cmp.Or(cmp.Compare(p.class, q.class), cmp.Compare(p.by, q.by), cmp.Compare(q.left[0], p.left[0]), cmp.Compare(q.left[1], p.left[1]))
}

// lead returns by how much a spring is ahead of another: more than 0 if it comes first. It goes through
// 0, without a jump, where both are as near to the ideal rate, where both miss by the same amount, and
// where one that would then come first comes on target.
func (p place) lead(q place) float64 {
	by := q.by - p.by
	switch {
	case p.class%2 == 1 && q.class == p.class-1 && p.off > 0:
		return -p.off
	case q.class%2 == 1 && p.class == q.class-1 && q.off > 0:
		return q.off
	case p.class != q.class:
		return float64(q.class - p.class)
	case by == 0: // more left, or the order of the shelf, decides
		return 1e-15 * float64(cmp.Or(q.compare(p), cmp.Compare(q.index, p.index)))
	case p.class%2 == 1:
		return by
	case by > 0:
		return min(by, max(1e-15, -p.off))
	}
	return max(by, min(-1e-15, q.off))
}

// ahead returns why a spring's place is ahead of the next.
func (p place) ahead(next place) Reason {
	switch {
	case p.class/2 != next.class/2:
		return RankedSolid
	case p.class != next.class:
		return RankedOffTarget
	case p.by != next.by && p.class%2 == 1:
		return RankedLargerMiss
	case p.by != next.by:
		return RankedFartherRate
	case p.left != next.left:
		return RankedLessLeft
	}
	return RankedAlike
}
