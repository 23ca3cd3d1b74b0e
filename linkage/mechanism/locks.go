package mechanism

import (
	"errors"
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// ErrLocks is the class of a mechanism that comes to a dead point inside its
// stroke: two of its members in line, so that it locks or may go on in more
// than one way, or the wheel standing still while the shock moves.
var ErrLocks = errors.New("locks inside its stroke")

// LockError says where a mechanism locks. It is of the class [ErrLocks].
type LockError struct {
	At     units.Length // the stroke up to which the mechanism moves as it should
	Reason string       // what happens there
	field  units.FieldError
}

// Error says where the mechanism locks and why.
func (e *LockError) Error() string { return e.field.Error() }

// Unwrap returns the error of the field stroke, of the class [ErrLocks].
func (e *LockError) Unwrap() error { return &e.field }

// locks makes a LockError for a stroke of which only the part up to at, both
// in m, can be used.
func locks(stroke, at units.Length, reason string) *LockError {
	return &LockError{At: at, Reason: reason, field: units.FieldError{
		Package: "mechanism", Field: "stroke", Value: stroke, Class: ErrLocks,
		Want: fmt.Sprintf("less than %.2f mm, where the mechanism locks: %s", math.Floor(float64(at)*1e5)/100, reason),
	}}
}
