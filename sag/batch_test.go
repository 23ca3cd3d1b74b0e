package sag

import (
	"context"
	"encoding/json"
	"errors"
	"iter"
	"math"
	"reflect"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

func template(t testing.TB) *Template {
	t.Helper()
	b, err := NewTemplate(readJob(t, jobText))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// text is a sheet as it is written.
func text(t testing.TB, s *Sheet) string {
	t.Helper()
	out, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// massesFrom yields n masses from 40 kg on, in even steps up to 120 kg.
func massesFrom(n int) iter.Seq[units.Mass] {
	return func(yield func(units.Mass) bool) {
		for i := range n {
			if !yield(40 + 80*units.Mass(i)/units.Mass(n)) {
				return
			}
		}
	}
}

// Whatever the number of workers, every rider gets the sheet that NewSheet
// makes, in the riders' order.
func TestSheetsAreNewSheets(t *testing.T) {
	b := template(t)
	j := readJob(t, jobText)
	for _, workers := range []int{0, 1, 2, 7} {
		for _, n := range []int{0, 1, share - 1, share, share + 1, 500} {
			riders := slices.Collect(massesFrom(n))
			i := 0
			for s, err := range b.Sheets(context.Background(), massesFrom(n), workers) {
				if err != nil {
					t.Fatal(err)
				}
				if s.RiderMass != riders[i] {
					t.Fatalf("%d workers: sheet %d is for %v, want %v", workers, i, s.RiderMass, riders[i])
				}
				if i%97 == 0 {
					j.Masses.RiderMass = riders[i]
					want, err := NewSheet(j)
					if err != nil {
						t.Fatal(err)
					}
					if diff := cmp.Diff(text(t, want), text(t, s)); diff != "" {
						t.Fatalf("rider %v (-NewSheet +Sheets):\n%s", riders[i], diff)
					}
				}
				i++
			}
			if i != n {
				t.Errorf("%d workers: %d sheets for %d riders", workers, i, n)
			}
		}
	}
}

// A rider that can't be is an error in its place; the others get their sheets.
func TestSheetsTellBadRiders(t *testing.T) {
	riders := []units.Mass{80, -1, units.Mass(math.NaN()), 70}
	var got []bool
	for s, err := range template(t).Sheets(context.Background(), slices.Values(riders), 2) {
		got = append(got, err == nil)
		if (s == nil) != (err != nil) {
			t.Errorf("sheet %v with error %v", s, err)
		}
		if err != nil && (len(units.Fields(err)) != 1 || units.Fields(err)[0].Field != "masses.rider_mass") {
			t.Errorf("names %v", err)
		}
	}
	if diff := cmp.Diff([]bool{true, false, false, true}, got); diff != "" {
		t.Error(diff)
	}
}

// Cancelled or left, the loop ends, asks for no more riders than are under
// way, and leaves no goroutine behind.
func TestSheetsStop(t *testing.T) {
	b := template(t)
	before := runtime.NumGoroutine()
	var asked atomic.Int64
	endless := func(yield func(units.Mass) bool) {
		for yield(75) {
			asked.Add(1)
		}
	}
	seen := 0
	for range b.Sheets(context.Background(), endless, 2) {
		if seen++; seen == 200 {
			break
		}
	}
	if n := asked.Load(); n > 200+share*(2*2+2+2+1) {
		t.Errorf("asked for %d riders to yield 200 sheets", n)
	}

	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	seen = 0
	var last error
	for s, err := range b.Sheets(ctx, endless, 2) {
		if seen++; seen == 100 {
			cancel()
		}
		if s == nil {
			last = err
		} else if last != nil {
			t.Error("a sheet after the end")
		}
	}
	if !errors.Is(last, context.Canceled) {
		t.Errorf("ended with %v", last)
	}
	if seen > 102 {
		t.Errorf("%d pairs after cancelling at 100", seen)
	}
	cancelled, cancel2 := context.WithCancel(context.Background())
	defer cancel2()
	cancel2()
	for s, err := range b.Sheets(cancelled, endless, 2) {
		if s != nil || !errors.Is(err, context.Canceled) {
			t.Errorf("%v, %v", s, err)
		}
	}
	noMoreGoroutines(t, before)
}

// noMoreGoroutines waits a little: one that has said that it is done may still
// be counted.
func noMoreGoroutines(t *testing.T, before int) {
	t.Helper()
	for range 1000 {
		if runtime.NumGoroutine() <= before {
			return
		}
		time.Sleep(time.Millisecond)
	}
	t.Errorf("%d goroutines, %d before", runtime.NumGoroutine(), before)
}

// Cancelled, the loop gets the sheets so far, each whole and in its place, then
// the reason and nothing more.
func TestSheetsCancelledAreWhole(t *testing.T) {
	b := template(t)
	for _, at := range []int{1, share, 3*share + 5} {
		ctx, cancel := context.WithCancel(context.Background())
		defer cancel()
		var got []*Sheet
		var ends []error
		for s, err := range b.Sheets(ctx, massesFrom(5000), 3) {
			if err != nil {
				ends = append(ends, err)
				continue
			}
			if got = append(got, s); len(got) == at {
				cancel()
			}
		}
		if len(ends) != 1 || !errors.Is(ends[0], context.Canceled) || len(got) != at {
			t.Fatalf("cancelled at %d: %d sheets, ended with %v", at, len(got), ends)
		}
		i := 0
		for mass := range massesFrom(5000) {
			if i == at {
				break
			}
			want, err := b.Sheet(mass)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(text(t, want), text(t, got[i])); diff != "" {
				t.Fatalf("cancelled at %d, sheet %d (-whole +got):\n%s", at, i, diff)
			}
			i++
		}
	}
}

// A deadline passes while nobody asks for a sheet, too.
func TestSheetsEndAtDeadline(t *testing.T) {
	before := runtime.NumGoroutine()
	ctx, cancel := context.WithCancel(context.Background())
	asked := 0
	waiting := func(yield func(units.Mass) bool) {
		for yield(75) {
			if asked++; asked == 2*share {
				cancel() // from another goroutine than the loop's
			}
		}
	}
	var last error
	for s, err := range template(t).Sheets(ctx, waiting, 2) {
		if (s == nil) == (err == nil) {
			t.Fatalf("sheet %v with error %v", s, err)
		}
		last = err
	}
	if !errors.Is(last, context.Canceled) {
		t.Errorf("ended with %v", last)
	}
	// The loop has ended, and with it everyone who could still ask.
	if n := asked; n > share*20 {
		t.Errorf("asked for %d riders, cancelled after %d", n, 2*share)
	}
	noMoreGoroutines(t, before)
}

// spoil sets everything that a value leads to and that a caller could set to 0.
func spoil(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			spoil(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			spoil(v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Cap() {
			spoil(v.Slice(0, v.Cap()).Index(i))
		}
	default:
		if v.CanSet() {
			v.SetZero()
		}
	}
}

// Whatever is done to one sheet, another one, the template and the next sheet
// are what they were.
func TestSheetsShareNothing(t *testing.T) {
	j := readJob(t, jobText)
	j.Masses.Wheelbase, j.Masses.MassCentreHeight = 1.25, 1.1 // so that nothing is left out
	j.Stances = []NamedStance{{"seated", 0.7}, {"standing", 0.5}}
	j.Front.DropHeight = 0.3
	b, err := NewTemplate(j)
	if err != nil {
		t.Fatal(err)
	}
	const n = 3 * share
	var list []*Sheet
	for s, err := range b.Sheets(context.Background(), massesFrom(n), 2) {
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, s)
	}
	known := make([]string, n)
	wheels := func(s *Sheet) (force [4]units.Force) {
		front, fastFront := s.Front.Wheel()
		rear, fastRear := s.Rear.Wheel()
		for i, w := range []*linkage.WheelLaw{front, fastFront, rear, fastRear} {
			force[i] = w.Force(0.05)
		}
		return force
	}
	force := make([][4]units.Force, n)
	for i, rider := range slices.Collect(massesFrom(n)) {
		alone, err := b.Sheet(rider)
		if err != nil {
			t.Fatal(err)
		}
		known[i], force[i] = text(t, alone), wheels(alone)
	}
	for i := 0; i < n; i += 2 {
		spoil(reflect.ValueOf(list[i]))
		if text(t, list[i]) == known[i] {
			t.Fatalf("sheet %d is not spoilt", i)
		}
	}
	for i := 1; i < n; i += 2 {
		if diff := cmp.Diff(known[i], text(t, list[i])); diff != "" {
			t.Fatalf("sheet %d changed with its neighbours (-before +after):\n%s", i, diff)
		}
		if got := wheels(list[i]); got != force[i] {
			t.Errorf("sheet %d: forces %v, %v for the rider alone", i, got, force[i])
		}
	}
	i := 0
	for s, err := range b.Sheets(context.Background(), massesFrom(n), 1) {
		if err != nil {
			t.Fatal(err)
		}
		if text(t, s) != known[i] {
			t.Fatalf("sheet %d is another the second time", i)
		}
		i++
	}
}

// Memory that is used again leaves no trace of what was tried in it before: each
// end comes out as it does in new memory, whatever came first.
func TestScratchLeavesNoTrace(t *testing.T) {
	j := readJob(t, jobText)
	bare, known, one, spread := j.Rear, j.Rear, j.Rear, j.Front
	bare.Coil = &CoilChoice{Shelf: []ShelfSpring{{Rate: 70e3}, {Rate: 80e3}, {Rate: 90e3}}, PreloadMax: 0.003}
	known.Coil = &CoilChoice{Shelf: []ShelfSpring{{85e3, 0.08}, {95e3, 0.06}, {60e3, 0.075}, {75e3, 0.09}}, PreloadMax: 0.005, ThreadPitch: 0.0015}
	one.Coil = &CoilChoice{Shelf: []ShelfSpring{{Rate: 300e3}}}
	air := *j.Front.Air
	air.MaxSpacers, air.FullTravelRatio = 0, 0
	spread.Air = &air
	var ends []prepared
	for _, e := range []EndJob{bare, known, one, spread, j.Front, j.Rear} {
		var c units.Checker
		p := e.prepare(&c, "end", j.Ambient)
		if !c.OK() {
			t.Fatal(c.Err())
		}
		ends = append(ends, p)
	}
	var m scratch
	for _, load := range []units.Force{200, 550, 5000} { // from hardly sagging to full travel
		for i := range ends {
			for k := range ends {
				for _, p := range []*prepared{&ends[i], &ends[k]} {
					want, wantErr := p.solve(load+50, load)
					var got EndSheet
					gotErr := p.solveIn(&m, &got, load+50, load)
					if (wantErr == nil) != (gotErr == nil) {
						t.Fatalf("end %d after %d: %v, want %v", k, i, gotErr, wantErr)
					}
					if wantErr != nil {
						continue
					}
					a, err := json.Marshal(want)
					if err != nil {
						t.Fatal(err)
					}
					b, err := json.Marshal(got)
					if err != nil {
						t.Fatal(err)
					}
					if diff := cmp.Diff(string(a), string(b)); diff != "" {
						t.Fatalf("end %d after %d, %v (-new memory +used):\n%s", k, i, load, diff)
					}
				}
			}
		}
	}
}

// What is added to the findings of one spring or fill is not among another's.
func TestFindingsAreSeparate(t *testing.T) {
	s, err := template(t).Sheet(75)
	if err != nil {
		t.Fatal(err)
	}
	before := text(t, s)
	for i := range s.Rear.Coil.Candidates {
		_ = append(s.Rear.Coil.Candidates[i].Findings, "a", "b", "c", "d")
	}
	for i := range s.Front.Air.Options {
		_ = append(s.Front.Air.Options[i].Findings, "a", "b", "c", "d")
	}
	if diff := cmp.Diff(before, text(t, s)); diff != "" {
		t.Error(diff)
	}
}

// A sheet of a batch allocates what it tells and little more: about 30 times
// for this job. Twice as often would show.
func TestSheetsAllocateLittle(t *testing.T) {
	const n, most = 640, 45
	b := template(t)
	all := testing.AllocsPerRun(3, func() {
		for _, err := range b.Sheets(context.Background(), massesFrom(n), 1) {
			if err != nil {
				t.Fatal(err)
			}
		}
	})
	if each := all / n; !(each > 10 && each <= most) {
		t.Errorf("%.1f allocations for each sheet, want at most %d", each, most)
	}
}

func TestNewTemplateRefuses(t *testing.T) {
	j := readJob(t, jobText)
	j.Schema, j.Masses.BikeMass, j.Front.Sag, j.Rear.Sag = "", 0, 2, -1
	_, err := NewTemplate(j)
	var fields []string
	for _, f := range units.Fields(err) {
		fields = append(fields, f.Field)
	}
	slices.Sort(fields)
	if diff := cmp.Diff([]string{"front.sag", "masses.bike_mass", "rear.sag", "schema"}, fields); diff != "" {
		t.Error(diff)
	}
	j = readJob(t, jobText)
	j.Masses.RearShare, j.Masses.FrontScale, j.Masses.RearScale = 0, 40, 55
	if _, err := NewTemplate(j); err == nil {
		t.Error("scales are accepted")
	}
	j = readJob(t, jobText)
	j.Masses.RiderMass = 0
	if _, err := NewTemplate(j); err != nil {
		t.Errorf("without a rider: %v", err)
	}
}

// Memory doesn't grow with the number of riders: what is live among many is
// what is live among few and the block, and nothing is kept at the end.
func TestSheetsKeepMemoryFlat(t *testing.T) {
	b := template(t)
	live := func(n int) uint64 {
		var m runtime.MemStats
		most := uint64(0)
		i := 0
		for _, err := range b.Sheets(context.Background(), massesFrom(n), 2) {
			if err != nil {
				t.Fatal(err)
			}
			if i++; i%(n/4) == 0 {
				runtime.GC()
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapAlloc)
			}
		}
		return most
	}
	few := live(1000)
	if many := live(10000); many < blockSize || many > few+few/2+1<<20+blockSize {
		t.Errorf("%d bytes live with 10 000 riders, %d with 1000", many, few)
	}
	var m runtime.MemStats
	runtime.GC()
	if runtime.ReadMemStats(&m); m.HeapAlloc > few+few/2+1<<20 {
		t.Errorf("%d bytes live when all is done, %d with 1000", m.HeapAlloc, few)
	}
}

// Budget: linear in the riders, at least 1.8 times as fast with 2 workers. The
// collector shares the processors with both, and what it takes grows with what a
// sheet allocates.
func BenchmarkSheets(b *testing.B) {
	for _, workers := range []int{1, 2} {
		b.Run(map[int]string{1: "1 worker", 2: "2 workers"}[workers], func(b *testing.B) {
			it := template(b)
			b.ReportAllocs()
			for range it.Sheets(context.Background(), massesFrom(b.N), workers) {
			}
		})
	}
}
