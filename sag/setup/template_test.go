package setup_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// share is how many riders are worked out at a time: tests go below, to and beyond it.
const share = 32

// Whatever the number of workers, every rider gets the sheet that NewSheet
// makes, in the riders' order.
func TestSheetsAreThoseOfNewSheet(t *testing.T) {
	b := template(t)
	j := readJob(t, jobText)
	for _, workers := range []int{-3, 0, 1, 2, 7} {
		for _, n := range []int{0, 1, share - 1, share, share + 1, 500} {
			riders := slices.Collect(massesFrom(n))
			i := 0
			for s, err := range b.Sheets(context.Background(), massesFrom(n), workers) {
				require.NoError(t, err)
				if s.RiderMass != riders[i] {
					t.Fatalf("%d workers: sheet %d is for %v, want %v", workers, i, s.RiderMass, riders[i])
				}
				if i%97 == 0 {
					j.Masses.RiderMass = riders[i]
					if diff := cmp.Diff(text(t, part(sheet(t, j))), text(t, s)); diff != "" {
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
func TestSheetsHaveErrorsInTheirPlaces(t *testing.T) {
	b := template(t)
	riders := []units.Mass{80, -1, units.Mass(math.NaN()), 70, 0, units.Mass(math.Inf(1)), 0.5}
	var got []bool
	for s, err := range b.Sheets(context.Background(), slices.Values(riders), 2) {
		rider := riders[len(got)]
		got = append(got, err == nil)
		if (s == nil) != (err != nil) {
			t.Errorf("sheet %v with error %v", s, err)
		}
		alone, aloneErr := b.Sheet(rider)
		if err != nil {
			refused(t, "many", err, "masses.rider_mass")
			refused(t, "alone", aloneErr, "masses.rider_mass")
		} else if aloneErr != nil || s.RiderMass != rider || alone.RiderMass != rider {
			t.Errorf("%v: %v, %v, %v", rider, s.RiderMass, alone, aloneErr)
		}
	}
	if diff := cmp.Diff([]bool{true, false, false, true, false, false, true}, got); diff != "" {
		t.Error(diff)
	}
}

// endless has riders for as long as anybody wants them. It counts them, and the
// goroutines that there are whenever one is taken.
func endless(asked, goroutines *atomic.Int64) func(yield func(units.Mass) bool) {
	return func(yield func(units.Mass) bool) {
		for yield(75) {
			asked.Add(1)
			goroutines.Store(max(goroutines.Load(), int64(runtime.NumGoroutine())))
		}
	}
}

// Left, the loop ends, has asked for no more riders than are under way, and leaves no
// goroutine behind; as many of them work as were asked for, one at the least, beside
// the one that asks for the riders.
func TestSheetsStopWhereTheLoopEnds(t *testing.T) {
	b := template(t)
	for _, workers := range []int{-1, 0, 1, 2, 3} {
		var asked, goroutines atomic.Int64
		before, seen := runtime.NumGoroutine(), 0
		for range b.Sheets(context.Background(), endless(&asked, &goroutines), workers) {
			if seen++; seen == 200 {
				break
			}
		}
		w := max(1, workers)
		if n := asked.Load(); n > int64(200+share*(2*w+w+2+1)) {
			t.Errorf("%d workers: asked for %d riders to yield 200 sheets", workers, n)
		}
		if most := int(goroutines.Load()) - before; most > w+1 {
			t.Errorf("%d workers: %d goroutines, want at most %d", workers, most, w+1)
		}
		noMoreGoroutines(t, before)
	}
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

// Cancelled, the loop gets the sheets so far, each whole and in its place, then the
// reason and nothing more.
func TestSheetsCancelledAreWhole(t *testing.T) {
	b := template(t)
	for _, at := range []int{1, share, 3*share + 5} {
		ctx, cancel := context.WithCancel(context.Background())
		defer cancel()
		var got []*setup.Sheet
		var ends []error
		for s, err := range b.Sheets(ctx, massesFrom(5000), 3) {
			if err != nil {
				ends = append(ends, err)
				continue
			}
			if ends != nil {
				t.Error("a sheet after the end")
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
			require.NoError(t, err)
			if diff := cmp.Diff(text(t, want), text(t, got[i])); diff != "" {
				t.Fatalf("cancelled at %d, sheet %d (-whole +got):\n%s", at, i, diff)
			}
			i++
		}
	}
}

// Cancelled before its first sheet, a batch yields the one pair that says so.
func TestSheetsCancelledBeforeTheFirst(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	n := 0
	for s, err := range template(t).Sheets(ctx, massesFrom(100), 2) {
		n++
		if s != nil || err != context.Canceled {
			t.Errorf("%v, %v", s, err)
		}
	}
	if n != 1 {
		t.Errorf("%d pairs", n)
	}
}

// A deadline passes while nobody asks for a sheet, too: here in the goroutine that
// asks for the riders.
func TestSheetsEndAtADeadline(t *testing.T) {
	before := runtime.NumGoroutine()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	asked := 0
	waiting := func(yield func(units.Mass) bool) {
		for yield(75) {
			if asked++; asked == 2*share {
				cancel()
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
	j.Stances = []setup.NamedStance{{Name: "seated", RearShare: 0.7}, {Name: "standing", RearShare: 0.5}}
	j.Front.DropHeight = 0.3
	b, err := setup.NewTemplate(j)
	require.NoError(t, err)
	const n = 3 * share
	var list []*setup.Sheet
	for s, err := range b.Sheets(context.Background(), massesFrom(n), 2) {
		require.NoError(t, err)
		list = append(list, s)
	}
	known := make([]string, n)
	wheels := func(s *setup.Sheet) (force [4]units.Force) {
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
		require.NoError(t, err)
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
		require.NoError(t, err)
		if text(t, s) != known[i] {
			t.Fatalf("sheet %d is another the second time", i)
		}
		i++
	}
}

// What is appended to the findings of one spring or fill is not among another's.
func TestFindingsAreSeparate(t *testing.T) {
	s := sheet(t, readJob(t, jobText))
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

// A sheet of many allocates what it says and little more.
func TestSheetsAllocateLittle(t *testing.T) {
	const n, most = 640, 44 // 41, and two more under the race detector
	b := template(t)
	all := testing.AllocsPerRun(3, func() {
		for _, err := range b.Sheets(context.Background(), massesFrom(n), 1) {
			require.NoError(t, err)
		}
	})
	if each := all / n; !(each > 10 && each <= most) {
		t.Errorf("%.1f allocations for each sheet, want at most %d", each, most)
	}
}

// Memory doesn't grow with the number of riders, and nothing is kept at the end.
func TestSheetsKeepMemoryFlat(t *testing.T) {
	b := template(t)
	live := func(n int) uint64 {
		var m runtime.MemStats
		most := uint64(0)
		i := 0
		for _, err := range b.Sheets(context.Background(), massesFrom(n), 2) {
			require.NoError(t, err)
			if i++; i%(n/4) == 0 {
				runtime.GC()
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapAlloc)
			}
		}
		return most
	}
	few := live(500)
	if many := live(5000); many > few+few/2+1<<20 {
		t.Errorf("%d bytes live with 5000 riders, %d with 500", many, few)
	}
	var m runtime.MemStats
	runtime.GC()
	if runtime.ReadMemStats(&m); m.HeapAlloc > few+few/2+1<<20 {
		t.Errorf("%d bytes live when all is done, %d with 500", m.HeapAlloc, few)
	}
}

// A template is checked as a job is, but for its rider.
func TestTemplateRefuses(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*setup.Job)
		want   []string
	}{
		{"nothing", func(*setup.Job) {}, nil},
		{"no rider", func(j *setup.Job) { j.Masses.RiderMass = 0 }, nil},
		{"a rider that can't be", func(j *setup.Job) { j.Masses.RiderMass = -1 }, nil},
		{"several", func(j *setup.Job) { j.Schema, j.Masses.BikeMass, j.Front.Sag, j.Rear.Sag = "", 0, 2, -1 },
			[]string{"front.sag", "masses.bike_mass", "rear.sag", "schema"}},
		{"unsprung masses", func(j *setup.Job) {
			j.Masses.UnsprungFront, j.Masses.UnsprungRear = new(units.Mass(-1)), new(units.Mass(-1))
		}, []string{"masses.unsprung_front", "masses.unsprung_rear"}},
		{"a height alone", func(j *setup.Job) { j.Masses.MassCentreHeight = 1 }, []string{"masses.wheelbase"}},
		{"scales", func(j *setup.Job) { j.Masses.RearShare, j.Masses.FrontScale, j.Masses.RearScale = 0, 40, 55 }, []string{"masses.front_scale"}},
		{"scales beside a share", func(j *setup.Job) { j.Masses.RearScale = 50 }, []string{"masses.front_scale"}},
	} {
		j := readJob(t, jobText)
		test.change(&j)
		b, err := setup.NewTemplate(j)
		refused(t, test.name, err, test.want...)
		if (b == nil) != (err != nil) {
			t.Errorf("%s: %v beside %v", test.name, b, err)
		}
	}
}
