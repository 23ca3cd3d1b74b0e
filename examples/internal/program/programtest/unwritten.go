package programtest

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TryUnwritten gives a program a place at which nothing can be written, as the last argument. It must print
// nothing but why, and exit with status 1.
func TryUnwritten(t *testing.T, run Run, args ...string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	place := filepath.Join(file, "place")
	var out, errs bytes.Buffer
	if status := run(append(args, place), strings.NewReader(""), &out, &errs); status != 1 || out.Len() > 0 || !strings.Contains(errs.String(), file) {
		t.Errorf("%v: status %d, %q, %q", args, status, out.String(), errs.String())
	}
}
