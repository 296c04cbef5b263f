package diagnose_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waywright/procedures/diagnose"
	"waywright/procedures/source"
)

const bed = `gate "level" {
  of      = result.bow
  at_most = arcsec(12)
}
`

func limit() diagnose.Diagnostic {
	at := source.Range{File: "bed.hcl", Start: source.Pos{Line: 3, Column: 13, Byte: 50}, End: source.Pos{Line: 3, Column: 23, Byte: 60}}
	head := source.Range{File: "bed.hcl", Start: source.Pos{Line: 1, Column: 1}, End: source.Pos{Line: 1, Column: 13, Byte: 12}}
	return diagnose.New("E304", at, "result.bow is a length, but this limit is an angle. Write the limit as a length, such as um(20).").
		Within(`gate "level"`, diagnose.Over(head, at))
}

func text(t *testing.T, list diagnose.List, src string) string {
	t.Helper()
	var b strings.Builder
	if err := diagnose.WriteText(&b, list, func(string) []byte { return []byte(src) }); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestWriteText(t *testing.T) {
	want := `Error: Limit has the wrong dimension (E304)

  on bed.hcl line 3, in gate "level":
  1: gate "level" {
  2:   of      = result.bow
  3:   at_most = arcsec(12)

result.bow is a length, but this limit is an angle. Write the limit as a
length, such as um(20).

`
	if diff := cmp.Diff(want, text(t, diagnose.List{limit()}, bed)); diff != "" {
		t.Error(diff)
	}
}

// A long block is shown by its head and what stands near.
func TestWriteTextLeavesOutTheMiddle(t *testing.T) {
	d := limit()
	d.Subject.Start.Line, d.Subject.End.Line = 30, 30
	d.Context = diagnose.Over(d.Context, d.Subject)
	lines := strings.Repeat("line\n", 29) + "last\n"
	want := "   1: line\n    …\n  27: line\n  28: line\n  29: line\n  30: last\n"
	if got := text(t, diagnose.List{d}, lines); !strings.Contains(got, want) {
		t.Errorf("got\n%s\nwant in it\n%s", got, want)
	}
}

// What a file contains never reaches the terminal as a command.
func TestWriteTextIsPlain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := rapid.String().Draw(t, "source")
		d := limit()
		d.Detail = rapid.String().Draw(t, "detail")
		d.In = rapid.String().Draw(t, "in")
		var b strings.Builder
		if err := diagnose.WriteText(&b, diagnose.List{d}, func(string) []byte { return []byte(src) }); err != nil {
			t.Fatal(err)
		}
		for _, r := range b.String() {
			if r != '\n' && diagnose.Control(r) {
				t.Fatalf("%q holds U+%04X", b.String(), r)
			}
		}
	})
}

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"µ and Ø":    "µ and Ø",
		"a\x1b[31mb": `a\u001b[31mb`,
		"a\xffb":     `a\xffb`,
		"a\u202eb":   `a\u202eb`,
	} {
		if got := diagnose.Plain(in); got != want {
			t.Errorf("Plain(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestReport(t *testing.T) {
	b, err := json.Marshal(diagnose.List{limit()}.Report())
	if err != nil {
		t.Fatal(err)
	}
	want := `{"errors":1,"warnings":0,"diagnostics":[{"code":"E304","severity":"error","summary":"Limit has the wrong dimension",` +
		`"detail":"result.bow is a length, but this limit is an angle. Write the limit as a length, such as um(20).",` +
		`"in":"gate \"level\"","file":"bed.hcl","start":{"line":3,"column":13,"byte":50},"end":{"line":3,"column":23,"byte":60}}]}`
	if diff := cmp.Diff(want, string(b)); diff != "" {
		t.Error(diff)
	}
	if b, _ := json.Marshal(diagnose.List(nil).Report()); !strings.Contains(string(b), `"diagnostics":[]`) {
		t.Errorf("an empty list is %s, want an empty array in it", b)
	}
}

func TestSorted(t *testing.T) {
	at := func(file string, byteAt int) source.Range {
		return source.Range{File: file, Start: source.Pos{Line: 1, Byte: byteAt}}
	}
	list := diagnose.List{
		diagnose.New("E201", at("b.hcl", 9), "x"), diagnose.New("E201", at("a.hcl", 1), "x"),
		diagnose.New("E201", at("b.hcl", 2), "x"), diagnose.New("E201", at("b.hcl", 9), "x"),
	}
	var got []int
	for _, d := range list.Sorted() {
		got = append(got, d.Subject.Start.Byte)
	}
	if diff := cmp.Diff([]int{2, 9, 1}, got); diff != "" {
		t.Error(diff)
	}
}

func TestNearest(t *testing.T) {
	names := []string{"range", "repeat", "closure", "ask"}
	for in, want := range map[string]string{
		"rnage": "range", "repaet": "repeat", "closur": "closure", "aks": "ask",
		"unit": "", "x": "", "range": "", "clsr": "",
	} {
		if got := diagnose.Nearest(in, names); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", in, got, want)
		}
	}
}

// The reference is made from the codes, so each says why and what to do.
func TestEveryCodeIsExplained(t *testing.T) {
	summaries := map[string]string{}
	for _, c := range diagnose.Codes() {
		e, ok := diagnose.Explain(c)
		if !ok || e.Summary == "" || e.Why == "" || e.Mend == "" {
			t.Errorf("Explain(%q) = %+v, %t; want every field", c, e, ok)
		}
		if strings.HasSuffix(e.Summary, ".") || strings.Contains(e.Why+e.Mend, "!") {
			t.Errorf("%s: %q does not read like the others", c, e.Summary)
		}
		if c[0] == 'F' {
			continue // the compiler and the reader may say the same of a formula and of the file
		}
		if other := summaries[e.Summary]; other != "" {
			t.Errorf("%s and %s have one summary", c, other)
		}
		summaries[e.Summary] = c
	}
	if _, ok := diagnose.Explain("E999"); ok {
		t.Error("Explain(E999) is known")
	}
}
