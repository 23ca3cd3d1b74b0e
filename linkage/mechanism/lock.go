package mechanism

import (
	"errors"
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// ErrLocks is the class of a mechanism that comes to a dead point inside its
// stroke: two of its members come into line, so that it locks or may go on in
// more than one way; or its axle stops rising there.
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

// locks returns the error for a mechanism that moves up to the stroke s, in
// units of the layout's size.
func (l *layout) locks(s float64, reason string) *LockError {
	at := units.Length(s * l.size)
	return &LockError{At: at, Reason: reason, field: units.FieldError{
		Package: "mechanism", Field: "stroke", Value: units.Length(l.stroke * l.size), Class: ErrLocks,
		Want: fmt.Sprintf("less than %.2f mm, where the mechanism locks: %s", math.Floor(float64(at)*1e5)/100, reason),
	}}
}
