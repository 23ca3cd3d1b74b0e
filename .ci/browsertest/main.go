// Browsertest opens the page in a real Chromium without a window and uses it:
// it types, tabs, shares, goes offline, and holds what is shown against the
// library's own answer for the same job. It prints a line for each check and
// exits with 1 where one fails, or where there is no Chromium.
//
//	go -C .ci run ./browsertest
//	go -C .ci run ./browsertest -shots /tmp/shots
//	go -C .ci run ./browsertest -planted
//
// The last plants wrong numbers into the page's program, one at a time, and lists which test notices
// each; it takes some minutes.
package main

import (
	"bufio"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"example.com/wheelrate/ci/browsertest/devtools"
	"example.com/wheelrate/ci/browsertest/planted"
)

func main() {
	chromium := flag.String("chromium", "", "the browser's `program`; by default chromium, chromium-browser or google-chrome of the path")
	shots := flag.String("shots", "", "write pictures of the page into this `directory`")
	only := flag.String("run", "", "run the checks whose name matches this `pattern` only")
	first := flag.Bool("first", false, "end at the first check that fails")
	plants := flag.Bool("planted", false, "plant wrong numbers, those whose name matches -run, and see each noticed")
	flag.Parse()
	if flag.NArg() > 0 {
		fmt.Fprintf(os.Stderr, "browsertest: unexpected %q\n", flag.Arg(0))
		os.Exit(2)
	}
	var failed int
	pattern, err := regexp.Compile(*only)
	switch {
	case err != nil:
	case *plants:
		failed, err = planted.All(pattern, examplesDir(), *chromium)
	default:
		failed, err = run(*chromium, *shots, pattern, *first)
	}
	if err != nil {
		fmt.Fprintf(os.Stderr, "browsertest: %v\n", err)
		os.Exit(1)
	}
	if failed > 0 {
		os.Exit(1)
	}
}

// run runs the checks whose names match and returns how many failed, at most one where the first ends it.
func run(chromium, shots string, only *regexp.Regexp, first bool) (failed int, err error) {
	path, err := devtools.Find(chromium)
	if err != nil {
		return 0, err
	}
	dir, err := os.MkdirTemp("", "wheelrate-page-")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(dir)
	binary := filepath.Join(dir, "webpage")
	build := exec.Command("go", "build", "-C", examplesDir(), "-o", binary, "./webpage")
	if text, err := build.CombinedOutput(); err != nil {
		return 0, fmt.Errorf("building the page's program: %w\n%s", err, text)
	}
	s, err := serve(binary)
	if err != nil {
		return 0, err
	}
	defer s.stop()
	b, err := devtools.Start(path)
	if err != nil {
		return 0, err
	}
	defer b.Stop()
	t := &tester{b: b, url: s.url, shots: shots, dir: dir, binary: binary}
	count := 0
	for _, c := range checks {
		if !only.MatchString(c.name) || first && failed > 0 {
			continue
		}
		count++
		begun := time.Now()
		if fault := t.try(c.run); fault != "" {
			failed++
			fmt.Printf("FAIL  %s\n      %s\n", c.name, strings.ReplaceAll(fault, "\n", "\n      "))
		} else {
			fmt.Printf("ok    %s (%.1f s)\n", c.name, time.Since(begun).Seconds())
		}
	}
	if count == 0 {
		return 0, fmt.Errorf("no check matches %q", only)
	}
	fmt.Printf("%d checks, %d failed\n", count, failed)
	return failed, nil
}

// tester is what a check works with.
type tester struct {
	b                       *devtools.Browser
	url, shots, dir, binary string
}

// try runs a check in a tab of its own and returns what failed.
func (t *tester) try(check func(*tester, *page)) (fault string) {
	defer func() {
		switch f := recover().(type) {
		case nil:
		case devtools.Failure:
			fault = string(f)
		default:
			panic(f)
		}
	}()
	p := t.open()
	check(t, p)
	p.Clean()
	return ""
}

// server is the page's own program, serving.
type server struct {
	cmd *exec.Cmd
	url string
}

// serve starts it and waits for its address.
func serve(binary string) (*server, error) {
	s := &server{cmd: exec.Command(binary)}
	s.cmd.Stderr = os.Stderr
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := s.cmd.Start(); err != nil {
		return nil, err
	}
	address := regexp.MustCompile(`http://\S+/`)
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if url := address.FindString(lines.Text()); url != "" {
			s.url = url
			return s, nil
		}
	}
	return nil, fmt.Errorf("the page's program ended without an address: %w", s.cmd.Wait())
}

// stop interrupts it, as Ctrl-C does, and returns how it ended.
func (s *server) stop() error {
	if s.cmd.ProcessState != nil {
		return nil
	}
	if err := s.cmd.Process.Signal(os.Interrupt); err != nil {
		s.cmd.Process.Kill()
	}
	return s.cmd.Wait()
}
