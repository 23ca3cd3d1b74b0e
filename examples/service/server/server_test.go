package server

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"strings"
	"sync"
	"testing"
	"time"
)

// start serves as the program does. It returns where it listens, and a function
// that stops it and returns all that it logged, and its error.
func start(t *testing.T) (addr string, stop func() (string, error)) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	var log bytes.Buffer
	done := make(chan error, 1)
	go func() {
		limits := Usual()
		limits.Place, limits.Write = time.Minute, 2*time.Minute // a slow machine is no fault of the service
		done <- Serve(ctx, New(Handler(limits, &log), limits), listener, limits.Stop)
	}()
	return listener.Addr().String(), func() (string, error) {
		cancel()
		err := <-done
		return log.String(), err
	}
}

// startServer serves with bounds of the test's own.
func startServer(t *testing.T, h http.Handler, patience time.Duration, change func(*http.Server)) (addr string, stop func() error) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := New(h, Usual())
	if change != nil {
		change(server)
	}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- Serve(ctx, server, listener, patience) }()
	stop = func() error { cancel(); return <-done }
	t.Cleanup(cancel)
	return listener.Addr().String(), stop
}

func dial(t *testing.T, addr string) net.Conn {
	t.Helper()
	c, err := net.Dial("tcp", addr)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	if err := c.SetDeadline(time.Now().Add(30 * time.Second)); err != nil {
		t.Fatal(err)
	}
	return c
}

func post(t *testing.T, addr, path, body string) (int, string) {
	t.Helper()
	answer, err := http.Post("http://"+addr+path, "application/json", strings.NewReader(body))
	if err != nil {
		t.Error(err)
		return 0, ""
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Error(err)
	}
	return answer.StatusCode, string(text)
}

// head is that of a request with a body of so many bytes.
func head(length int) string {
	return fmt.Sprintf("POST /sheet HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n", length)
}

// Many clients at once, each with a rider of its own, and among them some that
// cut the line and some that send rubbish: every answer is the library's own,
// and nothing is said of riders.
func TestUnderLoad(t *testing.T) {
	addr, stop := start(t)
	job := demoJob(t)
	var all sync.WaitGroup
	for i := range 24 {
		all.Go(func() {
			mine := strings.Replace(job, `"82 kg"`, fmt.Sprintf(`"%d kg"`, 60+2*i), 1)
			want := ownSheet(t, mine)
			for range 4 {
				switch i % 6 {
				case 3: // cut in the middle of the body
					c, err := net.Dial("tcp", addr)
					if err != nil {
						t.Error(err)
						return
					}
					fmt.Fprint(c, head(len(mine)), mine[:len(mine)/2])
					c.Close()
				case 4: // not even HTTP
					c, err := net.Dial("tcp", addr)
					if err != nil {
						t.Error(err)
						return
					}
					fmt.Fprint(c, "\x16\x03\x01 rider of 82 kg\r\n\r\n")
					c.Close()
				case 5:
					if status, body := post(t, addr, "/sheet", mine[:len(mine)-5]); status != 400 || !strings.Contains(body, `"faults"`) {
						t.Errorf("half a job: status %d, %.200s", status, body)
					}
				default:
					if status, body := post(t, addr, "/sheet", mine); status != 200 || body != want {
						t.Errorf("client %d: status %d, %.200s", i, status, body)
					}
				}
			}
		})
	}
	all.Wait()
	http.DefaultClient.CloseIdleConnections()
	if said, err := stop(); err != nil || said != "" {
		t.Errorf("error %v, said %q", err, said)
	}
}

// A body of announced length that is too large is refused before it comes.
func TestTooLargeOnTheLine(t *testing.T) {
	addr, stop := start(t)
	status, body := post(t, addr, "/sheet", strings.Repeat(" ", bodyLimit+1))
	if status != 413 || !strings.Contains(body, "65536") {
		t.Errorf("status %d, %s", status, body)
	}
	http.DefaultClient.CloseIdleConnections()
	if said, err := stop(); err != nil || said != "" {
		t.Errorf("error %v, said %q", err, said)
	}
}

