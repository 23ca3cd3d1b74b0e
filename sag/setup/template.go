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
	job         Job
	front, rear *fit.Options // nil where the job has faults there
	cautions    []fit.Caution
}

// NewTemplate returns the template of a job. The rider's mass is ignored; readings of scales under
// the wheels, which include the rider, are refused. The error names every bad field, as that of [NewSheet] does. What the job points to,
// such as its shelf, must not be changed while the template is in use.
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
// no Pump, no warnings of implausible values, and no word of what was taken for granted. The mass must be finite and more than 0, and leave every spring a load to carry.
func (b *Template) Sheet(rider units.Mass) (*Sheet, error) {
	masses := b.job.Masses
	masses.RiderMass = rider
	loads, err := masses.Loads()
	if err != nil {
		return nil, units.At("masses", err)
	}
	return b.answer(masses, loads)
}

// share is how many riders a worker takes at a time; more of them cost less to hand out.
const share = 32

// Sheets returns an iterator over the sheets of many riders, in the riders' order, each with the
// error of [Template.Sheet]. Workers is the number of goroutines that compute sheets; a number below
// 1 means 1, and runtime.GOMAXPROCS(0) uses every processor. One more goroutine reads riders, and
// waits for the loop over the sheets: at most a few hundred sheets per worker are in memory.
//
// When ctx is done, the last pair is a nil sheet with ctx.Err(). All goroutines have ended when the
// loop over the sheets ends.
func (b *Template) Sheets(ctx context.Context, riders iter.Seq[units.Mass], workers int) iter.Seq2[*Sheet, error] {
	return func(yield func(*Sheet, error) bool) {
		inner, stop := context.WithCancel(ctx)
		var running sync.WaitGroup
		defer running.Wait()
		defer stop()
		workers = max(1, workers)
		work, order := make(chan *batch), make(chan *batch, 2*workers) // to a free worker; to the loop below
		for range workers {
			running.Go(func() {
				for it := range work {
					b.solve(inner, it)
				}
			})
		}
		send := func(riders []units.Mass) bool {
			it := &batch{riders: riders, sheets: make([]*Sheet, len(riders)), errs: make([]error, len(riders)), done: make(chan struct{})}
			for _, to := range []chan<- *batch{order, work} {
				select {
				case to <- it:
				case <-inner.Done():
					return false
				}
			}
			return true
		}
		running.Go(func() {
			defer close(order)
			defer close(work)
			list := make([]units.Mass, 0, share)
			for rider := range riders {
				if len(list) == share {
					if !send(list) {
						return
					}
					list = make([]units.Mass, 0, share)
				}
				list = append(list, rider)
			}
			if len(list) > 0 {
				send(list)
			}
		})
	results:
		for it := range order {
			select {
			case <-it.done:
			case <-inner.Done(): // no worker may have received it
			}
			for i := range it.riders {
				if ctx.Err() != nil {
					break results
				}
				if !yield(it.sheets[i], it.errs[i]) {
					return
				}
			}
		}
		if err := ctx.Err(); err != nil {
			yield(nil, err)
		}
	}
}

// batch is a share of the riders, with their sheets and errors once done is closed.
type batch struct {
	riders []units.Mass
	sheets []*Sheet
	errs   []error
	done   chan struct{}
}

// solve computes the sheets of a batch; if ctx is done, only those of its first riders.
func (b *Template) solve(ctx context.Context, it *batch) {
	defer close(it.done)
	for i, rider := range it.riders {
		if ctx.Err() != nil {
			return
		}
		it.sheets[i], it.errs[i] = b.Sheet(rider)
	}
}
