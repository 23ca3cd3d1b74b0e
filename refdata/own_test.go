package refdata

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestOwn: what one caller is given has no memory in common with what another
// is given, nor with what the package keeps.
func TestOwn(t *testing.T) {
	kept := map[uintptr]string{}
	collect := func(name string, v any) {
		t.Helper()
		before := len(kept)
		memory(reflect.ValueOf(v), name, func(at uintptr, path string) {
			if other, ok := kept[at]; ok {
				t.Errorf("%s is %s", path, other)
			}
			kept[at] = path
		})
		require.Greater(t, len(kept), before, "%s: nothing looked at", name)
	}
	m, err := materials()
	require.NoError(t, err)
	collect("kept materials", m)
	collect("materials", Materials())
	for _, one := range m {
		named, err := MaterialNamed(one.Name)
		require.NoError(t, err)
		require.Equal(t, one, named)
		collect("material", named)
	}
	g, err := gases()
	require.NoError(t, err)
	collect("kept gases", g)
	collect("gases", Gases())
	for _, one := range g {
		named, err := GasNamed(one.Name)
		require.NoError(t, err)
		require.Equal(t, one, named)
		collect("gas", named)
	}
	c, err := constants()
	require.NoError(t, err)
	collect("kept constants", c)
	collect("constants", Constants())
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
