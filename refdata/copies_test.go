package refdata_test

import (
	"reflect"
	"runtime"
	"testing"

	"example.com/wheelrate/refdata"
	"github.com/stretchr/testify/require"
)

// What one caller is given has no memory in common with what another is given.
func TestAnswersAreTheCallersOwn(t *testing.T) {
	seen := map[uintptr]string{}
	collect := func(name string, v any) {
		t.Helper()
		before := len(seen)
		memory(reflect.ValueOf(v), name, func(at uintptr, path string) {
			if other, ok := seen[at]; ok {
				t.Errorf("%s is %s", path, other)
			}
			seen[at] = path
		})
		require.Greater(t, len(seen), before, "%s: nothing looked at", name)
	}
	// Held until the end, so that no memory is used twice.
	var all []any
	for range 2 {
		for name, v := range map[string]any{"materials": refdata.Materials(), "gases": refdata.Gases(), "constants": refdata.Constants(),
			"authorities": refdata.Authorities(), "computations": refdata.Computations()} {
			all = append(all, v)
			collect(name, v)
		}
	}
	for _, one := range refdata.Materials() {
		named, err := refdata.MaterialNamed(one.Name)
		require.NoError(t, err)
		require.Equal(t, one, named)
		all = append(all, one, named)
		collect("material", named)
	}
	for _, one := range refdata.Gases() {
		named, err := refdata.GasNamed(one.Name)
		require.NoError(t, err)
		require.Equal(t, one, named)
		all = append(all, one, named)
		collect("gas", named)
	}
	runtime.KeepAlive(all)
}

// memory calls see with every address that v can be changed through.
func memory(v reflect.Value, path string, see func(at uintptr, path string)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			see(v.Pointer(), path)
			memory(v.Elem(), path, see)
		}
	case reflect.Slice:
		if v.Len() > 0 {
			see(v.Pointer(), path)
		}
		for i := range v.Len() {
			memory(v.Index(i), path+"[]", see)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			memory(v.Field(i), path+"."+v.Type().Field(i).Name, see)
		}
	case reflect.Map, reflect.Interface, reflect.Func, reflect.Chan:
		panic(path + ": a kind that clone does not know")
	}
}
