package strictjson_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
	"example.com/wheelrate/units/unitstest"
)

// hostile is how long hostile texts are: short where every push runs them, 104857600 by hand.
var hostile = flag.Int("hostile", 1<<17, "bytes of a hostile text")

// mostError is the longest text of an error, in bytes: about 4 kB, and the last
// fault that fits.
const mostError = 5000

// A text of any length is refused in one short error, for a small multiple of
// its length in memory: nothing here is bounded but by the text itself.
func TestHostileTexts(t *testing.T) {
	for name, doc := range unitstest.Hostile(*hostile) {
		for _, salvage := range []bool{false, true} {
			var v everything
			var err error
			n := unitstest.Allocated(func() {
				if !salvage {
					err = strictjson.Unmarshal("job", doc, &v)
					return
				}
				var s *strictjson.Salvaged
				if s, err = strictjson.Salvage("job", doc, strictjson.Rules{}, &v); err == nil {
					err = s.Join(nil)
				}
			})
			if wrong := unitstest.Refusal(err, mostError); wrong != "" {
				t.Errorf("%s: %s: %.200v", name, wrong, err)
			}
			// Under the race detector the pool that encoding/json takes a scanner from for
			// each number drops a quarter of them.
			if most := 9*len(doc) + 1<<18; n > most {
				t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(doc), most)
			}
		}
	}
	// Over the limit of a reader, no more than that is read.
	for name, doc := range unitstest.Hostile(*hostile) {
		if len(doc) < *hostile {
			continue
		}
		var v everything
		var err error
		n := unitstest.Allocated(func() { err = strictjson.Decode("job", bytes.NewReader(doc), int64(*hostile/8), &v) })
		if f := units.Fields(err); len(f) != 1 || f[0].Class != units.ErrRange || n > *hostile+1<<16 {
			t.Errorf("%s over the limit: %d bytes, %.200v", name, n, err)
		}
	}
}

// Every field of every kind gets every kind of value: what is wrong is refused
// by its path in a short error, whatever else is in the text, and what is right
// means the same in both ways of reading.
func TestSpoiledTexts(t *testing.T) {
	text := `{"front":{"sag":0.2},"rear":{"sag":0.3},"points":{"A":["1 mm","2 mm"]},"choice":{},"name":"n","sag":0.1,"on":true,
		"small":-1,"count":2,"big":3,"single":1.5,"finish":"raw","raw":[1],"raws":{"a":1},"either":{},"next":{"sag":0.1},"warm":"20 °C","Titled":"t"}`
	i := 0
	for spoilt := range unitstest.Spoiled([]byte(text), min(*hostile, 1<<20)/8, "points", "raw", "raws", "either", "choice", "finish", "moody", "scarce") {
		i++
		var v, w everything
		var err, other error
		n := unitstest.Allocated(func() { err = strictjson.Unmarshal("job", spoilt.Text, &v) })
		s, fatal := strictjson.Salvage("job", spoilt.Text, strictjson.Rules{}, &w)
		if fatal != nil {
			other = fatal
		} else {
			other = s.Join(nil)
		}
		if fmt.Sprint(err) != fmt.Sprint(other) {
			t.Errorf("%s: Unmarshal says %.200v, Salvage %.200v", spoilt.Name, err, other)
		}
		if wrong := unitstest.Refusal(err, mostError); wrong != "" && (err != nil || spoilt.Bad) {
			t.Errorf("%s: %s: %.200v", spoilt.Name, wrong, err)
		}
		if math.IsNaN(v.Sag) || math.IsNaN(v.Front.Sag) {
			t.Errorf("%s: NaN is read", spoilt.Name)
		}
		// An empty object of a list makes a struct of some 50 bytes of its 3.
		if most := 120*len(spoilt.Text) + 1<<18; n > most {
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", spoilt.Name, n, len(spoilt.Text), most)
		}
	}
	if i < 500 {
		t.Errorf("%d texts", i)
	}
}

// A constructor's complaints are looked up in one walk of the text, however many
// they are and however long the text: twice both cost twice as much.
func TestJoinCostsInProportion(t *testing.T) {
	type spec struct {
		Note   string             `json:"note"`
		Values map[string]float64 `json:"values"`
	}
	cost := func(n int) int {
		var b strings.Builder
		b.WriteString(`{"unknown":1,"note":3,"values":{` + strings.Repeat(" ", 100*n))
		c := units.Checker{Package: "p"}
		for i := range n {
			if i > 0 {
				b.WriteByte(',')
			}
			fmt.Fprintf(&b, `"v%d":%d`, i, -i)
			c.Fail(fmt.Sprintf("values.v%d", i), -i, "0 or more", nil)
		}
		b.WriteString("}}")
		var v spec
		s, err := strictjson.Salvage("p", []byte(b.String()), strictjson.Rules{}, &v)
		if err != nil {
			t.Fatal(err)
		}
		complaints := c.Err()
		var joined error
		allocated := unitstest.Allocated(func() { joined = s.Join(complaints) })
		if got := len(units.Fields(joined)); got != n+2 {
			t.Errorf("%d faults of %d", got, n+2)
		}
		return allocated
	}
	once, twice := cost(1000), cost(2000)
	if twice > 3*once {
		t.Errorf("%d bytes for 1000 complaints, %d for 2000", once, twice)
	}
}
