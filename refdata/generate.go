//go:build ignore

// Generate puts every file of the dataset in canonical form, writes the
// coverage table into doc.go and the changelog into data/CHANGELOG.md. Run it
// with go generate.
package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"log"
	"os"
	"path/filepath"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

func main() {
	log.SetFlags(0)
	for _, dir := range []string{"data", "schema"} {
		err := filepath.WalkDir(dir, func(name string, entry fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(name) != ".json" {
				return err
			}
			return format(name)
		})
		if err != nil {
			log.Fatal(err)
		}
	}
	if err := cover(); err != nil {
		log.Fatal(err)
	}
	if err := os.WriteFile("data/CHANGELOG.md", []byte(refdata.Changelog()), 0o644); err != nil {
		log.Fatal(err)
	}
}

func format(name string) error {
	before, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	after, err := refdata.Format(before)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if bytes.Equal(before, after) {
		return nil
	}
	return os.WriteFile(name, after, 0o644)
}

func cover() error {
	table, err := evaluate.Coverage(os.DirFS("data/cases"))
	if err != nil {
		return err
	}
	before, err := os.ReadFile("doc.go")
	if err != nil {
		return err
	}
	begin, end := []byte("// # Coverage\n"), []byte("// # Not modelled\n")
	i, j := bytes.Index(before, begin), bytes.Index(before, end)
	if i < 0 || j < i {
		return fmt.Errorf("doc.go has no section between %q and %q", begin, end)
	}
	var b bytes.Buffer
	b.Write(before[:i])
	b.Write(begin)
	b.WriteString("//\n")
	for line := range bytes.Lines([]byte(table)) {
		b.WriteString("//\t")
		b.Write(line)
	}
	b.WriteString("//\n")
	b.Write(before[j:])
	return os.WriteFile("doc.go", b.Bytes(), 0o644)
}
