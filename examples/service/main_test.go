package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

func demoJob(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../setup/demo/job.json")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func ask(t testing.TB, method, path, kind, body string) (int, string) {
	t.Helper()
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	w := httptest.NewRecorder()
	handler().ServeHTTP(w, r)
	return w.Code, w.Body.String()
}

// ownSheet is what the library says itself.
func ownSheet(t testing.TB, text string) string {
	t.Helper()
	j, err := sag.ReadJob(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	s, err := sag.NewSheet(j)
	if err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(out) + "\n"
}

func TestSheet(t *testing.T) {
	job := demoJob(t)
	status, body := ask(t, "POST", "/sheet", "application/json; charset=utf-8", job)
	if status != 200 || body != ownSheet(t, job) {
		t.Errorf("status %d, %.200s", status, body)
	}
	for _, want := range []string{`"code":"air_pressure"`, `"cautions"`, `"warnings"`} {
		if !strings.Contains(body, want) {
			t.Errorf("lacks %s", want)
		}
	}
}

func TestRecord(t *testing.T) {
	j, err := sag.ReadJob(strings.NewReader(demoJob(t)))
	if err != nil {
		t.Fatal(err)
	}
	s, err := sag.NewSheet(j)
	if err != nil {
		t.Fatal(err)
	}
	r, err := sag.NewRecord("2026-11-25", j, s)
	if err != nil {
		t.Fatal(err)
	}
	r.Rear.Readings = []sag.Reading{{Stroke: s.Rear.Rest.Stroke, Error: 0.5 * units.Millimetre}}
	var text bytes.Buffer
	if _, err := r.WriteTo(&text); err != nil {
		t.Fatal(err)
	}
	status, body := ask(t, "POST", "/record", "application/json", text.String())
	if status != 200 || !strings.Contains(body, `"rear":{`) || !strings.Contains(body, `"verdict":"agrees"`) || strings.Contains(body, `"front"`) {
		t.Errorf("status %d, %.300s", status, body)
	}
	status, body = ask(t, "POST", "/record", "application/json", strings.Replace(text.String(), "record/1", "record/7", 1))
	if status != 422 || !strings.Contains(body, `"field":"schema"`) {
		t.Errorf("a newer record: status %d, %s", status, body)
	}
}

func TestRefusals(t *testing.T) {
	job := demoJob(t)
	for _, test := range []struct {
		what, method, path, kind, body string
		status                         int
		fields                         []string
	}{
		{"no such path", "GET", "/", "", "", 404, nil},
		{"a wrong method", "GET", "/sheet", "", "", 405, nil},
		{"no content type", "POST", "/sheet", "", job, 415, []string{"Content-Type"}},
		{"a form", "POST", "/sheet", "application/x-www-form-urlencoded", job, 415, []string{"Content-Type"}},
		{"a content type that is none", "POST", "/sheet", ";;", job, 415, []string{"Content-Type"}},
		{"nothing", "POST", "/sheet", "application/json", "", 422, []string{""}},
		{"no JSON", "POST", "/sheet", "application/json", "{", 422, []string{""}},
		{"too much", "POST", "/sheet", "application/json", strings.Repeat(" ", sag.JobLimit+1), 413, []string{""}},
		{"an unknown field", "POST", "/sheet", "application/json", strings.Replace(job, `"ambient"`, `"weather"`, 1), 422, []string{"weather"}},
		{"a field twice", "POST", "/sheet", "application/json", strings.Replace(job, `"ambient"`, `"ambient": "97.7 kPa(a)", "ambient"`, 1), 422, []string{"ambient"}},
		{"two bad values", "POST", "/sheet", "application/json", strings.NewReplacer(`"82 kg"`, `"-82 kg"`, `"sag": 0.2,`, `"sag": 2,`).Replace(job), 422, []string{"masses.rider_mass", "front.sag"}},
		{"deep nesting", "POST", "/sheet", "application/json", strings.Repeat("[", 200000), 422, []string{""}},
	} {
		status, body := ask(t, test.method, test.path, test.kind, test.body)
		if status != test.status {
			t.Errorf("%s: status %d, want %d: %.200s", test.what, status, test.status, body)
			continue
		}
		if test.fields == nil {
			continue
		}
		var got struct {
			Errors []fault `json:"errors"`
		}
		if err := json.Unmarshal([]byte(body), &got); err != nil {
			t.Errorf("%s: %v", test.what, err)
			continue
		}
		named := map[string]bool{}
		for _, f := range got.Errors {
			named[f.Field] = true
			if f.Want == "" {
				t.Errorf("%s: %+v doesn't say what is wanted", test.what, f)
			}
		}
		for _, f := range test.fields {
			if !named[f] {
				t.Errorf("%s: %q is not named in %s", test.what, f, body)
			}
		}
	}
}

// serve runs the program itself and returns where it listens.
func serve(t *testing.T) (addr string, stop func() int) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	out, in := io.Pipe()
	status := make(chan int, 1)
	go func() { status <- run(ctx, []string{"-addr", "127.0.0.1:0"}, in, io.Discard) }()
	var line string
	if _, err := fmt.Fscanf(out, "listening on http://%s\n", &line); err != nil {
		t.Fatal(err)
	}
	return line, func() int {
		cancel()
		return <-status
	}
}

