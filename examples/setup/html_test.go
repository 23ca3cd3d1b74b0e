package main

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// The page says what the sheet says, holds its pictures, and wants nothing
// from elsewhere.
func TestHTML(t *testing.T) {
	for _, job := range [][]string{nil, {"-job", "demo/coil-fork.json"}} {
		page, errs, status := call(t, "", append([]string{"-html"}, job...)...)
		if status != 0 || errs != "" {
			t.Fatalf("%v: status %d, %q", job, status, errs)
		}
		out, _, _ := call(t, "", append([]string{"-json"}, job...)...)
		var s setup.Sheet
		if err := json.Unmarshal([]byte(out), &s); err != nil {
			t.Fatal(err)
		}
		const nbsp = "\u00a0"
		for _, want := range []string{
			"<!doctype html>", "</html>",
			fmt.Sprintf("<td>%.1f mm (%.2f in), %.1f%s%% of", s.Rear.Rest.Travel.Millimetres(), s.Rear.Rest.Travel.Inches(), 100*s.Rear.Rest.Sag, nbsp),
			`<th scope="row">ring along the stanchion / at the shock</th>`,
			fmt.Sprintf("<td>%.1f mm (%.2f in), from full extension</td>", s.Rear.Rest.Stroke.Millimetres(), s.Rear.Rest.Stroke.Inches()),
			fmt.Sprintf("<td>%.0f N (%.1f lbf)</td>", s.Loads.Rear.Newtons(), s.Loads.Rear.PoundsForce()),
			fmt.Sprintf("%.0f N (%.1f lbf), %.1f × the load", s.Front.Reserve.FullForce.Newtons(), s.Front.Reserve.FullForce.PoundsForce(), s.Front.FullRatio),
			fmt.Sprintf("<tr><th scope=\"row\">%.1f kg", s.RiderMass.Kilograms()), ", this rider</td>",
			"Front: the spring at the wheel", "Riders of other masses", "The marking on the part and the maker&#39;s manual win",
		} {
			if !strings.Contains(page, want) {
				t.Errorf("%v: the page lacks %q", job, want)
			}
		}
		if n := strings.Count(page, "<svg"); n != strings.Count(page, "</svg>") || n < 3 {
			t.Errorf("%v: %d pictures", job, n)
		}
		for _, bad := range []string{"NaN", "Inf", "%!", "ZgotmplZ", "<script", " src=", "@import"} {
			if strings.Contains(page, bad) {
				t.Errorf("%v: the page holds %q", job, bad)
			}
		}
		for _, link := range regexp.MustCompile(`https?://[^"]*`).FindAllString(page, -1) {
			if !strings.HasPrefix(link, "http://www.w3.org/") {
				t.Errorf("%v: the page points to %s", job, link)
			}
		}
		for _, tag := range []string{"div", "table", "tr", "td", "th", "p", "h2", "figure", "g", "text"} {
			open := len(regexp.MustCompile(`<`+tag+`[ >]`).FindAllString(page, -1))
			if closed := strings.Count(page, "</"+tag+">"); open != closed {
				t.Errorf("%v: %d <%s>, %d </%s>", job, open, tag, closed, tag)
			}
		}
	}
}

// The chart of riders stays where some of them are too light for a set-up: half a kilogram on this bike
// leaves the fork 1.97 kg, less than its unsprung mass.
func TestRidersChartLeavesOutWhoIsTooLight(t *testing.T) {
	text, err := os.ReadFile("demo/hardtail.json")
	if err != nil {
		t.Fatal(err)
	}
	light := strings.NewReplacer(`"71 kg",`, `"6 kg",`, `"12.4 kg"`, `"4.42 kg"`, `"rear_share": 0.55`, `"rear_share": 0.6`).Replace(string(text))
	for _, job := range []string{string(text), light} {
		page, errs, status := call(t, job, "-html", "-job", "-")
		if status != 0 || strings.Count(page, "<svg") != 2 {
			t.Errorf("status %d, %d pictures: %s", status, strings.Count(page, "<svg"), errs)
		}
	}
}

