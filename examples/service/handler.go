package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"mime"
	"net/http"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// handler answers the requests. It holds no state: every request is worked out
// from its own body.
func handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /healthz", func(w http.ResponseWriter, _ *http.Request) {
		reply(w, http.StatusOK, map[string]string{"status": "ok"})
	})
	mux.HandleFunc("POST /sheet", post(sheet))
	mux.HandleFunc("POST /record", post(record))
	return mux
}

// sheet works a job out.
func sheet(body []byte) (any, error) {
	job, err := sag.ReadJob(bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	return sag.NewSheet(job)
}

// record says what the readings of a record mean, end by end.
func record(body []byte) (any, error) {
	r, err := sag.ReadRecord(bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	out := map[sag.End]*sag.Measured{}
	c := units.Checker{Package: "record"}
	for _, end := range []sag.End{sag.FrontEnd, sag.RearEnd} {
		m, ok := r.Measuring(end)
		if !ok || len(m.Readings) == 0 {
			continue
		}
		measured, err := sag.NewMeasured(m)
		c.Add(string(end), err)
		out[end] = measured
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

// post answers a request with a body of JSON, at most [sag.JobLimit] bytes.
func post(answer func(body []byte) (any, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
			refuse(w, http.StatusUnsupportedMediaType, fault{Field: "Content-Type", Value: r.Header.Get("Content-Type"), Want: "application/json"})
			return
		}
		var body bytes.Buffer
		if _, err := body.ReadFrom(http.MaxBytesReader(w, r.Body, sag.JobLimit)); err != nil {
			if tooLarge := new(http.MaxBytesError); errors.As(err, &tooLarge) {
				refuse(w, http.StatusRequestEntityTooLarge, fault{Want: fmt.Sprintf("at most %d bytes", tooLarge.Limit)})
				return
			}
			refuse(w, http.StatusBadRequest, fault{Want: "a whole body"})
			return
		}
		out, err := answer(body.Bytes())
		if err != nil {
			refuse(w, http.StatusUnprocessableEntity, faults(err)...)
			return
		}
		reply(w, http.StatusOK, out)
	}
}

// fault is one thing that is wrong with a request.
type fault struct {
	Field string `json:"field"`
	Value string `json:"value,omitempty"`
	Want  string `json:"want"`
}

// faults lists what an error complains of.
func faults(err error) (list []fault) {
	for _, f := range units.Fields(err) {
		one := fault{Field: f.Field, Want: f.Want}
		if f.Value != nil {
			one.Value = fmt.Sprint(f.Value)
		}
		list = append(list, one)
	}
	if list == nil {
		list = []fault{{Want: err.Error()}}
	}
	return list
}

func refuse(w http.ResponseWriter, status int, list ...fault) {
	reply(w, status, map[string][]fault{"errors": list})
}

// reply writes an answer, or that it can't be written as JSON, which no answer
// of the library is known to do.
func reply(w http.ResponseWriter, status int, answer any) {
	text, err := json.Marshal(answer)
	if err != nil {
		status, text = http.StatusInternalServerError, []byte(`{"errors":[{"field":"","want":"an answer that can be written"}]}`)
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("X-Content-Type-Options", "nosniff")
	w.WriteHeader(status)
	_, _ = w.Write(append(text, '\n')) // a client that is gone reads no error either
}
