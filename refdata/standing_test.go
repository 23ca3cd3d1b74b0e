package refdata_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"math/big"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
	"github.com/stretchr/testify/require"
)

// rawCase is a case with its numbers as they are written.
type rawCase struct {
	ID        string         `json:"id"`
	Expect    map[string]any `json:"expect"`
	Error     []string       `json:"error"`
	Tolerance map[string]any `json:"tolerance"`
	Second    string         `json:"second"`
	Note      string         `json:"note"`
}

// rawFile is a case file likewise.
type rawFile struct {
	Groups []struct {
		Source   refdata.Source   `json:"source"`
		Standing refdata.Standing `json:"standing"`
		Cases    []rawCase        `json:"cases"`
	} `json:"groups"`
}

func rawFiles(t *testing.T) map[string]rawFile {
	t.Helper()
	names, err := fs.Glob(refdata.CaseFiles(), "*.json")
	require.NoError(t, err)
	files := make(map[string]rawFile, len(names))
	for _, name := range names {
		text, err := fs.ReadFile(refdata.CaseFiles(), name)
		require.NoError(t, err)
		d := json.NewDecoder(bytes.NewReader(text))
		d.UseNumber()
		var f rawFile
		require.NoError(t, d.Decode(&f))
		files[name] = f
	}
	return files
}

var leadingNumber = regexp.MustCompile(`^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?`)

// halfUnit is half a unit in the last digit of a number as it is printed. An
// integer that ends in zeros may be printed to any of these; whole then gives
// half a unit of the last that is no zero.
func halfUnit(printed string, whole bool) *big.Rat {
	number := strings.TrimLeft(leadingNumber.FindString(strings.TrimSpace(printed)), "+-")
	mantissa, exponent, _ := strings.Cut(strings.ToLower(number), "e")
	integer, fraction, point := strings.Cut(mantissa, ".")
	zeros := len(integer) - len(strings.TrimRight(integer, "0"))
	half, _ := new(big.Rat).SetString("0.5e" + orZero(exponent))
	ten := big.NewRat(10, 1)
	for range len(fraction) {
		half.Quo(half, ten)
	}
	if whole && !point {
		for range zeros {
			half.Mul(half, ten)
		}
	}
	return half
}

func orZero(exponent string) string {
	if exponent == "" {
		return "0"
	}
	return exponent
}

// isHalfUnit reports whether a tolerance is half a unit in the last digit of
// what is printed, in the same unit.
func isHalfUnit(printed string, tolerance any) bool {
	text, ok := tolerance.(string)
	if !ok {
		return false
	}
	_, unit, _ := refdata.SplitQuantity(printed)
	_, tolerated, _ := refdata.SplitQuantity(text)
	same := unit == tolerated || tolerated == "K" && unit == "°C"
	size, ok := new(big.Rat).SetString(leadingNumber.FindString(text))
	return ok && same && (size.Cmp(halfUnit(printed, false)) == 0 || size.Cmp(halfUnit(printed, true)) == 0)
}

func TestIsHalfUnit(t *testing.T) {
	for _, row := range []struct {
		printed   string
		tolerance any
		want      bool
	}{
		{"4.448222 N", "0.0000005 N", true},
		{"4.448222 N", "0.000005 N", false},
		{"4.448222 N", "0.0000005 kN", false},
		{"4.448222 N", json.Number("1e-9"), false},
		{"70.0 lbf/in", "0.05 lbf/in", true},
		{"70 lbf/in", "0.05 lbf/in", false},
		{"48560 psi", "5 psi", true},
		{"48560 psi", "0.5 psi", true},
		{"48560 psi", "50 psi", false},
		{"1.40", "0.005", true},
		{"-1.40", "0.005", true},
		{"1.2e-3 N", "0.05e-3 N", true},
		{"1.2e3 N", "50 N", true},
		{"20.5 °C", "0.05 K", true},
	} {
		if got := isHalfUnit(row.printed, row.tolerance); got != row.want {
			t.Errorf("%s ± %v: %v", row.printed, row.tolerance, got)
		}
	}
}

// reason is what a note or a confirmation speaks of where it says why a
// tolerance is not half a unit in the last printed digit.
var reason = regexp.MustCompile(`(?i)exact|printed|toleran|rounded|unit of`)

