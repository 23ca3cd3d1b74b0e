//go:build js && wasm

// Wasm is what the page runs: the library, behind one function.
//
//	wheelrate(job, width, customary)
//
// takes a job as JSON text, the width of pictures in pixels, and whether they
// are drawn in customary units, and returns the answer as JSON text; see
// package answer.
package main

import (
	"encoding/json"
	"fmt"
	"syscall/js"

	"example.com/wheelrate/examples/webpage/answer"
)

func main() {
	js.Global().Set("wheelrate", js.FuncOf(func(_ js.Value, args []js.Value) any { return call(args) }))
	if ready := js.Global().Get("wheelrateReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}

func call(args []js.Value) (text string) {
	defer func() {
		if fault := recover(); fault != nil { // keep the page alive, and say so
			text = encode(&answer.Answer{Unreadable: true, Faults: []answer.Fault{{Want: fmt.Sprint("a program without a mistake; this one stopped at ", fault)}}})
		}
	}()
	return encode(answer.Work([]byte(args[0].String()), answer.Options{Width: args[1].Int(), Customary: args[2].Bool()}))
}

func encode(a *answer.Answer) string {
	text, err := json.Marshal(a)
	if err != nil {
		text, _ = json.Marshal(answer.Answer{Unreadable: true, Faults: []answer.Fault{{Want: err.Error()}}})
	}
	return string(text)
}
