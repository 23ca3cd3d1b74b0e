package server

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"os"
	"runtime"
	"strings"
	"time"

	"example.com/wheelrate/units"
)

// bodyLimit is the largest body that is read, in bytes. A job has about 3 kB.
const bodyLimit = 64 << 10

// service is what the requests share: no data, only a place for each processor,
// so that many requests at once wait in line instead of for each other.
type service struct {
	places chan struct{}
	limits Limits
	defect func(text string) // told when answering panics
}

func newService(log io.Writer) *service {
	return &service{
		places: make(chan struct{}, runtime.GOMAXPROCS(0)),
		limits: Usual(),
		defect: func(text string) { fmt.Fprintln(log, "service: "+text) },
	}
}

// route is the one method that an address knows, and what it does.
type route struct {
	method string
	do     http.HandlerFunc
}

// handler answers every request that is HTTP, and all its faults alike.
func (s *service) handler() http.Handler {
	const list = "POST /sheet, POST /rate, POST /record, GET /healthz"
	routes := map[string]route{
		"/sheet":  {"POST", s.post(sheet)},
		"/rate":   {"POST", s.post(rate)},
		"/record": {"POST", s.post(record)},
		"/healthz": {"GET", func(w http.ResponseWriter, _ *http.Request) {
			reply(w, http.StatusOK, map[string]string{"status": "ok"})
		}},
	}
	return s.guard(func(w http.ResponseWriter, r *http.Request) {
		to, ok := routes[r.URL.Path]
		switch {
		case !ok:
			refuse(w, http.StatusNotFound, wants("path", r.URL.Path, list, units.ErrUnknown))
		case r.Method != to.method && !(r.Method == "HEAD" && to.method == "GET"):
			w.Header().Set("Allow", to.method)
			refuse(w, http.StatusMethodNotAllowed, wants("method", r.Method, to.method, units.ErrUnknown))
		default:
			to.do(w, r)
		}
	})
}

// guard answers even where the code below it has a defect. What it reports is
// the defect alone, not the request.
func (s *service) guard(next http.HandlerFunc) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if p := recover(); p != nil {
				s.defect(fmt.Sprintf("a defect: %v", p))
				refuse(w, http.StatusInternalServerError, wants("", "", "a service without this defect; it is not the request's fault", nil))
			}
		}()
		next(w, r)
	})
}

// post reads a body of JSON, waits for a place and answers. A client that has
// gone while it waited costs no work.
func (s *service) post(answer func(body []byte) (any, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		body, status, wrong := s.read(w, r)
		if status != 0 {
			refuse(w, status, wrong)
			return
		}
		late := time.NewTimer(s.limits.Place)
		defer late.Stop()
		select {
		case s.places <- struct{}{}:
			defer func() { <-s.places }()
		case <-late.C:
			w.Header().Set("Retry-After", "5")
			refuse(w, http.StatusServiceUnavailable, wants("", "", "the same again in a few seconds: the service is busy", nil))
			return
		case <-r.Context().Done():
			return
		}
		if r.Context().Err() != nil {
			return
		}
		switch out, err := answer(body); {
		case err == nil:
			reply(w, http.StatusOK, out)
		case !json.Valid(body):
			refuse(w, http.StatusBadRequest, units.Faults(err)...)
		default:
			refuse(w, http.StatusUnprocessableEntity, units.Faults(err)...)
		}
	}
}

// read returns the body of a request, or a status and what is wrong.
func (s *service) read(w http.ResponseWriter, r *http.Request) (body []byte, status int, wrong *units.FieldError) {
	kind, params, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if charset := params["charset"]; err != nil || kind != "application/json" || charset != "" && !strings.EqualFold(charset, "utf-8") {
		return nil, http.StatusUnsupportedMediaType, wants("Content-Type", r.Header.Get("Content-Type"), "application/json", units.ErrUnknown)
	}
	if coding := r.Header.Get("Content-Encoding"); coding != "" && !strings.EqualFold(coding, "identity") {
		return nil, http.StatusUnsupportedMediaType, wants("Content-Encoding", coding, "nothing, the body as it is", units.ErrUnknown)
	}
	var b bytes.Buffer
	_, err = b.ReadFrom(http.MaxBytesReader(w, r.Body, bodyLimit))
	tooLarge := new(http.MaxBytesError)
	switch {
	case errors.As(err, &tooLarge):
		return nil, http.StatusRequestEntityTooLarge, &units.FieldError{Package: "service", Want: units.AtMost(tooLarge.Limit).Count("bytes"), Class: units.ErrRange}
	case errors.Is(err, os.ErrDeadlineExceeded):
		return nil, http.StatusRequestTimeout, wants("", "", "the whole body within "+s.limits.Read.String(), units.ErrMissing)
	case err != nil:
		return nil, http.StatusBadRequest, wants("", "", "the whole body, as long as announced", units.ErrMissing)
	}
	return b.Bytes(), 0, nil
}

// wants is the fault of a request with a value, as text, of what is named so around its body.
func wants(name, value, want string, class *units.Class) *units.FieldError {
	f := &units.FieldError{Package: "service", Field: name, Want: units.Want{Text: want}, Class: class}
	if value != "" {
		f.Value = units.Clip(value)
	}
	return f
}

func refuse(w http.ResponseWriter, status int, list ...*units.FieldError) {
	reply(w, status, map[string]any{"faults": list})
}

// reply writes an answer. It is not to be stored on the way: it tells what a
// rider weighs.
func reply(w http.ResponseWriter, status int, answer any) {
	body, err := json.Marshal(answer)
	if err != nil { // no answer of the library is known to do this
		status, body = http.StatusInternalServerError, []byte(`{"faults":[{"code":"other","field":"","want":"an answer that can be written as JSON"}]}`)
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("X-Content-Type-Options", "nosniff")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write(append(body, '\n')) // a client that has gone reads no error either
}
