package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"sync"
	"time"
)

// A program is the compiled test program of one package.
type program struct {
	pkg  string
	dir  string
	path string
}

// A test is one test function, and how much of the processor's time it takes
// without any mutant.
type test struct {
	program
	name string
	took time.Duration
}

// tests lists what a program can run: tests, examples and the seeds of fuzz
// targets.
func (p program) tests() ([]string, error) {
	cmd := exec.Command(p.path, "-test.list", ".")
	cmd.Dir = p.dir
	out, err := cmd.Output()
	if err != nil {
		return nil, err
	}
	var names []string
	for _, line := range strings.Fields(string(out)) {
		if !strings.HasPrefix(line, "Benchmark") {
			names = append(names, line)
		}
	}
	return names, nil
}

// run runs some tests of a program. It reports whether all passed, and how much
// of the processor's time they took.
func (p program) run(names []string, limit time.Duration, env ...string) (ok bool, took time.Duration) {
	ctx, stop := context.WithTimeout(context.Background(), 20*limit)
	defer stop()
	cmd := exec.CommandContext(ctx, p.path, "-test.run", "^("+strings.Join(names, "|")+")$", "-test.failfast")
	cmd.Dir = p.dir
	cmd.Env = append(os.Environ(), "GOMAXPROCS=1")
	cmd.Env = append(cmd.Env, env...)
	err := cmd.Run()
	if cmd.ProcessState != nil {
		took = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	}
	return err == nil, took
}

// meetings runs every test by itself and returns the tests that execute each
// mutant, the quickest first. Tests that fail with the switches built in, such as those that count allocations,
// and those slower than the slowest wanted are left out and named.
func meetings(programs []program, count int, slowest time.Duration, workers int, work string) (meets map[int][]test, unfit []string, err error) {
	var all []test
	for _, p := range programs {
		names, err := p.tests()
		if err != nil {
			return nil, nil, err
		}
		for _, n := range names {
			all = append(all, test{program: p, name: n})
		}
	}
	meets = map[int][]test{}
	var mu sync.Mutex
	each(len(all), workers, func(i int) {
		t := all[i]
		record := filepath.Join(work, fmt.Sprintf("record-%d", i))
		ok, took := t.run([]string{t.name}, time.Minute, "MUTANTS_RECORD="+record)
		t.took = took
		data, readErr := os.ReadFile(record)
		os.Remove(record)
		mu.Lock()
		defer mu.Unlock()
		if !ok || readErr != nil || took > slowest {
			unfit = append(unfit, t.pkg+" "+t.name)
			return
		}
		for _, s := range strings.Fields(string(data)) {
			if id, err := strconv.Atoi(s); err == nil && id <= count {
				meets[id] = append(meets[id], t)
			}
		}
	})
	sort.Strings(unfit)
	for _, ts := range meets {
		sort.Slice(ts, func(i, j int) bool { return ts[i].took < ts[j].took })
	}
	return meets, unfit, nil
}

// killed reports whether one of the tests fails with the mutant on: the quick
// ones first, a handful at a time.
func killed(id int, tests []test) bool {
	for len(tests) > 0 {
		n := 0
		var names []string
		took := time.Duration(0)
		for n < len(tests) && tests[n].program == tests[0].program && (n == 0 || n < 12 && took < time.Second) {
			names, took = append(names, tests[n].name), took+tests[n].took
			n++
		}
		limit := time.Second + 3*took // of the processor's time
		cpu := strconv.Itoa(int(limit/time.Second) + 1)
		if ok, _ := tests[0].run(names, limit, "MUTANTS_ON="+strconv.Itoa(id), "MUTANTS_CPU="+cpu); !ok {
			return true
		}
		tests = tests[n:]
	}
	return false
}

// each calls work for 0 … n−1 from a number of workers.
func each(n, workers int, work func(int)) {
	next := make(chan int)
	var wg sync.WaitGroup
	for range workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				work(i)
			}
		}()
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}
