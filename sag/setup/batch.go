package setup

import (
	"context"
	"iter"
	"sync"

	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Template is a job without its rider, checked and prepared once, for working out
// sheets of many riders. It never changes, so that any number of goroutines
// may share one.
type Template struct {
	job         Job
	front, rear *fit.Options
	cautions    []fit.Caution
}

// Check records everything that is wrong with a job, but for a rider whose weight
// no spring at hand can be worked out for.
func (j Job) Check(c *units.Checker) {
	masses := c.Child("masses")
	j.Masses.Check(&masses)
	newTemplate(c, j)
}

// newTemplate checks and prepares everything of a job but its masses.
func newTemplate(c *units.Checker, job Job) *Template {
	if job.Schema != JobSchema {
		c.Fail("schema", job.Schema, `"`+JobSchema+`"`, units.ErrUnknown)
	}
	checkStances(c, job.Stances)
	b := &Template{job: job}
	b.front = job.Front.options(c, "front", job.Ambient)
	b.rear = job.Rear.options(c, "rear", job.Ambient)
	air, coil := job.Front.Air != nil || job.Rear.Air != nil, job.Front.Coil != nil || job.Rear.Coil != nil
	b.cautions = fit.Cautions(air, coil)
	if job.Uncertainty != nil {
		own := c.Child("uncertainty")
		job.Uncertainty.Check(&own, certainty.Setup{Masses: job.Masses, Front: subject(job.Front.Spec, b.front), Rear: subject(job.Rear.Spec, b.rear)})
	}
	return b
}

// subject is an end of which uncertainties are told before anything is chosen.
func subject(spec fit.Spec, options *fit.Options) certainty.EndSetup {
	if options == nil {
		return certainty.EndSetup{Spec: spec}
	}
	return certainty.EndSetup{Spec: options.Spec(), Curve: options.Curve()}
}

// options checks one end and prepares it; it is nil where something is wrong.
func (e *EndJob) options(c *units.Checker, path string, ambient units.AbsolutePressure) *fit.Options {
	options, err := fit.New(e.Spec, ambient)
	c.Add(path, err)
	own := c.Child(path)
	e.checkDamping(&own)
	return options
}

// NewTemplate checks and prepares everything of a job but the rider. The rider's
// mass in it is passed over; scales under the wheels are refused, since they
// weigh one rider. A job with bad fields gives one error that names them all,
// as [NewSheet] does. What the job points to, such as its shelf, is read again
// for every rider and must not be changed while the template is in use.
func NewTemplate(job Job) (*Template, error) {
	c := units.Checker{Package: "sag"}
	masses := c.Child("masses")
	job.Masses.CheckBike(&masses)
	b := newTemplate(&c, job)
	if err := c.Err(); err != nil {
		return nil, err
	}
	return b, nil
}

// Sheet works the job out for a rider, dressed and packed to ride, as
// [NewSheet] does. The mass must be finite and more than 0, and leave every
// spring something to carry.
func (b *Template) Sheet(rider units.Mass) (*Sheet, error) {
	masses := b.job.Masses
	masses.RiderMass = rider
	loads, err := masses.Loads()
	if err != nil {
		return nil, units.At("masses", err)
	}
	return b.answer(masses, loads)
}

// share is how many riders a worker takes at a time: enough that handing them
// out costs nothing to speak of.
const share = 32

// batch is a share of the riders and what came out for them.
type batch struct {
	riders []units.Mass
	sheets []*Sheet
	errs   []error
	done   chan struct{}
}

// Sheets yields the sheet of every rider, or the error of one, in the riders'
// order, worked out by as many goroutines at a time as workers says, one at the
// least; runtime.GOMAXPROCS(0) of them use every processor. However many riders
// there are, only a few hundred sheets are kept at a time: memory stays flat, and
// no more riders are asked for than can be worked out. The riders are asked for in a goroutine of its own.
//
// When ctx is done the last pair yielded is a nil sheet with ctx.Err(). All
// goroutines have ended when the loop over the sheets ends, however it does.
func (b *Template) Sheets(ctx context.Context, riders iter.Seq[units.Mass], workers int) iter.Seq2[*Sheet, error] {
	return func(yield func(*Sheet, error) bool) {
		workers = max(1, workers)
		inner, stop := context.WithCancel(ctx)
		var running sync.WaitGroup
		defer running.Wait()
		defer stop()

		work := make(chan *batch)             // to whichever worker is free
		order := make(chan *batch, 2*workers) // to the loop below, in order
		running.Go(func() { hand(inner, riders, work, order) })
		for range workers {
			running.Go(func() {
				for it := range work {
					b.solve(inner, it)
				}
			})
		}
		for it := range order {
			select {
			case <-it.done:
			case <-inner.Done(): // its worker may never have got it
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

// hand gives out the riders, a share at a time, until there are no more.
func hand(ctx context.Context, riders iter.Seq[units.Mass], work, order chan<- *batch) {
	defer close(order)
	defer close(work)
	give := func(list []units.Mass) bool {
		it := &batch{riders: list, sheets: make([]*Sheet, len(list)), errs: make([]error, len(list)), done: make(chan struct{})}
		for _, to := range []chan<- *batch{order, work} {
			select {
			case to <- it:
			case <-ctx.Done():
				return false
			}
		}
		return true
	}
	list := make([]units.Mass, 0, share)
	for rider := range riders {
		if list = append(list, rider); len(list) < share {
			continue
		}
		if !give(list) {
			return
		}
		list = make([]units.Mass, 0, share)
	}
	if len(list) > 0 {
		give(list)
	}
}

// solve works out a share, or what is left of it when ctx is done.
func (b *Template) solve(ctx context.Context, it *batch) {
	defer close(it.done)
	for i, rider := range it.riders {
		if ctx.Err() != nil {
			return
		}
		it.sheets[i], it.errs[i] = b.Sheet(rider)
	}
}
