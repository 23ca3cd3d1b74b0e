package main

import (
	"os"
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

// A name has one declaration.
func TestDeclarationsAreUnique(t *testing.T) {
	f := file{}
	require.NoError(t, f.declare("A", "type A = string;"))
	require.NoError(t, f.declare("A", "type A = string;"))
	require.Error(t, f.declare("A", "type A = number;"))
}
