package units_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path"
	"regexp"
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

// exported is a struct of the exported API.
type exported struct {
	opaque, methods bool
	fields          []string // such as Travel units.Length `json:"travel"`
}

// exportedStructs reads the structs in .api/next.txt, by package and name.
func exportedStructs(t *testing.T) map[string]*exported {
	t.Helper()
	text, err := os.ReadFile("../.api/next.txt")
	require.NoError(t, err)
	structs := map[string]*exported{}
	methods := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		parts := strings.SplitN(strings.TrimSuffix(line, "\n"), ", ", 3)
		words := strings.Fields(strings.NewReplacer("(*", "", "(", "", ")", "").Replace(parts[1]))
		name := path.Base(strings.TrimPrefix(parts[0], "pkg ")) + "." + words[1]
		switch {
		case words[0] == "method":
			methods[name] = true
		case words[0] != "type" || words[2] != "struct":
		case len(parts) == 2:
			structs[name] = &exported{}
		case strings.HasPrefix(parts[2], "embedded units.Opaque["):
			structs[name].opaque = true
		default:
			structs[name].fields = append(structs[name].fields, parts[2])
		}
	}
	for name, s := range structs {
		s.methods = methods[name]
	}
	return structs
}

// Every struct of the library that has methods and no exported field is opaque.
func TestStructsWithoutFieldsAreOpaque(t *testing.T) {
	opaque := 0
	for name, s := range exportedStructs(t) {
		if s.opaque {
			opaque++
		} else if s.methods && s.fields == nil {
			t.Errorf("%s is not opaque", name)
		}
	}
	require.Greater(t, opaque, 15)
}

// nameless lists the structs that are not stored or sent, and so have no names in JSON, by the reason.
var nameless = map[string]string{
	"sag.Bike sag.End certainty.Setup certainty.EndSetup motion.Corner motion.TwoEnds motion.Problem": "holds laws, curves or functions",
	"mechanism.Load": "holds a mark, which belongs to one mechanism",
	"mechanism.Gradient mechanism.PointMotionGradient mechanism.PoseGradient drivetrain.PoseGradient": "holds derivatives, whose units depend on what is derived",
	"refdata.CaseTolerance": "is a number or a text in JSON",
	"mechanism.LockError refdata.FileError units.FieldError units.ParseError": "is an error",
	"units.Checker strictjson.Rules unitstest.Spoilt":                         "is of use to a program alone",
}

// jsonName is a name in JSON, or "-" for a field that is left out.
var jsonName = regexp.MustCompile("`json:\"([a-z0-9]+(_[a-z0-9]+)*|-)(,omitempty|,omitzero)?\"`$")

// The fields of every other struct have names in JSON, in lower case with underscores.
func TestFieldsHaveJSONNames(t *testing.T) {
	structs := exportedStructs(t)
	for names := range nameless {
		for name := range strings.FieldsSeq(names) {
			if s := structs[name]; s == nil || strings.Contains(strings.Join(s.fields, ""), "json:") {
				t.Errorf("%s has names, or is no struct", name)
			}
			delete(structs, name)
		}
	}
	for name, s := range structs {
		for _, field := range s.fields {
			if !strings.HasPrefix(field, "embedded ") && !s.opaque && !jsonName.MatchString(field) {
				t.Errorf("%s: %s has no name in JSON", name, field)
			}
		}
	}
}
