package setup_test

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Every rider gets the sheet that NewSheet makes, and one that can't be an error.
func TestSheetsAreThoseOfNewSheet(t *testing.T) {
	b := template(t)
	j := readJob(t, jobText)
	for rider := range massesFrom(12) {
		s, err := b.Sheet(rider)
		require.NoError(t, err)
		j.Masses.RiderMass = rider
		if diff := cmp.Diff(text(t, part(sheet(t, j))), text(t, s)); diff != "" || s.RiderMass != rider {
			t.Fatalf("rider %v (-NewSheet +Sheet):\n%s", rider, diff)
		}
	}
	for _, rider := range []units.Mass{-1, units.Mass(math.NaN()), 0, units.Mass(math.Inf(1))} {
		s, err := b.Sheet(rider)
		if refused(t, "a rider that can't be", err, "masses.rider_mass"); s != nil {
			t.Errorf("%v: %v beside the error", rider, s)
		}
	}
}

// sheets returns those of n riders, worked out by several goroutines at the same time.
func sheets(t *testing.T, b *setup.Template, n int) []*setup.Sheet {
	t.Helper()
	list, errs := make([]*setup.Sheet, n), make([]error, n)
	var running sync.WaitGroup
	for i, rider := range slices.Collect(massesFrom(n)) {
		running.Go(func() { list[i], errs[i] = b.Sheet(rider) })
	}
	running.Wait()
	require.NoError(t, errors.Join(errs...))
	return list
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
	const n = 96
	list := sheets(t, b, n)
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
	for i, s := range sheets(t, b, n) {
		if text(t, s) != known[i] {
			t.Fatalf("sheet %d is another the second time", i)
		}
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

// A sheet allocates what it says and little more.
func TestSheetsAllocateLittle(t *testing.T) {
	const most = 43 // 40, and some more under the race detector
	b := template(t)
	each := testing.AllocsPerRun(200, func() {
		if _, err := b.Sheet(80); err != nil {
			t.Fatal(err)
		}
	})
	if !(each > 10 && each <= most) {
		t.Errorf("%.1f allocations for each sheet, want at most %d", each, most)
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
