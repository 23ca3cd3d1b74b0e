package unitstest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"iter"
	"math/rand/v2"
	"strings"
)

// Wild yields n texts, each what a valid object becomes where one to four of its
// values are drawn to an extreme: a number, with or without a unit, multiplied
// by a power of ten, put to 0 or 1, a list repeated up to about so many bytes,
// shortened or doubled, a field left out. They are the same every time. Most are
// well-formed, and some are jobs that nobody thought of.
func Wild(valid []byte, n, size int) iter.Seq[Spoilt] {
	return func(yield func(Spoilt) bool) {
		random := rand.New(rand.NewPCG(1, 2))
		for range n {
			root, err := parse(json.NewDecoder(bytes.NewReader(valid)))
			if err != nil {
				panic("unitstest: not JSON: " + err.Error())
			}
			var places []*node
			var names []string
			root.walk("", func(at string, n *node) bool {
				places, names = append(places, n), append(names, at)
				return true
			})
			var changes []string
			for range 1 + random.IntN(4) {
				i := random.IntN(len(places))
				changes = append(changes, names[i]+places[i].wild(random, size))
			}
			if !yield(Spoilt{Name: strings.Join(changes, ", "), Text: root.text()}) {
				return
			}
		}
	}
}

// wild changes a value, and says how.
func (n *node) wild(random *rand.Rand, size int) string {
	if n.open != 0 {
		if len(n.items) == 0 {
			return " as it is"
		}
		i := random.IntN(len(n.items))
		if n.open == '{' {
			name := n.names[i]
			n.names, n.items = append(n.names[:i:i], n.names[i+1:]...), append(n.items[:i:i], n.items[i+1:]...)
			return " without " + name
		}
		times := 2
		switch random.IntN(4) {
		case 0:
			n.items = n.items[:i]
			return fmt.Sprintf(" of the first %d", i)
		case 1:
			times = 1 + size/(len(n.text())+1)
		case 2:
			times = 1 + 1000/len(n.items)
		}
		items := n.items
		for range times - 1 {
			n.items = append(n.items, items...)
		}
		return fmt.Sprintf(" %d times", times)
	}
	number, tail, quote := strings.Trim(n.scalar, `"`), "", ""
	if strings.HasPrefix(n.scalar, `"`) {
		quote = `"`
		if end := strings.IndexByte(number, ' '); end >= 0 {
			number, tail = number[:end], number[end:]
		}
	}
	if !json.Valid([]byte(number)) || number == "" || strings.ContainsAny(number, "eEtfn") {
		return " as it is"
	}
	switch random.IntN(6) {
	case 0:
		number = "0"
	case 1:
		number = "1"
	case 2:
		number = "-" + strings.TrimPrefix(number, "-")
	default:
		number += fmt.Sprintf("e%d", random.IntN(25)-12)
	}
	n.scalar = quote + number + tail + quote
	return " = " + n.scalar
}
