package picture

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

func sampleMotion(n int) Motion {
	m := Motion{View: sampleView(), Seconds: 4}
	for i := range n {
		pose := Pose{Label: "moment " + strconv.Itoa(i), At: map[string]Point{}}
		for name, at := range m.View.Poses[0].At {
			pose.At[name] = at
		}
		m.Moments = append(m.Moments, pose)
	}
	return m
}

// At every time one moment is seen, from the first to the last and back.
func TestMotionShowsOneMomentAtATime(t *testing.T) {
	for _, n := range []int{2, 3, 8} {
		var svg bytes.Buffer
		if err := WriteMotion(&svg, sampleMotion(n)); err != nil {
			t.Fatal(err)
		}
		type track struct {
			values []string
			times  []float64
		}
		var tracks []track
		for _, found := range regexp.MustCompile(`values="([^"]*)" keyTimes="([^"]*)"`).FindAllStringSubmatch(svg.String(), -1) {
			k := track{values: strings.Split(found[1], ";")}
			for _, text := range strings.Split(found[2], ";") {
				at, err := strconv.ParseFloat(text, 64)
				if err != nil {
					t.Fatal(err)
				}
				if i := len(k.times); i > 0 && !(at > k.times[i-1] && at <= 1) {
					t.Errorf("times %s", found[2])
				}
				k.times = append(k.times, at)
			}
			if len(k.times) != len(k.values) || k.times[0] != 0 {
				t.Errorf("%d values at %d times", len(k.values), len(k.times))
			}
			tracks = append(tracks, k)
		}
		if len(tracks) != n {
			t.Fatalf("%d of %d moments", len(tracks), n)
		}
		for step := range 2 * (n - 1) {
			at := (float64(step) + 0.5) / float64(2*(n-1))
			for i, k := range tracks {
				now := ""
				for j, from := range k.times {
					if from <= at {
						now = k.values[j]
					}
				}
				want := i == min(step, 2*(n-1)-step)
				if (now == "visible") != want {
					t.Errorf("of %d, moment %d is %s at step %d", n, i, now, step)
				}
			}
		}
		if strings.Count(svg.String(), `visibility="visible"`) != 1 {
			t.Error("without motion another than the first moment is seen")
		}
		for _, want := range []string{">moment 0<", ">moment 1<", ">bottom bracket<"} {
			if !strings.Contains(svg.String(), want) {
				t.Errorf("lacks %s", want)
			}
		}
	}
}

func TestMotionRefuses(t *testing.T) {
	for name, spoil := range map[string]func(*Motion){
		"one moment":      func(m *Motion) { m.Moments = m.Moments[:1] },
		"too many":        func(m *Motion) { *m = sampleMotion(201) },
		"too fast":        func(m *Motion) { m.Seconds = 0.4 },
		"a lost point":    func(m *Motion) { delete(m.Moments[2].At, m.View.Axle) },
		"a size too many": func(m *Motion) { m.View.Size = Size{1, 1} },
	} {
		m := sampleMotion(4)
		spoil(&m)
		var svg bytes.Buffer
		if err := WriteMotion(&svg, m); err == nil || svg.Len() > 0 {
			t.Errorf("%s: %v and %d bytes", name, err, svg.Len())
		}
	}
}

// Two views beside each other have one scale: that of the larger.
func TestPairHasOneScale(t *testing.T) {
	small, large := sampleView(), sampleView()
	large.Wheel = 3 * small.Wheel
	p := Pair{Title: "two", Left: small, Right: large}
	var svg bytes.Buffer
	if err := WriteSVG(&svg, p); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(svg.String(), ">bottom bracket<"); n != 2 {
		t.Errorf("%d views", n)
	}
	// The ticks of both axes are the same, so every label is there twice or four times.
	for _, label := range regexp.MustCompile(`>−?\d+00<`).FindAllString(svg.String(), -1) {
		if n := strings.Count(svg.String(), label); n%2 != 0 {
			t.Errorf("%s stands there %d times", label, n)
		}
	}
	p.Right.Axle = "nowhere"
	if err := WriteSVG(&svg, p); err == nil {
		t.Error("drawn without an axle")
	}
}
