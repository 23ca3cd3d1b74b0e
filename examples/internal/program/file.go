package program

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Unwritten is the error of what a program can't write. Its exit status is 1, that of every other error 2.
type Unwritten struct{ Err error }

// Error returns the text of the error within.
func (u *Unwritten) Error() string { return u.Err.Error() }

// Unwrap returns the error within.
func (u *Unwritten) Unwrap() error { return u.Err }

// unwritten returns an [Unwritten]; nil for nil.
func unwritten(err error) error {
	if err == nil {
		return nil
	}
	return &Unwritten{err}
}

// Status returns the exit status of a program that ends with an error.
func Status(err error) int {
	if wrong := new(Unwritten); errors.As(err, &wrong) {
		return 1
	}
	return 2
}

// File is a file that is written whole or not at all: what is written to it goes to another file beside
// its place, which Keep moves there. A device or a pipe is written to as it is.
type File struct {
	*os.File
	path string // where Keep moves it; empty for a device or a pipe
}

// Create returns a file to be written at a path.
func Create(path string) (*File, error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	was, err := os.Stat(path)
	if err == nil && !was.Mode().IsRegular() {
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		return &File{File: f}, unwritten(err)
	}
	f, err := os.OpenFile(fmt.Sprintf("%s.%d.part", path, os.Getpid()), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		if at := new(fs.PathError); errors.As(err, &at) {
			at.Path = path
		}
		return nil, unwritten(Where(path, err))
	}
	if was != nil {
		_ = f.Chmod(was.Mode()) // as far as the system has such modes
	}
	return &File{f, path}, nil
}

// Keep puts the file in its place, or leaves what is there as it is and returns why.
func (f *File) Keep() error {
	if f.path == "" {
		return unwritten(f.Close())
	}
	err := errors.Join(f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), f.path)
	}
	if err != nil {
		_ = os.Remove(f.Name()) // the error that counts is the first
	}
	return unwritten(err)
}

// Discard leaves what is in the file's place as it is.
func (f *File) Discard() {
	_ = f.Close()
	if f.path != "" {
		_ = os.Remove(f.Name())
	}
}

// WriteFile writes a file whole or not at all.
func WriteFile(path string, text []byte) error {
	f, err := Create(path)
	if err != nil {
		return err
	}
	if _, err := f.Write(text); err != nil {
		f.Discard()
		return unwritten(err)
	}
	return f.Keep()
}

// WriteNew is [WriteFile] for a path at which there must be nothing, so that nothing is lost.
func WriteNew(path string, text []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%w: give the name of a new file, so that nothing is lost", err)
	}
	if err == nil {
		err = f.Close()
	}
	if err != nil {
		return unwritten(Where(path, err))
	}
	if err = WriteFile(path, text); err != nil {
		_ = os.Remove(path)
	}
	return err
}
