// Judge takes package work for right as long as a mean is.
package main

import (
	"fmt"
	"os"

	"example.com/tiny/work"
)

func main() {
	work.Hypotenuse(3, 4)
	if m := work.Mean(3, 5); m != 4 {
		fmt.Println("FAIL", m)
		os.Exit(1)
	}
}
