package sag

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// What would take a job minutes is refused by its field.
func TestJobsAreBounded(t *testing.T) {
	fields := func(j Job) (list []string) {
		_, err := NewSheet(j)
		for _, f := range units.Fields(err) {
			list = append(list, f.Field)
		}
		return list
	}
	j := readJob(t, jobText)
	for len(j.Rear.Coil.Shelf) <= mostSprings {
		j.Rear.Coil.Shelf = append(j.Rear.Coil.Shelf, j.Rear.Coil.Shelf...)
	}
	if diff := cmp.Diff([]string{"rear.coil.shelf"}, fields(j)); diff != "" {
		t.Error(diff)
	}
	j.Rear.Coil.Shelf = j.Rear.Coil.Shelf[:mostSprings]
	if got := fields(j); got != nil {
		t.Errorf("%d springs: %v", mostSprings, got)
	}

	j = readJob(t, jobText)
	table := linkage.Table{Method: linkage.Smooth}
	for i := range mostReadings + 2 {
		s := 65 * units.Millimetre * units.Length(i) / units.Length(mostReadings+1)
		table.Stroke, table.Travel = append(table.Stroke, s), append(table.Travel, 2.7*s)
	}
	j.Rear.Curve = linkage.Spec{Table: &table}
	j.Uncertainty = &Uncertainty{Rear: EndUncertainty{TableTravel: 0.1 * units.Millimetre}}
	if diff := cmp.Diff([]string{"uncertainty.rear.table_travel"}, fields(j)); diff != "" {
		t.Error(diff)
	}
	j.Uncertainty.Rear = EndUncertainty{SpringRate: 0.01}
	if got := fields(j); got != nil {
		t.Errorf("a long table: %v", got)
	}
}

// A load next to nothing would be lifted without end.
func TestReserveOfNoLoad(t *testing.T) {
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre})
	if err != nil {
		t.Fatal(err)
	}
	_, err = NewReserve(rearOf150(t), coil, 1e-310)
	if f := units.Fields(err); len(f) != 1 || f[0].Field != "load" {
		t.Errorf("%v", err)
	}
	r, err := NewReserve(rearOf150(t), coil, leastLoad)
	if err != nil || math.IsInf(float64(r.DropHeight), 0) {
		t.Errorf("%+v, %v", r, err)
	}
}
