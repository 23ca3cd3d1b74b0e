package main

import (
	"context"
	"fmt"
	"io"
	"iter"
	"runtime"
	"runtime/metrics"
	"sync"
	"time"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// mass is that of the i-th rider of a batch, from 60 to 100 kg in no order.
func mass(i int) units.Mass { return 60 + 40*units.Mass(i*619%1024)/1024 }

// riders yields n masses.
func riders(n int) iter.Seq[units.Mass] {
	return func(yield func(units.Mass) bool) {
		for i := range n {
			if !yield(mass(i)) {
				return
			}
		}
	}
}

// pass is what working out a batch once took.
type pass struct {
	time time.Duration
	live [3]float64 // bytes that the collector found in use: at the start, in the middle, at the end
}

// follow takes the sheets of n riders, and checks that each gets one in turn.
func follow(sheets iter.Seq2[*setup.Sheet, error], n int) (pass, error) {
	var p pass
	runtime.GC()
	i, start := 0, time.Now()
	for s, err := range sheets {
		if err != nil {
			return p, err
		}
		if s.RiderMass != mass(i) {
			return p, fmt.Errorf("sheet %d is for %v, not for %v", i, s.RiderMass, mass(i))
		}
		i++
		for k, at := range [3]int{(n + 9) / 10, (n + 1) / 2, n} {
			if i == at {
				p.live[k] = live()
			}
		}
	}
	p.time = time.Since(start)
	if i != n {
		return p, fmt.Errorf("%d sheets for %d riders", i, n)
	}
	return p, nil
}

// live is the memory that the last collection found in use. It asks for none.
func live() float64 {
	sample := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(sample)
	return float64(sample[0].Value.Uint64())
}

// batchLayout is that of a line of the table of batches.
const batchLayout = "%10s %8s %16s %13s %9s %27s\n"

// batches prints the table of batches of up to so many riders through one bike.
// Smaller ones are repeated, so that each line is of a fifth of the largest or
// more; one worker and two take turns, so that both see the same machine.
func batches(most int, stdout, stderr io.Writer) error {
	job, err := readJob()
	if err != nil {
		return err
	}
	b, err := setup.NewTemplate(job)
	if err != nil {
		return err
	}
	fmt.Fprintf(stdout, batchLayout, "riders", "workers", "time per rider", "to the first", "speed-up", "live at start, middle, end")
	var first [2]float64
	for _, n := range [3]int{most / 100, most / 10, most} {
		fmt.Fprintf(stderr, "working out %d riders\n", n)
		var each [2]float64 // ns per rider
		var last [2]pass
		again := max(1, most/5/n)
		for range again {
			for w := range each {
				if last[w], err = follow(inTurn(context.Background(), b, riders(n), w+1), n); err != nil {
					return err
				}
				each[w] += float64(last[w].time) / float64(n*again)
			}
		}
		if first[0] == 0 {
			first = each
		}
		for w, p := range last {
			fmt.Fprintf(stdout, batchLayout, fmt.Sprint(n), fmt.Sprint(w+1), span(each[w]),
				fmt.Sprintf("%.2f ×", each[w]/first[w]), fmt.Sprintf("%.2f ×", each[0]/each[w]),
				fmt.Sprintf("%.2f, %.2f, %.2f MB", p.live[0]/1e6, p.live[1]/1e6, p.live[2]/1e6))
		}
	}
	return nil
}

// waiting is how many sheets for each worker may wait for the loop over them.
const waiting = 64

// inTurn returns an iterator over the sheets of many riders, in the riders' order, each with the error of
// its template. Workers is the number of goroutines that compute sheets; one more reads riders. When ctx
// is done, the last pair is a nil sheet with ctx.Err(). All goroutines have ended when the loop over the
// sheets ends.
func inTurn(ctx context.Context, b *setup.Template, riders iter.Seq[units.Mass], workers int) iter.Seq2[*setup.Sheet, error] {
	type answer struct {
		rider units.Mass
		sheet *setup.Sheet
		err   error
		done  sync.WaitGroup // of 1 until there is a sheet or an error
	}
	return func(yield func(*setup.Sheet, error) bool) {
		inner, stop := context.WithCancel(ctx)
		var running sync.WaitGroup
		defer running.Wait()
		defer stop()
		work, order := make(chan *answer, waiting), make(chan *answer, waiting*workers) // to a free worker, then to the loop below
		for range workers {
			running.Go(func() {
				for a := range work {
					if inner.Err() == nil {
						a.sheet, a.err = b.Sheet(a.rider)
					}
					a.done.Done()
				}
			})
		}
		running.Go(func() {
			defer close(order)
			defer close(work)
			for rider := range riders {
				a := &answer{rider: rider}
				a.done.Add(1)
				for _, to := range []chan<- *answer{work, order} {
					select {
					case to <- a:
					case <-inner.Done():
						return
					}
				}
			}
		})
		for a := range order {
			if a.done.Wait(); ctx.Err() != nil {
				break
			}
			if !yield(a.sheet, a.err) {
				return
			}
		}
		if err := ctx.Err(); err != nil {
			yield(nil, err)
		}
	}
}
