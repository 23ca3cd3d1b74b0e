package sag

import (
	"context"
	"iter"
	"sync"

	"example.com/wheelrate/units"
)

// Template is a job without its rider, checked and prepared once, for working out
// sheets of many riders. It never changes, so that any number of goroutines
// may share one.
type Template struct {
	job         Job
	front, rear prepared
	cautions    []Caution
}

// prepare checks and prepares both ends.
func (b *Template) prepare(c *units.Checker) {
	b.front = b.job.Front.prepare(c, "front", b.job.Ambient)
	b.rear = b.job.Rear.prepare(c, "rear", b.job.Ambient)
	b.cautions = cautionsFor(b.job.Front, b.job.Rear)
}

// NewTemplate checks and prepares everything of a job but the rider. The rider's
// mass in it is passed over; scales under the wheels are refused, since they
// weigh one rider. A job with bad fields gives one error that names them all,
// as [NewSheet] does. What the job points to, such as its shelf, is read again
// for every rider and must not be changed while the template is in use.
func NewTemplate(job Job) (*Template, error) {
	c := units.Checker{Package: "sag"}
	if job.Schema != JobSchema {
		c.Fail("schema", job.Schema, `"`+JobSchema+`"`, units.ErrUnknown)
	}
	var masses units.Checker
	masses.Package = "sag"
	if job.Masses.scaled() {
		masses.Fail("front_scale", job.Masses.FrontScale, "a share or a mass centre instead: scales weigh one rider", units.ErrConflict)
	} else {
		job.Masses.rearShare(&masses)
	}
	job.Masses.checkMasses(&masses)
	job.Masses.checkGeometry(&masses)
	c.Add("masses", masses.Err())
	checkStances(&c, job.Stances)
	b := &Template{job: job}
	b.prepare(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	return b, nil
}

// Sheet works the job out for a rider, dressed and packed to ride, as
// [NewSheet] does. The mass must be finite and more than 0, and leave every
// spring something to carry.
func (b *Template) Sheet(rider units.Mass) (*Sheet, error) {
	return b.sheet(new(scratch), rider)
}

func (b *Template) sheet(m *scratch, rider units.Mass) (*Sheet, error) {
	masses := b.job.Masses
	masses.RiderMass = rider
	loads, err := NewLoads(masses)
	if err != nil {
		return nil, units.At("masses", err)
	}
	return b.answer(m, masses, loads)
}

// share is how many riders a worker takes at a time: enough that handing them
// out costs nothing to speak of.
const share = 32

// A batch of many riders holds a block of memory that nobody touches. The
// collector runs whenever what is in use has doubled, and the sheets under way
// are so few that this would be after every few hundred; it takes a processor
// from the workers each time. With the block it counts from more.
const (
	manyRiders = 2000
	blockSize  = 8 << 20
)

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
// there are, only a few hundred sheets are kept at a time, and for many riders
// 8 MiB besides: memory stays flat, and no more riders are asked for than can
// be worked out. The riders are asked for in a goroutine of its own.
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
		block := new([]byte)
		defer func() { *block = nil }()
		running.Go(func() { b.hand(inner, riders, work, order, block) })
		for range workers {
			running.Go(func() {
				var m scratch
				for it := range work {
					b.solve(inner, &m, it)
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

// hand gives out the riders, a share at a time, until there are no more. It
// fills block where they are many.
func (b *Template) hand(ctx context.Context, riders iter.Seq[units.Mass], work, order chan<- *batch, block *[]byte) {
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
	list, given := make([]units.Mass, 0, share), 0
	for rider := range riders {
		if given++; given == manyRiders {
			*block = make([]byte, blockSize)
		}
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
func (b *Template) solve(ctx context.Context, m *scratch, it *batch) {
	defer close(it.done)
	for i, rider := range it.riders {
		if ctx.Err() != nil {
			return
		}
		it.sheets[i], it.errs[i] = b.sheet(m, rider)
	}
}
