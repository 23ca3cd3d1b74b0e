package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

//go:embed job.json
var demo string

// question is a request with what the answer must be.
type question struct {
	method, path, body string
	header             map[string]string
	status             int
	answer             string // byte for byte; "" where check decides
	check              func(body []byte) error
}

// head writes the request's head with a body of so many bytes.
func (q *question) head(length int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s HTTP/1.1\r\nHost: localhost\r\nContent-Length: %d\r\n", q.method, q.path, length)
	for name, value := range q.header {
		fmt.Fprintf(&b, "%s: %s\r\n", name, value)
	}
	return b.String() + "\r\n"
}

// wire is the whole request.
func (q *question) wire() string { return q.head(len(q.body)) + q.body }

// judge holds an answer against what it must be.
func (q *question) judge(status int, header http.Header, body []byte) error {
	switch {
	case status != q.status:
		return fmt.Errorf("%s %s: status %d, want %d: %.200s", q.method, q.path, status, q.status, body)
	case header.Get("Content-Type") != "application/json" || header.Get("Cache-Control") != "no-store":
		return fmt.Errorf("%s %s: header %v", q.method, q.path, header)
	case status == http.StatusMethodNotAllowed && header.Get("Allow") == "":
		return fmt.Errorf("%s %s: does not say what is allowed", q.method, q.path)
	case q.check != nil:
		return q.check(body)
	case q.method != http.MethodHead && string(body) != q.answer:
		return fmt.Errorf("%s %s: answers %.200s, want %.200s", q.method, q.path, body, q.answer)
	}
	return nil
}

// questions are those that the clients choose from.
type questions struct {
	good []question // sheets, rates and records
	bad  []question // refused, by fields and in words of the library
	odd  []question // wrong around the body
}

var asJSON = map[string]string{"Content-Type": "application/json"}

func post(path, body string) question {
	return question{method: "POST", path: path, body: body, header: asJSON, status: http.StatusOK}
}

// ask works all questions and answers out beforehand, by the library and not by
// the service.
func ask() (*questions, error) {
	q := new(questions)
	for i := range 12 {
		text := strings.Replace(demo, `"82 kg"`, fmt.Sprintf(`"%d kg"`, 55+5*i), 1)
		job, sheet, err := sheetOf(text)
		if err != nil {
			return nil, err
		}
		one := post("/sheet", text)
		if one.answer, err = line(sheet); err != nil {
			return nil, err
		}
		q.good = append(q.good, one)
		if one, err = record(job, sheet); err != nil {
			return nil, err
		}
		q.good = append(q.good, one)
		if one, err = rate(units.Force(400 + 30*i)); err != nil {
			return nil, err
		}
		q.good = append(q.good, one)
	}
	for _, spoilt := range []string{
		"", "{", demo[:len(demo)/2], "[]", "{}", demo + demo,
		strings.Replace(demo, `"82 kg"`, "82", 1),
		strings.Replace(demo, `"82 kg"`, `"82 N"`, 1),
		strings.Replace(demo, `"ambient"`, `"weather"`, 1),
		strings.NewReplacer(`"82 kg"`, `"-82 kg"`, `"sag": 0.2,`, `"sag": 2,`).Replace(demo),
		strings.Repeat("[", 5000) + strings.Repeat("]", 5000),
	} {
		_, _, err := sheetOf(spoilt)
		if err == nil {
			return nil, fmt.Errorf("not refused: %.100s", spoilt)
		}
		one := post("/sheet", spoilt)
		one.status = http.StatusUnprocessableEntity
		if !json.Valid([]byte(spoilt)) {
			one.status = http.StatusBadRequest
		}
		if one.answer, err = refusal(err); err != nil {
			return nil, err
		}
		q.bad = append(q.bad, one)
	}
	job := q.good[0]
	around := func(status int, field string, change func(*question)) {
		one := job
		one.header = map[string]string{"Content-Type": "application/json"}
		one.status, one.answer, one.check = status, "", names(field)
		change(&one)
		q.odd = append(q.odd, one)
	}
	around(http.StatusUnsupportedMediaType, "Content-Encoding", func(q *question) { q.header["Content-Encoding"] = "gzip" })
	around(http.StatusUnsupportedMediaType, "Content-Type", func(q *question) { q.header["Content-Type"] = "text/plain" })
	around(http.StatusUnsupportedMediaType, "Content-Type", func(q *question) { q.header = nil })
	around(http.StatusNotFound, "path", func(q *question) { q.path = "/sheets" })
	around(http.StatusNotFound, "path", func(q *question) { q.path = "//sheet" })
	around(http.StatusMethodNotAllowed, "method", func(q *question) { q.method = "PUT" })
	around(http.StatusMethodNotAllowed, "method", func(q *question) { q.method, q.body = "DELETE", "" })
	around(http.StatusMethodNotAllowed, "method", func(q *question) { q.path = "/healthz" })
	around(http.StatusOK, "", func(q *question) {
		q.method, q.path, q.body, q.check, q.answer = "GET", "/healthz", "", nil, "{\"status\":\"ok\"}\n"
	})
	around(http.StatusOK, "", func(q *question) { q.method, q.path, q.body, q.check = "HEAD", "/healthz", "", nil })
	return q, nil
}

