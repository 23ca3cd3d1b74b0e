package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"os"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"example.com/wheelrate/examples/service/server"
)

// load runs the service, the clients and the checks.
func load(ctx context.Context, c config) (*report, error) {
	q, err := ask()
	if err != nil {
		return nil, err
	}
	before := now()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	var defects bytes.Buffer
	running, stop := context.WithCancel(context.Background())
	defer stop()
	ended := make(chan error, 1)
	go func() {
		ended <- server.Serve(running, server.New(c.handler(c.limits, &locked{w: &defects}), c.limits), listener, c.limits.Stop)
	}()
	addr := listener.Addr().String()

	// Everything once, and what the service keeps for good is there.
	everything(addr, q, c)
	r := &report{lasts: c.lasts, clients: c.clients, shown: c.shown, lines: make([]tally, len(kinds))}
	settled := func() bool { return runtime.NumGoroutine() <= before.goroutines+2 } // Serve, and what it waits for
	r.check("the service is at rest before the load", soon(c.grace, settled), "")
	warm := now()

	crowd(ctx, addr, q, c, r)

	calm := soon(c.grace, func() bool { return runtime.NumGoroutine() <= warm.goroutines })
	after := now()
	r.check("goroutines are back", calm, fmt.Sprintf("%d before, %d after", warm.goroutines, after.goroutines))
	r.check("memory is back, to 1 MiB", after.heap <= warm.heap+1<<20, fmt.Sprintf("%.1f MiB before, %.1f MiB after", mebi(warm.heap), mebi(after.heap)))
	r.check("open files are back", after.files <= warm.files, fmt.Sprintf("%d before, %d after", warm.files, after.files))

	answered, refused := shutdown(addr, q, stop)
	stop() // where the half asked didn't get so far
	r.check("what is under way at the stop is answered", answered == nil, text(answered))
	r.check("no new connection is taken then", refused, "")
	err = <-ended
	r.check("the service stops in time", err == nil, text(err))
	r.check("nothing of it is left", soon(c.grace, func() bool { return runtime.NumGoroutine() <= before.goroutines }),
		fmt.Sprintf("%d goroutines before it started, %d now", before.goroutines, runtime.NumGoroutine()))
	r.check("it reports no defect", defects.Len() == 0, defects.String())
	return r, nil
}

// everything does each kind of thing once.
func everything(addr string, q *questions, c config) {
	var all sync.WaitGroup
	for i, k := range kinds {
		all.Go(func() {
			one := newClient(addr, q, c.limits.Read, c.seed, uint64(i))
			defer one.http.CloseIdleConnections()
			_, _ = k.do(one) // the load reports what is wrong
		})
	}
	all.Wait()
}

// crowd lets the clients loose until the time is up and the least is asked.
func crowd(ctx context.Context, addr string, q *questions, c config, r *report) {
	end := time.Now().Add(c.lasts)
	var asked atomic.Int64
	total := 0
	for _, k := range kinds {
		total += k.weight
	}
	var all sync.WaitGroup
	for i := range c.clients {
		all.Go(func() {
			one := newClient(addr, q, c.limits.Read, c.seed, uint64(1000+i))
			defer one.http.CloseIdleConnections()
			for ctx.Err() == nil && (time.Now().Before(end) || asked.Load() < int64(c.least)) {
				asked.Add(1)
				at, left := 0, one.rand.IntN(total)
				for left >= kinds[at].weight {
					left -= kinds[at].weight
					at++
				}
				begun := time.Now()
				got, err := kinds[at].do(one)
				r.count(at, got, err, time.Since(begun))
			}
		})
	}
	all.Wait()
}

// shutdown leaves questions half asked, tells the service to stop, and asks the
// rest. It returns what was wrong with the answers, and whether new connections
// were refused.
func shutdown(addr string, q *questions, stop func()) (fault error, refused bool) {
	const many = 8
	open, lines := make([]*net.TCPConn, many), make([]*bufio.Reader, many)
	c := newClient(addr, q, time.Minute, 0, 0)
	for i := range open {
		line, err := c.dial()
		if err != nil {
			return err, false
		}
		defer line.Close()
		open[i] = line
		// It is asked on when the service reads its body: a line without a request
		// may be closed at once.
		one := &q.good[i]
		if lines[i], err = c.askedOn(line, one); err != nil {
			return err, false
		}
		if _, err := io.WriteString(line, one.body[:len(one.body)/2]); err != nil {
			return err, false
		}
	}
	stop()
	refused = soon(10*time.Second, func() bool {
		other, err := net.Dial("tcp", addr)
		if err == nil {
			other.Close()
		}
		return err != nil
	})
	for i, line := range open {
		one := &q.good[i]
		if _, err := io.WriteString(line, one.body[len(one.body)/2:]); err != nil {
			return err, refused
		}
		if got, err := c.answered(lines[i], one); err != nil {
			return err, refused
		} else if got == wrong {
			return fmt.Errorf("question %d is answered wrongly", i), refused
		}
	}
	return nil, refused
}

// state is what a leak would raise.
type state struct {
	goroutines, files int
	heap              uint64
}

func now() state {
	var m runtime.MemStats
	runtime.GC()
	runtime.GC() // the first only ages what pools keep
	runtime.ReadMemStats(&m)
	files, _ := os.ReadDir("/proc/self/fd") // none on other systems
	return state{runtime.NumGoroutine(), len(files), m.HeapAlloc}
}

// soon waits until something holds, for so long at the most.
func soon(patience time.Duration, holds func() bool) bool {
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if holds() {
			return true
		}
	}
	return holds()
}

// locked lets many goroutines write one after another.
type locked struct {
	mu sync.Mutex
	w  io.Writer
}

func (l *locked) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.w.Write(p)
}

func mebi(bytes uint64) float64 { return float64(bytes) / (1 << 20) }

func text(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}
