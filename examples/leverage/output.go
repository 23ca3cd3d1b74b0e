package main

import (
	"encoding"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strconv"

	"example.com/wheelrate/examples/internal/program"
)

// column is one of the CSV's: its head with the unit, and its value.
type column struct {
	head  string
	value func(row) float64
}

// columns are those that every one of the report's rows has.
func columns(r row) []column {
	list := []column{
		{"stroke (mm)", func(r row) float64 { return r.Stroke.Millimetres() }},
		{"travel (mm)", func(r row) float64 { return r.Travel.Millimetres() }},
		{"lever ratio", func(r row) float64 { return r.LeverRatio }},
		{"lever ratio slope (1/m)", func(r row) float64 { return r.LeverRatioSlope.PerMetre() }},
	}
	if r.Axle != nil {
		list = append(list,
			column{"axle x (mm)", func(r row) float64 { return r.Axle.X.Millimetres() }},
			column{"axle y (mm)", func(r row) float64 { return r.Axle.Y.Millimetres() }},
			column{"axle growth (mm)", func(r row) float64 { return r.Axle.Growth.Millimetres() }},
			column{"axle backward (mm)", func(r row) float64 { return r.Axle.Backward.Millimetres() }},
			column{"path length (mm)", func(r row) float64 { return r.Axle.Path.Millimetres() }},
			column{"instant centre x (mm)", func(r row) float64 { return r.Axle.CentreX.Millimetres() }},
			column{"instant centre y (mm)", func(r row) float64 { return r.Axle.CentreY.Millimetres() }})
	}
	if r.Spring != nil {
		list = append(list,
			column{"spring force (N)", func(r row) float64 { return r.Spring.Spring.Newtons() }},
			column{"wheel force (N)", func(r row) float64 { return r.Spring.Wheel.Newtons() }},
			column{"wheel rate (N/mm)", func(r row) float64 { return r.Spring.WheelRate.NewtonsPerMillimetre() }})
	}
	if r.Drive != nil {
		list = append(list,
			column{"anti-squat (%)", func(r row) float64 { return 100 * r.Drive.AntiSquat }},
			column{"anti-rise (%)", func(r row) float64 { return 100 * r.Drive.AntiRise }},
			column{"chain growth (mm)", func(r row) float64 { return r.Drive.ChainGrowth.Millimetres() }},
			column{"kickback wheel held (deg)", func(r row) float64 { return r.Drive.KickbackWheelFixed.Degrees() }},
			column{"kickback wheel rolling (deg)", func(r row) float64 { return r.Drive.KickbackWheelRolling.Degrees() }})
	}
	return list
}

// csvRows are the heads and the cells of poses, with all digits.
func csvRows(poses []row) (heads []string, rows [][]string) {
	list := columns(poses[0])
	for _, c := range list {
		heads = append(heads, c.head)
	}
	for _, pose := range poses {
		cells := make([]string, len(list))
		for i, c := range list {
			cells[i] = digits(c.value(pose))
		}
		rows = append(rows, cells)
	}
	return heads, rows
}

// digits prints a number with all digits.
func digits(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// printCSV writes a result's table.
func printCSV(w io.Writer, r *result) error {
	out, heads := csv.NewWriter(w), []string{}
	for _, head := range r.heads { // names of points among them
		heads = append(heads, program.Line(head))
	}
	return errors.Join(out.Write(heads), out.WriteAll(r.rows)) // WriteAll flushes
}

// inOneUnit returns a report with each quantity in the unit that its field is shown in, to 15 digits.
// To the last bit some values could only be written in the unit of the SI, metres among millimetres.
func inOneUnit(report any) any {
	v := reflect.New(reflect.TypeOf(report))
	v.Elem().Set(reflect.ValueOf(report))
	round(v.Elem())
	return v.Interface()
}

// round rounds the quantities that a value holds.
func round(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			round(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			round(v.Field(i))
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			round(v.Index(i))
		}
	case reflect.Float64:
		if !v.CanSet() {
			return
		}
		if q, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
			_ = q.UnmarshalText([]byte(fmt.Sprint(v.Interface()))) // its own text: no error
		}
	}
}