// What the job states of dampers and drops, every spring of the shelf and every
// count of spacers is on the page, the recommended one marked, with the numbers
// of the answer.
func TestHTMLChoices(t *testing.T) {
	page, _, _ := call(t, "", "-html")
	page = strings.ReplaceAll(page, "\u00a0", " ")
	out, _, _ := call(t, "", "-json")
	var s setup.Sheet
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatal(err)
	}
	want := []string{"a drop of 0.40 / 0.30 m uses", "Front: with other spacers", "Rear: on the shelf", "nobody having said otherwise: the bike&#39;s mass, "}
	row := func(first bool, cells ...string) {
		begin := "<tr>"
		if first {
			begin = `<tr class="here">`
		}
		want = append(want, begin+`<td class="whole">`+cells[0]+`</td><td class="whole">`+cells[1]+"</td><td>"+cells[2]+"</td><td>"+cells[3]+"</td>")
	}
	for i, c := range s.Rear.Coil.Candidates {
		row(i == 0, fmt.Sprintf("%.2f N/mm (%.0f lbf/in)", c.Rate.NewtonsPerMillimetre(), c.Rate.PoundsForcePerInch()),
			fmt.Sprintf("%.1f mm", c.Preload.Millimetres()), fmt.Sprintf("%.1f %%", 100*c.Rest.Sag), fmt.Sprintf("%.2f", c.FullRatio))
	}
	for i, o := range s.Front.Air.Options {
		row(i == 0, fmt.Sprint(o.Spacers), fmt.Sprintf("%.2f bar (%.1f psi)", o.Fill.Bar(), o.Fill.PSI()), fmt.Sprintf("%.1f %%", 100*o.Rest.Sag), fmt.Sprintf("%.2f", o.FullRatio))
	}
	for _, e := range []*setup.EndSheet{s.Front, s.Rear} {
		want = append(want,
			fmt.Sprintf("%.0f N·s/m (%.2f lbf·s/in), %.2f of critical", units.In(e.Damping.Wheel, units.NewtonSecondPerMetre), units.In(e.Damping.Wheel, units.PoundForceSecondPerInch), e.Damping.Ratio),
			fmt.Sprintf("<td>%.1f mm (%.2f in), %.1f %% of", e.Landing.Travel.Millimetres(), e.Landing.Travel.Inches(), 100*e.Landing.Used),
			fmt.Sprintf("%.2f m (%.0f in), undamped: not a promise", e.Reserve.DropHeight.Metres(), e.Reserve.DropHeight.Inches()))
	}
	if len(want) < 20 {
		t.Fatalf("only %d things to look for", len(want))
	}
	for _, text := range want {
		if !strings.Contains(page, text) {
			t.Errorf("the page lacks %q", text)
		}
	}
	for _, none := range []string{"damping at the wheel", "a drop", "Front: with other spacers"} {
		if page, _, _ := call(t, "", "-html", "-job", "demo/coil-fork.json"); strings.Contains(page, none) {
			t.Errorf("a job without has %q", none)
		}
	}
}

// The schedule at the pump starts at the fill that is there and ends within
// half a psi of the one that is wanted, the sheet's.
func TestHTMLPump(t *testing.T) {
	page, _, _ := call(t, "", "-html")
	rows := regexp.MustCompile(`<th scope="row">(?:pump up to|cycle; it then shows)</th><td>([0-9.]+) bar [^<]*, from ([0-9.]+) bar`).FindAllStringSubmatch(page, -1)
	if len(rows) < 2 {
		t.Fatalf("%d steps", len(rows))
	}
	out, _, _ := call(t, "", "-json")
	var s setup.Sheet
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatal(err)
	}
	if rows[0][2] != "5.60" {
		t.Errorf("starts at %s bar, the job says 5.6", rows[0][2])
	}
	last, want := 0.0, s.Front.Air.Options[0].Fill.Bar()
	fmt.Sscan(rows[len(rows)-1][1], &last)
	if last > want+0.006 || last < want-0.0345-0.006 {
		t.Errorf("ends at %.3f bar, want %.3f", last, want)
	}
}

// A bike with one spring has tables of one end, and pictures of it.
func TestHTMLOfOneEnd(t *testing.T) {
	page, errs, status := call(t, "", "-html", "-job", "demo/hardtail.json")
	if status != 0 || errs != "" {
		t.Fatalf("status %d, %q", status, errs)
	}
	for _, want := range []string{"<th>front</th></tr>", "rear wheel on the ground</th><td colspan=\"1\">450 N", "45.0 kg (99.2 lb)", "Both ends settling together: the job has one end.", "Front: the spring at the wheel"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for _, none := range []string{"<th>rear</th>", "<td></td>", "Rear: ", "NaN"} {
		if strings.Contains(page, none) {
			t.Errorf("the page has %q", none)
		}
	}
}

// Words of a job are words on the page, whatever they look like.
func TestHTMLEscapes(t *testing.T) {
	job := strings.Replace(string(demo), "Invented for", "<script>alert(1)</script> for", 1)
	page, _, status := call(t, job, "-html", "-job", "-")
	if status != 0 || strings.Contains(page, "<script>") || !strings.Contains(page, "&lt;script&gt;") {
		t.Errorf("status %d", status)
	}
}

// The card is a page of its own, for one sheet, and there is one answer to a call.
func TestCard(t *testing.T) {
	page, errs, status := call(t, "", "-card", "-job", "demo/coil-fork.json")
	if status != 0 || errs != "" {
		t.Fatalf("status %d, %q", status, errs)
	}
	for _, want := range []string{"<!doctype html>", "<b>50 lbf/in</b> 8.76 N/mm", "<b>15.92 bar</b> 231.0 psi", "</html>"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for _, args := range [][]string{{"-json", "-html"}, {"-json", "-card"}, {"-html", "-card"}} {
		if out, errs, status := call(t, "", args...); status != 2 || out != "" || !strings.Contains(errs, "want one of -json, -html, -card and -svg") {
			t.Errorf("%v: status %d, %q, %q", args, status, out, errs)
		}
	}
}
