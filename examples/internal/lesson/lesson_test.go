package lesson_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/lesson"
)

var marked = regexp.MustCompile("\x01[^\x02]*?(-?[0-9.]+)\x02")

// now returns the numbers of the sentence about the drawing.
func now(t *testing.T, name string, v lesson.Values) (list []float64) {
	t.Helper()
	c, _ := view(t, name, v)
	for _, m := range marked.FindAllStringSubmatch(c.Now, -1) {
		n, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			t.Fatalf("%q in %q", m[1], c.Now)
		}
		list = append(list, n)
	}
	return list
}

// near holds a number as it is printed against one.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, within)
	}
}

const gravity = 9.80665

// carried is what the rear spring of the invented bike carries: by moments about the
// front wheel 0.6 of the weight less the unsprung 3 kg.
func carried(rider float64) float64 { return (0.6*(rider+16) - 3) * gravity }

// The work of 1000 N is the energy of all the rings of twisted steel, added up one
// by one.
func TestWireStoresTheWorkOfTheForce(t *testing.T) {
	for _, v := range []lesson.Values{{"wire": 7, "mean": 50}, {"wire": 8, "mean": 43}, {"wire": 12, "mean": 36}} {
		n := now(t, "wire", v) // wire, coil, rate, twist, length, shorter
		near(t, "wire", n[0], v["wire"], 0)
		near(t, "coil", n[1], v["mean"], 0)
		length := math.Pi * v["mean"] * 6.5
		near(t, "length", n[4], length, 0.5)
		perLength, energy := n[3]*math.Pi/180/length, 0.0
		const rings = 4000
		for i := range rings {
			r, dr := v["wire"]/2*(float64(i)+0.5)/rings, v["wire"]/2/rings
			strain := r * perLength
			energy += 79500 * strain * strain / 2 * 2 * math.Pi * r * dr * length // N·mm
		}
		work := 1000.0 / 2 * 1000 / n[2]
		near(t, "energy", energy/work, 1, 0.001+2*0.05/n[3]+0.05/n[2])
		near(t, "shorter", n[5], 1000/n[2], 0.12)
	}
}

// Pressure above vacuum times room stays, the force is the pressure's on the
// piston, and its rate that of neighbours.
func TestGasKeepsItsAmount(t *testing.T) {
	const piston = math.Pi / 4 * 36 * 36
	for _, fill := range []float64{4, 10, 14} {
		for x := 0.0; x <= 58; x += 14.5 {
			n := now(t, "gas", lesson.Values{"stroke": x, "fill": fill}) // stroke, room, of, gauge, force, rate
			near(t, "amount", (n[3]+1.01325)*n[1], (fill+1.01325)*85, 0.006*n[1]+0.06*(n[3]+1.1))
			near(t, "force", n[4], n[3]/10*piston, 0.5+0.006/10*piston)
			after := now(t, "gas", lesson.Values{"stroke": x + 0.5, "fill": fill})
			near(t, "rate", (after[4]-n[4])/0.5, (n[5]+after[5])/2, 2.1)
			_, d := view(t, "gas", lesson.Values{"stroke": x, "fill": fill})
			wall, face := d.class("wall")[0].places(t), d.class("piston")[0].places(t)
			near(t, "room as drawn", (face[0].x-wall[1].x)/2*piston/1000, n[1], 0.06)
		}
	}
}

// What the wheel takes on its way is what is in the spring, and no link of the
// drawing changes its length but the shock.
func TestLeversKeepWorkAndLengths(t *testing.T) {
	const rate = 100.0
	work, lengths := 0.0, []float64(nil)
	var before []float64
	shock := 0.0
	for s := 0.0; s <= 62.5; s += 1.25 {
		n := now(t, "levers", lesson.Values{"stroke": s, "rate": rate}) // stroke, travel, ratio, spring, wheel, first, second, rate
		near(t, "spring", n[3], rate*s, 0.51)
		near(t, "sum", n[5]+n[6], n[7], 0.011)
		if before != nil {
			work += (n[4] + before[4]) / 2 * (n[1] - before[1])
			near(t, "ratio", (n[1]-before[1])/1.25, (n[2]+before[2])/2, 0.09)
			near(t, "rate", (n[4]-before[4])/(n[1]-before[1]), (n[7]+before[7])/2, 1)
		}
		before = n
		_, d := view(t, "levers", lesson.Values{"stroke": s, "rate": rate})
		var now []float64
		joint := d.class("joint") // M, H, T, R, S1, S2
		for _, pair := range [][2]int{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {2, 4}} {
			now = append(now, apart(joint[pair[0]].circle(t), joint[pair[1]].circle(t)))
		}
		eyes := apart(joint[4].circle(t), joint[5].circle(t))
		if lengths == nil {
			lengths, shock = now, eyes
		}
		for i, l := range lengths {
			near(t, "length of a link", now[i], l, 0.03)
		}
		near(t, "shock", (shock-eyes)/0.34, s, 0.06)
		if axle := d.class("joint axle")[0].circle(t); !(axle.x < joint[0].circle(t).x) {
			t.Error("the wheel is not behind the frame")
		}
	}
	near(t, "work in joules", work/1000, rate*62.5*62.5/2/1000, 0.3)
}

