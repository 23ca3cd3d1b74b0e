package linkage

// index finds the piece that a stroke or a travel lies in. It cuts the whole length into as many
// buckets as there are pieces; where these are even, the bucket alone says which, and where they
// aren't, a binary search among the few of the bucket does.
type index struct {
	keys  []float64 // where each piece takes over, ascending
	first []int32   // for each bucket, the last piece that takes over before it; one for the very end
	scale float64   // buckets per metre
}

// snap is how far below the start of a piece, as a share of the whole, a value counts as
// being at it: enough for the rounding of "35.2 mm". Only the slope of the ratio jumps there.
const snap = 1e-14

// newIndex returns an index of pieces that start at the given values, the
// first at 0, out of a length that is more than the last of them.
func newIndex(starts []float64, length float64) index {
	n := len(starts)
	x := index{keys: starts, first: make([]int32, n+2), scale: float64(n) / length}
	for i := range x.keys {
		x.keys[i] -= snap * length
	}
	piece := 0 // put into buckets as find does it, or rounding could put a value and its piece out of order
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
