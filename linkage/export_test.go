package linkage

// NewMechanismByNewton is NewMechanism without the closed form.
func NewMechanismByNewton(m Mechanism) (*Kinematics, error) { return newMechanism(m, false) }

// NodesOf returns at how many strokes a mechanism was followed.
func NodesOf(k *Kinematics) int { return len(k.strokes) }

// PiecesOf returns how many pieces a curve has.
func PiecesOf(c *Curve) int { return len(c.pieces) }
