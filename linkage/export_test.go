package linkage

// PiecesOf returns how many pieces a curve has.
func PiecesOf(c *Curve) int { return len(c.pieces) }
