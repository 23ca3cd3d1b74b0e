//go:build wasip1

// Wasm is the library as a WebAssembly module, for programs that can run one:
//
//	GOOS=wasip1 GOARCH=wasm go -C examples build -buildmode=c-shared -o wheelrate.wasm ./bindings/wasm
//
// It wants the functions of WASI preview 1, and opens no file. After _initialize a question is asked in
// three calls:
//
//	at = reserve(size)   room for the question
//	size = ask()         after the question was written there
//	at = reply()         where the reply is
//
// Question and reply are JSON in UTF-8; see package door. The module is called from one thread.
package main

import (
	"unsafe"

	"example.com/wheelrate/examples/bindings/door"
)

func main() {}

var question, answer []byte

// reserve returns the place for a question of so many bytes, or 0 for one that is too long, which ask refuses.
// The place is good until the next call.
//
//go:wasmexport reserve
func reserve(size uint32) unsafe.Pointer {
	question = make([]byte, min(size, door.Limit+1))
	if size > door.Limit {
		return nil
	}
	return unsafe.Pointer(unsafe.SliceData(question))
}

// ask answers the question, and returns the length of the reply in bytes.
//
//go:wasmexport ask
func ask() uint32 {
	answer = door.Answer(question)
	question = nil
	return uint32(len(answer))
}

// reply returns the place of the reply, which is good until the next question is asked.
//
//go:wasmexport reply
func reply() unsafe.Pointer { return unsafe.Pointer(unsafe.SliceData(answer)) }
