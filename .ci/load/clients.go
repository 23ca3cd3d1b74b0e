package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"strings"
	"time"
)

// What became of a request.
type outcome int

const (
	right outcome = iota
	busy          // asked to come again, as documented
	cut           // by the client itself, which is not owed an answer
	wrong
	outcomes
)

// patience is what a client grants beyond the service's own limits before it
// counts an answer as lost: this machine runs all clients as well.
const patience = 30 * time.Second

// client is one of many.
type client struct {
	addr string
	q    *questions
	read time.Duration // the service's limit on a whole request
	rand *rand.Rand
	http *http.Client
}

func newClient(addr string, q *questions, read time.Duration, seed, n uint64) *client {
	return &client{
		addr: addr, q: q, read: read, rand: rand.New(rand.NewPCG(seed, n)),
		http: &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 1}, Timeout: patience},
	}
}

// kind is one thing that clients do.
type kind struct {
	name   string
	weight int // how often, among all
	do     func(*client) (outcome, error)
}

var kinds = []kind{
	{"a good question", 40, func(c *client) (outcome, error) { return c.ask(context.Background(), c.one(c.q.good)) }},
	{"a question to refuse", 15, func(c *client) (outcome, error) { return c.ask(context.Background(), c.one(c.q.bad)) }},
	{"wrong around the body", 15, func(c *client) (outcome, error) { return c.ask(context.Background(), c.one(c.q.odd)) }},
	{"several at once on a line", 10, (*client).pipelined},
	{"HTTP/1.0", 3, (*client).old},
	{"waits to be asked on", 3, (*client).expecting},
	{"too large, announced", 3, (*client).tooLarge},
	{"a body without an end", 3, (*client).endless},
	{"shorter than announced", 3, (*client).tooShort},
	{"longer than announced", 3, (*client).tooLong},
	{"lengths that contradict", 3, (*client).contradictory},
	{"malformed chunks", 3, (*client).badChunk},
	{"a head too large", 3, (*client).largeHead},
	{"no HTTP", 3, (*client).rubbish},
	{"a head that comes slowly", 1, (*client).slowHead},
	{"a body that comes slowly", 1, (*client).slowBody},
	{"cut in the question", 5, (*client).cutQuestion},
	{"cut while waiting", 5, (*client).cutWaiting},
	{"cut in the answer", 5, (*client).cutAnswer},
	{"given up", 5, (*client).givenUp},
}

func (c *client) one(list []question) *question { return &list[c.rand.IntN(len(list))] }

// ask asks one question over a line that is kept.
func (c *client) ask(ctx context.Context, q *question) (outcome, error) {
	r, err := http.NewRequestWithContext(ctx, q.method, "http://"+c.addr+q.path, strings.NewReader(q.body))
	if err != nil {
		return wrong, err
	}
	for name, value := range q.header {
		r.Header.Set(name, value)
	}
	answer, err := c.http.Do(r)
	if err != nil {
		return wrong, err
	}
	return c.take(answer, q)
}

// take reads an answer to its end and judges it.
func (c *client) take(answer *http.Response, q *question) (outcome, error) {
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		return wrong, fmt.Errorf("%s %s: the answer breaks off: %w", q.method, q.path, err)
	}
	if answer.StatusCode == http.StatusServiceUnavailable && answer.Header.Get("Retry-After") != "" {
		return busy, names("")(body)
	}
	if err := q.judge(answer.StatusCode, answer.Header, body); err != nil {
		return wrong, err
	}
	return right, nil
}

// dial opens a line to write on by hand.
func (c *client) dial() (*net.TCPConn, error) {
	line, err := net.DialTimeout("tcp", c.addr, patience)
	if err != nil {
		return nil, err
	}
	if err := line.SetDeadline(time.Now().Add(c.read + patience)); err != nil {
		line.Close()
		return nil, err
	}
	return line.(*net.TCPConn), nil
}

// answered reads the answer to q from a line, in a goroutine's stead while
// something is still being written.
func (c *client) answered(lines *bufio.Reader, q *question) (outcome, error) {
	answer, err := http.ReadResponse(lines, &http.Request{Method: q.method})
	if err != nil {
		return wrong, fmt.Errorf("%s %s: no answer: %w", q.method, q.path, err)
	}
	return c.take(answer, q)
}

// by asks by hand: it writes on a line of its own and reads the one answer.
// Write errors are the service hanging up; the answer shows whether it may.
func (c *client) by(q *question, write func(io.Writer) error) (outcome, error) {
	line, err := c.dial()
	if err != nil {
		return wrong, err
	}
	defer line.Close()
	type result struct {
		outcome
		error
	}
	got := make(chan result, 1)
	go func() {
		o, err := c.answered(bufio.NewReader(line), q)
		got <- result{o, err}
		line.SetWriteDeadline(time.Now()) // whoever still writes may stop
	}()
	_ = write(line)
	r := <-got
	return r.outcome, r.error
}