// Each chamber keeps its gas: its pressure times the room that is drawn.
func TestChambersKeepTheirAmounts(t *testing.T) {
	const piston, ring = math.Pi / 4 * 36 * 36, math.Pi / 4 * (36*36 - 10*10)
	for _, negative := range []float64{40, 60, 70} {
		var first [2]float64
		for x := 0.0; x <= 160; x += 20 {
			v := lesson.Values{"travel": x, "negative": negative}
			n := now(t, "chambers", v) // travel, gauge, push, gauge, pull, force, force of one
			near(t, "push", n[2], n[1]/10*piston, 6)
			near(t, "pull", n[4], n[3]/10*ring, 6)
			near(t, "force", n[5], n[2]-n[4], 1)
			_, d := view(t, "chambers", v)
			wall, face := d.class("wall"), d.class("piston")[0].places(t)
			amounts := [2]float64{(n[1] + 1.01325) * (face[0].x - wall[0].places(t)[1].x) * piston / 1000,
				(n[3] + 1.01325) * (wall[0].places(t)[3].x - face[1].x) * ring / 1000}
			if x == 0 {
				first = amounts
				near(t, "room", amounts[0]/(n[1]+1.01325), 250, 0.1)
				near(t, "negative room", amounts[1]/(n[3]+1.01325), negative, 0.1)
			}
			near(t, "amount", amounts[0]/first[0], 1, 0.002)
			near(t, "negative amount", amounts[1]/first[1], 1, 0.003)
		}
		// At the port both have one pressure.
		n := now(t, "chambers", lesson.Values{"travel": 7, "negative": negative})
		near(t, "at the port", n[1], n[3], 0.01)
	}
}

// The errors are drawn at right angles to what is there, so that squares add up.
func TestErrorsAreDrawnAtRightAngles(t *testing.T) {
	for _, v := range []lesson.Values{{}, {"wire": 0.06, "coils": 0}, {"wire": 0, "coils": 0.2}, {"wire": 0.06, "coils": 0.2}} {
		_, d := view(t, "sure", v)
		n := now(t, "sure", v) // wire, coils, rate, ±, ± plainly
		from, squares, plain := d.class("sum")[0].places(t)[0], 0.0, 0.0
		for i, e := range d.class("error") {
			p := e.places(t)
			if i > 0 {
				along, across := place{p[1].x - p[0].x, p[1].y - p[0].y}, place{p[0].x - from.x, p[0].y - from.y}
				near(t, "cosine", (along.x*across.x+along.y*across.y)/apart(p[0], p[1])/apart(p[0], from), 0, 0.01)
			}
			squares, plain = squares+math.Pow(apart(p[0], p[1])/66, 2), plain+apart(p[0], p[1])/66
		}
		near(t, "of the squares", math.Sqrt(squares), n[3], 0.06)
		near(t, "plainly", plain, n[4], 0.06)
		sum := d.class("sum")[0].places(t)
		near(t, "drawn", apart(sum[0], sum[1])/66, n[3], 0.06)
		// By hand: the rate goes with d⁴/(D³·n), and D is the outside less d.
		const k = 79500 * 4096.0 / (8 * 43 * 43 * 43 * 6.5)
		near(t, "rate", n[2], k, 0.06)
		near(t, "uncertainty", n[3], k*math.Sqrt(math.Pow((4/8.0+3/43.0)*n[0], 2)+math.Pow(n[1]/6.5, 2)+math.Pow(3/43.0*0.1, 2)+math.Pow(500/79500.0, 2)), 0.06)
	}
}

