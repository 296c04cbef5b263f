package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// turner is a person at a lathe whose tailstock stands 0.1 mm too far back,
// with an indicator that reads the other way round: the first move doubles the
// taper. What he reads depends on what was moved, and not on how often he is
// asked.
type turner struct {
	moves int  // kept
	sent  bool // a movement was said, and it is not known yet whether it was kept
}

// The diameters after each movement: headstock end, tailstock end, headstock
// end once more.
var cuts = [][3][]string{
	{{"24.812", "24.811", "24.812"}, {"24.962", "24.962", "24.961"}, {"24.812"}},
	{{"24.702", "24.702", "24.703"}, {"25.003", "25.002", "25.002"}, {"24.702"}},
	{{"24.601", "24.601", "24.602"}, {"24.603", "24.602", "24.602"}, {"24.601"}},
}

func (p *turner) answer(q said) (text, reason string) {
	switch {
	case p.sent && q.Name == "set_over.moved":
		p.sent = false
	case p.sent && (q.Name == "true_centre" || q.Name == "one_setting"): // worked again
		p.sent, p.moves = false, p.moves+1
	}
	take := max(q.Take, 1) - 1
	switch q.Name {
	case "operator", "fitter":
		return "Ines Brandt", ""
	case "inspector":
		return "Tom Acker", ""
	case "centres":
		return "320 mm", ""
	case "span":
		return "240 mm", ""
	case "true_centre", "one_setting":
		return "yes", ""
	case "cool":
		return "stated", "it lay over lunch"
	case "instrument.micrometer":
		return "M-7", ""
	case "instrument.indicator":
		return "I-3", ""
	case "cylindrical":
		return "set_over", ""
	case "set_over.nudge":
		return "minus", ""
	case "set_over.moved":
		p.sent = true
		return []string{"0.10", "-0.20"}[p.moves], ""
	case "diameter.headstock_end":
		return cuts[p.moves][0][take], ""
	case "diameter.tailstock_end":
		return cuts[p.moves][1][take], ""
	case "diameter.headstock_end.again":
		return cuts[p.moves][2][take], ""
	}
	if strings.HasSuffix(q.Name, ".clear") {
		return "yes", ""
	}
	return "", ""
}

// work answers until the end, or until so many answers were given; most is
// below nought for all. Of the last answer the program may or may not hear:
// with wait it has said what became of it.
func (p *turner) work(c *child, most int, wait bool) (answers int, outcome string) {
	c.t.Helper()
	for {
		q := c.next()
		if q.Type == "end" {
			return answers, q.Outcome
		}
		if answers == most && wait {
			return answers, ""
		}
		text, reason := p.answer(q)
		if text == "" {
			c.t.Fatalf("%s is asked, and nothing is known of it", q.Name)
		}
		c.answer(text, reason)
		if answers++; answers > 200 {
			c.t.Fatal("there is no end to the questions")
		}
		if answers == most && !wait {
			return answers, ""
		}
	}
}

const runOfDemo = "tailstock-by-test-cut-lathe-4"

// shop makes a folder with the logbook of the demo.
func shop(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"machines.hcl", "instruments.hcl"} {
		b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", "logbook", name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(filepath.Join(dir, "logbook"), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "logbook", name), b, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// A run that is killed between any two answers, or while an answer is being
// kept, is gone on with to the same record as one that never was, but for
// times and sittings.
func TestKilledRunGivesSameRecord(t *testing.T) {
	dir := shop(t)
	p := &turner{}
	c := start(t, dir, "run", "lathe/tailstock-by-test-cut")
	all, outcome := p.work(c, -1, true)
	if code := c.end(); code != 0 || outcome != "accepted" {
		t.Fatalf("the unbroken run: %s, exit code %d\n%s", outcome, code, c.stderr())
	}
	want := record(t, dir)
	if all < 30 {
		t.Fatalf("the unbroken run has %d answers; too few to be killed between", all)
	}
	for k := range all {
		for _, wait := range []bool{true, false} {
			t.Run(fmt.Sprintf("after %d of %d, heard %v", k, all, wait), func(t *testing.T) {
				t.Parallel()
				if !wait && k == 0 {
					return // the same as the one before
				}
				dir := shop(t)
				p := &turner{}
				c := start(t, dir, "run", "lathe/tailstock-by-test-cut")
				p.work(c, k, wait)
				c.kill()

				c = start(t, dir, "resume")
				_, outcome := p.work(c, -1, true)
				if code := c.end(); code != 0 || outcome != "accepted" {
					t.Fatalf("gone on with: %s, exit code %d\n%s", outcome, code, c.stderr())
				}
				if d := cmp.Diff(want, record(t, dir)); d != "" {
					t.Errorf("record (-unbroken +killed):\n%s", d)
				}
			})
		}
	}
}

// record reads the record of the demo's run, without what tells of times and
// sittings.
func record(t *testing.T, dir string) any {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, "logbook", "runs", runOfDemo, "record.json"))
	if err != nil {
		t.Fatal(err)
	}
	var r map[string]any
	if err := json.Unmarshal(b, &r); err != nil {
		t.Fatal(err)
	}
	for _, c := range r["cautions"].([]any) {
		if c.(map[string]any)["skipped"] == true {
			t.Errorf("a caution was skipped: %v", c)
		}
	}
	// Cautions are asked afresh in each sitting. The record's number has the
	// head of the journal in it.
	for _, k := range []string{"number", "journal", "begun", "last", "sittings", "cautions"} {
		if _, ok := r[k]; !ok {
			t.Fatalf("the record has no %s", k)
		}
		delete(r, k)
	}
	// A set that was not whole when the sitting ended is asked again.
	r["readings"] = slices.DeleteFunc(r["readings"].([]any), func(v any) bool { return v.(map[string]any)["state"] == "broken" })
	return timeless(r)
}

var eventNumber = regexp.MustCompile(`#\d+|, sitting \d+`)

// left are the properties that tell of times, of lines and of sittings. The
// setting of a micrometer lasts a sitting (semantics rule 22), so what a
// correction changed from one sitting to another is less well known: u_change,
// which is also told in words; and so is a value's difference from the one before.
var left = []string{"time", "entry", "sitting", "waited", "u_change", "told"}

// timeless takes out the times, the numbers of lines and the sittings.
func timeless(v any) any {
	switch v := v.(type) {
	case map[string]any:
		out := map[string]any{}
		for k, e := range v {
			if c, ok := e.(map[string]any); ok && k == "change" && c["shown"] != nil {
				e = map[string]any{"attempt": c["attempt"], "by": c["by"].(map[string]any)["value"], "shown": c["shown"]}
			}
			if !slices.Contains(left, k) {
				out[k] = timeless(e)
			}
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, e := range v {
			out[i] = timeless(e)
		}
		return out
	case string:
		return eventNumber.ReplaceAllString(v, "#")
	}
	return v
}