// refusedWith is a question with another end than its own.
func refusedWith(q *question, status int) *question {
	other := *q
	other.status, other.answer, other.check = status, "", names("")
	return &other
}

// pipelined writes several questions in one go and reads the answers in order.
func (c *client) pipelined() (outcome, error) {
	line, err := c.dial()
	if err != nil {
		return wrong, err
	}
	defer line.Close()
	var asked []*question
	var text strings.Builder
	for range 2 + c.rand.IntN(6) {
		q := c.one([][]question{c.q.good, c.q.bad, c.q.odd}[c.rand.IntN(3)])
		asked = append(asked, q)
		text.WriteString(q.wire())
	}
	go io.WriteString(line, text.String()) // the answers may fill the line before all is written
	lines, worst := bufio.NewReader(line), right
	for i, q := range asked {
		got, err := c.answered(lines, q)
		if err != nil {
			return wrong, fmt.Errorf("answer %d of %d: %w", i+1, len(asked), err)
		}
		worst = max(worst, got)
	}
	return worst, nil
}

// old speaks HTTP/1.0: one answer, and the line ends.
func (c *client) old() (outcome, error) {
	q := c.one(c.q.good)
	return c.by(q, func(w io.Writer) error {
		_, err := io.WriteString(w, strings.Replace(q.wire(), "HTTP/1.1", "HTTP/1.0", 1))
		return err
	})
}

// expecting sends its body when it is told to.
func (c *client) expecting() (outcome, error) {
	q := c.one(c.q.good)
	line, err := c.dial()
	if err != nil {
		return wrong, err
	}
	defer line.Close()
	lines, err := c.askedOn(line, q)
	if err != nil {
		return wrong, err
	}
	if _, err := io.WriteString(line, q.body); err != nil {
		return wrong, err
	}
	return c.answered(lines, q)
}

// askedOn sends a question's head and waits to be told to send the body.
func (c *client) askedOn(line net.Conn, q *question) (*bufio.Reader, error) {
	head := strings.Replace(q.head(len(q.body)), "Host:", "Expect: 100-continue\r\nHost:", 1)
	if _, err := io.WriteString(line, head); err != nil {
		return nil, err
	}
	lines := bufio.NewReader(line)
	if first, err := lines.ReadString('\n'); err != nil || !strings.HasPrefix(first, "HTTP/1.1 100 ") {
		return nil, fmt.Errorf("%s %s: not asked on: %q, %v", q.method, q.path, first, err)
	}
	_, err := lines.ReadString('\n')
	return lines, err
}

var blanks = strings.Repeat(" ", 4096)

// tooLarge announces 10 MB and sends until it is refused.
func (c *client) tooLarge() (outcome, error) {
	q := refusedWith(c.one(c.q.good), http.StatusRequestEntityTooLarge)
	const length = 10 << 20
	return c.by(q, func(w io.Writer) error {
		_, err := io.WriteString(w, q.head(length))
		for sent := 0; err == nil && sent < length; sent += len(blanks) {
			_, err = io.WriteString(w, blanks)
		}
		return err
	})
}

func chunked(q *question) string {
	return strings.Replace(q.head(0), "Content-Length: 0", "Transfer-Encoding: chunked", 1)
}

// endless sends chunk after chunk until it is refused.
func (c *client) endless() (outcome, error) {
	q := refusedWith(c.one(c.q.good), http.StatusRequestEntityTooLarge)
	return c.by(q, func(w io.Writer) error {
		_, err := io.WriteString(w, chunked(q))
		for err == nil {
			_, err = fmt.Fprintf(w, "%x\r\n%s\r\n", len(blanks), blanks)
		}
		return err
	})
}

// tooShort announces more than it has.
func (c *client) tooShort() (outcome, error) {
	q := refusedWith(c.one(c.q.good), http.StatusBadRequest)
	return c.by(q, func(w io.Writer) error {
		_, err := io.WriteString(w, q.head(len(q.body)+10)+q.body)
		return errors.Join(err, w.(*net.TCPConn).CloseWrite())
	})
}

// tooLong announces less than it has: the rest is taken as a request and is invalid.
func (c *client) tooLong() (outcome, error) {
	q := c.one(c.q.good)
	half := post(q.path, q.body[:len(q.body)/2])
	half.status, half.check = http.StatusBadRequest, func(body []byte) error {
		if !strings.HasPrefix(string(body), `{"faults":[{"code":`) {
			return fmt.Errorf("half a body: %.200s", body)
		}
		return nil
	}
	return c.by(&half, func(w io.Writer) error {
		_, err := io.WriteString(w, half.head(len(half.body))+q.body)
		return err
	})
}

