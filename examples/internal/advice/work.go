package advice

import (
	"fmt"
	"reflect"
	"slices"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// work is the work on one end of the bike at a visit.
type work struct {
	*visit.Arrival
	axle    sag.Axle
	left    *visit.EndRecord
	found   EndVisit
	same    bool // masses as the record's
	first   bool // set as the sheet of the job recommends
	weather bool // that of the record and of today are known
	was     *visit.Situation
	tried   []visit.Tried
	// sagError is the standard uncertainty of the sag by the record's job; 0 if it is unknown.
	sagError float64
}

// newWork returns the work on one end of a record's bike in today's situation.
func newWork(v Visit, r visit.Record, to visit.Situation, axle sag.Axle) *work {
	w := &work{axle: axle, left: r.Front, first: v.Job != nil, was: &r.Situation}
	found := v.Front
	if axle == sag.Rear {
		w.left, found = r.Rear, v.Rear
	}
	if found != nil {
		w.found = *found
	}
	w.same = reflect.DeepEqual(r.Situation.Masses, to.Masses)
	w.weather = r.Situation.Conditions != nil && v.Conditions != nil
	w.sagError = sagError(r, axle)
	return w
}

// answer returns what the visit comes to at this end, and the end's next record.
func (w *work) answer(c *units.Checker, r visit.Record, to visit.Situation) (*EndAnswer, *visit.EndRecord) {
	var err error
	if w.Arrival, err = r.Arrive(w.axle, to, w.found.Fill); err != nil {
		c.Add("", err)
		return nil, nil
	}
	a := &EndAnswer{Advice: []Item{}, Left: w.Left, Now: w.Now, FillChange: w.FillChange, Load: w.Now.Load, Sag: w.left.Sag}
	if len(w.found.Readings) > 0 {
		if a.Report, err = w.Report(w.Now.Load, w.found.Readings); err != nil {
			c.Add("", err)
			return nil, nil
		}
		a.Load = a.Report.Estimate.Load
	}
	if w.found.Ride != nil {
		if a.Ride, err = w.Ride(a.Load, *w.found.Ride); err != nil {
			c.Add("ride", err)
			return nil, nil
		}
	}
	if err = w.plan(a); err != nil {
		c.Add("", err)
		return nil, nil
	}
	a.Change = w.worth(a)
	w.advise(a)
	return a, w.next(a)
}

// plan sets the plan, the target and what to set for it.
func (w *work) plan(a *EndAnswer) error {
	if w.same {
		w.tried = slices.Clone(w.left.Tried)
	}
	if ride := a.Ride; w.found.Felt != "" || ride != nil && len(w.tried) > 0 {
		o, err := w.Outcome(a.Load)
		if err != nil {
			return err
		}
		t := visit.Tried{Sag: min(max(o.Rest.Sag, 1e-6), 1-1e-6), Felt: w.found.Felt}
		if ride != nil {
			t.Ride = ride.Verdict
		}
		w.tried = append(w.tried, t)
		if len(w.tried) > visit.MostTried {
			w.tried = w.tried[len(w.tried)-visit.MostTried:]
		}
	}
	ring := units.Millimetre
	if w.found.Ride != nil {
		ring = w.found.Ride.Error
	}
	for i, r := range w.found.Readings {
		if ring = min(ring, r.Error); i == 0 {
			ring = r.Error
		}
	}
	var err error
	if ring < w.End().Curve.Stroke()/4 {
		if a.Plan, err = w.Plan(visit.Bracket{Load: a.Load, RingError: ring, SagError: w.sagError, Tried: w.tried}); err != nil {
			return err
		}
	}
	if a.Plan != nil && len(w.tried) > 0 && a.Plan.Next != nil && a.Plan.Ending != visit.Contrary {
		a.Sag = a.Plan.Next.Sag
	}
	a.Set, err = w.Correction(sag.Target{Load: a.Load, Sag: a.Sag})
	return err
}

// worth reports whether what is to be set is worth setting.
func (w *work) worth(a *EndAnswer) bool {
	if air := a.Set.Air; air != nil && (air.FillChange == 0 || !(air.Fill > 0)) || a.Set.Coil != nil && a.Set.Coil.PreloadChange == 0 {
		return false
	}
	switch {
	case fit.Has(a.Now.Findings, visit.OverMarking):
		return true
	case a.Report != nil && a.Report.Verdict == visit.Contradictory:
		return false
	case a.Sag != w.left.Sag:
		return true
	case a.Report == nil:
		return !fit.Has(a.Now.Findings, sag.OnTarget)
	}
	e := w.End()
	load, err := e.LoadAt(e.Curve.StrokeAt(units.Length(a.Sag) * e.Curve.Travel()))
	return err != nil || !(load >= a.Report.Estimate.ErrorLow && load <= a.Report.Estimate.ErrorHigh)
}

// next returns the end's next record.
func (w *work) next(a *EndAnswer) *visit.EndRecord {
	r := &visit.EndRecord{Setting: w.Setting(), Note: w.left.Note, Tried: w.tried}
	r.Sag = a.Sag
	if p := a.Plan; p != nil && p.Ending != "" {
		r.Tried = nil
	}
	if a.Change {
		r.Setting = r.Setting.With(a.Set)
	} else {
		r.Readings, r.Ride = slices.Clone(w.found.Readings), w.found.Ride
	}
	return r
}

// note returns a line of a record's notes on what was found and set at an end.
func (w *work) note(date string, a *EndAnswer) string {
	text := fmt.Sprintf("%s %s:", date, w.axle)
	if len(w.found.Readings) > 0 {
		text += fmt.Sprintf(" ring %s;", w.found.Readings[0].Stroke.Both().Metric)
	}
	if a.Ride != nil {
		text += fmt.Sprintf(" ride used %s;", units.Percent(a.Ride.Used))
	}
	if w.found.Felt != "" {
		text += fmt.Sprintf(" felt %s;", w.found.Felt)
	}
	if a.Change {
		return text + " set to " + a.Set.Text() + "."
	}
	return text + " left as it was."
}

// sagError returns the standard uncertainty of the sag that a record's job comes to; 0 if it is
// unknown.
func sagError(r visit.Record, axle sag.Axle) float64 {
	if r.Job == nil || r.Job.Uncertainty == nil {
		return 0
	}
	s, err := r.Sheet()
	if err != nil {
		return 0
	}
	e := s.Uncertainty.Front
	if axle == sag.Rear {
		e = s.Uncertainty.Rear
	}
	if e == nil || e.Sag == nil || !(e.Sag.Uncertainty < visit.MostSagError) {
		return 0
	}
	return e.Sag.Uncertainty
}