// At the sag the energy of spring and weight together is least.
func TestSagIsWhereEnergyIsLeast(t *testing.T) {
	for _, v := range []lesson.Values{{"rider": 50, "rate": 140, "friction": 0}, {"rider": 80, "rate": 90, "friction": 60}, {"rider": 120, "rate": 60, "friction": 150}} {
		n := now(t, "sag", v) // load, travel, per cent, stroke, low, high
		near(t, "load", n[0], carried(v["rider"]), 0.51)
		energy := func(travel float64) float64 {
			s := travel / 2.5
			return v["rate"]*s*s/2 - carried(v["rider"])*travel
		}
		best := 0.0
		for travel := 0.0; travel <= 150; travel += 0.05 {
			if energy(travel) < energy(best) {
				best = travel
			}
		}
		near(t, "sag", n[1], best, 0.1)
		near(t, "per cent", n[2], n[1]/1.5, 0.1)
		near(t, "ring", n[3], n[1]/2.5, 0.1)
		// Friction carries as much as it can, or adds as much.
		near(t, "band", (n[5]-n[4])/2.5*v["rate"], 2*v["friction"], 0.15*v["rate"])
		near(t, "middle", (n[4]+n[5])/2, n[1], 0.1)
	}
}

// Preload presses the spring beforehand; the lever law holds at the shock.
func TestPreloadTakesFromTheStroke(t *testing.T) {
	for _, v := range []lesson.Values{{"preload": 0, "rate": 60}, {"preload": 3, "rate": 90}, {"preload": 8, "rate": 110}} {
		n := now(t, "preload", v) // preload, spring, wheel, sag, sag without, rate
		p, k := v["preload"], v["rate"]
		near(t, "spring", n[1], k*p, 0.51)
		near(t, "wheel", n[2], n[1]/2.5, 0.51)
		near(t, "moments", k*(p+n[3]/100*60), 2.5*carried(80), 0.04*k)
		near(t, "without", k*(n[4]/100*60), 2.5*carried(80), 0.04*k)
		near(t, "rate", n[5], k/6.25, 0.006)
		_, d := view(t, "preload", v)
		lengths, plates := []float64{}, d.class("plate")
		for i := 0; i < 6; i += 2 {
			lengths = append(lengths, (plates[i+1].places(t)[0].y-plates[i].places(t)[0].y)/1.25)
		}
		near(t, "pressed by", lengths[0]-lengths[1], p, 0.02)
		near(t, "pressed by rider", (lengths[0]-lengths[2])*k, 2.5*carried(80), 0.02*k)
	}
	if c, _ := view(t, "preload", lesson.Values{"preload": 12, "rate": 140}); !strings.Contains(c.Now, "far too much") {
		t.Errorf("a spring that doesn't move: %s", c.Now)
	}
}

// A drop followed in small steps of time, without any formula for energies, ends
// where the lesson says, and its bars are of the same height.
func TestDropEndsWhereTimeStepsDo(t *testing.T) {
	for _, v := range []lesson.Values{{"height": 0.12, "damping": 400}, {"height": 0.05, "damping": 0}, {"height": 0.6, "damping": 1500}, {"height": 0.6, "damping": 0}, {"height": 0, "damping": 200}} {
		n := now(t, "drop", v) // height, travel, per cent, energy, spring, damper, most, perhaps left
		load, k := carried(80), 90/6.25*1000
		x, speed, most, heat := 0.0, math.Sqrt(2*gravity*v["height"]), 0.0, 0.0
		const dt = 1e-6
		for speed >= 0 && x < 0.15 {
			push := k*x + v["damping"]*speed
			most, heat = max(most, push), heat+v["damping"]*speed*speed*dt
			speed += (load - push) * gravity / load * dt
			x += speed * dt
		}
		near(t, "travel", n[1], 1000*x, 0.51)
		near(t, "damper", n[5], heat, 0.6)
		near(t, "most", n[6], most, 1)
		near(t, "energy", n[3], load*(v["height"]+x), 0.6)
		c, d := view(t, "drop", v)
		if bottoms := speed > 0; bottoms != strings.Contains(c.Now, "bottoms") {
			t.Errorf("bottoms %v: %s", bottoms, c.Now)
		}
		heights := map[string]float64{}
		for _, name := range []string{"fall", "sinking", "spring", "damper", "left"} {
			p := d.class("bar " + name)[0].places(t)
			heights[name] = p[0].y - p[2].y
		}
		near(t, "bars", heights["fall"]+heights["sinking"], heights["spring"]+heights["damper"]+heights["left"], 0.05)
		near(t, "bar of the spring", heights["spring"]/0.42, k*x*x/2, 0.3)
	}
}

