package setup

import (
	"fmt"
	"reflect"
	"strings"

	"example.com/wheelrate/units"
)

// Implausible returns a warning for each value of a spec that is far from what such bikes and riders
// have, with code "implausible": a rider of 82 g, a travel of 50 m. Nothing is refused for it, and an
// answer is worked out with the value as it stands.
//
// The spec is a [Job], a part of one, or any other struct whose fields have the JSON names of a job's,
// such as a record of package visit. The path is put before the names of fields. A value of 0 is one
// that is not stated. Of a list of numbers the last is looked at, and of a list of structs no more than
// the first that has an implausible value. Uncertainties are ignored.
//
// The limits are generous, and a choice of this package.
func Implausible(path string, spec any) []units.Warning {
	var w implausible
	w.look(path, "", reflect.ValueOf(spec))
	return w
}

// ownLimit is the source of a limit of plausibility.
const ownLimit = "a choice of this package"

// usual is what a quantity of a bike or a rider usually is.
type usual struct {
	name      string       // of its field in JSON
	quantity  reflect.Type // the field's, since lengths and plain numbers may share a name
	low, high float64      // in SI units
	limits    string       // the same with their unit
	said      string       // the same for people
	what      string
}

// from returns what a quantity usually is. One whose least value is 0 has only a most.
func from[Q ~float64](name string, low, high Q, what string) usual {
	within := func(text func(any) string) string {
		if low == 0 {
			return "at most " + text(high)
		}
		return "from " + text(low) + " to " + text(high)
	}
	return usual{name, reflect.TypeFor[Q](), float64(low), float64(high), within(round), within(both), what}
}

// both returns a quantity in both systems of units, and a plain number as it is.
func both(v any) string {
	if q, ok := v.(interface{ Both() units.Dual }); ok {
		return q.Both().String()
	}
	return round(v)
}

const (
	kg = units.Kilogram
	mm = units.Millimetre
	cc = units.CubicCentimetre
)

