package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"
)

// The program says where it listens, answers there, says nothing else, and ends
// with 0 when it is told to stop.
func TestRun(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	out, in := io.Pipe()
	var errs bytes.Buffer
	status := make(chan int, 1)
	go func() { status <- run(ctx, []string{"-addr", "127.0.0.1:0"}, in, &errs) }()
	var addr string
	if _, err := fmt.Fscanf(out, "listening on http://%s\n", &addr); err != nil {
		t.Fatal(err)
	}
	answer, err := http.Get("http://" + addr + "/healthz")
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(answer.Body)
	answer.Body.Close()
	if err != nil || answer.StatusCode != 200 || string(text) != "{\"status\":\"ok\"}\n" {
		t.Errorf("%v, status %d, %s", err, answer.StatusCode, text)
	}
	http.DefaultClient.CloseIdleConnections()
	cancel()
	if got := <-status; got != 0 || errs.Len() > 0 {
		t.Errorf("exit status %d, said %q", got, &errs)
	}
}

func TestCalls(t *testing.T) {
	for _, c := range []struct {
		args []string
		want int
		says string
	}{
		{[]string{"-h"}, 0, "curl"},
		{[]string{"-what"}, 2, "usage"},
		{[]string{"more"}, 2, `unexpected "more"`},
		{[]string{"-addr", "nowhere:-1"}, 1, "service: "},
		{[]string{"-addr"}, 2, "addr"},
	} {
		var errs bytes.Buffer
		if got := run(context.Background(), c.args, io.Discard, &errs); got != c.want || !strings.Contains(errs.String(), c.says) {
			t.Errorf("%v: exit %d, %q", c.args, got, errs.String())
		}
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	var errs bytes.Buffer
	if status := run(stopped, []string{"-addr", ":0"}, io.Discard, &errs); status != 0 || !strings.Contains(errs.String(), "others can reach this") {
		t.Errorf("on all addresses: exit %d, %q", status, errs.String())
	}
}
