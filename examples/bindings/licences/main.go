// Licences prints the licences of all that a program of this module contains, for whoever passes it on
// built:
//
//	go -C examples run ./bindings/licences ./bindings/c
package main

import (
	"fmt"
	"os"
	"os/exec"
	"strings"

	"example.com/wheelrate/examples/internal/licences"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: licences PROGRAM")
		os.Exit(2)
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	var text []byte
	if err == nil {
		text, err = licences.Of(os.Args[1], strings.TrimSpace(string(goroot)))
	}
	if err == nil {
		_, err = os.Stdout.Write(text)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "licences:", err)
		os.Exit(1)
	}
}
