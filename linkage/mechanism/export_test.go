package mechanism

// NewByNewton is New without the closed form.
func NewByNewton(s Spec) (*Mechanism, error) {
	return follow(s, func(l *layout) solver { return newNewton(l) }, steps)
}
