package mechanism

// NewByNewton is New without the closed form.
func NewByNewton(m Spec) (*Mechanism, error) { return follow(m, false, steps) }

// NodesOf returns at how many strokes a mechanism was followed.
func NodesOf(k *Mechanism) int { return len(k.strokes) }
