package refdata

import (
	"encoding/json"
	"slices"
	"sync"
)

// Computations lists the names that a case's "computes" may have, in the order in
// which the schema of case files has them. The slice is the caller's own. Package
// evaluate runs them.
func Computations() []string { return slices.Clone(computations()) }

// computations reads the embedded schema at its first call.
var computations = sync.OnceValue(func() []string {
	var file struct {
		Defs struct {
			Case struct {
				Properties struct {
					Computes struct {
						Enum []string `json:"enum"`
					} `json:"computes"`
				} `json:"properties"`
			} `json:"case"`
		} `json:"$defs"`
	}
	text, err := schema.ReadFile("schema/cases.schema.json")
	if err != nil || json.Unmarshal(text, &file) != nil {
		return nil // the tests read the same file
	}
	return file.Defs.Case.Properties.Computes.Enum
})
