package programtest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"unicode"
)

// steering is a text that would steer a terminal, turn the direction of writing, begin a line of its own
// or a tag of a page.
const steering = "a\x1b[31m\x00\u009b\u202e\n" + ownLine + "\r\u2028\u061c\u2066\x7f<b>\"\t"

const ownLine = "A line of its own"

// TrySteering gives a program its demonstration with names and notes that would steer a terminal, with
// each of the calls, on standard input. Neither the answer nor a fault may have them as they are.
func TrySteering(t *testing.T, run Run, demo []byte, calls [][]string) {
	t.Helper()
	text := steered(t, demo)
	for _, args := range calls {
		var out, errs bytes.Buffer
		status := run(args, bytes.NewReader(text), &out, &errs)
		for _, said := range []string{out.String(), errs.String()} {
			if fault := steers(said); fault != "" {
				t.Errorf("%v: status %d, %s in\n%q", args, status, fault, said)
			}
		}
		if status != 0 {
			t.Errorf("%v: status %d, %s", args, status, errs.String())
		}
		// As JSON the text is the same, by its escapes.
		if json.Valid(out.Bytes()) && bytes.Contains(out.Bytes(), []byte("[U+001B]")) {
			t.Errorf("%v: the text is not kept in\n%s", args, out.String())
		}
	}
}

// steers says what of a program's answer steers, "" for nothing. A page may break lines anywhere.
func steers(said string) string {
	for _, r := range said {
		if r != '\n' && r != '\t' && unicode.In(r, unicode.Cc, unicode.Bidi_Control, unicode.Zl, unicode.Zp) {
			return fmt.Sprintf("%U", r)
		}
	}
	page := strings.HasPrefix(said, "<")
	for line := range strings.Lines(said) {
		if !page && strings.HasPrefix(strings.TrimSpace(line), ownLine) {
			return "a line of its own"
		}
	}
	if page && (strings.Contains(said, "<U+") || strings.Contains(said, "<b>\"")) {
		return "a tag"
	}
	return ""
}

// steered returns a job with [steering] in each name and note, and behind each name of a point.
func steered(t *testing.T, demo []byte) []byte {
	t.Helper()
	var job any
	if err := json.Unmarshal(demo, &job); err != nil {
		t.Fatal(err)
	}
	n := 0
	points := map[string]string{}
	walk(job, func(key string, value any) any {
		if list, ok := value.(map[string]any); ok && key == "points" {
			for name := range list {
				points[name] = name + steering
			}
		}
		return value
	})
	job = walk(job, func(key string, value any) any {
		switch v := value.(type) {
		case string:
			if key == "name" || key == "note" {
				n++
				return fmt.Sprint(steering, n) // names are told apart
			}
			if to, ok := points[v]; ok {
				return to
			}
		case map[string]any:
			if key == "points" {
				list := map[string]any{}
				for name, at := range v {
					list[points[name]] = at
				}
				return list
			}
		}
		return value
	})
	text, err := json.Marshal(job)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// walk changes every value of a job, the inner ones first. Those of a list have the list's key.
func walk(value any, change func(key string, value any) any) any {
	var each func(key string, value any) any
	each = func(key string, value any) any {
		switch v := value.(type) {
		case map[string]any:
			for k, one := range v {
				v[k] = each(k, one)
			}
		case []any:
			for i, one := range v {
				v[i] = each(key, one)
			}
		}
		return change(key, value)
	}
	return each("", value)
}
