package program

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// only checks that a directory has one file, with a text, or none for "".
func only(t *testing.T, dir, name, text string) {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, one := range list {
		names = append(names, one.Name())
	}
	if got := strings.Join(names, " "); got != name {
		t.Errorf("the directory has %q, want %q", got, name)
	}
	if name == "" {
		return
	}
	if got, err := os.ReadFile(filepath.Join(dir, name)); err != nil || string(got) != text {
		t.Errorf("%s has %q, want %q: %v", name, got, text, err)
	}
}

// A file takes the place of another one at once, with its mode, and behind a link.
func TestFileIsWrittenWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	if err := WriteFile(path, []byte("one")); err != nil {
		t.Fatal(err)
	}
	only(t, dir, "a.txt", "one")
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	f, err := Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteString("two"); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(path); string(got) != "one" {
		t.Errorf("before it is kept the file has %q", got)
	}
	if err := f.Keep(); err != nil {
		t.Fatal(err)
	}
	only(t, dir, "a.txt", "two")
	if info, err := os.Stat(path); err != nil || info.Mode() != 0o640 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
	elsewhere := t.TempDir()
	link := filepath.Join(elsewhere, "link.txt")
	if err := os.Symlink(path, link); err != nil {
		t.Skip(err)
	}
	if err := WriteFile(link, []byte("three")); err != nil {
		t.Fatal(err)
	}
	only(t, dir, "a.txt", "three")
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link is gone: %v, %v", info.Mode(), err)
	}
}

// What is discarded, and what can't be put in its place, leaves everything as it was.
func TestFileIsNotWritten(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	if err := WriteFile(path, []byte("one")); err != nil {
		t.Fatal(err)
	}
	for name, end := range map[string]func(*File) error{
		"discarded":     func(f *File) error { f.Discard(); return nil },
		"closed before": func(f *File) error { f.Close(); return f.Keep() },
	} {
		f, err := Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.WriteString("two"); err != nil {
			t.Fatal(err)
		}
		if err := end(f); (err != nil) != (name == "closed before") || err != nil && Status(err) != 1 {
			t.Errorf("%s: %v", name, err)
		}
		only(t, dir, "a.txt", "one")
	}
	for name, err := range map[string]error{
		"below a file":  WriteFile(filepath.Join(path, "b.txt"), nil),
		"a directory":   WriteFile(dir, nil),
		"new elsewhere": WriteNew(filepath.Join(dir, "none", "b.txt"), nil),
	} {
		if err == nil || Status(err) != 1 || strings.Contains(err.Error(), ".part") {
			t.Errorf("%s: %v", name, err)
		}
	}
	only(t, dir, "a.txt", "one")
}

// A new file is never written over another one: that is a fault of the call.
func TestNewFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	if err := WriteNew(path, []byte("one")); err != nil {
		t.Fatal(err)
	}
	if err := WriteNew(path, []byte("two")); !errors.Is(err, fs.ErrExist) || Status(err) != 2 || !strings.Contains(err.Error(), "a new file") {
		t.Errorf("over another file: %v", err)
	}
	only(t, dir, "a.txt", "one")
}
