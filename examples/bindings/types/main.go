// Types writes the TypeScript declarations of what is asked and replied, from the schemas of documents and of
// the dataset's computations:
//
//	go -C examples generate ./bindings/types
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
)

//go:generate go run . -out ../javascript/types.d.ts

func main() {
	out := flag.String("out", "", "the file to write; standard output if left out")
	flag.Parse()
	text, err := declarations()
	if err != nil {
		log.Fatal("types: ", err)
	}
	if *out == "" {
		fmt.Print(text)
	} else if err := os.WriteFile(*out, []byte(text), 0o644); err != nil {
		log.Fatal("types: ", err)
	}
}
