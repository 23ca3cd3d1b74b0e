package main

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"example.com/wheelrate/sag"
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
		var s sag.Sheet
		if err := json.Unmarshal([]byte(out), &s); err != nil {
			t.Fatal(err)
		}
		const nbsp = "\u00a0"
		for _, want := range []string{
			"<!doctype html>", "</html>",
			fmt.Sprintf("<td>%.1f%s%%, %.1f mm", 100*s.Rear.Rest.Sag, nbsp, s.Rear.Rest.Travel.Millimetres()),
			fmt.Sprintf("<td>%.1f mm (%.2f in) at the shock</td>", s.Rear.Rest.Stroke.Millimetres(), s.Rear.Rest.Stroke.Inches()),
			fmt.Sprintf("%.0f N (%.1f lbf), %.1f × the load", s.Front.Reserve.FullForce.Newtons(), s.Front.Reserve.FullForce.PoundsForce(), s.Front.FullRatio),
			fmt.Sprintf("<tr class=\"here\"><td>%.1f kg", s.RiderMass.Kilograms()),
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

// The schedule at the pump starts at the fill that is there and ends within
// half a psi of the one that is wanted, the sheet's.
func TestHTMLPump(t *testing.T) {
	page, _, _ := call(t, "", "-html")
	rows := regexp.MustCompile(`<td>front: [^<]*</td><td>([0-9.]+) bar[^<]*</td><td>([0-9.]+) bar`).FindAllStringSubmatch(page, -1)
	if len(rows) < 2 {
		t.Fatalf("%d steps", len(rows))
	}
	out, _, _ := call(t, "", "-json")
	var s sag.Sheet
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatal(err)
	}
	if rows[0][1] != "5.60" {
		t.Errorf("starts at %s bar, the job says 5.6", rows[0][1])
	}
	last, want := 0.0, s.Front.Air.Options[0].Fill.Bar()
	fmt.Sscan(rows[len(rows)-1][2], &last)
	if last > want+0.006 || last < want-0.0345-0.006 {
		t.Errorf("ends at %.3f bar, want %.3f", last, want)
	}
}

func TestHTMLAndJSONTogether(t *testing.T) {
	if _, errs, status := call(t, "", "-html", "-json"); status != 2 || !strings.Contains(errs, "either -json or -html") {
		t.Errorf("status %d, %q", status, errs)
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