// Along and across are the sides of a right triangle, and so are the ways.
func TestForkIsARightTriangle(t *testing.T) {
	for _, v := range []lesson.Values{{"angle": 58, "load": 600}, {"angle": 64, "load": 350}, {"angle": 74, "load": 200}} {
		n := now(t, "fork", v) // angle, load, along, across, ring, per cent, up, back
		near(t, "load", math.Hypot(n[2], n[3]), v["load"], 0.8)
		near(t, "slope of the forces", math.Atan2(n[2], n[3])*180/math.Pi, v["angle"], 0.3)
		near(t, "spring", n[2], 9*n[4], 1)
		near(t, "way", math.Hypot(n[6], n[7]), n[4], 0.1)
		near(t, "slope of the way", math.Atan2(n[6], n[7])*180/math.Pi, v["angle"], 0.4)
		near(t, "per cent", n[5], n[4]/1.6, 0.1)
		_, d := view(t, "fork", v)
		leg := d.class("leg")[0].places(t)
		if !(leg[1].x < leg[0].x && leg[1].y < leg[0].y) {
			t.Error("the fork does not lean back, its front to the right")
		}
		near(t, "lean", math.Atan2(leg[0].y-leg[1].y, leg[0].x-leg[1].x)*180/math.Pi, v["angle"], 0.05)
		arc := d.class("angle")[0].Nodes[0].places(t)
		last := arc[len(arc)-1]
		near(t, "arc", math.Atan2(last.y-arc[0].y, last.x-(arc[0].x-40))*180/math.Pi, v["angle"], 0.05)
		axle, ghost := d.class("joint axle")[0].circle(t), d.class("ghost")
		for _, g := range ghost {
			if g.XMLName.Local == "circle" {
				near(t, "up", g.circle(t).y-axle.y, n[6], 0.06)
				near(t, "back", g.circle(t).x-axle.x, n[7], 0.06)
			}
		}
	}
}

// The wheels stand on the ground, front to the right, and carry what they do by
// moments about each other; the frame is pitched as it is said to be.
func TestPitchBalances(t *testing.T) {
	const weight = 96 * gravity
	for _, v := range []lesson.Values{{"share": 50, "braking": 0, "rate": 130}, {"share": 60, "braking": 0, "rate": 90}, {"share": 68, "braking": 0.5, "rate": 70}} {
		n := now(t, "pitch", v) // front, sag, rear, sag, pitch, share
		c, d := view(t, "pitch", v)
		near(t, "weight", n[0]+n[2], weight, 1.1)
		near(t, "share", n[2]/(n[0]+n[2])*100, n[5], 0.1)
		wheels, centre := d.class("wheel"), d.class("centre")[0].circle(t)
		rear, front := wheels[0].circle(t), wheels[1].circle(t)
		var names [2]place
		for _, label := range d.class("on") {
			for i, name := range []string{"rear", "front"} {
				if label.Text == name {
					names[i] = place{label.number(t, "x"), label.number(t, "y")}
				}
			}
		}
		if !(rear.x < centre.x && centre.x < front.x) || !(names[0].x < names[1].x && names[0].x < centre.x && names[1].x > centre.x) {
			t.Errorf("rear %v, centre %v, front %v, names %v", rear, centre, front, names)
		}
		d1, d2 := (centre.x-rear.x)/0.175, (front.x-centre.x)/0.175
		ground := d.class("ground")[0].places(t)[0].y
		near(t, "front by moments", n[0], (weight*d1+v["braking"]*weight*(ground-centre.y)/0.175)/(d1+d2), 1.5)
		near(t, "wheels on the ground", ground-rear.y, 350*0.175, 0.05)
		near(t, "wheels on the ground", ground-front.y, 350*0.175, 0.05)
		line := d.class("pitch")[0].places(t)
		up := math.Atan2(line[0].y-line[1].y, line[1].x-line[0].x) * 180 / math.Pi
		near(t, "pitch as drawn", math.Abs(up), n[4], 0.02)
		if nose := strings.Contains(c.Now, "nose up"); nose != (up > 0) {
			t.Errorf("pitched by %v: %s", up, c.Now)
		}
		// Each spring carries its wheel's load less the unsprung weight.
		// The brake adds what of its pull is along the fork, less what stops the wheel itself.
		sin, cos := math.Sincos((64 - math.Copysign(n[4], up)) * math.Pi / 180)
		near(t, "front spring", n[1]/100*160*9, (n[0]-2*gravity)*sin+v["braking"]*(weight-2*gravity)*cos, 2)
		near(t, "rear spring", n[3]/100*150*v["rate"]/6.25, n[2]-3*gravity, 8)
	}
}