// raw sends a text and wants a status, or the line closed where that will do.
func (c *client) raw(text string, status int, mayClose bool) (outcome, error) {
	line, err := c.dial()
	if err != nil {
		return wrong, err
	}
	defer line.Close()
	go io.WriteString(line, text)
	answer, err := http.ReadResponse(bufio.NewReader(line), nil)
	var late net.Error
	switch {
	case err != nil && mayClose && !(errors.As(err, &late) && late.Timeout()):
		return right, nil
	case err != nil:
		return wrong, fmt.Errorf("no answer to %.60q: %w", text, err)
	}
	defer answer.Body.Close()
	if answer.StatusCode != status {
		return wrong, fmt.Errorf("status %d to %.60q, want %d", answer.StatusCode, text, status)
	}
	return right, nil
}

func (c *client) contradictory() (outcome, error) {
	q := c.one(c.q.good)
	line := [...]string{"Content-Length: 7\r\nHost:", "Content-Length: -1\r\nHost:", "Content-Length: x\r\nHost:"}[c.rand.IntN(3)]
	return c.raw(strings.Replace(q.wire(), "Host:", line, 1), http.StatusBadRequest, false)
}

func (c *client) badChunk() (outcome, error) {
	q := refusedWith(c.one(c.q.good), http.StatusBadRequest)
	return c.by(q, func(w io.Writer) error {
		_, err := io.WriteString(w, chunked(q)+"zz\r\n{}\r\n0\r\n\r\n")
		return err
	})
}

func (c *client) largeHead() (outcome, error) {
	q := c.one(c.q.good)
	return c.raw(strings.Replace(q.wire(), "Host:", "X-More: "+strings.Repeat("x", 64<<10)+"\r\nHost:", 1), http.StatusRequestHeaderFieldsTooLarge, true)
}

func (c *client) rubbish() (outcome, error) {
	return c.raw("\x16\x03\x01\x02 a greeting in another protocol\r\n\r\n", http.StatusBadRequest, true)
}

// slowly writes a byte now and then, so that the whole takes far too long.
func (c *client) slowly(w io.Writer, text string) error {
	for i := range len(text) {
		if _, err := io.WriteString(w, text[i:i+1]); err != nil {
			return err
		}
		time.Sleep(c.read / 25)
	}
	return nil
}

// slowHead must be let go: a slow head gets no answer, or 408.
func (c *client) slowHead() (outcome, error) {
	line, err := c.dial()
	if err != nil {
		return wrong, err
	}
	defer line.Close()
	begun := time.Now()
	gone := make(chan error, 1)
	go func() {
		_, err := io.ReadAll(line)
		gone <- err
		line.SetWriteDeadline(time.Now())
	}()
	_ = c.slowly(line, c.one(c.q.good).wire())
	var late net.Error
	if err := <-gone; errors.As(err, &late) && late.Timeout() {
		return wrong, fmt.Errorf("a slow head was borne for %v", time.Since(begun).Round(time.Second))
	}
	return right, nil
}

// slowBody is refused with 408.
func (c *client) slowBody() (outcome, error) {
	q := refusedWith(c.one(c.q.good), http.StatusRequestTimeout)
	return c.by(q, func(w io.Writer) error {
		if _, err := io.WriteString(w, q.head(len(q.body))); err != nil {
			return err
		}
		return c.slowly(w, q.body)
	})
}

// hangUp ends a line, half of the times without a word.
func (c *client) hangUp(line *net.TCPConn) {
	if c.rand.IntN(2) == 0 {
		_ = line.SetLinger(0)
	}
	_ = line.Close()
}

func (c *client) cutAfter(text string, read int) (outcome, error) {
	line, err := c.dial()
	if err != nil {
		return wrong, err
	}
	defer c.hangUp(line)
	if _, err := io.WriteString(line, text); err != nil {
		return wrong, err
	}
	if _, err := io.ReadFull(line, make([]byte, read)); err != nil {
		return wrong, fmt.Errorf("no answer to cut: %w", err)
	}
	return cut, nil
}

func (c *client) cutQuestion() (outcome, error) {
	text := c.one(c.q.good).wire()
	return c.cutAfter(text[:1+c.rand.IntN(len(text)-1)], 0)
}

func (c *client) cutWaiting() (outcome, error) { return c.cutAfter(c.one(c.q.good).wire(), 0) }

func (c *client) cutAnswer() (outcome, error) {
	return c.cutAfter(c.one(c.q.good).wire(), 1+c.rand.IntN(60)) // the least that an answer has
}

// givenUp asks, and may lose its patience first.
func (c *client) givenUp() (outcome, error) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Duration(c.rand.IntN(20))*time.Millisecond)
	defer cancel()
	got, err := c.ask(ctx, c.one(c.q.good))
	if ctx.Err() != nil && errors.Is(err, context.DeadlineExceeded) {
		return cut, nil
	}
	return got, err
}
