// Service answers set-up questions over HTTP, as an app's back end would: a job
// as JSON goes in, the sheet as JSON comes out. It keeps nothing and logs
// nothing of what it is asked, and listens on this machine only unless told
// otherwise.
//
//	go -C examples run ./service
//	go -C examples run ./setup -example | curl -s -H 'Content-Type: application/json' --data-binary @- http://127.0.0.1:8080/sheet
//
// It is meant to be read and copied: server/answers.go is what an app would write
// of its own, server/handler.go what any service needs around it,
// server/server.go what a server does. What it is like under load, with clients
// that misbehave:
//
//	go -C .ci run ./load -for 60s
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"net"
	"os"
	"os/signal"
	"syscall"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/examples/service/server"
)

const usage = `usage: service [-addr HOST:PORT]

Answers over HTTP, JSON in and JSON out:

  POST /sheet    a set-up job → its sheet, warnings and cautions in it
  POST /rate     curve, load, sag, preload → the coil spring for it
  POST /record   a setting record → what its readings say
  GET  /healthz  {"status":"ok"}

  -addr HOST:PORT  where to listen; 127.0.0.1:8080 if not given

example, in a second terminal:
  go -C examples run ./setup -example |
    curl -s -H 'Content-Type: application/json' --data-binary @- http://127.0.0.1:8080/sheet
  curl -s -H 'Content-Type: application/json' http://127.0.0.1:8080/rate \
    -d '{"curve": {"constant": 2.6, "travel": "150 mm"}, "load": "520 N", "sag": 0.28}'

Faults come back as {"faults": [{"code": …, "field": …, "value": …, "want": …,
"limits": …}]}, as the library documents for units.FieldError, with status 400
for no JSON, 422 for a value that is wrong, 413 for more than 64 KiB, 415 for
another type, 405 for another method, 404 for another path, 408 for a body that
does not come, 503 with Retry-After while it is busy.

It has no encryption and no sign-in: on an open network it belongs behind a
server that has. It stops on SIGINT or SIGTERM after what is under way. The exit
status is 0 then, 1 where it can't listen or stop, 2 for a bad call.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second signal stops it at once
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// run is the program with its surroundings passed in. It serves until ctx is
// done and returns the exit status.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("service", flag.ContinueOnError)
	addr := flags.String("addr", "127.0.0.1:8080", "")
	if status, done := program.Parse(flags, usage, 0, args, stderr); done {
		return status
	}
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		fmt.Fprintf(stderr, "service: %v\n", err)
		return 1
	}
	if at, ok := listener.Addr().(*net.TCPAddr); ok && !at.IP.IsLoopback() {
		fmt.Fprintln(stderr, "service: others can reach this; it has no encryption and no sign-in of its own")
	}
	fmt.Fprintf(stdout, "listening on http://%s\n", listener.Addr())
	limits := server.Usual()
	if err := server.Serve(ctx, server.New(server.Handler(limits, stderr), limits), listener, limits.Stop); err != nil {
		fmt.Fprintf(stderr, "service: %v\n", err)
		return 1
	}
	return 0
}
