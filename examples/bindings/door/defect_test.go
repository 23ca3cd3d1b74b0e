package door

import "testing"

// No question is known that shows a defect, so this one is made.
func TestDefectIsAFault(t *testing.T) {
	const want = `{"faults":[{"code":"defect","field":"","want":"defect of the library: no spring"}]}`
	if got := string(guard(func() (reply, error) { panic("no spring") })); got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got := string(guard(func() (reply, error) { return reply{Answer: func() {}}, nil })); got == want || got[:11] != want[:11] {
		t.Errorf("a reply that can't be written: %s", got)
	}
}
