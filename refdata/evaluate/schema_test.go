package evaluate

import (
	"slices"
	"testing"

	"example.com/wheelrate/refdata"
)

// The schema lists the very computations that the evaluator knows.
func TestSchemaListsComputations(t *testing.T) {
	if listed := refdata.Computations(); !slices.Equal(listed, Computations()) {
		t.Errorf("schema lists\n%v\nthe evaluator has\n%v", listed, Computations())
	}
}
