package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/schema"
)

// readme is how to use an exported folder.
const readme = `# Reference cases of wheelrate, version %s

Suspension set-up maths as check cases: any program, in any language, can hold
itself against them.

- DESCRIPTION.md: what every computation is given, gives and refuses; the text of
  quantities, how answers are compared, and the protocol by which a judge speaks
  to a program. description/ has the same as JSON.
- cases/: the cases, quantities as text with a unit. cases-si/: the same with every
  quantity as a number in SI.
- schema/: JSON Schemas of all files; schema/computations/ has one a computation,
  of what is given and of an answer.
- materials.json, gases.json, constants.json: data that computations look up.
- version.json, CHANGELOG.md: version of the dataset and its changes.
- authorities.json: programs of others that confirm cases.
- LICENSE: the licence of all of it.
- SHA256SUMS: sha256sum -c SHA256SUMS

Inputs of most cases are invented. The cases check arithmetic; they are no advice
on a bike. The marking on a part and its maker's manual win.
`

// export writes the dataset into a new or empty directory, so that it stands alone.
func export(dir string) error {
	if entries, err := os.ReadDir(dir); err == nil && len(entries) > 0 {
		return fmt.Errorf("%s is not empty", dir)
	}
	files := map[string][]byte{"README.md": fmt.Appendf(nil, readme, refdata.Version())}
	collect := func(fsys fs.FS, below string) error {
		return fs.WalkDir(fsys, ".", func(name string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				return err
			}
			files[path.Join(below, name)], err = fs.ReadFile(fsys, name)
			return err
		})
	}
	err := errors.Join(collect(refdata.Data(), "."), collect(schema.Dataset(), "schema"))
	if err != nil {
		return err
	}
	files["LICENSE"] = files["LICENSE.md"]
	delete(files, "LICENSE.md")
	if err := plainFiles(files); err != nil {
		return err
	}
	var sums bytes.Buffer
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(files[name]), name)
	}
	files["SHA256SUMS"] = sums.Bytes()
	for name, text := range files {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			return err
		}
		if err := program.WriteFile(file, text); err != nil {
			return err
		}
	}
	return nil
}

// plainGroup is a group of a case file in SI.
type plainGroup struct {
	Source   refdata.Source   `json:"source"`
	Standing refdata.Standing `json:"standing"`
	Cases    []plain          `json:"cases"`
}

// plainFiles adds every case file in SI.
func plainFiles(files map[string][]byte) error {
	type file struct {
		Schema  string        `json:"schema"`
		Subject string        `json:"subject"`
		Groups  []*plainGroup `json:"groups"`
	}
	all := map[string]*file{}
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		if err != nil {
			return err
		}
		f := all[c.File]
		if f == nil {
			f = &file{Schema: "wheelrate/cases-si/1", Subject: c.Subject}
			all[c.File] = f
		}
		n := len(f.Groups)
		if n == 0 || f.Groups[n-1].Source != c.Source || f.Groups[n-1].Standing != c.Standing {
			f.Groups = append(f.Groups, &plainGroup{Source: c.Source, Standing: c.Standing})
			n++
		}
		p, err := plainOf(c)
		if err != nil {
			return err
		}
		f.Groups[n-1].Cases = append(f.Groups[n-1].Cases, p)
	}
	for name, f := range all {
		var text bytes.Buffer
		e := json.NewEncoder(&text)
		e.SetEscapeHTML(false)
		e.SetIndent("", " ")
		if err := e.Encode(f); err != nil {
			return err
		}
		files["cases-si/"+name] = text.Bytes()
	}
	return nil
}
