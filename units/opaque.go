package units

import "fmt"

// Opaque is embedded in a type T whose fields are not exported, such as a curve or a spring. JSON of it
// would be {}, and its fields would be printed as numbers without units. The methods are promoted to T.
type Opaque[T any] struct{}

// String returns the name of the type.
func (Opaque[T]) String() string { return fmt.Sprintf("%T", *new(T)) }

// MarshalJSON returns an error.
func (o Opaque[T]) MarshalJSON() ([]byte, error) { return nil, o.UnmarshalJSON(nil) }

// UnmarshalJSON returns an error.
func (o Opaque[T]) UnmarshalJSON([]byte) error {
	return fmt.Errorf("units: %v has no JSON: use the description that it is made from", o)
}
