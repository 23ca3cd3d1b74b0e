package program

import (
	"bytes"
	"errors"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"testing"
)

// Where there is no more room, what was there before is there after, and nothing else.
func TestFullDisk(t *testing.T) {
	if err := WriteFile("/dev/full", []byte("x")); !errors.Is(err, syscall.ENOSPC) || Status(err) != 1 {
		t.Errorf("a full device: %v", err)
	}
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Error(err)
	}
	if err := WriteFile(os.DevNull, []byte("x")); err != nil {
		t.Error(err)
	}

	dir := t.TempDir()
	old, fresh := filepath.Join(dir, "old.txt"), filepath.Join(dir, "new.txt")
	if err := WriteFile(old, []byte("one")); err != nil {
		t.Fatal(err)
	}
	var limit syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		t.Skip(err)
	}
	signal.Ignore(syscall.SIGXFSZ)
	defer signal.Reset(syscall.SIGXFSZ)
	small := limit
	small.Cur = 1 << 16 // as if the disk were full after so many bytes
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &small); err != nil {
		t.Skip(err)
	}
	text := bytes.Repeat([]byte("x"), 1<<17)
	over, newly := WriteFile(old, text), WriteNew(fresh, text)
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		t.Fatal(err)
	}
	for _, err := range []error{over, newly} {
		if !errors.Is(err, syscall.EFBIG) || Status(err) != 1 {
			t.Errorf("a full disk: %v", err)
		}
	}
	only(t, dir, "old.txt", "one")
}
