package evaluate

import (
	"io/fs"

	"example.com/wheelrate/refdata"
)

// file wraps groups into a case file, and group wraps cases into one.
func file(groups string) string {
	return `{"schema":"wheelrate/cases/1","subject":"test","groups":[` + groups + `]}`
}

func group(cases string) string { return `{"standing":"common practice","cases":[` + cases + `]}` }

func aCase(id string) string {
	return `{"id":"` + id + `","computes":"units.convert","given":{"kind":"length","value":"1 in"},"expect":{"value":"25.4 mm"}}`
}

// load returns every case of a file system.
func load(fsys fs.FS) ([]refdata.Case, error) {
	var list []refdata.Case
	err := refdata.Each(fsys, func(c refdata.Case) error {
		list = append(list, c)
		return nil
	})
	return list, err
}