// A published value is held to the digits that are printed, or the case says
// why it is not.
func TestPublishedTolerances(t *testing.T) {
	held, otherwise := 0, 0
	for name, file := range rawFiles(t) {
		for _, g := range file.Groups {
			if g.Standing != refdata.Published {
				continue
			}
			for _, c := range g.Cases {
				for _, output := range slices.Sorted(maps.Keys(c.Expect)) {
					tolerance, ok := c.Tolerance[output]
					if !ok {
						tolerance = c.Tolerance["*"]
					}
					list, isList := c.Expect[output].([]any)
					if !isList {
						list = []any{c.Expect[output]}
					}
					for _, v := range list {
						printed, isText := v.(string)
						if !isText {
							printed = v.(json.Number).String()
						}
						switch {
						case isHalfUnit(printed, tolerance):
							held++
						case reason.MatchString(c.Note), reason.MatchString(c.Second):
							otherwise++
						default:
							t.Errorf("%s: case %s: %s is printed as %s; its tolerance %v is not half a unit in the last digit, and no note says why",
								name, c.ID, output, printed, tolerance)
						}
					}
				}
			}
		}
	}
	t.Logf("%d values to half a unit, %d otherwise with a reason", held, otherwise)
	if held < otherwise || held < 80 {
		t.Errorf("%d values are held to half a unit in their last digit, %d are not", held, otherwise)
	}
}

// looseReason is what a note speaks of where no digit would be tighter: what is printed, or the range that
// a fact of the trade is.
var looseReason = regexp.MustCompile(`printed|measured|a range`)

// A case notices an error of 1 % in every value that it expects, unless the digits of its source are not enough
// for that, and then its note says so.
func TestTolerancesNoticeOnePerCent(t *testing.T) {
	loose := 0
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		require.NoError(t, err)
		for output, expected := range c.Expect {
			tolerance, own := c.Tolerance[output]
			if !own {
				tolerance = c.Tolerance["*"]
			}
			list, isList := expected.([]any)
			if !isList {
				list = []any{expected}
			}
			for _, v := range list {
				share := tolerance.Relative
				if text := tolerance.Absolute; text != "" {
					share = absoluteShare(t, c, output, v, text)
				}
				switch {
				case share <= 0.01:
				case looseReason.MatchString(c.Note) && (isHalfUnit(fmt.Sprint(v), tolerance.Absolute) || c.Standing == refdata.CommonPractice):
					loose++
				default:
					t.Errorf("case %s: %s of %v is held to %v alone", c.ID, output, v, tolerance)
				}
			}
		}
	}
	if loose > 12 {
		t.Errorf("%d values are held to more than 1 %%", loose)
	}
}

// absoluteShare is an absolute tolerance as a share of a value; 0 for an expected 0, and for a default that is of
// another kind than the output.
func absoluteShare(t *testing.T, c refdata.Case, output string, v any, tolerance string) float64 {
	t.Helper()
	kind := ""
	d, _ := refdata.Describe(c.Computes)
	for _, o := range d.Outputs {
		if kind = o.Kind; o.Name == output {
			break
		}
	}
	if kind == "quantity" {
		var given struct{ Kind string }
		require.NoError(t, json.Unmarshal(c.Given, &given))
		kind = given.Kind
	}
	size, unit, ok := refdata.SplitQuantity(tolerance)
	value, _ := v.(float64)
	q, quantity := refdata.QuantityNamed(kind)
	if quantity {
		text, _ := v.(string)
		if value, ok = q.Value(text); !ok { // which would be exact text
			return 0
		}
		if kind == "temperature" { // an error of 1 % is one of the number that is written
			number, unit, _ := refdata.SplitQuantity(text)
			value, _ = q.Difference(fmt.Sprint(number, " ", unit))
		}
		size, ok = q.Difference(tolerance)
	} else {
		ok = ok && unit == ""
	}
	if !ok || value == 0 {
		return 0
	}
	return size / math.Abs(value)
}

// Refusals are rules of the format, or follow from a computation: none is a fact of the trade. A rule of the format
// computes nothing.
func TestRefusalsAreDefinitions(t *testing.T) {
	facts, rules := 0, 0
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		require.NoError(t, err)
		switch {
		case c.Standing == refdata.CommonPractice && c.Error == nil:
			facts++
		case c.Standing == refdata.Definition && c.Error != nil:
			rules++
		case c.Standing == refdata.CommonPractice, c.Standing == refdata.Definition:
			t.Errorf("case %s is %s", c.ID, c.Standing)
		}
	}
	if facts < 8 || rules < 500 {
		t.Errorf("%d facts of the trade, %d rules of the format", facts, rules)
	}
}

