// Package devtools drives a Chromium without a window by the DevTools protocol.
//
// A [Browser] opens a [Page], whose methods do what a person does there and read what
// is shown. They panic with a [Failure], which ends the check that is running.
package devtools

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"time"
)

// Browser is a Chromium that takes commands over a pair of pipes: JSON
// messages of the DevTools protocol, each ended by a zero byte.
type Browser struct {
	cmd     *exec.Cmd
	dir     string
	to      io.WriteCloser
	mu      sync.Mutex
	next    int
	waiting map[int]chan message
	pages   map[string]*Page
	gone    chan struct{} // closed when the browser is
}

// message is a command, its answer, or an event.
type message struct {
	ID      int             `json:"id,omitempty"`
	Session string          `json:"sessionId,omitempty"`
	Method  string          `json:"method,omitempty"`
	Params  json.RawMessage `json:"params,omitempty"`
	Result  json.RawMessage `json:"result,omitempty"`
	Error   *struct {
		Message string `json:"message"`
	} `json:"error,omitempty"`
}

// Patience is how long any one answer may take.
const Patience = 60 * time.Second

// Find returns the browser's path; that of the first one on the search path for "".
func Find(chromium string) (string, error) {
	if chromium != "" {
		return exec.LookPath(chromium)
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", fmt.Errorf("no Chromium found, and this test is of no use without one: install it (Debian: apt-get install chromium) or say where it is with -chromium")
}

// Start starts Chromium with an empty profile.
func Start(path string) (*Browser, error) {
	dir, err := os.MkdirTemp("", "wheelrate-browser-")
	if err != nil {
		return nil, err
	}
	in, toBrowser, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	fromBrowser, out, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	b := &Browser{dir: dir, to: toBrowser, waiting: map[int]chan message{}, pages: map[string]*Page{}, gone: make(chan struct{})}
	b.cmd = exec.Command(path, "--headless", "--remote-debugging-pipe", "--user-data-dir="+filepath.Join(dir, "profile"),
		"--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-dev-shm-usage", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--hide-scrollbars", "about:blank")
	b.cmd.ExtraFiles = []*os.File{in, out} // descriptors 3 and 4
	if err := b.cmd.Start(); err != nil {
		return nil, errors.Join(err, os.RemoveAll(dir))
	}
	in.Close()
	out.Close()
	go b.listen(fromBrowser)
	return b, nil
}

func (b *Browser) listen(from io.Reader) {
	defer close(b.gone)
	for r := bufio.NewReader(from); ; {
		text, err := r.ReadBytes(0)
		if err != nil {
			return
		}
		var m message
		if json.Unmarshal(text[:len(text)-1], &m) != nil {
			continue
		}
		b.mu.Lock()
		answer, p := b.waiting[m.ID], b.pages[m.Session]
		delete(b.waiting, m.ID)
		b.mu.Unlock()
		switch {
		case m.ID != 0 && answer != nil:
			answer <- m
		case m.ID == 0 && p != nil:
			p.event(m)
		}
	}
}

// Call sends a command and reads its answer into result, if that isn't nil.
func (b *Browser) Call(session, method string, params, result any) error {
	text, err := json.Marshal(params)
	if err != nil {
		return err
	}
	answer := make(chan message, 1)
	b.mu.Lock()
	b.next++
	m := message{ID: b.next, Session: session, Method: method, Params: text}
	b.waiting[m.ID] = answer
	if text, err = json.Marshal(m); err == nil {
		_, err = b.to.Write(append(text, 0))
	}
	b.mu.Unlock()
	if err != nil {
		return fmt.Errorf("%s: %w", method, err)
	}
	select {
	case m := <-answer:
		switch {
		case m.Error != nil:
			return fmt.Errorf("%s: %s", method, m.Error.Message)
		case result == nil:
			return nil
		}
		return json.Unmarshal(m.Result, result)
	case <-b.gone:
		return fmt.Errorf("%s: the browser is gone", method)
	case <-time.After(Patience):
		return fmt.Errorf("%s: no answer in %v", method, Patience)
	}
}

// Stop ends the browser and removes its profile.
func (b *Browser) Stop() error {
	b.Call("", "Browser.close", struct{}{}, nil) // it may be gone already
	b.to.Close()
	ended := make(chan error, 1)
	go func() { ended <- b.cmd.Wait() }()
	select {
	case <-ended:
	case <-time.After(10 * time.Second):
		b.cmd.Process.Kill()
		<-ended
	}
	for range 20 { // its children may still be writing
		if err := os.RemoveAll(b.dir); err == nil {
			return nil
		}
		time.Sleep(100 * time.Millisecond)
	}
	return os.RemoveAll(b.dir)
}
