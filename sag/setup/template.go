package setup

import (
	"context"
	"iter"
	"sync"

	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Template is a job without its rider, checked and prepared once for the sheets of many riders. It is
// immutable, and safe for use by several goroutines at the same time.
type Template struct {
	job      Job
	ends     []endJob // those of the job, with their options
	cautions []fit.Caution
}

// NewTemplate returns the template of a job. The rider's mass is ignored; readings of scales under
// the wheels, which include the rider, are refused. The error names every bad field, as that of
// [NewSheet] does. What the job points to, such as its shelf, must not be changed while the template
// is in use.
func NewTemplate(job Job) (*Template, error) {
	c := units.Checker{Package: "sag"}
	job = job.Filled()
	masses := c.Child("masses")
	job.Masses.CheckBike(&masses)
	b := job.prepare(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	return b, nil
}

// Sheet returns the sheet of a rider, whose mass in kg is that dressed and packed to ride, as
// [NewSheet] does but for what needs answers of other riders or with other values: it has no Riders,
// no Pump, no warnings of implausible values, and no word of what was taken for granted. The mass must
// be finite and more than 0, and leave every spring a load to carry.
func (b *Template) Sheet(rider units.Mass) (*Sheet, error) {
	masses := b.job.Masses
	masses.RiderMass = rider
	loads, err := masses.Loads()
	if err != nil {
		return nil, units.At("masses", err)
	}
	return b.answer(masses, loads)
}

// waiting is how many sheets for each worker may wait for the loop over them.
const waiting = 64

// Sheets returns an iterator over the sheets of many riders, in the riders' order, each with the
// error of [Template.Sheet]. Workers is the number of goroutines that compute sheets; a number below
// 1 means 1, and runtime.GOMAXPROCS(0) uses every processor. One more goroutine reads riders, and
// waits for the loop over the sheets: at most a few hundred sheets per worker are in memory.
//
// When ctx is done, the last pair is a nil sheet with ctx.Err(). All goroutines have ended when the
// loop over the sheets ends.
func (b *Template) Sheets(ctx context.Context, riders iter.Seq[units.Mass], workers int) iter.Seq2[*Sheet, error] {
	type answer struct {
		rider units.Mass
		sheet *Sheet
		err   error
		done  sync.WaitGroup // of 1 until there is a sheet or an error
	}
	return func(yield func(*Sheet, error) bool) {
		inner, stop := context.WithCancel(ctx)
		var running sync.WaitGroup
		defer running.Wait()
		defer stop()
		workers = max(1, workers)
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
