package planted

import "testing"

// Every plant can be planted in the page's program as it is, and there are enough of them.
func TestPlantsApply(t *testing.T) {
	for _, f := range plants {
		if _, err := f.overlay("../../../examples", t.TempDir()); err != nil {
			t.Error(err)
		}
	}
	if len(plants) < 12 {
		t.Errorf("%d plants", len(plants))
	}
}
