// Command words finds phrases that a reader has to solve, in code, comments,
// messages and documents of the whole repository, and prints what to write
// instead. A phrase is found across the end of a line as well.
//
//	go -C .ci run ./words
//
// The exit status is 1 if any is found.
package main

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
)

// between is what may stand between two words: white space, and where a line
// ends the marks that begin a comment.
const between = `(?:[ \t]+|[ \t]*\n[ \t]*(?://|#|\*)?[ \t]*)`

// phrases are the worst, each with what is meant.
var phrases = []struct{ phrase, instead string }{
	{"tells whether", "reports whether"},
	{"is none", "is invalid, or what it lacks"}, // but "there is none" and "is none of these"
	{"comes to no end", "does not converge"},
	{"come to no end", "do not converge"},
	{"hangs on", "depends on, or is joined to"},
	{"is told of", "is given, or is reported"},
}

// before and after are words that make a phrase plain English.
var before, after = regexp.MustCompile(`\b[Tt]here` + between + `$`), regexp.MustCompile(`^` + between + `of\b`)

var patterns = compiled()

func compiled() (list []*regexp.Regexp) {
	for _, p := range phrases {
		list = append(list, regexp.MustCompile(`\b`+strings.ReplaceAll(p.phrase, " ", between)+`\b`))
	}
	return list
}

// texts are the kinds of files that people read.
var texts = []string{".go", ".md", ".txt", ".py", ".sh", ".js", ".html", ".tmpl", ".json", ".c", ""}

// found is a place of a phrase.
type found struct {
	line            int
	phrase, instead string
}

// search returns the places of all phrases in a text, from the top.
func search(text []byte) []found {
	var list []found
	for i, p := range phrases {
		for _, at := range patterns[i].FindAllIndex(text, -1) {
			if p.phrase == "is none" && (before.Match(text[max(0, at[0]-80):at[0]]) || after.Match(text[at[1]:])) {
				continue
			}
			list = append(list, found{1 + bytes.Count(text[:at[0]], []byte("\n")), p.phrase, p.instead})
		}
	}
	slices.SortStableFunc(list, func(a, b found) int { return a.line - b.line })
	return list
}

// read searches all files of a tree but those of others: the git directory,
// inputs of fuzz targets, and this program, which has the phrases themselves.
func read(tree fs.FS, out io.Writer) (count int, err error) {
	err = fs.WalkDir(tree, ".", func(at string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir() && (at == ".git" || at == ".api" || at == ".ci/words" || strings.HasSuffix(at, "testdata/fuzz")):
			return fs.SkipDir
		case !e.Type().IsRegular() || !slices.Contains(texts, path.Ext(at)):
			return nil
		}
		text, err := fs.ReadFile(tree, at)
		if err != nil || bytes.IndexByte(text, 0) >= 0 { // a built program
			return err
		}
		for _, f := range search(text) {
			count++
			fmt.Fprintf(out, "%s:%d: %q; write %s\n", at, f.line, f.phrase, f.instead)
		}
		return nil
	})
	return count, err
}

func main() {
	count, err := read(os.DirFS(".."), os.Stdout)
	if err != nil {
		fmt.Fprintln(os.Stderr, "words:", err)
		os.Exit(1)
	}
	if count > 0 {
		fmt.Printf("%d phrases that a reader has to solve\n", count)
		os.Exit(1)
	}
}
