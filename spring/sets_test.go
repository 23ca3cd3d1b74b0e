package spring_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Stacks drawn at random, against the same stacks solved in general, member
// by member, instead of joined.
func TestStacksAgainstTheirTwins(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range 400 {
		law, twin := anySpring(rng, 1, true)
		agree(t, fmt.Sprint(i, ": travel"), law.Travel(), twin.Travel(), 1e-12)
		for range 20 {
			x := law.Travel() * units.Length(rng.Float64())
			agree(t, fmt.Sprintf("%d: force at %v of %v", i, x, law.Travel()), law.Force(x), twin.Force(x), 1e-9)
			agree(t, fmt.Sprintf("%d: rate at %v of %v", i, x, law.Travel()), law.Rate(x), twin.Rate(x), 1e-9)
			agree(t, fmt.Sprintf("%d: energy at %v of %v", i, x, law.Travel()), law.Energy(x), twin.Energy(x), 1e-9)
		}
	}
}

// Deeper stacks: force never falls, energy is the area under it, nothing is
// allocated.
func TestStacksAtRandom(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for i := range 300 {
		law, _ := anySpring(rng, 3, false)
		finiteLaw(t, law)
		clamped(t, law)
		const steps = 4000
		sum, before := 0.0, law.Force(0)
		for j := 1; j <= steps; j++ {
			f := law.Force(law.Travel() * units.Length(j) / steps)
			if f < before {
				t.Fatalf("%d: force falls from %v to %v", i, before, f)
			}
			sum += float64(f+before) / 2 * float64(law.Travel()) / steps
			before = f
		}
		agree(t, fmt.Sprint(i, ": energy"), float64(law.Energy(law.Travel())), sum, 1e-3)
	}
}

// hostile breaks the contract of a law in one way.
type hostile struct {
	spring.Law
	force  func(x units.Length) units.Force
	travel units.Length
}

func (h hostile) Force(x units.Length) units.Force {
	if h.force != nil {
		return h.force(x)
	}
	return h.Law.Force(x)
}

func (h hostile) Travel() units.Length { return h.travel }

// hostiles lists laws that no stack may take.
func hostiles(t *testing.T) map[string]spring.Law {
	k, err := spring.NewLinear(spring.Linear{Rate: perMM(50), Travel: mm(30)})
	require.NoError(t, err)
	return map[string]spring.Law{
		"none":           nil,
		"nil pointer":    (*spring.GroupedSpring)(nil),
		"NaN on the way": hostile{k, func(x units.Length) units.Force { return units.Force(math.Log(0.02 - float64(x))) }, mm(30)},
		"infinite":       hostile{k, func(x units.Length) units.Force { return units.Force(1 / float64(mm(30)-x)) }, mm(30)},
		"falling":        hostile{k, func(x units.Length) units.Force { return -k.Force(x) }, mm(30)},
		"no travel":      hostile{k, nil, 0},
		"NaN travel":     hostile{k, nil, units.Length(math.NaN())},
		"endless":        hostile{k, nil, units.Length(math.Inf(1))},
		"panics":         hostile{k, func(units.Length) units.Force { panic("no") }, mm(30)},
		"negative rate":  negativeRate{k},
	}
}

type negativeRate struct{ spring.Law }

func (n negativeRate) Rate(x units.Length) units.Stiffness { return -n.Law.Rate(x) }
