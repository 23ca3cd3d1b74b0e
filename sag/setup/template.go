package setup

import (
	"context"
	"iter"
	"sync"

	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Template is a job without its rider, checked and prepared once, for working out sheets of many
// riders. It never changes, so that any number of goroutines may share one.
type Template struct {
	job         Job
	front, rear *fit.Options // nil where the job has faults there
	cautions    []fit.Caution
}

// NewTemplate returns the template of a job. The rider's mass in the job is ignored; scales under
// the wheels are refused, since they weigh one rider. The error names every bad field, as that of
// [NewSheet] does. What the job points to, such as its shelf, is read again for every rider and
// must not be changed while the template is in use.
func NewTemplate(job Job) (*Template, error) {
	c := units.Checker{Package: "sag"}
	masses := c.Child("masses")
	job.Masses.CheckBike(&masses)
	b := job.prepare(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	return b, nil
}

// Sheet returns the sheet of a rider, whose mass in kg is that dressed and packed to ride, as
// [NewSheet] does. The mass must be finite and more than 0, and leave every spring a load to carry.
func (b *Template) Sheet(rider units.Mass) (*Sheet, error) {
	masses := b.job.Masses
	masses.RiderMass = rider
	loads, err := masses.Loads()
	if err != nil {
		return nil, units.At("masses", err)
	}
	return b.answer(masses, loads)
}

// share is how many riders a worker takes at a time: enough that handing them out costs little
// beside working them out.
const share = 32

// Sheets returns an iterator over the sheets of many riders, in the riders' order; where one fails,
// its error takes the sheet's place. The number of workers is that of the goroutines that work
// sheets out, one at the least; runtime.GOMAXPROCS(0) of them use every processor. Another
// goroutine asks for the riders, and for no more than the workers can take: of any number of riders
// only a few hundred sheets are in memory at a time.
//
// When ctx is done, the last pair is a nil sheet with ctx.Err(). All goroutines have ended when the
// loop over the sheets ends, however it ends.
func (b *Template) Sheets(ctx context.Context, riders iter.Seq[units.Mass], workers int) iter.Seq2[*Sheet, error] {
	return func(yield func(*Sheet, error) bool) {
		inner, stop := context.WithCancel(ctx)
		var running sync.WaitGroup
		defer running.Wait()
		defer stop()
		workers = max(1, workers)
		work := make(chan *batch)             // to whichever worker is free
		order := make(chan *batch, 2*workers) // to the loop below, in order
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
				if list = append(list, rider); len(list) < share {
					continue
				}
				if !send(list) {
					return
				}
				list = make([]units.Mass, 0, share)
			}
			if len(list) > 0 {
				send(list)
			}
		})
		for it := range order {
			select {
			case <-it.done:
			case <-inner.Done(): // no worker may have received it
			}
			for i := range it.riders {
				if ctx.Err() != nil {
					break
				}
				if !yield(it.sheets[i], it.errs[i]) {
					return
				}
			}
			if ctx.Err() != nil {
				break
			}
		}
		if err := ctx.Err(); err != nil {
			yield(nil, err)
		}
	}
}

// batch is a share of the riders, with their sheets once done is closed.
type batch struct {
	riders []units.Mass
	sheets []*Sheet
	errs   []error
	done   chan struct{}
}

// solve works out a share, or a part of it where ctx is done before its end.
func (b *Template) solve(ctx context.Context, it *batch) {
	defer close(it.done)
	for i, rider := range it.riders {
		if ctx.Err() != nil {
			return
		}
		it.sheets[i], it.errs[i] = b.Sheet(rider)
	}
}
