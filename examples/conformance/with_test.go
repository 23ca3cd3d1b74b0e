package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"example.com/wheelrate/refdata"
)

// asPartner makes the test binary a program that is asked, of that conduct.
const asPartner = "CONFORMANCE_PARTNER"

func TestMain(m *testing.M) {
	if conduct := os.Getenv(asPartner); conduct != "" {
		answerAll(conduct)
		return
	}
	os.Exit(m.Run())
}

// answerAll is a program that knows forces of linear springs, F = k·(x + x₀), in SI, and refuses rates that
// are not more than 0. Whatever else it is asked it skips.
func answerAll(conduct string) {
	in, out := bufio.NewScanner(os.Stdin), json.NewEncoder(os.Stdout)
	in.Scan()
	switch conduct {
	case "mute":
		time.Sleep(time.Hour)
	case "rude":
		fmt.Println("good morning")
	case "stranger":
		fmt.Println(`{"hello":"wheelrate/protocol/99"}`)
	case "oblique":
		fmt.Println(`{"hello":"wheelrate/protocol/1","form":"feet"}`)
	case "dead":
		fmt.Fprintln(os.Stderr, "no spring in the house")
		os.Exit(3)
	}
	say := map[string]any{"hello": "wheelrate/protocol/1", "program": "linear " + conduct, "form": "si"}
	if conduct == "choosy" {
		say["computes"] = []string{"spring.law"}
	}
	_ = out.Encode(say)
	for in.Scan() {
		var q struct {
			ID, Computes string
			Given        struct {
				Law struct{ Linear map[string]any }
				At  []float64
			}
		}
		a := map[string]any{}
		if json.Unmarshal(in.Bytes(), &q) != nil || q.Given.Law.Linear == nil {
			a["skip"] = "unknown to me"
		} else if k, _ := q.Given.Law.Linear["rate"].(float64); k > 0 {
			x0, _ := q.Given.Law.Linear["preload"].(float64)
			var forces []any
			for _, x := range q.Given.At {
				forces = append(forces, k*(x+x0))
			}
			a["answer"] = map[string]any{"force": forces, "rate": make([]float64, len(forces)), "colour": "unseen"}
		} else {
			a["error"] = []string{"law.linear.rate"}
		}
		if a["id"] = q.ID; q.ID == "two" {
			fmt.Fprintln(os.Stderr, "the second is hard")
			switch conduct {
			case "slow":
				time.Sleep(time.Hour)
			case "mortal":
				os.Exit(1)
			case "garbled":
				fmt.Println("{")
				continue
			case "mistaken":
				a["id"] = "one"
			case "doubtful":
				a["skip"] = true
			case "wrong":
				a["answer"] = map[string]any{"force": []any{"1 lbf"}}
			case "angry":
				a = map[string]any{"id": "two", "answer": "no"}
			}
		}
		_ = out.Encode(a)
		if conduct == "weak" {
			os.Exit(1)
		}
	}
	if conduct == "sore" {
		os.Exit(4)
	}
}

// forces are three cases of linear springs and one of something else.
func forces() string {
	one := `{"id":"%s","computes":"spring.law","given":{"law":{"linear":{"rate":"%s","travel":"60 mm","preload":"2 mm"}},"at":["10 mm"]},%s}`
	return file(
		fmt.Sprintf(one, "one", "80 N/mm", `"expect":{"force":["960 N"]}`),
		fmt.Sprintf(one, "two", "10 N/mm", `"expect":{"force":["0.12 kN"]}`),
		fmt.Sprintf(one, "three", "80", `"error":["rate"]`), // which has no unit, in SI it stays a text
		right)
}

func TestProgramIsJudged(t *testing.T) {
	cases := write(t, "cases.json", forces())
	for conduct, want := range map[string]struct {
		status int
		last   string
		says   []string
	}{
		"right":    {0, "3 passed, 0 failed, 1 not attempted", []string{"Judged are the answers of linear right.", "units.convert               1 of 1"}},
		"choosy":   {0, "3 passed, 0 failed, 1 not attempted", nil},
		"slow":     {1, "2 passed, 1 failed, 1 not attempted", []string{"no answer within 2s", "the second is hard"}},
		"mortal":   {1, "2 passed, 1 failed, 1 not attempted", []string{"the program ended", "the second is hard"}},
		"garbled":  {1, "2 passed, 1 failed, 1 not attempted", []string{`in the line "{"`}},
		"mistaken": {1, "2 passed, 1 failed, 1 not attempted", []string{`the answer is to the case "one"`}},
		"doubtful": {1, "2 passed, 1 failed, 1 not attempted", []string{"2 of answer, error and skip are given"}},
		"wrong":    {1, "2 passed, 1 failed, 1 not attempted", []string{"expected 0.12 kN, got 0.0044482216152605 kN", "the second is hard"}},
		"angry":    {1, "2 passed, 1 failed, 1 not attempted", []string{"the answer is no object"}},
		"weak":     {1, "2 passed, 2 failed", []string{"the program ended"}},
		"sore":     {2, "", []string{"after the last case: exit status 4"}},
		"mute":     {2, "", []string{"no answer within 2s"}},
		"rude":     {2, "", []string{`in the line "good morning"`}},
		"stranger": {2, "", []string{`it says hello by "wheelrate/protocol/99"`}},
		"oblique":  {2, "", []string{`it wants the form "feet"`}},
		"dead":     {2, "", []string{"the program ended", "no spring in the house"}},
	} {
		t.Setenv(asPartner, conduct)
		out, errs, status := call(t, "", "-with", os.Args[0], "-limit", "2s", "-job", cases)
		if status != want.status || want.last != "" && lastLine(out) != want.last {
			t.Errorf("%s: status %d, want %d; %s%s", conduct, status, want.status, out, errs)
		}
		for _, text := range want.says {
			if !strings.Contains(out+errs, text) {
				t.Errorf("%s: %q is not said in %s%s", conduct, text, out, errs)
			}
		}
	}
}