// A standing is one of five, and a published source has a title and a place.
func TestSourceCheck(t *testing.T) {
	for standing, want := range map[refdata.Standing]map[string]error{
		"": {"standing": units.ErrMissing}, "rumour": {"standing": units.ErrUnknown}, refdata.FromMemory: {},
		refdata.Published: {"source.title": units.ErrMissing, "source.where": units.ErrMissing},
	} {
		c := units.Checker{Package: "refdata"}
		refdata.Source{}.Check(&c, standing)
		got := map[string]error{}
		for _, f := range units.Fields(c.Err()) {
			got[f.Field] = f.Class
		}
		require.Equal(t, want, got, standing)
	}
}

// precision is what the source of a computed value speaks of.
var precision = regexp.MustCompile(`(?i)digits|exact|by hand|J\. Phys`)

// howRead is what the place of a published source says: whether the source itself was read, or what quotes it or
// works its examples.
var howRead = regexp.MustCompile(`\b(read|seen) in\b`)

// A case names the program and its precision, or the source that is remembered,
// where its standing wants that, and a second confirmation. Published ones say how
// their source was read. The loader refuses published cases without a source.
func TestStandings(t *testing.T) {
	published := 0
	for name, file := range rawFiles(t) {
		for i, g := range file.Groups {
			fault := func(text string) { t.Errorf("%s: groups[%d]: %s", name, i, text) }
			switch g.Standing {
			case refdata.Computed:
				if !precision.MatchString(g.Source.Title + g.Source.Where) {
					fault("computed, but by what, and to how many digits? " + g.Source.Title)
				}
			case refdata.Published:
				if published += len(g.Cases); !howRead.MatchString(g.Source.Where) {
					fault("published, but how was it read? " + g.Source.Title)
				}
			case refdata.FromMemory:
				if g.Source.Title == "" {
					fault("from memory, but of what?")
				}
			}
			for _, c := range g.Cases {
				if c.Expect != nil && (strings.TrimSpace(c.Second) == "" || strings.Contains(c.Second, "not confirmed")) {
					t.Errorf("%s: case %s: second is %q", name, c.ID, c.Second)
				}
			}
		}
	}
	if published < 200 {
		t.Errorf("only %d cases are published", published)
	}
}

// Every output that is described is expected by a case.
func TestEveryOutputIsExpected(t *testing.T) {
	expected := map[string]bool{}
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		require.NoError(t, err)
		for output := range c.Expect {
			expected[c.Computes+" "+output] = true
		}
	}
	for _, name := range refdata.Computations() {
		d, _ := refdata.Describe(name)
		for _, output := range d.Outputs {
			if !expected[name+" "+output.Name] {
				t.Errorf("%s: no case expects %s", name, output.Name)
			}
		}
	}
}

// program is what a case or a source names as a program of the repository.
var program = regexp.MustCompile(`\btestdata/[\w/.-]+|\b[\w/.-]+\.(?:py|mjs|go|js|sh)\b`)

// Programs of the repository that cases name stand in it. Those of others are named in a place that says "seen in"
// or "read in".
func TestNamedProgramsExist(t *testing.T) {
	named := 0
	for name, file := range rawFiles(t) {
		for _, g := range file.Groups {
			texts := []string{g.Source.Title}
			if !howRead.MatchString(g.Source.Where) {
				texts = append(texts, g.Source.Where)
			}
			for _, c := range g.Cases {
				texts = append(texts, c.Second, c.Note)
			}
			for _, path := range program.FindAllString(strings.Join(texts, "\n"), -1) {
				named++
				if _, err := os.Stat(strings.TrimRight(path, ".")); err != nil {
					t.Errorf("%s: names %s, which is not there", name, path)
				}
			}
		}
	}
	if named < 50 {
		t.Errorf("only %d programs are named", named)
	}
}

// What the loader lets pass for others' files, ours must not lack.
func TestEmbeddedCasesAreComplete(t *testing.T) {
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		require.NoError(t, err)
		fault := func(text string) { t.Errorf("%s: case %s: %s", c.File, c.ID, text) }
		if c.Subject == "" {
			fault("the file has no subject")
		}
		for output, tolerance := range c.Tolerance {
			if _, ok := c.Expect[output]; !ok && output != "*" {
				fault("a tolerance for " + output + ", which is not expected")
			}
			if tolerance.Absolute == "" && tolerance.Relative > 0.05 {
				fault("a tolerance of more than 5 % for " + output)
			}
		}
		if strings.ContainsAny(c.ID, " /") {
			fault("an id has no spaces and slashes")
		}
	}
}
