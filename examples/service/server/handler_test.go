package server

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http/httptest"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

const askRate = `{"curve": {"constant": 2.6, "travel": "150 mm"}, "load": "520 N", "sag": 0.28}`

func demoJob(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../../setup/demo/job.json")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func ask(t testing.TB, method, path, kind, body string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	w := httptest.NewRecorder()
	newService(t.Output()).handler().ServeHTTP(w, r)
	return w
}

// ownSheet is what the library says itself.
func ownSheet(t testing.TB, text string) string {
	t.Helper()
	s, err := setup.NewSheet(readJob(t, text))
	if err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(out) + "\n"
}

func readJob(t testing.TB, text string) setup.Job {
	t.Helper()
	j, err := setup.ReadJob(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// One end is enough: the sheet of a hardtail has no rear.
func TestSheetOfOneEnd(t *testing.T) {
	job, err := os.ReadFile("../../setup/demo/hardtail.json")
	if err != nil {
		t.Fatal(err)
	}
	w := ask(t, "POST", "/sheet", "application/json", string(job))
	if w.Code != 200 || w.Body.String() != ownSheet(t, string(job)) || strings.Contains(w.Body.String(), `"rear":{`) {
		t.Errorf("status %d, %.200s", w.Code, w.Body)
	}
}

func TestSheet(t *testing.T) {
	job := demoJob(t)
	for _, kind := range []string{"application/json", "application/json; charset=UTF-8", "Application/JSON"} {
		w := ask(t, "POST", "/sheet", kind, job)
		if w.Code != 200 || w.Body.String() != ownSheet(t, job) {
			t.Errorf("%s: status %d, %.200s", kind, w.Code, w.Body)
		}
		for name, want := range map[string]string{"Content-Type": "application/json", "Cache-Control": "no-store", "X-Content-Type-Options": "nosniff"} {
			if got := w.Header().Get(name); got != want {
				t.Errorf("%s is %q", name, got)
			}
		}
	}
	// A full chamber of 1 bar at the most can't hold this rider: that is a
	// warning and no fault, and it travels with the answer.
	w := ask(t, "POST", "/sheet", "application/json", strings.Replace(job, `"max_fill": "10 bar"`, `"max_fill": "1 bar"`, 1))
	var got struct {
		Warnings []struct{ Field, Code string }
		Cautions []fit.Caution
	}
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || w.Code != 200 || len(got.Warnings) == 0 || len(got.Cautions) == 0 {
		t.Errorf("status %d, %v: %d warnings, %d cautions", w.Code, err, len(got.Warnings), len(got.Cautions))
	}
}

// By hand: 28 % of 150 mm are 42 mm at the wheel, 42/2.6 mm at the shock, which
// carries 520 N · 2.6; with 2 mm of preload the spring is 2 mm shorter still.
func TestRate(t *testing.T) {
	for _, test := range []struct {
		body string
		want float64 // N/mm
	}{
		{askRate, 520 * 2.6 / (42 / 2.6)},
		{strings.Replace(askRate, "0.28", `0.28, "preload": "2 mm"`, 1), 520 * 2.6 / (42/2.6 + 2)},
	} {
		w := ask(t, "POST", "/rate", "application/json", test.body)
		var got rateAnswer
		if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || w.Code != 200 {
			t.Fatalf("status %d, %v: %s", w.Code, err, w.Body)
		}
		unitstest.Near(t, test.body, got.Rate.NewtonsPerMillimetre(), test.want, unitstest.Rel(1e-12))
		unitstest.Near(t, "stroke", got.Stroke.Millimetres(), 42/2.6, unitstest.Rel(1e-12))
	}
}

// The cautions beside a rate are those of a sheet, word for word.
func TestCautions(t *testing.T) {
	s, err := setup.NewSheet(readJob(t, demoJob(t)))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cautions {
		if !slices.Contains(s.Cautions, c) {
			t.Errorf("no sheet says %+v", c)
		}
	}
	if w := ask(t, "POST", "/rate", "application/json", askRate); !strings.Contains(w.Body.String(), "compressed_spring") {
		t.Error(w.Body)
	}
}

func demoRecord(t testing.TB) string {
	t.Helper()
	j := readJob(t, demoJob(t))
	s, err := setup.NewSheet(j)
	if err != nil {
		t.Fatal(err)
	}
	r, err := visit.NewRecord("2026-11-25", j, s)
	if err != nil {
		t.Fatal(err)
	}
	r.Rear.Readings = []visit.Reading{{Stroke: s.Rear.Rest.Stroke, Error: 0.5 * units.Millimetre}}
	var text bytes.Buffer
	if _, err := r.WriteTo(&text); err != nil {
		t.Fatal(err)
	}
	return text.String()
}

func TestRecord(t *testing.T) {
	text := demoRecord(t)
	w := ask(t, "POST", "/record", "application/json", text)
	if body := w.Body.String(); w.Code != 200 || !strings.Contains(body, `"rear":{`) || !strings.Contains(body, `"verdict":"agrees"`) ||
		strings.Contains(body, `"front"`) || !strings.Contains(body, "compressed_spring") {
		t.Errorf("status %d, %.300s", w.Code, body)
	}
}

// Every refusal has the one shape, names every field, and says what is wanted.
func TestRefusals(t *testing.T) {
	const kind = "application/json"
	job, record := demoJob(t), demoRecord(t)
	with := func(from, to string) string {
		t.Helper()
		out := strings.Replace(job, from, to, 1)
		if out == job {
			t.Fatalf("%q is not in the job", from)
		}
		return out
	}
	springs := strings.Repeat(`{"rate": "80 N/mm"},`, mostSprings)
	points := strings.Repeat(`"1 mm",`, mostPoints)
	var pivots []string
	for i := range mostPoints + 1 {
		pivots = append(pivots, fmt.Sprintf(`"p%d": ["%d mm", "0 mm"]`, i, i))
	}
	for _, test := range []struct {
		what, method, path, kind, body string
		status                         int
		fields                         []string
	}{
		{"no such path", "GET", "/", "", "", 404, []string{"path"}},
		{"a path that is not clean", "POST", "//sheet", kind, job, 404, []string{"path"}},
		{"a wrong method", "GET", "/sheet", "", "", 405, []string{"method"}},
		{"another wrong method", "POST", "/healthz", kind, "{}", 405, []string{"method"}},
		{"no content type", "POST", "/sheet", "", job, 415, []string{"Content-Type"}},
		{"a form", "POST", "/sheet", "application/x-www-form-urlencoded", job, 415, []string{"Content-Type"}},
		{"an invalid content type", "POST", "/sheet", ";;", job, 415, []string{"Content-Type"}},
		{"another charset", "POST", "/sheet", kind + "; charset=utf-16", job, 415, []string{"Content-Type"}},
		{"nothing", "POST", "/sheet", kind, "", 400, []string{""}},
		{"no JSON", "POST", "/sheet", kind, "{", 400, []string{""}},
		{"two jobs", "POST", "/sheet", kind, job + job, 400, []string{""}},
		{"a byte too much", "POST", "/sheet", kind, strings.Repeat(" ", bodyLimit+1), 413, []string{""}},
		{"all that is read, and empty", "POST", "/sheet", kind, strings.Repeat(" ", bodyLimit), 400, []string{""}},
		{"an empty job", "POST", "/sheet", kind, "{}", 422, []string{"schema", "masses.bike_mass", "masses.rider_mass", "masses.rear_share", "front"}},
		{"a list", "POST", "/sheet", kind, "[]", 422, []string{""}},
		{"an unknown field", "POST", "/sheet", kind, with(`"ambient"`, `"weather"`), 422, []string{"weather"}},
		{"a field twice", "POST", "/sheet", kind, with(`"ambient"`, `"ambient": "97.7 kPa(a)", "ambient"`), 422, []string{"ambient"}},
		{"no unit", "POST", "/sheet", kind, with(`"82 kg"`, `82`), 422, []string{"masses.rider_mass"}},
		{"another unit", "POST", "/sheet", kind, with(`"82 kg"`, `"82 N"`), 422, []string{"masses.rider_mass"}},
		{"not UTF-8", "POST", "/sheet", kind, with("Invented", "\xff"), 422, []string{"note"}},
		{"two bad values", "POST", "/sheet", kind, strings.NewReplacer(`"82 kg"`, `"-82 kg"`, `"sag": 0.2,`, `"sag": 2,`).Replace(job), 422, []string{"masses.rider_mass", "front.sag"}},
		{"open brackets", "POST", "/sheet", kind, strings.Repeat("[", 60000), 400, []string{""}},
		{"deep nesting", "POST", "/sheet", kind, strings.Repeat("[", 5000) + strings.Repeat("]", 5000), 422, nil},
		{"deep objects", "POST", "/sheet", kind, strings.Repeat(`{"front":`, 5000) + "1" + strings.Repeat("}", 5000), 422, nil},
		{"too many springs", "POST", "/sheet", kind, with(`"shelf": [`, `"shelf": [`+springs), 422, []string{"rear.coil.shelf"}},
		{"too many points", "POST", "/sheet", kind, with(`"stroke": [`, `"stroke": [`+points), 422, []string{"rear.curve.table.stroke"}},
		{"too many stances", "POST", "/sheet", kind, with(`"stances": [`, `"stances": [`+strings.Repeat(`{"name": "a", "rear_share": 0.6},`, mostStances)), 422, []string{"stances"}},
		{"too many springs in a record", "POST", "/record", kind, strings.Replace(record, `"shelf": [`, `"shelf": [`+springs, 1), 422, []string{"job.rear.coil.shelf"}},
		{"too many points in a record", "POST", "/record", kind, strings.Replace(record, `"stroke": [`, `"stroke": [`+points, 1), 422, []string{"rear.curve.table.stroke"}},
		{"a job for a record", "POST", "/record", kind, job, 422, nil},
		{"a newer record", "POST", "/record", kind, strings.Replace(record, "record/1", "record/7", 1), 422, []string{"schema"}},
		{"a bad reading", "POST", "/record", kind, strings.Replace(record, `"error": "0.5 mm"`, `"error": "500 mm"`, 1), 422, []string{"rear.readings[0].error"}},
		{"an empty question", "POST", "/rate", kind, `{}`, 422, []string{"curve", "load", "sag"}},
		{"too many points in a question", "POST", "/rate", kind, `{"curve": {"table": {"stroke": [` + points + `"1 mm"], "travel": ["1 mm"]}}, "load": "520 N", "sag": 0.28}`, 422, []string{"curve.table.stroke"}},
		{"too many points of a linkage", "POST", "/rate", kind, `{"curve": {"mechanism": {"points": {` + strings.Join(pivots, ",") + `}}}, "load": "520 N", "sag": 0.28}`, 422, []string{"curve.mechanism.points"}},
		{"all wrong", "POST", "/rate", kind, `{"curve": {"constant": -1, "travel": "150 mm"}, "load": "0 N", "sag": 1, "preload": "-1 mm"}`, 422, []string{"curve.constant", "load", "sag", "preload"}},
	} {
		w := ask(t, test.method, test.path, test.kind, test.body)
		if w.Code != test.status {
			t.Errorf("%s: status %d, want %d: %.200s", test.what, w.Code, test.status, w.Body)
			continue
		}
		named := namedFaults(t, test.what, w.Body.Bytes())
		for _, f := range test.fields {
			if !slices.Contains(named, f) {
				t.Errorf("%s: %q is not named in %.300s", test.what, f, w.Body)
			}
		}
		if w.Code == 405 && w.Header().Get("Allow") == "" {
			t.Errorf("%s: does not say what is allowed", test.what)
		}
	}
	r := httptest.NewRequest("POST", "/sheet", strings.NewReader(job))
	r.Header.Set("Content-Type", kind)
	r.Header.Set("Content-Encoding", "gzip")
	w := httptest.NewRecorder()
	newService(t.Output()).handler().ServeHTTP(w, r)
	if named := namedFaults(t, "gzip", w.Body.Bytes()); w.Code != 415 || !slices.Contains(named, "Content-Encoding") {
		t.Errorf("gzip: status %d, %v", w.Code, named)
	}
}

// namedFaults reads the one shape of refusals, strictly.
func namedFaults(t testing.TB, what string, body []byte) (named []string) {
	t.Helper()
	var got struct {
		Faults []*units.FieldError `json:"faults"`
	}
	dec := json.NewDecoder(bytes.NewReader(body))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&got); err != nil || len(got.Faults) == 0 {
		t.Errorf("%s: %v in %.200s", what, err, body)
	}
	for _, f := range got.Faults {
		if f.Want.String() == "" {
			t.Errorf("%s: not what is wanted: %.200s", what, body)
		}
		named = append(named, f.Field)
	}
	return named
}

func TestHealth(t *testing.T) {
	for _, method := range []string{"GET", "HEAD"} {
		if w := ask(t, method, "/healthz", "", ""); w.Code != 200 || w.Body.String() != "{\"status\":\"ok\"}\n" {
			t.Errorf("%s: status %d, %s", method, w.Code, w.Body)
		}
	}
}

// With every place taken, a request waits; one that has been cancelled costs no
// work, one that waits too long is told to come again, and a place that gets
// free is taken.
func TestPlaces(t *testing.T) {
	s := newService(t.Output())
	worked := 0
	h := s.guard(s.post(func([]byte) (any, error) { worked++; return worked, nil }))
	post := func(ctx context.Context) *httptest.ResponseRecorder {
		r := httptest.NewRequestWithContext(ctx, "POST", "/sheet", strings.NewReader("{}"))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w
	}
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	for range 50 { // a place is free, and select would choose it half of the times
		if w := post(gone); w.Body.Len() > 0 || worked > 0 {
			t.Fatalf("worked for a client that has gone: %s", w.Body)
		}
	}
	for range cap(s.places) {
		s.places <- struct{}{}
	}
	if w := post(gone); w.Body.Len() > 0 || worked > 0 {
		t.Errorf("worked for a client that has gone: %s", w.Body)
	}
	s.limits.Place = time.Millisecond
	if w := post(t.Context()); w.Code != 503 || w.Header().Get("Retry-After") == "" || worked > 0 || len(namedFaults(t, "busy", w.Body.Bytes())) != 1 {
		t.Errorf("busy: status %d, %s", w.Code, w.Body)
	}
	s.limits.Place = time.Minute
	time.AfterFunc(5*time.Millisecond, func() { <-s.places })
	if w := post(t.Context()); w.Code != 200 || worked != 1 {
		t.Errorf("a free place: status %d, %s", w.Code, w.Body)
	}
	if len(s.places) != cap(s.places)-1 {
		t.Error("a place was not given back")
	}
	if cap(s.places) != runtime.GOMAXPROCS(0) {
		t.Error("not a place for each processor")
	}
}

// A defect is answered and reported, without a word of the request; its place is
// given back.
func TestDefect(t *testing.T) {
	var log bytes.Buffer
	s := newService(&log)
	h := s.guard(s.post(func([]byte) (any, error) { panic("a bound that was wrong") }))
	for range cap(s.places) + 1 {
		r := httptest.NewRequest("POST", "/sheet", strings.NewReader(`{"note":"Ada"}`))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if named := namedFaults(t, "a defect", w.Body.Bytes()); w.Code != 500 || len(named) != 1 || strings.Contains(w.Body.String(), "bound") {
			t.Errorf("status %d, %s", w.Code, w.Body)
		}
	}
	if !strings.Contains(log.String(), "a bound that was wrong") || strings.Contains(log.String(), "Ada") {
		t.Errorf("log: %q", &log)
	}
	// What can't be written as JSON is told, not half written.
	h = s.guard(s.post(func([]byte) (any, error) { return func() {}, nil }))
	r := httptest.NewRequest("POST", "/sheet", strings.NewReader("{}"))
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	if w.Code != 500 || len(namedFaults(t, "no JSON", w.Body.Bytes())) != 1 {
		t.Errorf("status %d, %s", w.Code, w.Body)
	}
}

// largestJob takes the longest to answer of those within the bounds: both curves
// splines through as many points as there may be, each with an error of its own.
func largestJob(t testing.TB) string {
	j := readJob(t, demoJob(t))
	j.Front = j.Rear
	for _, end := range []*setup.EndJob{j.Front, j.Rear} {
		table, coil := *end.Curve.Table, *end.Coil
		table.Stroke, table.Travel, coil.Springs = nil, nil, nil
		for i := range mostPoints {
			s := 65 * float64(i) / (mostPoints - 1)
			table.Stroke = append(table.Stroke, units.Length(s)*units.Millimetre)
			table.Travel = append(table.Travel, units.Length(2.9*s-0.004*s*s)*units.Millimetre)
		}
		for i := range mostSprings {
			coil.Springs = append(coil.Springs, fit.ShelfSpring{Rate: units.Stiffness(60+i) * units.NewtonPerMillimetre})
		}
		end.Curve.Table, end.Coil = &table, &coil
	}
	for range mostStances - len(j.Stances) {
		j.Stances = append(j.Stances, setup.NamedStance{Name: strings.Repeat("x", 1+len(j.Stances)), RearShare: 0.6})
	}
	j.Uncertainty.Front = j.Uncertainty.Rear
	text, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Budget: 500 ms, so that what one client may ask for doesn't keep others
// waiting for long.
func BenchmarkLargestJob(b *testing.B) {
	job := largestJob(b)
	b.SetBytes(int64(len(job)))
	b.ReportAllocs()
	for b.Loop() {
		if w := ask(b, "POST", "/sheet", "application/json", job); w.Code != 200 {
			b.Fatal(w.Code, w.Body)
		}
	}
}

func TestLargestJob(t *testing.T) {
	if w := ask(t, "POST", "/sheet", "application/json", largestJob(t)); w.Code != 200 {
		t.Errorf("status %d, %.300s", w.Code, w.Body)
	}
}

func FuzzBody(f *testing.F) {
	paths := []string{"/sheet", "/rate", "/record"}
	for i, body := range []string{demoJob(f), askRate, demoRecord(f), `{"schema": "wheelrate/job/1"}`, `{"schema":"wheelrate/record/2"}`, "", "[[", `{"curve":{"constant":1e308}}`} {
		f.Add(byte(i), body)
	}
	h := newService(f.Output()).handler()
	f.Fuzz(func(t *testing.T, at byte, body string) {
		path := paths[int(at)%len(paths)]
		r := httptest.NewRequest("POST", path, strings.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		switch w.Code {
		case 200:
			if !json.Valid(w.Body.Bytes()) {
				t.Fatalf("%s: no JSON: %s", path, w.Body)
			}
		case 400, 413, 422:
			namedFaults(t, path, w.Body.Bytes())
		default:
			t.Fatalf("%s: status %d: %s", path, w.Code, w.Body)
		}
	})
}
