package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"example.com/wheelrate/examples/service/server"
)

// brief is a run that a test has the time for: the service as it is, but less
// patient with slow clients.
func brief() config {
	limits := server.Usual()
	limits.Read = 4 * time.Second // for good clients too, on a busy machine
	return config{lasts: time.Second, least: 120, clients: 8, shown: 1000, seed: 1, limits: limits, grace: 10 * time.Second, handler: server.Handler}
}

func loaded(t *testing.T, c config) (*report, string) {
	t.Helper()
	r, err := load(t.Context(), c)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	r.write(&out)
	return r, out.String()
}

// The service answers everybody rightly, and nothing of it is left over.
func TestLoad(t *testing.T) {
	r, out := loaded(t, brief())
	if !r.sound() {
		t.Error(out)
	}
	if all := r.sum(); all.by[right] < 60 || all.by[cut] == 0 {
		t.Errorf("hardly a load:\n%s", out)
	}
}

// faulty is the service with something wrong at every so many requests.
func faulty(every int64, do func(w http.ResponseWriter, r *http.Request, log io.Writer, next http.Handler)) func(server.Limits, io.Writer) http.Handler {
	return func(l server.Limits, log io.Writer) http.Handler {
		next := server.Handler(l, log)
		var n atomic.Int64
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if n.Add(1)%every == 0 {
				do(w, r, log, next)
				return
			}
			next.ServeHTTP(w, r)
		})
	}
}

// bent changes the last digit of an answer.
type bent struct{ http.ResponseWriter }

func (b bent) Write(p []byte) (int, error) {
	if i := bytes.LastIndexAny(p, "0123456789"); i >= 0 {
		p[i] ^= 1
	}
	return b.ResponseWriter.Write(p)
}

// What is wrong with a service is found, all of it in one run: a digit of an
// answer, a line closed, a wrong status, what is never given back, a defect.
func TestLoadFindsFaults(t *testing.T) {
	leak := make(chan struct{})
	defer close(leak)
	c := brief()
	c.least = 300 // by chance, one of three paths is hardly ever left out
	c.lasts, c.limits.Read, c.grace = 300*time.Millisecond, 300*time.Millisecond, 100*time.Millisecond
	c.handler = faulty(2, func(w http.ResponseWriter, r *http.Request, log io.Writer, next http.Handler) {
		file, err := os.Open(os.DevNull)
		kept := bytes.Repeat([]byte{1}, 1<<17)
		go func() {
			<-leak
			if err == nil {
				file.Close()
			}
			kept[0]++
		}()
		fmt.Fprintln(log, "a defect: a bound that was wrong")
		switch r.URL.Path {
		case "/sheet":
			next.ServeHTTP(bent{w}, r)
		case "/rate":
			panic(http.ErrAbortHandler)
		default:
			w.WriteHeader(http.StatusServiceUnavailable)
		}
	})
	r, out := loaded(t, c)
	if r.sound() {
		t.Error("nothing found")
	}
	for _, s := range []string{
		"FAULT  a good question: ", "POST /sheet: answers ", "EOF", "status 503", "FAULT  goroutines are back", "FAULT  memory is back",
		"FAULT  what is under way at the stop is answered", "FAULT  nothing of it is left", "FAULT  it reports no defect (a defect: a bound",
	} {
		if !strings.Contains(out, s) {
			t.Errorf("%q is not said in\n%s", s, out)
		}
	}
}

// A service that is busy says so, and that is no fault. Every good question is a
// POST to one of its paths.
func TestBusyIsNoFault(t *testing.T) {
	c := brief()
	c.lasts = 300 * time.Millisecond
	c.handler = faulty(2, func(w http.ResponseWriter, r *http.Request, _ io.Writer, next http.Handler) {
		if r.Method != "POST" {
			next.ServeHTTP(w, r)
			return
		}
		_, _ = io.Copy(io.Discard, r.Body)
		w.Header().Set("Retry-After", "5")
		w.WriteHeader(http.StatusServiceUnavailable)
		fmt.Fprintln(w, `{"faults":[{"code":"other","field":"","want":"the same again in a few seconds"}]}`)
	})
	r, out := loaded(t, c)
	if good := r.lines[0].by; good[busy] == 0 || good[right] == 0 || good[wrong] > 0 {
		t.Error(out)
	}
}

// The job is the demonstration's.
func TestJobIsTheDemonstrations(t *testing.T) {
	text, err := os.ReadFile("../../examples/setup/demo/job.json")
	if err != nil || string(text) != demo {
		t.Errorf("job.json is not examples/setup/demo/job.json: %v", err)
	}
}

func TestCalls(t *testing.T) {
	for _, c := range []struct {
		args []string
		want int
		says string
	}{
		{[]string{"-h"}, 0, "usage: load"},
		{[]string{"-what"}, 2, "usage: load"},
		{[]string{"more"}, 2, "usage: load"},
		{[]string{"-for", "0s"}, 2, "usage: load"},
		{[]string{"-clients", "0"}, 2, "usage: load"},
	} {
		var errs bytes.Buffer
		if got := run(context.Background(), c.args, io.Discard, &errs); got != c.want || !strings.Contains(errs.String(), c.says) {
			t.Errorf("%v: exit %d, %q", c.args, got, errs.String())
		}
	}
}
