package units_test

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// gearing is a type of one's own that JSON can't hold.
type gearing struct {
	units.Opaque[gearing]
	chain units.Length
}

func ExampleOpaque() {
	g := gearing{chain: 1.5 * units.Metre}
	fmt.Println(g)
	_, err := json.Marshal(g)
	fmt.Println(err)
	// Output:
	// units_test.gearing
	// json: error calling MarshalJSON for type units_test.gearing: units: units_test.gearing has no JSON: use the description that it is made from
}

// What is read into an opaque value is refused, and not ignored.
func TestOpaqueIsNotRead(t *testing.T) {
	var g gearing
	require.ErrorContains(t, json.Unmarshal([]byte(`{"chain": "1.5 m"}`), &g), "units: units_test.gearing has no JSON")
	require.Zero(t, g.chain)
}

// Every struct of the library that has methods and no exported field is opaque.
func TestStructsWithoutFieldsAreOpaque(t *testing.T) {
	text, err := os.ReadFile("../.api/next.txt")
	require.NoError(t, err)
	structs, fields, opaque, methods := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	for line := range strings.Lines(string(text)) {
		words := strings.Fields(strings.NewReplacer(",", "", "(*", "", "(", "", ")", "").Replace(line))
		name := words[1] + " " + words[3]
		switch {
		case words[2] == "method":
			methods[name] = true
		case words[2] != "type" || words[4] != "struct":
		case len(words) == 5:
			structs[name] = true
		case strings.HasPrefix(words[6], "units.Opaque["):
			opaque[name] = true
		default:
			fields[name] = true
		}
	}
	for name := range methods {
		if structs[name] && !fields[name] && !opaque[name] {
			t.Errorf("%s is not opaque", name)
		}
	}
	require.Greater(t, len(opaque), 15)
}
