// C is the library as a C library; wheelrate.h says how it is called:
//
//	go -C examples build -buildmode=c-shared -o libwheelrate.so ./bindings/c
package main

/*
#include <stdlib.h>
#include "wheelrate.h"

typedef const char text;
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
	return C.CString(string(door.Answer(asked)))
}

//export wheelrate_free
func wheelrate_free(reply *C.char) { C.free(unsafe.Pointer(reply)) }
