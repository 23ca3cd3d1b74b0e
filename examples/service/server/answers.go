package server

import (
	"bytes"
	"slices"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// What a job may hold here: more than any workshop needs, and little enough
// that an answer takes a fraction of a second. The library itself takes far
// longer lists.
const (
	mostSprings = 64
	mostStances = 16
	mostPoints  = 100
)

// sheet works a job out.
func sheet(body []byte) (any, error) {
	// What can be read is held against the bounds before the job is checked.
	var draft setup.Job
	_ = strictjson.Unmarshal("job", body, &draft) // told by ReadJob below
	c := units.Checker{Package: "service"}
	boundJob(&c, "", draft)
	if err := c.Err(); err != nil {
		return nil, err
	}
	job, err := setup.ReadJob(bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	return setup.NewSheet(job)
}

// rateQuestion asks which coil spring brings one end of a bike to a sag. It is
// a question of this service's own, put together from the library's types.
type rateQuestion struct {
	Curve      linkage.Spec `json:"curve"`
	sag.Target              // load and sag
	Preload    units.Length `json:"preload,omitempty"`
}

// rateAnswer is the spring, and what to mind. Whoever shows the one shows the
// other.
type rateAnswer struct {
	sag.CoilRate
	Cautions []fit.Caution `json:"cautions"`
}

// cautions are those of a sheet that concern a spring.
var cautions = slices.DeleteFunc(fit.Cautions(false, true), func(c fit.Caution) bool { return c.Code == "crown_and_axle" })

// rate answers a rateQuestion.
func rate(body []byte) (any, error) {
	var q rateQuestion
	read, err := strictjson.Salvage("rate", body, strictjson.Rules{}, &q)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "rate"}
	boundCurve(&c, "curve", q.Curve)
	if err := c.Err(); err != nil {
		return nil, err
	}
	curve, err := linkage.New(q.Curve)
	if err != nil {
		c.Add("curve", err)
		curve, _ = linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: units.Metre}) // so that the other fields are checked all the same
	}
	spring, err := sag.RequiredRate(curve, q.Target, q.Preload)
	c.Add("", err)
	if err := read.Join(c.Err()); err != nil {
		return nil, err
	}
	return rateAnswer{spring, cautions}, nil
}

// record says what the readings of a setting record mean, end by end.
func record(body []byte) (any, error) {
	// What can be read is held against the bounds before the record is
	// checked, for that works its job out.
	var draft visit.Record
	_ = strictjson.Unmarshal("record", body, &draft) // told by ReadRecord below
	c := units.Checker{Package: "service"}
	for _, end := range []struct {
		name string
		r    *visit.EndRecord
	}{{"front", draft.Front}, {"rear", draft.Rear}} {
		if end.r != nil {
			boundCurve(&c, end.name+".curve", end.r.Curve)
		}
	}
	if draft.Job != nil {
		boundJob(&c, "job.", *draft.Job)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	r, marked, err := visit.ReadRecord(bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	for _, m := range marked {
		c.Add("", m)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	out := map[sag.Axle]*visit.Report{}
	for i, e := range [2]*visit.EndRecord{r.Front, r.Rear} {
		if e == nil || len(e.Readings) == 0 {
			continue
		}
		end := [2]sag.Axle{sag.Front, sag.Rear}[i]
		a, err := r.Arrive(end, r.Situation, 0)
		if err == nil {
			out[end], err = a.Report(a.Now.Load, e.Readings)
		}
		c.Add(string(end), err)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

func boundJob(c *units.Checker, at string, j setup.Job) {
	bound(c, at+"stances", len(j.Stances), mostStances)
	for _, end := range []struct {
		name string
		j    *setup.EndJob
	}{{"front", j.Front}, {"rear", j.Rear}} {
		if end.j == nil {
			continue
		}
		boundCurve(c, at+end.name+".curve", end.j.Curve)
		if end.j.Coil != nil {
			bound(c, at+end.name+".coil.shelf", len(end.j.Coil.Springs), mostSprings)
		}
	}
}

func boundCurve(c *units.Checker, at string, s linkage.Spec) {
	if s.Table != nil {
		bound(c, at+".table.stroke", len(s.Table.Stroke), mostPoints)
		bound(c, at+".table.travel", len(s.Table.Travel), mostPoints)
	}
	if s.Mechanism != nil {
		bound(c, at+".mechanism.points", len(s.Mechanism.Points), mostPoints)
	}
}

func bound(c *units.Checker, field string, n, most int) {
	if n > most {
		c.Fail(field, n, units.AtMost(most).Count("of them in this service"), units.ErrRange)
	}
}
