package linkage

// index finds the piece that a stroke or a travel lies in. It divides the whole length into as many
// equal buckets as there are pieces, and searches among the pieces of the bucket. If the pieces are
// of equal length, there are at most two.
type index struct {
	keys  []float64 // the least value of each piece, ascending
	first []int32   // for each bucket, the last piece that begins before it; one more for the end
	scale float64   // buckets per metre
}

// snap is the share of the whole length by which a value may be below the start of a piece
// and still belong to it, which allows for the rounding of "35.2 mm". Travel and ratio are
// continuous there; only the ratio's slope jumps.
const snap = 1e-14

// newIndex returns an index of pieces that start at the given values, the
// first at 0, out of a length that is more than the last of them.
func newIndex(starts []float64, length float64) index {
	n := len(starts)
	x := index{keys: starts, first: make([]int32, n+2), scale: float64(n) / length}
	for i := range x.keys {
		x.keys[i] -= snap * length
	}
	piece := 0 // compared by bucket, as find does, so that both round alike
	for b := range x.first {
		for piece+1 < n && x.bucket(x.keys[piece+1]) < b {
			piece++
		}
		x.first[b] = int32(piece)
	}
	return x
}

// bucket returns the bucket of a value from 0 to the length.
func (x *index) bucket(v float64) int { return int(v * x.scale) }

// find returns the piece that a value from 0 to the length lies in; at the
// border of two it is the later one.
func (x *index) find(v float64) int {
	b := x.bucket(v)
	lo, hi := int(x.first[b]), int(x.first[b+1])
	for lo < hi {
		if mid := (lo + hi + 1) / 2; x.keys[mid] <= v {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return lo
}
