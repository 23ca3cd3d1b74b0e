// Webpage is a set-up sheet as a page for the browser: rider, bike, springs or
// air in; sag, curves and warnings out at every change. When the bike comes back
// it takes what the rings show and says what to do; records of visits stay in the
// browser. The library runs in the page, compiled to WebAssembly; nothing is sent
// anywhere, and once loaded the page works offline.
//
//	go -C examples run ./webpage                     serve it on this machine
//	go -C examples run ./webpage -addr 127.0.0.1:8080
//	go -C examples run ./webpage -out /tmp/site      write it as a static site
//
// The page is compiled when the program starts, with the Go toolchain that runs
// it and from the module's source, so it starts within the examples module. Any
// web server can serve what -out writes.
package main

import (
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/signal"
	"time"

	"example.com/wheelrate/examples/internal/program"
)

const usage = `usage: webpage [-addr HOST:PORT] [-out DIR]

Serves a set-up sheet as a page for the browser, until interrupted.

  -addr HOST:PORT  where to serve; a port of 0 takes a free one (127.0.0.1:0)
  -out DIR         write the page as a static site into DIR instead

example:
  go -C examples run ./webpage -out /tmp/site

The exit status is 0 when it is done or interrupted, 2 for a bad call, 1 where the
page can't be compiled, written or served.
`

func main() {
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt)
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr, stop))
}

// run is main with its surroundings passed in; it returns the exit status.
func run(args []string, stdout, stderr io.Writer, stop <-chan os.Signal) int {
	flags := flag.NewFlagSet("webpage", flag.ContinueOnError)
	addr := flags.String("addr", "127.0.0.1:0", "")
	out := flags.String("out", "", "")
	if status, done := program.Parse(flags, usage, 0, args, stderr); done {
		return status
	}
	if err := work(*addr, *out, stdout, stop); err != nil {
		fmt.Fprintf(stderr, "webpage: %v\n", err)
		return 1
	}
	return 0
}

// work makes the page and writes or serves it.
func work(addr, out string, stdout io.Writer, stop <-chan os.Signal) error {
	var listener net.Listener
	if out == "" { // before the build, so that a bad address is told at once
		var err error
		if listener, err = net.Listen("tcp", addr); err != nil {
			return err
		}
		defer listener.Close()
	} else if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	if _, err := fmt.Fprintln(stdout, "compiling the page …"); err != nil {
		return err
	}
	built, err := compile()
	if err != nil {
		return err
	}
	page, err := newSite(built)
	if err != nil {
		return err
	}
	if out != "" {
		if err := page.write(out); err != nil {
			return err
		}
		_, err := fmt.Fprintf(stdout, "wrote %d files to %s; serve them with any web server\n", len(page), out)
		return err
	}
	if _, err := fmt.Fprintf(stdout, "the page is at http://%s/ until Ctrl-C\n", listener.Addr()); err != nil {
		return err
	}
	server := &http.Server{Handler: page, ReadHeaderTimeout: 10 * time.Second}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	select {
	case err := <-failed:
		return err
	case <-stop:
		return server.Close()
	}
}