func sheetOf(text string) (setup.Job, *setup.Sheet, error) {
	job, err := setup.ReadJob(strings.NewReader(text))
	if err != nil {
		return job, nil, err
	}
	sheet, err := setup.NewSheet(job)
	return job, sheet, err
}

func line(answer any) (string, error) {
	text, err := json.Marshal(answer)
	return string(text) + "\n", err
}

// record asks what the readings of a visit mean.
func record(job setup.Job, sheet *setup.Sheet) (question, error) {
	r, err := visit.NewRecord("2026-11-25", job, sheet)
	if err != nil {
		return question{}, err
	}
	r.Rear.Readings = []visit.Reading{{Stroke: sheet.Rear.Rest.Stroke, Error: 0.5 * units.Millimetre}}
	var text bytes.Buffer
	if _, err := r.WriteTo(&text); err != nil {
		return question{}, err
	}
	rear, err := r.Arrive(sag.Rear, r.Situation, 0)
	if err != nil {
		return question{}, err
	}
	measured, err := rear.Report(rear.Now.Load, r.Rear.Readings)
	if err != nil {
		return question{}, err
	}
	one := post("/record", text.String())
	one.answer, err = line(map[sag.Axle]*visit.Report{sag.Rear: measured})
	return one, err
}

// rate asks for a spring. The answer has cautions beside it, so it is compared
// field by field.
func rate(load units.Force) (question, error) {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.6, Travel: 150 * units.Millimetre})
	if err != nil {
		return question{}, err
	}
	want, err := sag.RequiredRate(curve, sag.Target{Load: load, Sag: 0.28}, 2*units.Millimetre)
	if err != nil {
		return question{}, err
	}
	one := post("/rate", fmt.Sprintf(`{"curve": {"constant": 2.6, "travel": "150 mm"}, "load": "%v N", "sag": 0.28, "preload": "2 mm"}`, float64(load)))
	one.check = func(body []byte) error {
		var got struct {
			sag.CoilRate
			Cautions []fit.Caution `json:"cautions"`
		}
		if err := json.Unmarshal(body, &got); err != nil {
			return err
		}
		if got.CoilRate != want || len(got.Cautions) == 0 {
			return fmt.Errorf("/rate: answers %+v with %d cautions, want %+v", got.CoilRate, len(got.Cautions), want)
		}
		return nil
	}
	return one, nil
}

// refusal is what the service documents for an error of the library.
func refusal(err error) (string, error) {
	list := units.Fields(err)
	if list == nil {
		return "", fmt.Errorf("names no field: %w", err)
	}
	return line(map[string]any{"faults": list})
}

// names checks that a refusal names one field and says what is wanted of it.
func names(field string) func(body []byte) error {
	return func(body []byte) error {
		var got struct{ Faults []*units.FieldError }
		if err := json.Unmarshal(body, &got); err != nil {
			return fmt.Errorf("%w in %.200s", err, body)
		}
		if len(got.Faults) != 1 || got.Faults[0].Field != field || got.Faults[0].Want.String() == "" {
			return fmt.Errorf("names %v, want %q", got.Faults, field)
		}
		return nil
	}
}
