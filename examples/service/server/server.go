// Package server answers set-up questions over HTTP; program service listens for it.
package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"time"
)

// Limits bound how long a client may make the service wait. Writing comes after
// reading and waiting for a place, so it has longer; stopping waits for both.
type Limits struct {
	Read  time.Duration // until a request has come, head and body
	Place time.Duration // that a request waits for a place to be worked out at
	Write time.Duration // from the end of its head until a request is answered
	Idle  time.Duration // between two requests of one connection
	Stop  time.Duration // for what is under way when the service is told to stop
}

// Usual returns the limits that program service has.
func Usual() Limits {
	return Limits{Read: 5 * time.Second, Place: 3 * time.Second, Write: 15 * time.Second, Idle: 60 * time.Second, Stop: 20 * time.Second}
}

// Handler returns what answers the requests. Nothing of them is logged; a defect
// of the service is, by what went wrong alone.
func Handler(l Limits, log io.Writer) http.Handler {
	s := newService(log)
	s.limits = l
	return s.handler()
}

// New returns a server with bounds on everything that a client sends. What
// net/http would log names clients and what they did, so it is dropped; a
// defect is reported by the handler.
func New(h http.Handler, l Limits) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: l.Read,
		ReadTimeout:       l.Read,
		WriteTimeout:      l.Write,
		IdleTimeout:       l.Idle,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          log.New(io.Discard, "", 0),
	}
}

// Serve serves until ctx is done, then takes no new connections and waits for
// the requests that are under way, but no longer than patience; those that are
// left then are cut off.
func Serve(ctx context.Context, server *http.Server, listener net.Listener, patience time.Duration) error {
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), patience)
	defer cancel()
	if err := server.Shutdown(last); err != nil {
		return errors.Join(fmt.Errorf("requests were cut off: %w", err), server.Close())
	}
	return nil
}
