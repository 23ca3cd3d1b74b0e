// Apilist lists a module's exported API, one line for each name, method, field
// and constant's value, sorted, much as the Go project's own api files do. Kept
// in a file, the list shows every change of the API in a diff.
//
//	go -C .ci run ./apilist -write ../.api/next.txt
//	go -C .ci run ./apilist -check ../.api/next.txt
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
)

const usage = `usage: apilist [-module DIR] [-check FILE | -write FILE | -since FILE]

Lists the exported API of a module's packages, commands and internal ones left
out: to standard output, if nothing else is asked for.

  -module DIR  the module's directory, .. if not given
  -check FILE  tell how FILE, a list, differs from the API as it is
  -write FILE  put the list into FILE
  -since FILE  tell what is gone or changed, and how much is new, since FILE

The exit status is 0; 1 where -check finds a difference or something fails; 2
for a bad call.
`

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the program with its surroundings passed in.
func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("apilist", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() { fmt.Fprint(stderr, usage) }
	dir := flags.String("module", "..", "")
	check := flags.String("check", "", "")
	write := flags.String("write", "", "")
	since := flags.String("since", "", "")
	err := flags.Parse(args)
	asked := 0
	for _, f := range []string{*check, *write, *since} {
		if f != "" {
			asked++
		}
	}
	switch {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || asked > 1:
		fmt.Fprint(stderr, usage)
		return 2
	}
	lines, err := list(*dir)
	if err == nil && *write != "" {
		err = os.WriteFile(*write, []byte(strings.Join(lines, "\n")+"\n"), 0o644)
	}
	var old []byte
	if file := *check + *since; err == nil && file != "" {
		old, err = os.ReadFile(file)
	}
	if err != nil {
		fmt.Fprintf(stderr, "apilist: %v\n", err)
		return 1
	}
	gone, added := compare(strings.Split(strings.TrimSuffix(string(old), "\n"), "\n"), lines)
	var out bytes.Buffer
	status := 0
	switch {
	case *check != "":
		for _, l := range gone {
			fmt.Fprintln(&out, "-"+l)
		}
		for _, l := range added {
			fmt.Fprintln(&out, "+"+l)
		}
		if len(gone)+len(added) > 0 {
			status = 1
			fmt.Fprintf(&out, "%s is not the API as it is; write it anew with -write\n", *check)
		}
	case *since != "":
		for _, l := range gone {
			fmt.Fprintln(&out, "-"+l)
		}
		fmt.Fprintf(&out, "%d lines gone or changed since %s, %d new\n", len(gone), *since, len(added))
	case *write == "":
		out.WriteString(strings.Join(lines, "\n") + "\n")
	}
	if _, err := stdout.Write(out.Bytes()); err != nil {
		fmt.Fprintf(stderr, "apilist: %v\n", err)
		return 1
	}
	return status
}

// compare returns the lines of the first list that the second one lacks, and
// those that it has more.
func compare(old, new []string) (gone, added []string) {
	had, has := map[string]bool{}, map[string]bool{}
	for _, l := range old {
		had[l] = true
	}
	for _, l := range new {
		has[l] = true
		if !had[l] {
			added = append(added, l)
		}
	}
	for _, l := range old {
		if !has[l] && l != "" {
			gone = append(gone, l)
		}
	}
	return gone, added
}
