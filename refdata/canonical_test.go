package refdata_test

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// fieldOrder is the order of the fields that the dataset's own formats
// define. Fields that are not listed follow in the order they stand in.
var fieldOrder = []string{
	"schema", "version", "subject", "groups", "materials", "constants", "gases", "authorities", "retired", "changes",
	"name", "aliases", "kind", "values", "moduli", "density", "strength",
	"symbol", "value", "unit", "uncertainty", "range",
	"title", "edition", "year", "where", "url",
	"source", "standing", "form", "rows", "cases",
	"id", "computes", "given", "expect", "error", "tolerance", "second", "note",
}

// ownOrder are the objects whose fields keep the order they stand in: what is
// given and expected reads best in its author's.
var ownOrder = []string{"given", "expect", "tolerance"}

// format returns a file of the dataset in its canonical form: two spaces of
// indentation, one field or element a line, a list without objects or lists in it
// on one line, the fields of the dataset's formats in the order of their schema,
// other fields and all numbers as they are written, characters as themselves, and
// a line feed at the end.
func format(data []byte) ([]byte, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	v, err := readNode(d, true)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	v.write(&b, "\n")
	b.WriteByte('\n')
	return b.Bytes(), nil
}

// node is a JSON value that remembers the order of its fields.
type node struct {
	open   byte     // '{', '[' or 0
	names  []string // of an object's fields
	items  []node   // values of the fields, or elements
	scalar string   // as it is written
}

func readNode(d *json.Decoder, ordered bool) (node, error) {
	token, err := d.Token()
	if err != nil {
		return node{}, err
	}
	delim, ok := token.(json.Delim)
	if !ok {
		return node{scalar: scalarText(token)}, nil
	}
	n := node{open: byte(delim)}
	for d.More() {
		inside := ordered
		if n.open == '{' {
			token, err := d.Token()
			if err != nil {
				return node{}, err
			}
			name, _ := token.(string)
			n.names = append(n.names, name)
			inside = ordered && !slices.Contains(ownOrder, name)
		}
		item, err := readNode(d, inside)
		if err != nil {
			return node{}, err
		}
		n.items = append(n.items, item)
	}
	if _, err := d.Token(); err != nil {
		return node{}, err
	}
	if n.open == '{' && ordered {
		n.sort()
	}
	return n, nil
}

// sort puts the fields in order, those not listed last.
func (n *node) sort() {
	place := func(name string) int {
		if i := slices.Index(fieldOrder, name); i >= 0 {
			return i
		}
		return len(fieldOrder)
	}
	order := make([]int, len(n.names))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return place(n.names[a]) - place(n.names[b]) })
	sorted := node{open: n.open}
	for _, i := range order {
		sorted.names = append(sorted.names, n.names[i])
		sorted.items = append(sorted.items, n.items[i])
	}
	*n = sorted
}

func (n node) write(b *bytes.Buffer, newline string) {
	if n.open == 0 {
		b.WriteString(n.scalar)
		return
	}
	deeper, between, closing := newline+"  ", ","+newline+"  ", newline
	if n.open == '[' && !slices.ContainsFunc(n.items, func(item node) bool { return item.open != 0 }) || len(n.items) == 0 {
		deeper, between, closing = "", ", ", ""
	}
	b.WriteByte(n.open)
	for i, item := range n.items {
		if i == 0 {
			b.WriteString(deeper)
		} else {
			b.WriteString(between)
		}
		if n.open == '{' {
			b.WriteString(scalarText(n.names[i]))
			b.WriteString(": ")
		}
		item.write(b, newline+"  ")
	}
	b.WriteString(closing)
	b.WriteByte(n.open + 2) // '}' is '{' + 2, ']' is '[' + 2
}

// scalarText writes a token without the escapes that HTML would need.
func scalarText(token json.Token) string {
	switch t := token.(type) {
	case nil:
		return "null"
	case json.Number:
		return t.String()
	case bool:
		if t {
			return "true"
		}
		return "false"
	}
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if e.Encode(token) != nil {
		return `""`
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func TestCanonicalForm(t *testing.T) {
	in := `{"groups":[{"cases":[{"note":"ä < µ","given":{"b":[1.50,"x"],"a":{"points":{"P":["1 mm","2 mm"]},"note":1,"id":2}},"id":"x","later":[[1],[]],"empty":{}}],"standing":"computed"}],"schema":"s"}`
	want := `{
  "schema": "s",
  "groups": [
    {
      "standing": "computed",
      "cases": [
        {
          "id": "x",
          "given": {
            "b": [1.50, "x"],
            "a": {
              "points": {
                "P": ["1 mm", "2 mm"]
              },
              "note": 1,
              "id": 2
            }
          },
          "note": "ä < µ",
          "later": [
            [1],
            []
          ],
          "empty": {}
        }
      ]
    }
  ]
}
`
	got, err := format([]byte(in))
	require.NoError(t, err)
	if string(got) != want {
		t.Errorf("got\n%s", got)
	}
}
