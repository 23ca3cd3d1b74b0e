package sag

import (
	"context"
	"encoding/json"
	"errors"
	"iter"
	"math"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"

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
		for _, n := range []int{0, 1, 63, 64, 65, 500} {
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
	if after := runtime.NumGoroutine(); after > before {
		t.Errorf("%d goroutines, %d before", after, before)
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

// Memory doesn't grow with the number of riders: what is live after many is
// what is live after few.
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
	if many := live(10000); many > few+few/2+1<<20 {
		t.Errorf("%d bytes live with 10 000 riders, %d with 1000", many, few)
	}
}

// Budget: linear in the riders, at least 1.8 times as fast with 2 workers. With
// a heap as small as here the collector runs all the time on the processor that
// one worker leaves idle; GOGC=400 shows the workers' own share.
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