// Many clients at once, each with a rider of its own, and among them some that
// cut the line or say nothing: every whole answer is the library's.
func TestUnderLoad(t *testing.T) {
	addr, stop := serve(t)
	job := demoJob(t)
	var all sync.WaitGroup
	for i := range 16 {
		all.Go(func() {
			mine := strings.Replace(job, `"82 kg"`, fmt.Sprintf(`"%d kg"`, 60+2*i), 1)
			want := ownSheet(t, mine)
			for range 5 {
				if i%4 == 3 { // cut in the middle of the body
					c, err := net.Dial("tcp", addr)
					if err != nil {
						t.Error(err)
						return
					}
					fmt.Fprintf(c, "POST /sheet HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", len(mine), mine[:len(mine)/2])
					c.Close()
					continue
				}
				answer, err := http.Post("http://"+addr+"/sheet", "application/json", strings.NewReader(mine))
				if err != nil {
					t.Error(err)
					return
				}
				body, err := io.ReadAll(answer.Body)
				answer.Body.Close()
				if err != nil || answer.StatusCode != 200 || string(body) != want {
					t.Errorf("client %d: %v, status %d", i, err, answer.StatusCode)
				}
			}
		})
	}
	all.Wait()
	http.DefaultClient.CloseIdleConnections()
	if status := stop(); status != 0 {
		t.Errorf("exit status %d", status)
	}
}

// A client that never says anything is not waited for when the service stops,
// and its limits are set.
func TestStopsWithSilentClients(t *testing.T) {
	addr, stop := serve(t)
	c, err := net.Dial("tcp", addr)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	done := make(chan int, 1)
	go func() { done <- stop() }()
	select {
	case status := <-done:
		if status != 0 && status != 1 {
			t.Errorf("exit status %d", status)
		}
	case <-time.After(30 * time.Second):
		t.Error("does not stop")
	}
	if s := newServer(); s.ReadHeaderTimeout <= 0 || s.ReadTimeout <= 0 || s.WriteTimeout <= 0 || s.IdleTimeout <= 0 || s.MaxHeaderBytes <= 0 {
		t.Error("a client could make it wait for ever")
	}
}

func TestCalls(t *testing.T) {
	for _, c := range []struct {
		args []string
		want int
	}{{[]string{"-h"}, 0}, {[]string{"-what"}, 2}, {[]string{"more"}, 2}, {[]string{"-addr", "nowhere:-1"}, 1}} {
		var errs bytes.Buffer
		if got := run(context.Background(), c.args, io.Discard, &errs); got != c.want || errs.Len() == 0 {
			t.Errorf("%v: exit %d, %q", c.args, got, errs.String())
		}
	}
}

func FuzzSheet(f *testing.F) {
	f.Add(demoJob(f))
	f.Add(`{"schema": "wheelrate/job/1"}`)
	h := handler()
	f.Fuzz(func(t *testing.T, body string) {
		r := httptest.NewRequest("POST", "/sheet", strings.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != 200 && w.Code != 422 && w.Code != 413 || !json.Valid(w.Body.Bytes()) {
			t.Fatalf("status %d: %s", w.Code, w.Body)
		}
	})
}