// usuals lists what is usual of the values of a job.
var usuals = func() map[string][]usual {
	m := map[string][]usual{}
	for _, u := range []usual{
		from("rider_mass", 25*kg, 180*kg, "the mass of a rider"),
		from("riders", 25*kg, 180*kg, "the mass of a rider"),
		from("bike_mass", 6*kg, 45*kg, "the mass of a bike"),
		from("unsprung_front", 0.3*kg, 8*kg, "what the front spring does not carry"),
		from("unsprung_rear", 0.3*kg, 12*kg, "what the rear spring does not carry"),
		from("unsprung", 0.3*kg, 12*kg, "what a spring does not carry of a bike"),
		from("from", 20*kg, 180*kg, "the mass of a rider"),
		from("to", 25*kg, 200*kg, "the mass of a rider"),
		from("front_scale", 5*kg, 150*kg, "what a scale shows under the front wheel"),
		from("rear_scale", 10*kg, 200*kg, "what a scale shows under the rear wheel"),
		from("rear_share", 0.3, 0.85, "the share of the weight on the rear wheel"),
		from("bike_rear_share", 0.3, 0.75, "the share of a bike's own weight on its rear wheel"),
		from("wheelbase", 800*mm, 1700*mm, "the wheelbase of a bike"),
		from("wheel_radius", 200*mm, 420*mm, "the radius of a wheel"),
		from("front_wheel_radius", 200*mm, 420*mm, "the radius of a wheel"),
		from("mass_centre_behind_front_axle", 300*mm, 1300*mm, "the place of the mass centre"),
		from("mass_centre_height", 500*mm, 1700*mm, "the height of the mass centre of rider and bike"),
		from("ambient", 45*units.KilopascalAbsolute, 110*units.KilopascalAbsolute, "the pressure of the air where people ride"),
		from("sag", 0.05, 0.5, "a target sag"),
		from("friction", 0, 400*units.Newton, "the friction of a spring end"),
		from("damping_ratio", 0, 1.5, "a ratio of critical damping"),
		from("drop_height", 0, 5*units.Metre, "a drop that is ridden"),
		from("head_angle", 55*units.Degree, 80*units.Degree, "the head angle of a bike"),
		from("constant", 0.8, 6.0, "a lever ratio"),
		from("travel", 20*mm, 350*mm, "the travel of a wheel or a spring"),
		from("stroke", 15*mm, 350*mm, "the stroke of a shock or a fork"),
		from("rate", 1*units.NewtonPerMillimetre, 400*units.NewtonPerMillimetre, "the rate of a coil spring"),
		from("rates", 1*units.NewtonPerMillimetre, 400*units.NewtonPerMillimetre, "the rate of a coil spring"),
		from("wire_diameter", 2*mm, 20*mm, "the wire of a coil spring"),
		from("outer_diameter", 15*mm, 120*mm, "the diameter of a coil spring"),
		from("solid_travel", 20*mm, 450*mm, "the travel of a coil spring until it is solid"),
		from("preload", 0, 40*mm, "the preload of a spring"),
		from("preload_min", 0, 40*mm, "the preload of a spring"),
		from("preload_max", 0, 40*mm, "the preload of a spring"),
		from("thread_pitch", 0.5*mm, 4*mm, "the pitch of a collar's thread"),
		from("bore", 10*mm, 80*mm, "the bore of an air spring"),
		from("shaft", 3*mm, 40*mm, "the shaft of an air spring"),
		from("positive_volume", 15*cc, 1500*cc, "the volume of a positive chamber"),
		from("negative_volume", 1*cc, 500*cc, "the volume of a negative chamber"),
		from("second_volume", 1*cc, 1000*cc, "the volume of a second chamber"),
		from("oil_volume", 0, 60*cc, "the oil in an air chamber"),
		from("spacer_volume", 0.2*cc, 60*cc, "the volume of one spacer"),
		from("port_travel", 0, 40*mm, "the travel to the port of a negative chamber"),
		from("fill", units.BarGauge(0.7), units.BarGauge(35), "the fill of an air spring"),
		from("old_fill", units.BarGauge(0.7), units.BarGauge(35), "the fill of an air spring"),
		from("second_fill", units.BarGauge(0.7), units.BarGauge(40), "the fill of a second chamber"),
		from("max_fill", units.BarGauge(3), units.BarGauge(40), "the marking of an air spring"),
		from("full_travel_ratio", 1.5, 20.0, "the force at full travel over the load"),
	} {
		m[u.name] = append(m[u.name], u)
	}
	return m
}()

// implausible is the warnings so far.
type implausible []units.Warning

// look adds the warnings about a value in the field of a name.
func (w *implausible) look(path, name string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			w.look(path, name, v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			switch {
			case !f.IsExported() && !f.Anonymous || tag == "-" || tag == "uncertainty":
			case f.Anonymous && tag == "":
				w.look(path, "", v.Field(i))
			default:
				w.look(strings.TrimPrefix(path+"."+tag, "."), tag, v.Field(i))
			}
		}
	case reflect.Slice:
		n := v.Len()
		if n > 0 && v.Index(0).Kind() == reflect.Float64 {
			w.look(fmt.Sprintf("%s[%d]", path, n-1), name, v.Index(n-1))
			return
		}
		for i, before := 0, len(*w); i < n && len(*w) == before; i++ {
			w.look(fmt.Sprintf("%s[%d]", path, i), name, v.Index(i))
		}
	case reflect.Float64:
		for _, u := range usuals[name] {
			if si := v.Float(); v.Type() == u.quantity && si != 0 && !(si >= u.low && si <= u.high) {
				value := round(v.Interface())
				said := value // which may have no digits left in a coarser unit
				if si > u.high {
					said = both(v.Interface())
				}
				w.add(path, value, u.limits, "%s is stated, where %s is %s: look at the number and its unit.", said, u.what, u.said)
			}
		}
	}
}

// add adds a warning.
func (w *implausible) add(field, value, limit, format string, args ...any) {
	*w = append(*w, units.Warning{Code: "implausible", Field: field, Value: value, Limit: limit, Text: fmt.Sprintf(format, args...), Source: ownLimit})
}

// round returns a value with six digits and its unit.
func round(v any) string { return fmt.Sprintf("%.6g", v) }