// Clients that send slowly, or nothing, are let go, and others are answered
// meanwhile.
func TestSlowClients(t *testing.T) {
	addr, stop := startServer(t, newService(t.Output()).handler(), time.Minute, func(s *http.Server) {
		s.ReadTimeout, s.ReadHeaderTimeout = 2*time.Second, 2*time.Second // for the good one too, on a busy machine
	})
	job := demoJob(t)
	silent, inHead, inBody := dial(t, addr), dial(t, addr), dial(t, addr)
	fmt.Fprint(inHead, head(len(job))[:30])
	fmt.Fprint(inBody, head(len(job)), job[:100])
	if status, body := post(t, addr, "/sheet", job); status != 200 || body != ownSheet(t, job) {
		t.Errorf("beside slow clients: status %d, %.200s", status, body)
	}
	for what, c := range map[string]net.Conn{"silent": silent, "slow head": inHead} {
		if _, err := io.ReadAll(c); errors.Is(err, os.ErrDeadlineExceeded) {
			t.Errorf("%s: %v", what, err)
		}
	}
	answer, err := http.ReadResponse(bufio.NewReader(inBody), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if named := namedFaults(t, "slow body", text); err != nil || answer.StatusCode != http.StatusRequestTimeout || len(named) != 1 {
		t.Errorf("slow body: %v, status %d, %s", err, answer.StatusCode, text)
	}
	http.DefaultClient.CloseIdleConnections()
	if err := stop(); err != nil {
		t.Error(err)
	}
}

// A client that goes while its request waits for a place costs no work.
func TestClientGoesWhileWaiting(t *testing.T) {
	s := newService(t.Output())
	s.limits.Place = time.Minute
	for range cap(s.places) {
		s.places <- struct{}{}
	}
	entered, left := make(chan struct{}), make(chan struct{})
	h := s.handler()
	addr, stop := startServer(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		close(entered)
		h.ServeHTTP(w, r)
		close(left)
	}), time.Minute, nil)
	c := dial(t, addr)
	fmt.Fprint(c, head(len(demoJob(t))), demoJob(t))
	<-entered
	c.Close()
	select {
	case <-left: // though no place ever got free
	case <-time.After(30 * time.Second):
		t.Error("still waits for a client that has gone")
	}
	if err := stop(); err != nil {
		t.Error(err)
	}
}

// A request that is under way when the service is told to stop is answered, and
// no new one is taken.
func TestFinishesWhatIsUnderWay(t *testing.T) {
	entered := make(chan struct{})
	h := newService(t.Output()).handler()
	addr, stop := startServer(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		close(entered)
		h.ServeHTTP(w, r)
	}), time.Minute, nil)
	job := demoJob(t)
	c := dial(t, addr)
	fmt.Fprint(c, head(len(job)), job[:100])
	<-entered
	stopped := make(chan error, 1)
	go func() { stopped <- stop() }()
	for { // until it takes no more connections
		other, err := net.Dial("tcp", addr)
		if err != nil {
			break
		}
		other.Close()
		time.Sleep(time.Millisecond)
	}
	fmt.Fprint(c, job[100:])
	answer, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != 200 || string(text) != ownSheet(t, job) {
		t.Errorf("%v, status %d, %.200s", err, answer.StatusCode, text)
	}
	if err := <-stopped; err != nil {
		t.Error(err)
	}
}

// One that does not come to an end is cut off, and the program says so.
func TestCutsOffWhatDoesNotEnd(t *testing.T) {
	entered := make(chan struct{})
	cancelled := make(chan struct{})
	addr, stop := startServer(t, http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		close(entered)
		<-r.Context().Done()
		close(cancelled)
	}), 10*time.Millisecond, nil)
	c := dial(t, addr)
	fmt.Fprint(c, "GET /healthz HTTP/1.1\r\nHost: x\r\n\r\n")
	<-entered
	if err := stop(); !errors.Is(err, context.DeadlineExceeded) {
		t.Error(err)
	}
	<-cancelled
}

// Every wait and every length that a client decides on has a bound.
func TestBounds(t *testing.T) {
	s := New(nil, Usual())
	if s.ReadHeaderTimeout <= 0 || s.ReadTimeout <= 0 || s.WriteTimeout <= 0 || s.IdleTimeout <= 0 || s.MaxHeaderBytes <= 0 {
		t.Error("a client could make it wait for ever")
	}
	if s.ErrorLog == nil || s.ErrorLog.Writer() != io.Discard {
		t.Error("net/http would log who asked")
	}
	if l := Usual(); s.WriteTimeout <= l.Read+l.Place || l.Stop <= l.Read+l.Place {
		t.Error("an answer would come after the line is cut")
	}
}
