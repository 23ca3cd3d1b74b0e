package answer

import (
	"strings"
	"testing"
)

// The page has the card of its job, or what is wrong with it.
func TestWorkCard(t *testing.T) {
	c := WorkCard(demo(t, "coil-shock"))
	if c.Faults != nil || !strings.Contains(c.HTML, "<b>475 lbf/in</b> 83.19 N/mm") {
		t.Errorf("%v\n%s", c.Faults, c.HTML)
	}
	for text, field := range map[string]string{
		"{": "",
		strings.Replace(byHand, "80 kg", "-80 kg", 1): "masses.rider_mass",
	} {
		if c := WorkCard([]byte(text)); c.HTML != "" || len(c.Faults) != 1 || c.Faults[0].Field != field {
			t.Errorf("%+v", c)
		}
	}
}
