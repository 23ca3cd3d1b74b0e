package linkage_test

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// fromJSON reads a spec as a file would hold it, and makes its curve.
func fromJSON(text string) (*linkage.Curve, error) {
	var spec linkage.Spec
	if err := strictjson.Unmarshal("linkage", []byte(text), &spec); err != nil {
		return nil, err
	}
	return linkage.New(spec)
}

func TestSpecGivesTheCurveOfItsKind(t *testing.T) {
	constant, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.6, Travel: mm(150)})
	require.NoError(t, err)
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: mm(170)})
	require.NoError(t, err)
	table := linkage.Table{Stroke: lengths(0, 10, 20, 30, 40, 50, 60), Travel: lengths(0, 30, 58, 85, 110, 134, 157)}
	const columns = `"stroke": ["0 mm", "10 mm", "20 mm", "30 mm", "40 mm", "50 mm", "60 mm"], "travel": ["0 mm", "30 mm", "58 mm", "85 mm", "110 mm", "134 mm", "157 mm"]`
	by := func(method linkage.Method) *linkage.Curve {
		table := table
		table.Method = method
		return curve(t, table)
	}
	for _, test := range []struct {
		text string
		want *linkage.Curve
	}{
		{`{"constant": 2.6, "travel": "150 mm"}`, constant},
		{`{"fork": {"head_angle": "64 deg", "travel": "170 mm"}}`, fork},
		{`{"table": {` + columns + `}}`, by(linkage.Monotone)},
		{`{"table": {` + columns + `, "method": "monotone"}}`, by(linkage.Monotone)},
		{`{"table": {` + columns + `, "method": "smooth"}}`, by(linkage.Smooth)},
		{`{"table": {` + columns + `, "method": "measured"}}`, by(linkage.Measured)},
	} {
		c, err := fromJSON(test.text)
		require.NoError(t, err, test.text)
		soundCurve(t, c)
		var got, want []linkage.Sample
		for s := range c.Samples(20) {
			got = append(got, s)
		}
		for s := range test.want.Samples(20) {
			want = append(want, s)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.text, diff)
		}
	}
}

// What is written reads back.
func TestSpecAsJSONReadsBack(t *testing.T) {
	for _, test := range []struct {
		spec linkage.Spec
		want string
	}{
		{linkage.Spec{}, `{}`}, // none of a constant's promoted fields
		{linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.6, Travel: mm(150)}}, `{"constant":2.6,"travel":"150 mm"}`},
		{linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: mm(170)}}, `{"fork":{"head_angle":"64°","travel":"170 mm"}}`},
		{linkage.Spec{Table: &linkage.Table{Stroke: lengths(0, 50), Travel: lengths(0, 125), Method: linkage.Monotone}},
			`{"table":{"stroke":["0 mm","50 mm"],"travel":["0 mm","125 mm"],"method":"monotone"}}`},
	} {
		text, err := json.Marshal(test.spec)
		require.NoError(t, err)
		if string(text) != test.want {
			t.Errorf("written %s, want %s", text, test.want)
		}
		var back linkage.Spec
		require.NoError(t, strictjson.Unmarshal("linkage", text, &back))
		if diff := cmp.Diff(test.spec, back); diff != "" {
			t.Errorf("read back (-want +got):\n%s", diff)
		}
	}
}

