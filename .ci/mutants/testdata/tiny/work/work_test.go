package work

import "testing"

func TestMean(t *testing.T) {
	if m := Mean(3, 5); m != 4 {
		t.Errorf("mean of 3 and 5 is 4, not %v", m)
	}
}

func TestClip(t *testing.T) {
	for _, row := range [][2]float64{{-2, 0}, {0, 0}, {0.25, 0.25}, {1, 1}, {1.25, 1}} {
		if c := Clip(row[0]); c != row[1] {
			t.Errorf("%v clips to %v, not %v", row[0], row[1], c)
		}
	}
}

func TestHypotenuse(t *testing.T) { Hypotenuse(3, 4) }

func TestEndless(t *testing.T) {
	if k := Endless(5); k != 5 {
		t.Errorf("5, not %v", k)
	}
}
