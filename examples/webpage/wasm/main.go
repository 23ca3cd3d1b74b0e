//go:build js && wasm

// Wasm is what the page runs: the library, behind seven functions.
//
//	wheelrate(job, width, customary)
//	wheelrateCard(job)
//	wheelrateTaken(job, paths)
//	wheelrateVisit(visit)
//	wheelrateLinkage(mechanism, within)
//	wheelrateTable(csv)
//	wheelrateLesson(request)
//
// The first takes a job as JSON text, the width of pictures in pixels, or 0 where no curves
// are shown, and whether they are drawn in customary units. The others take a job, a job and
// the paths for which a value was taken for granted, as JSON text, a visit, a mechanism
// with how far its holes may be off, a leverage curve as CSV, and a request of a lesson. All return the answer as JSON text; see
// packages answer and lesson.
package main

import (
	"encoding/json"
	"fmt"
	"syscall/js"

	"example.com/wheelrate/examples/internal/lesson"
	"example.com/wheelrate/examples/webpage/answer"
	"example.com/wheelrate/units"
)

func main() {
	export("wheelrate", func(args []js.Value) any {
		return answer.Work([]byte(args[0].String()), answer.Options{Width: args[1].Int(), Customary: args[2].Bool()})
	})
	export("wheelrateCard", func(args []js.Value) any { return answer.WorkCard([]byte(args[0].String())) })
	export("wheelrateTaken", func(args []js.Value) any {
		var paths []string
		if err := json.Unmarshal([]byte(args[1].String()), &paths); err != nil {
			return refusal(err.Error())
		}
		return answer.WorkTaken([]byte(args[0].String()), paths)
	})
	export("wheelrateVisit", func(args []js.Value) any { return answer.WorkVisit([]byte(args[0].String())) })
	export("wheelrateLinkage", func(args []js.Value) any { return answer.WorkLinkage([]byte(args[0].String()), args[1].String()) })
	export("wheelrateTable", func(args []js.Value) any { return answer.ReadTable(args[0].String()) })
	export("wheelrateLesson", func(args []js.Value) any { return lesson.Answer([]byte(args[0].String())) })
	if ready := js.Global().Get("wheelrateReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}

// export makes a function of the page, whose answer goes out as JSON text.
func export(name string, work func([]js.Value) any) {
	js.Global().Set(name, js.FuncOf(func(_ js.Value, args []js.Value) any { return call(work, args) }))
}

func call(work func([]js.Value) any, args []js.Value) (text string) {
	defer func() {
		if fault := recover(); fault != nil { // keep the page alive, and say so
			text = encode(refusal(fmt.Sprint("a program without a mistake; this one stopped at ", fault)))
		}
	}()
	return encode(work(args))
}

func refusal(want string) any {
	return &answer.Answer{Unreadable: true, Faults: []*units.FieldError{{Want: units.Want{Text: want}}}}
}

func encode(a any) string {
	text, err := json.Marshal(a)
	if err != nil {
		text, _ = json.Marshal(refusal(err.Error()))
	}
	return string(text)
}