// A program that ends again and again is not started for ever.
func TestProgramIsGivenUp(t *testing.T) {
	t.Setenv(asPartner, "weak")
	var many []string
	for i := range 2 * mostRestarts {
		many = append(many, strings.Replace(right, "right-1", fmt.Sprint("case-", i), 1))
	}
	out, _, status := call(t, "", "-with", os.Args[0], "-job", write(t, "many.json", file(many...)))
	// It answers each first case with skip, and is found to have ended at the next.
	if want := "0 passed, 10 failed, 10 not attempted"; status != 1 || lastLine(out) != want {
		t.Errorf("status %d, %s", status, out)
	}
	many = append(many, strings.Replace(right, "right-1", "last", 1))
	out, _, status = call(t, "", "-with", os.Args[0], "-job", write(t, "more.json", file(append(many, strings.Replace(right, "right-1", "end", 1))...)))
	if want := "0 passed, 11 failed, 11 not attempted"; status != 1 || lastLine(out) != want || strings.Contains(out, "is not any more") {
		t.Errorf("status %d, %s", status, out)
	}
	out, _, _ = call(t, "", "-with", os.Args[0])
	if !strings.Contains(out, "the program was started again 10 times and is not any more") {
		t.Error("it is started for ever")
	}
}

func TestResultsAreJudged(t *testing.T) {
	cases := write(t, "cases.json", forces())
	const head = `{"schema":"wheelrate/results/1","program":"by hand","results":[`
	for name, row := range map[string]struct {
		text   string
		status int
		says   string
	}{
		"all right":    {head + `{"id":"one","answer":{"force":[960]}},{"id":"two","answer":{"force":["120 N"]}},{"id":"three","error":["rate"]}]}`, 0, "3 passed, 0 failed, 1 not attempted"},
		"some wrong":   {head + `{"id":"one","answer":{"force":[961]}},{"id":"two","answer":{"rate":[1]}},{"id":"three","answer":{"force":[1]}}]}`, 1, "0 passed, 3 failed, 1 not attempted"},
		"a list short": {head + `{"id":"one","answer":{"force":960}}]}`, 1, "a list is compared with a single value"},
		"mixed":        {head + `{"id":"one","answer":{"force":[null]}}]}`, 1, "0 passed, 1 failed, 3 not attempted"},
		"other unit":   {head + `{"id":"one","answer":{"force":["960 kg"]}}]}`, 1, `expected "960 N", got "960 kg"`},
		"no name":      {head + `{"id":"three","error":[]}]}`, 1, "something that is no field"},
		"other fault":  {head + `{"id":"three","error":["travel"]}]}`, 1, "named besides: travel"},
		"skipped":      {head + `{"id":"one","skip":"why"}]}`, 0, "0 passed, 0 failed, 4 not attempted"},
		"of no case":   {head + `{"id":"four","skip":"why"}]}`, 2, `1 results are of no case, the first of "four"`},
		"twice":        {head + `{"id":"one","skip":1},{"id":"one","skip":1}]}`, 2, "results[1].id"},
		"two ways":     {head + `{"id":"one","skip":1,"error":["x"]}]}`, 2, "2 of answer, error and skip"},
		"misspelt":     {head + `{"id":"one","anwser":{}}]}`, 2, "anwser"},
		"other schema": {`{"schema":"wheelrate/results/2","results":[]}`, 2, "wheelrate/results/1"},
		"no JSON":      {`{`, 2, "line 1"},
	} {
		out, errs, status := call(t, "", "-job", cases, "-results", write(t, "r.json", row.text))
		if status != row.status || !strings.Contains(out+errs, row.says) {
			t.Errorf("%s: status %d, want %d with %q: %s%s", name, status, row.status, row.says, out, errs)
		}
	}
}

// What the case files expect, given back as results, passes; so does their SI form.
func TestExpectationsPassAsResults(t *testing.T) {
	for _, si := range []bool{false, true} {
		var list []map[string]any
		for c, err := range refdata.Cases(refdata.CaseFiles()) {
			if err != nil {
				t.Fatal(err)
			}
			r := map[string]any{"id": c.ID, "answer": c.Expect}
			if si {
				p, err := plainOf(c)
				if err != nil {
					t.Fatal(err)
				}
				r["answer"] = p.Expect
			}
			if c.Error != nil {
				delete(r, "answer")
				r["error"] = c.Error
			}
			list = append(list, r)
		}
		text, err := json.Marshal(map[string]any{"schema": resultsSchema, "program": "the cases themselves", "results": list})
		if err != nil {
			t.Fatal(err)
		}
		out, errs, status := call(t, "", "-results", write(t, "r.json", string(text)))
		if want := fmt.Sprintf("%d passed, 0 failed", len(list)); status != 0 || lastLine(out) != want {
			i := strings.Index(out, "FAIL")
			t.Errorf("SI %v: status %d, %s, %s %.2000s", si, status, lastLine(out), errs, out[max(i, 0):])
		}
	}
}
