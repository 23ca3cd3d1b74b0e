package visit

import (
	"fmt"
	"reflect"
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// endWork is the work on one end of the bike at a visit.
type endWork struct {
	change   Change
	left     *EndRecord
	found    EndVisit
	job      *setup.EndJob // nil without one
	from, to units.Force
	first    bool // set as the sheet of the job recommends
	weather  bool // that of the record and of today are known
	sagError float64
	tried    []Tried
	end      *end // today
}

// answer returns what the visit comes to at this end, and the end's next record.
func (h *endWork) answer(c *units.Checker) (*EndAnswer, *EndRecord) {
	e := h.left.Setting.at(h.change.From.Conditions).end(c)
	if !c.OK() {
		return nil, nil
	}
	h.end = e
	a := &EndAnswer{Advice: []Advice{}, Load: h.to, Sag: h.left.Sag}
	var err error
	if a.Left, err = e.outcome(h.from); err == nil {
		err = e.carry(h.change)
	}
	if c.Add("", err); err != nil {
		return nil, nil
	}
	h.refill(c, a)
	if !c.OK() {
		return nil, nil
	}
	if a.Now, err = e.outcome(h.to); err != nil {
		c.Add("", err)
		return nil, nil
	}
	if len(h.found.Readings) > 0 {
		if a.Report = e.report(c, Series{Setting: e.current(), Load: h.to, Readings: h.found.Readings}); a.Report == nil {
			return nil, nil
		}
		a.Load = a.Report.Estimate.Load
	}
	if h.found.Ride != nil {
		own := c.Child("ride")
		if a.Ride = e.ride(&own, a.Load, *h.found.Ride, h.job); a.Ride == nil {
			return nil, nil
		}
	}
	if h.plan(c, a); !c.OK() {
		return nil, nil
	}
	a.Change = h.worth(a)
	h.advise(a)
	return a, h.next(a)
}

// refill takes a fill that was read as the one that is in the spring.
func (h *endWork) refill(c *units.Checker, a *EndAnswer) {
	e, fill := h.end, h.found.Fill
	if fill == 0 {
		return
	}
	if e.set.Air == nil {
		c.Fail("fill", fill, "nothing: this end has no air spring", units.ErrConflict)
		return
	}
	if gas.CheckFill(c, "fill", fill); !c.OK() {
		return
	}
	a.FillChange = fill - e.gas.Fill
	e.gas.Fill = fill
	law, err := airspring.New(e.gas)
	if err != nil {
		c.Fail("fill", fill, "a fill with which the spring can be worked out", units.ErrConflict)
		return
	}
	e.Law = law
}

// plan sets the plan, the target and what to set for it.
func (h *endWork) plan(c *units.Checker, a *EndAnswer) {
	e := h.end
	if reflect.DeepEqual(h.change.From.Masses, h.change.To.Masses) {
		h.tried = slices.Clone(h.left.Tried)
	}
	if ride := a.Ride; h.found.Felt != "" || ride != nil && len(h.tried) > 0 {
		rest, err := e.outcome(a.Load)
		if err != nil {
			c.Add("", err)
			return
		}
		t := Tried{Sag: min(max(rest.Rest.Sag, 1e-6), 1-1e-6), Felt: h.found.Felt}
		if ride != nil {
			t.Ride = ride.Verdict
		}
		h.tried = append(h.tried, t)
		if len(h.tried) > mostTried {
			h.tried = h.tried[len(h.tried)-mostTried:]
		}
	}
	ring := units.Millimetre
	if h.found.Ride != nil {
		ring = h.found.Ride.Error
	}
	for i, r := range h.found.Readings {
		if ring = min(ring, r.Error); i == 0 {
			ring = r.Error
		}
	}
	var err error
	if ring < e.Curve.Stroke()/4 {
		a.Plan, err = e.plan(Bracket{Setting: e.current(), Load: a.Load, RingError: ring, SagError: h.sagError, Tried: h.tried})
		c.Add("", err)
	}
	if a.Plan != nil && len(h.tried) > 0 && a.Plan.Next != nil && a.Plan.Ending != Contrary {
		a.Sag = a.Plan.Next.Sag
	}
	e.set.Sag = a.Sag
	if a.Set, err = e.correction(a.Load); err != nil && c.OK() {
		c.Add("", err)
	}
}

// worth reports whether what is to be set is worth setting.
func (h *endWork) worth(a *EndAnswer) bool {
	e := h.end
	if air := a.Set.Air; air != nil && (air.Fill == e.gas.Fill || !(air.Fill > 0)) || a.Set.Coil != nil && a.Set.Coil.PreloadChange == 0 {
		return false
	}
	switch {
	case fit.Has(a.Now.Findings, OverMarking):
		return true
	case a.Report != nil && a.Report.Verdict == Contradictory:
		return false
	case a.Sag != h.left.Sag:
		return true
	case a.Report == nil:
		return !fit.Has(a.Now.Findings, sag.OnTarget)
	}
	at := e.Curve.StrokeAt(units.Length(a.Sag) * e.Curve.Travel())
	load, err := e.LoadAt(at)
	return err != nil || !(load >= a.Report.Estimate.ErrorLow && load <= a.Report.Estimate.ErrorHigh)
}

// next returns the end's next record.
func (h *endWork) next(a *EndAnswer) *EndRecord {
	was := h.left.Setting
	s := h.end.current()
	if s.Air != nil {
		s.Air.Travel = was.Air.Travel
		if was.Air.Ambient == 0 { // that of the altitude
			s.Air.Ambient = 0
		}
	}
	r := &EndRecord{Setting: s, Note: h.left.Note, Tried: h.tried}
	if p := a.Plan; p != nil && p.Ending != "" {
		r.Tried = nil
	}
	if a.Change {
		r.Setting = s.with(a.Set)
	} else {
		r.Readings, r.Ride = slices.Clone(h.found.Readings), h.found.Ride
	}
	return r
}

// note returns a line of a record's notes on what was found and set at an end.
func (h *endWork) note(date, axle string, a *EndAnswer) string {
	text := fmt.Sprintf("%s %s:", date, axle)
	for _, r := range h.found.Readings {
		text += fmt.Sprintf(" ring %s;", r.Stroke.Both().Metric)
		break
	}
	if a.Ride != nil {
		text += fmt.Sprintf(" ride used %s;", units.Percent(a.Ride.Used))
	}
	if h.found.Felt != "" {
		text += fmt.Sprintf(" felt %s;", h.found.Felt)
	}
	if a.Change {
		return text + " set to " + setTo(a.Set) + "."
	}
	return text + " left as it was."
}
