package main

import (
	"os"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTypesAreCurrent(t *testing.T) {
	want, err := declarations()
	require.NoError(t, err)
	got, err := os.ReadFile("../javascript/types.d.ts")
	require.NoError(t, err)
	if string(got) != want {
		t.Error("javascript/types.d.ts is stale: run go -C examples generate ./bindings/types")
	}
}

// What a type can't say stops the program, instead of a wrong type.
func TestUnknownTypesAreRefused(t *testing.T) {
	for _, v := range []any{
		struct {
			A chan int `json:"a"`
		}{},
		struct {
			A []struct {
				B func() `json:"b"`
			} `json:"a"`
		}{},
		struct {
			A ownJSON `json:"a"`
		}{},
	} {
		if err := (file{}).structure(reflect.TypeOf(v), "X"); err == nil {
			t.Errorf("%T has a type", v)
		}
	}
	f := file{}
	require.NoError(t, f.declare("A", "type A = string;"))
	require.NoError(t, f.declare("A", "type A = string;"))
	require.Error(t, f.declare("A", "type A = number;"))
}

type ownJSON struct{}

func (ownJSON) MarshalJSON() ([]byte, error) { return nil, nil }
