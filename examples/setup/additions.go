package main

import (
	"bytes"
	"encoding"
	"fmt"
	"os"
	"strings"

	"example.com/wheelrate/examples/internal/csvcurve"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// readings are those of gauge and ring from the command line, each FILL,RING or END,FILL,RING.
type readings []string

func (r *readings) String() string { return strings.Join(*r, " ") }

func (r *readings) Set(text string) error {
	*r = append(*r, text)
	return nil
}

// into adds the readings to a job.
func (r readings) into(job setup.Job) (setup.Job, error) {
	for _, text := range r {
		parts := strings.Split(text, ",")
		if len(parts) == 2 {
			end := sag.Front
			if job.Front == nil || job.Front.Gauge == nil {
				end = sag.Rear
			}
			parts = append([]string{string(end)}, parts...)
		}
		if len(parts) != 3 {
			return job, fmt.Errorf("-read %q: want FILL,RING such as %q, or the end before them", text, "86 psi,33 mm")
		}
		var one fit.GaugeReading
		for i, into := range []encoding.TextUnmarshaler{&one.Fill, &one.Stroke} {
			if err := into.UnmarshalText([]byte(strings.TrimSpace(parts[i+1]))); err != nil {
				return job, fmt.Errorf("-read %q: %w", text, err)
			}
		}
		var err error
		if job, err = job.WithReading(sag.Axle(strings.TrimSpace(parts[0])), one); err != nil {
			return job, err
		}
	}
	return job, nil
}

// curve gives an end of a job the table of a file as its curve; an empty path changes nothing.
func curve(end *setup.EndJob, axle sag.Axle, path string) error {
	if path == "" {
		return nil
	}
	if end == nil {
		return &units.FieldError{Field: "-" + string(axle) + "-curve", Value: path, Want: units.Want{Text: "a job with a " + string(axle)}, Class: units.ErrConflict}
	}
	f, err := os.Open(path)
	if err != nil {
		return program.Where(path, err)
	}
	defer f.Close()
	var old linkage.Table
	if end.Curve.Table != nil {
		old = *end.Curve.Table
	}
	table, err := csvcurve.Read(f, old.Method)
	table.Degree = old.Degree
	end.Curve = linkage.Spec{Table: &table}
	return units.At(string(axle)+".curve.table", err)
}

// keep writes a job to a new file.
func keep(job setup.Job, path string) error {
	var text bytes.Buffer
	if err := program.Encode(&text, job); err != nil {
		return err
	}
	return program.WriteNew(path, text.Bytes())
}
