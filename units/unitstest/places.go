package unitstest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
)

// edit is a change of a text: the bytes from from to to are replaced by with.
type edit struct {
	name     string
	from, to int
	with     string
	bad      bool
}

// place is a value in a compact JSON text.
type place struct {
	path     string
	from, to int
	isObject bool
	members  []member // of an object or a list
}

// member is a field of an object with its name, or an element of a list.
type member struct {
	name             string
	from, nameTo, to int
}

// without returns the range of bytes to remove so that member i is left out.
func (p place) without(i int) (from, to int) {
	switch {
	case i > 0:
		return p.members[i-1].to, p.members[i].to
	case len(p.members) > 1:
		return p.members[0].from, p.members[1].from
	}
	return p.members[0].from, p.members[0].to
}

// compact returns a JSON text without white space. It panics if the text is not JSON.
func compact(text []byte) string {
	var b bytes.Buffer
	if err := json.Compact(&b, text); err != nil {
		panic("unitstest: not JSON: " + err.Error())
	}
	return b.String()
}

// places returns the value of a compact text and all values in it, the outer ones first.
func places(text string) (list []place) {
	d := json.NewDecoder(strings.NewReader(text))
	next := func() (token json.Token, from, to int) {
		from = int(d.InputOffset())
		if text[from] == ',' || text[from] == ':' {
			from++
		}
		token, err := d.Token()
		if err != nil {
			panic(err) // the text was compacted
		}
		return token, from, int(d.InputOffset())
	}
	var value func(path string) (from, to int)
	value = func(path string) (int, int) {
		at := len(list)
		list = append(list, place{})
		token, from, to := next()
		p := place{path: path, from: from, isObject: token == json.Delim('{')}
		if p.isObject || token == json.Delim('[') {
			for d.More() {
				var m member
				inner := fmt.Sprintf("%s[%d]", path, len(p.members))
				if p.isObject {
					token, m.from, m.nameTo = next()
					m.name = token.(string)
					inner = strings.TrimPrefix(path+"."+m.name, ".")
					_, m.to = value(inner)
				} else {
					m.from, m.to = value(inner)
				}
				p.members = append(p.members, m)
			}
			_, _, to = next()
		}
		p.to = to
		list[at] = p
		return from, to
	}
	value("")
	return list
}
