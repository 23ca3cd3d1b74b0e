package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"example.com/wheelrate/examples/internal/csvcurve"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// read reads the input of a path, with what the flags change in it, and builds it: the demonstration
// where the path is empty.
func (o *options) read(path string, stdin io.Reader) (*bench, error) {
	var data []byte
	var err error
	name := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	switch path {
	case "":
		name = o.demo
		data, err = demoFile(o.demo)
	case "-":
		name = "standard input"
		data, err = io.ReadAll(io.LimitReader(stdin, limit+1))
	default:
		data, err = readFile(path)
	}
	if err != nil {
		return nil, err
	}
	in, join, err := parse(data)
	if err != nil {
		return nil, err
	}
	c := units.Checker{}
	c.Add("", in.change(o))
	b, err := in.build()
	b.name = name
	if c.OK() {
		c.Add("", err)
	}
	return b, join(c.Err())
}

func readFile(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, program.Where(path, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %v", path, err)
	}
	return data, nil
}

// parse reads JSON or CSV, whichever it is. Where only a part of it could be read, join adds what is
// wrong with that part to the faults of the text.
func parse(data []byte) (in *input, join func(error) error, err error) {
	text := bytes.TrimLeft(data, "\ufeff \t\r\n")
	if len(text) > 0 && text[0] != '{' && text[0] != '[' {
		if len(data) > limit {
			return nil, nil, &units.FieldError{Want: units.AtMost(limit).Count("bytes"), Class: units.ErrRange}
		}
		table, err := csvcurve.Read(bytes.NewReader(data), "")
		if err != nil {
			return nil, nil, err
		}
		return &input{Schema: schema, Spec: linkage.Spec{Table: &table}}, func(err error) error { return err }, nil
	}
	if data, err = strictjson.ReadAll("leverage", bytes.NewReader(data), limit); err != nil {
		return nil, nil, err
	}
	in = &input{}
	read, err := strictjson.Salvage("leverage", data, strictjson.Rules{}, in)
	if err != nil {
		return nil, nil, err
	}
	return in, read.Join, nil
}
