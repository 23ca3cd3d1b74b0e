// Load runs the service's own server on a port of this machine and puts it under
// load: many clients at once, among them slow ones, ones that send too much or
// never end, and ones that cut the line. Every answer is held against what the
// library says itself; at the end nothing may be left over.
//
//	go -C .ci run ./load -for 60s
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/signal"
	"time"

	"example.com/wheelrate/examples/service/server"
)

const usage = `usage: load [-for DURATION] [-clients N] [-seed N]

Serves set-up questions on a port of this machine, as program service does, and
asks them from many clients at once, well-behaved and not. It prints how many
requests of each kind were answered rightly, told to come again (busy), cut by
the client, or answered wrongly, and whether memory, goroutines and open files
are back where they were.

  -for DURATION  how long, 10s if not given
  -clients N     how many clients at once, 32 if not given
  -seed N        of what the clients choose, 1 if not given

The exit status is 0 if every answer was right and nothing is left over, 1 if
not, 2 for a bad call.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop)
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// run is the program with its surroundings passed in.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("load", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() { fmt.Fprint(stderr, usage) }
	c := config{shown: 20, limits: server.Usual(), grace: 10 * time.Second, handler: server.Handler}
	flags.DurationVar(&c.lasts, "for", 10*time.Second, "")
	flags.IntVar(&c.clients, "clients", 32, "")
	flags.Uint64Var(&c.seed, "seed", 1, "")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || !(c.lasts > 0) || c.clients < 1 || c.clients > 10000:
		fmt.Fprint(stderr, usage)
		return 2
	}
	report, err := load(ctx, c)
	if err != nil {
		fmt.Fprintf(stderr, "load: %v\n", err)
		return 1
	}
	report.write(stdout)
	if !report.sound() {
		return 1
	}
	return 0
}

// config is one run.
type config struct {
	lasts   time.Duration
	least   int // requests, however long they take
	clients int
	shown   int // faults printed in full
	seed    uint64
	limits  server.Limits
	grace   time.Duration                               // for what was used to be given back
	handler func(server.Limits, io.Writer) http.Handler // server.Handler, but in tests
}
