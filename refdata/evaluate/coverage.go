package evaluate

import (
	"fmt"
	"io/fs"
	"strings"

	"example.com/wheelrate/refdata"
)

// Coverage counts the cases of fsys by what they compute and by standing, and
// those that expect a refusal in a column of their own. It returns a table in
// plain text with a line for every computation, also those without a case.
func Coverage(fsys fs.FS) (string, error) {
	standings := refdata.Standings()
	counts := make(map[string][]int)
	for _, name := range Computations() {
		counts[name] = make([]int, len(standings)+1)
	}
	err := refdata.Each(fsys, func(c refdata.Case) error {
		row := counts[c.Computes]
		for i, s := range standings {
			if s == c.Standing {
				row[i]++
			}
		}
		if c.Error != nil {
			row[len(standings)]++
		}
		return nil
	})
	if err != nil {
		return "", err
	}
	var b strings.Builder
	line := func(name string, cell func(i int) string) {
		fmt.Fprintf(&b, "%-24s", name)
		for i := range len(standings) + 1 {
			fmt.Fprintf(&b, "%16s", cell(i))
		}
		b.WriteByte('\n')
	}
	line("computes", func(i int) string {
		if i < len(standings) {
			return string(standings[i])
		}
		return "(refusals)"
	})
	totals := make([]int, len(standings)+1)
	for _, name := range Computations() {
		line(name, func(i int) string {
			totals[i] += counts[name][i]
			return fmt.Sprint(counts[name][i])
		})
	}
	line("all", func(i int) string { return fmt.Sprint(totals[i]) })
	return b.String(), nil
}
