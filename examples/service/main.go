// Service answers set-up questions over HTTP, as an app's back end would: a job
// as JSON goes in, the sheet as JSON comes out. It keeps nothing, and listens
// on this machine only unless told otherwise.
//
//	go -C examples run ./service -addr 127.0.0.1:8080
//	go -C examples run ./setup -example | curl -s -H 'Content-Type: application/json' --data-binary @- http://127.0.0.1:8080/sheet
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"
)

const usage = `usage: service [-addr HOST:PORT]

Answers over HTTP: POST /sheet takes a job as JSON and returns its sheet, POST
/record takes a setting record and returns what its readings say, GET /healthz
says that it is there.

  -addr HOST:PORT  where to listen; 127.0.0.1:8080 if not given

example:
  go -C examples run ./setup -example |
    curl -s -H 'Content-Type: application/json' --data-binary @- http://127.0.0.1:8080/sheet

Faults come back as {"errors": [{"field": …, "value": …, "want": …}]}. The exit
status is 0 after SIGINT or SIGTERM, 1 where it can't listen, 2 for a bad call.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// run serves until ctx is done. Requests that are under way then are finished.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("service", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() { fmt.Fprint(stderr, usage) }
	addr := flags.String("addr", "127.0.0.1:8080", "")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "service: unexpected %q\n%s", flags.Arg(0), usage)
		return 2
	}
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		fmt.Fprintf(stderr, "service: %v\n", err)
		return 1
	}
	server := newServer()
	fmt.Fprintf(stdout, "listening on http://%s\n", listener.Addr())
	done := make(chan error, 1)
	go func() { done <- server.Serve(listener) }()
	select {
	case err := <-done:
		fmt.Fprintf(stderr, "service: %v\n", err)
		return 1
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.Background(), 15*time.Second) // silent clients are let go after 5
	defer cancel()
	if err := server.Shutdown(last); err != nil {
		fmt.Fprintf(stderr, "service: %v\n", err)
		return 1
	}
	return 0
}

// newServer bounds what a client may make the service wait for.
func newServer() *http.Server {
	return &http.Server{
		Handler:           handler(),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      10 * time.Second,
		IdleTimeout:       60 * time.Second,
		MaxHeaderBytes:    16 << 10,
	}
}
