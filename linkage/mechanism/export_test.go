package mechanism

// NewByNewton is New without the closed form.
func NewByNewton(s Spec) (*Mechanism, error) {
	return follow(s, func(_ *layout, t *tree) solver { return newNewton(t) }, steps)
}
