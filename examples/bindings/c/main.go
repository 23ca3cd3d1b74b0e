// C is the library as a C library; wheelrate.h says how it is called:
//
//	go -C examples build -buildmode=c-shared -o libwheelrate.so ./bindings/c
package main

/*
#include <stdlib.h>
#include "wheelrate.h"

typedef const char text;

static inline void *zeros(size_t size) { return calloc(size, 1); }
*/
import "C"

import (
	"unsafe"

	"example.com/wheelrate/examples/bindings/door"
)

func main() {}

// The C compiler holds both functions against wheelrate.h.

//export wheelrate_ask
func wheelrate_ask(question *C.text, size C.size_t) *C.char {
	var asked []byte
	if question != nil { // one byte more than the limit, and it is refused
		asked = unsafe.Slice((*byte)(unsafe.Pointer(question)), min(size, door.Limit+1))
	}
	text := door.Answer(asked)
	reply := C.zeros(C.size_t(len(text) + 1)) // with the zero at its end
	if reply != nil {
		copy(unsafe.Slice((*byte)(reply), len(text)), text)
	}
	return (*C.char)(reply)
}

//export wheelrate_free
func wheelrate_free(reply *C.char) { C.free(unsafe.Pointer(reply)) }
