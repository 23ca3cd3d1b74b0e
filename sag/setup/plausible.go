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

// usual is what a quantity of a bike or a rider usually is.
type usual struct {
	quantity     reflect.Type // of the field, since lengths and plain numbers may share a name
	low, high    float64      // in SI units
	limits, said string       // the same with their unit, and for people
	what         string
}

// both returns a quantity in both systems of units, and a plain number as it is.
func both(v any) string {
	if q, ok := v.(interface{ Both() units.Dual }); ok {
		return q.Both().String()
	}
	return round(v)
}

// usuals lists what is usual of the values of a job, by their names in JSON.
var usuals = map[string][]usual{}

// expect lists what a quantity usually is under each of its names. One whose least value is 0 has only
// a most.
func expect[Q ~float64](names string, low, high Q, what string) {
	within := func(text func(any) string) string {
		if low == 0 {
			return "at most " + text(high)
		}
		return "from " + text(low) + " to " + text(high)
	}
	for _, name := range strings.Fields(names) {
		usuals[name] = append(usuals[name], usual{reflect.TypeFor[Q](), float64(low), float64(high), within(round), within(both), what})
	}
}

const (
	kg = units.Kilogram
	mm = units.Millimetre
	cc = units.CubicCentimetre
)

func init() {
	expect("rider_mass riders", 25*kg, 180*kg, "the mass of a rider")
	expect("bike_mass", 6*kg, 45*kg, "the mass of a bike")
	expect("unsprung_front", 0.3*kg, 8*kg, "what the front spring does not carry")
	expect("unsprung_rear", 0.3*kg, 12*kg, "what the rear spring does not carry")
	expect("unsprung", 0.3*kg, 12*kg, "what a spring does not carry of a bike")
	expect("from", 20*kg, 180*kg, "the mass of a rider")
	expect("to", 25*kg, 200*kg, "the mass of a rider")
	expect("front_scale", 5*kg, 150*kg, "what a scale shows under the front wheel")
	expect("rear_scale", 10*kg, 200*kg, "what a scale shows under the rear wheel")
	expect("rear_share", 0.3, 0.85, "the share of the weight on the rear wheel")
	expect("bike_rear_share", 0.3, 0.75, "the share of a bike's own weight on its rear wheel")
	expect("wheelbase", 800*mm, 1700*mm, "the wheelbase of a bike")
	expect("wheel_radius front_wheel_radius rear_wheel_radius", 200*mm, 420*mm, "the radius of a wheel")
	expect("fork_offset", 20*mm, 70*mm, "the offset of a fork")
	expect("bottom_bracket_height", 200*mm, 450*mm, "the height of a bottom bracket")
	expect("chainstay_length", 300*mm, 550*mm, "the length of chainstays")
	expect("mass_centre_behind_front_axle", 300*mm, 1300*mm, "the place of the mass centre")
	expect("mass_centre_height", 500*mm, 1700*mm, "the height of the mass centre of rider and bike")
	expect("ambient", 45*units.KilopascalAbsolute, 110*units.KilopascalAbsolute, "the pressure of the air where people ride")
	expect("sag", 0.05, 0.5, "a target sag")
	expect("friction", 0, 400*units.Newton, "the friction of a spring end")
	expect("damping_ratio", 0, 1.5, "a ratio of critical damping")
	expect("drop_height", 0, 5*units.Metre, "a drop that is ridden")
	expect("head_angle", 55*units.Degree, 80*units.Degree, "the head angle of a bike")
	expect("constant", 0.8, 6.0, "a lever ratio")
	expect("travel", 20*mm, 350*mm, "the travel of a wheel or a spring")
	expect("stroke", 15*mm, 350*mm, "the stroke of a shock or a fork")
	expect("rate rates", 1*units.NewtonPerMillimetre, 400*units.NewtonPerMillimetre, "the rate of a coil spring")
	expect("wire_diameter", 2*mm, 20*mm, "the wire of a coil spring")
	expect("outer_diameter", 15*mm, 120*mm, "the diameter of a coil spring")
	expect("solid_travel", 20*mm, 450*mm, "the travel of a coil spring until it is solid")
	expect("preload preload_min preload_max", 0, 40*mm, "the preload of a spring")
	expect("thread_pitch", 0.5*mm, 4*mm, "the pitch of a collar's thread")
	expect("bore", 10*mm, 80*mm, "the bore of an air spring")
	expect("shaft", 3*mm, 40*mm, "the shaft of an air spring")
	expect("positive_volume", 15*cc, 1500*cc, "the volume of a positive chamber")
	expect("negative_volume", 1*cc, 500*cc, "the volume of a negative chamber")
	expect("second_volume", 1*cc, 1000*cc, "the volume of a second chamber")
	expect("oil_volume", 0, 60*cc, "the oil in an air chamber")
	expect("spacer_volume", 0.2*cc, 60*cc, "the volume of one spacer")
	expect("port_travel", 0, 40*mm, "the travel to the port of a negative chamber")
	expect("fill old_fill", units.BarGauge(0.7), units.BarGauge(35), "the fill of an air spring")
	expect("second_fill", units.BarGauge(0.7), units.BarGauge(40), "the fill of a second chamber")
	expect("max_fill", units.BarGauge(3), units.BarGauge(40), "the marking of an air spring")
	expect("full_travel_ratio", 1.5, 20.0, "the force at full travel over the load")
}

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
				said := round(v.Interface()) // which may have no digits left in a coarser unit
				if si > u.high {
					said = both(v.Interface())
				}
				w.doubt(true, path, v.Interface(), u.limits, "%s is stated, where %s is %s: look at the number and its unit.", said, u.what, u.said)
			}
		}
	}
}

// doubt adds a warning about a value if there is a doubt.
func (w *implausible) doubt(doubt bool, field string, value any, limit, format string, args ...any) {
	if doubt {
		*w = append(*w, units.Warning{Code: "implausible", Field: field, Value: round(value), Limit: limit, Text: fmt.Sprintf(format, args...), Source: "a choice of this package"})
	}
}

// round returns a value with six digits and its unit.
func round(v any) string { return fmt.Sprintf("%.6g", v) }