func TestNewRefuses(t *testing.T) {
	for _, test := range []struct {
		text   string
		fields []string
		class  error
	}{
		{`{}`, []string{""}, units.ErrMissing},
		{`{"constant": 2.6, "travel": "150 mm", "fork": {"head_angle": "64 deg", "travel": "170 mm"}}`, []string{""}, units.ErrConflict},
		{`{"fork": {"head_angle": "64 deg", "travel": "170 mm"}, "table": {"stroke": [], "travel": []}}`, []string{""}, units.ErrConflict},
		{`{"travel": "150 mm", "table": {"stroke": [], "travel": []}}`, []string{""}, units.ErrConflict},
		{`{"travel": "150 mm"}`, []string{"constant"}, units.ErrRange},
		{`{"constant": 2.6}`, []string{"travel"}, units.ErrRange},
		{`{"constant": 0, "travel": "-1 mm"}`, []string{"constant", "travel"}, units.ErrRange},
		{`{"constant": "2.6", "travel": "150"}`, []string{"constant", "travel"}, units.ErrSyntax},
		{`{"curve": 3}`, []string{"curve"}, units.ErrUnknown},
		{`{"fork": {"head_angel": "64 deg", "travel": "170 mm"}}`, []string{"fork.head_angel"}, units.ErrUnknown},
		{`{"mechanism": {"pionts": {}}}`, []string{"mechanism.pionts"}, units.ErrUnknown},
		{`{"constant": null, "travel": null}`, []string{"constant", "travel"}, units.ErrSyntax},
		{`{"fork": {"head_angle": "26 deg", "travel": "0 mm"}}`, []string{"fork.head_angle", "fork.travel"}, units.ErrRange},
		{`{"table": {"stroke": ["0 mm", "5 mm"], "travel": ["0 mm", "0 mm"], "method": "spline"}}`, []string{"table.method", "table.travel[1]"}, units.ErrUnknown},
		{`{"table": {}}`, []string{"table.stroke", "table.travel"}, units.ErrMissing},
	} {
		c, err := fromJSON(test.text)
		refuses(t, err, test.fields...)
		if !errors.Is(err, test.class) {
			t.Errorf("%s: error %v is not %v", test.text, err, test.class)
		}
		if c != nil {
			t.Errorf("%s: a curve beside an error", test.text)
		}
	}
	// The kinds given are named.
	_, err := linkage.New(linkage.Spec{ConstantRatio: &linkage.ConstantRatio{}, Fork: &linkage.Fork{}, Table: &linkage.Table{}})
	if err == nil || !strings.HasSuffix(err.Error(), ", not constant and fork and table") {
		t.Errorf("error %q", err)
	}
}

// A mechanism as JSON, in the case format, through Spec.
func TestMechanismInSpecIsCompiled(t *testing.T) {
	m := spec("a1")
	curve, err := linkage.New(linkage.Spec{Mechanism: &m})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := curve.Travel(), solved("a1").Travel(); got != want {
		t.Errorf("travel %v, want %v", got, want)
	}
	m.Axle = ""
	_, err = linkage.New(linkage.Spec{Mechanism: &m})
	if diff := cmp.Diff([]string{"mechanism.axle"}, badFields(err)); diff != "" {
		t.Error(diff)
	}
	m = spec("x1")
	_, err = linkage.New(linkage.Spec{Mechanism: &m})
	if diff := cmp.Diff([]string{"mechanism.stroke"}, badFields(err)); diff != "" || !errors.Is(err, mechanism.ErrLocks) {
		t.Error(diff, err)
	}
	var lock *mechanism.LockError
	if !errors.As(err, &lock) || !(lock.At > mm(36) && lock.At < mm(37)) {
		t.Errorf("no stroke at which it locks: %v", err)
	}
}

// Every field of a Spec is a kind, in their order, and every kind says what is
// given.
func TestKindsAreTheFieldsOfASpec(t *testing.T) {
	var keys []string
	fields := reflect.VisibleFields(reflect.TypeFor[linkage.Spec]())
	for _, f := range fields {
		if key, _, _ := strings.Cut(f.Tag.Get("json"), ","); key != "" && key != "travel" {
			keys = append(keys, key)
		}
	}
	var kinds []string
	for _, k := range linkage.Kinds() {
		kinds = append(kinds, k.Key)
		if k.Label == "" || k.About == "" {
			t.Errorf("%s says nothing of itself", k.Key)
		}
		one := linkage.Spec{Fork: &linkage.Fork{}}
		if k.Given(one) != (k.Key == "fork") || (linkage.Kind{}).Given(one) {
			t.Errorf("a fork is said to be a %s", k.Key)
		}
	}
	if diff := cmp.Diff(keys, kinds); diff != "" {
		t.Errorf("fields and kinds (-fields +kinds):\n%s", diff)
	}
	kinds[0] += " (with travel)"
	_, err := linkage.New(linkage.Spec{})
	if want := "linkage: want exactly one of " + strings.Join(kinds, ", "); err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}
