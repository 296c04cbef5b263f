package editor_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/procedures/tidy"
)

// names writes an outline, names within others set in.
func entries(list []lsp.DocumentSymbol, in string) string {
	var b strings.Builder
	for _, x := range list {
		fmt.Fprintf(&b, "%s%s: %s\n%s", in, x.Name, x.Detail, entries(x.Children, in+"  "))
	}
	return b.String()
}

const tableOutline = `drill-table: procedure Table square: µm, Ø and 🙂
sweep: given Sweep: diameter of the circle
swing: step Swing the dial over the table
  side: each
  height: reading Table, ${each.side}: height
judge: step Judge the tilt
  tilt: result Tilt, front to rear, in 200 mm
  square: gate The table is square to the spindle
shim: correction Shim the bracket
fitter: signoff Carried out by
tilted: rehearsal
  shim: reacts
`

func TestOutline(t *testing.T) {
	c := beginQuiet(t, shop())
	c.open("drill-table.hcl", tableFile)
	var got []lsp.DocumentSymbol
	c.call("textDocument/documentSymbol", c.at("drill-table.hcl", lsp.Position{}), &got)
	if diff := cmp.Diff(tableOutline, entries(got, "")); diff != "" {
		t.Error(diff)
	}
	text := lsp.NewText([]byte(tableFile))
	var check func(list []lsp.DocumentSymbol)
	check = func(list []lsp.DocumentSymbol) {
		for _, x := range list {
			from, to := text.Offset(x.SelectionRange.Start), text.Offset(x.SelectionRange.End)
			if got := tableFile[from:to]; got != x.Name || from < text.Offset(x.Range.Start) || to > text.Offset(x.Range.End) {
				t.Errorf("%s stands at %v, which is %q, in %v", x.Name, x.SelectionRange, got, x.Range)
			}
			check(x.Children)
		}
	}
	check(got)
}

// halves are ways in which a file is broken while it is typed, with what can
// still be told of it.
var halves = []struct{ name, old, text string }{
	{"an open quote", `title = "Judge the tilt"`, `title = "Judge`},
	{"an open value in a text", `title = "Judge the tilt"`, `title = "Judge ${given.`},
	{"an open bracket", `within    = plus_minus(table.limits.square)`, `within    = plus_minus(table.`},
	{"nothing behind the equals sign", `title = "Judge the tilt"`, `title = `},
	{"half a word", `title = "Judge the tilt"`, "title = \"Judge the tilt\"\n  read"},
	{"half a head", `title = "Judge the tilt"`, "title = \"Judge the tilt\"\n  reading \"x"},
	{"a head without its end", `title = "Judge the tilt"`, "title = \"Judge the tilt\"\n  wait \"x\" {"},
	{"a missing brace", "    positive = \"front higher\"\n  }\n", "    positive = \"front higher\"\n"},
	{"a missing brace of a list", `caution = [caution.sleeves]`, `caution = [caution.sleeves`},
}

// A broken file is still told, completed and outlined from what can be read,
// and from what it was before.
func TestBrokenFile(t *testing.T) {
	for _, tt := range halves {
		t.Run(tt.name, func(t *testing.T) {
			c := begin(t, shop())
			c.open("drill-table.hcl", tableFile)
			var hover *lsp.Hover // a question before: so much is known of the whole file
			c.call("textDocument/hover", c.at("drill-table.hcl", c.place("drill-table.hcl", `result "ti`+caret+`lt"`)), &hover)
			c.change("drill-table.hcl", tt.old, tt.text)
			if got := said(c.found("drill-table.hcl")); !strings.Contains(got, "E0") && !strings.Contains(got, "E1") {
				t.Errorf("nothing is found: %s", got)
			}

			c.call("textDocument/hover", c.at("drill-table.hcl", c.place("drill-table.hcl", "result = result.ti"+caret+"lt")), &hover)
			if hover == nil || !strings.Contains(hover.Contents.Value, "**result.tilt** — a length, in µm") {
				t.Errorf("it tells of result.tilt: %+v", hover)
			}
			var to []lsp.Location
			c.call("textDocument/definition", c.at("drill-table.hcl", c.place("drill-table.hcl", "hidden.tilt_"+caret+"angle - ")), &to)
			if len(to) != 1 {
				t.Errorf("hidden.tilt_angle is given at %v", to)
			}
			p := c.place("drill-table.hcl", "by     = -"+caret+"amount")
			if got := labels(c.complete("drill-table.hcl", p)); !slices.Contains(got, "result.tilt") || !slices.Contains(got, "amount") {
				t.Errorf("offered are %.80q", got)
			}
			var list []lsp.DocumentSymbol
			c.call("textDocument/documentSymbol", c.at("drill-table.hcl", lsp.Position{}), &list)
			got := entries(list, "")
			for _, want := range []string{"swing: step ", "  height: reading ", "judge: step", "tilt: result ", "shim: correction ", "fitter: signoff ", "tilted: rehearsal"} {
				if !strings.Contains(got, want) {
					t.Errorf("the outline has no %q:\n%s", want, got)
				}
			}
			if m := c.ask("textDocument/formatting", c.at("drill-table.hcl", lsp.Position{})); m.Error == nil && tt.name != "half a word" ||
				m.Error != nil && !strings.HasPrefix(m.Error.Message, "drill-table.hcl:") {
				t.Errorf("tidied: %s, %+v", m.Result, m.Error)
			}
		})
	}
}

func TestFormatting(t *testing.T) {
	c := beginQuiet(t, shop())
	rough := strings.NewReplacer("  ask   =", "    ask=", "\n\nstep", "\n\n\n\nstep", "um(-500), um(500)", "um(-500),um( 500 ),").Replace(tableFile)
	c.open("drill-table.hcl", rough)
	var edits []lsp.TextEdit
	c.call("textDocument/formatting", c.at("drill-table.hcl", lsp.Position{}), &edits)
	text := lsp.NewText([]byte(rough))
	for _, e := range edits {
		text = text.Edit(lsp.Change{Range: &e.Range, Text: e.NewText})
	}
	want, err := tidy.Bytes("drill-table.hcl", []byte(rough))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(text.Bytes)); diff != "" || len(edits) != 1 {
		t.Errorf("%d edits: %s", len(edits), diff)
	}
	if diff := cmp.Diff(tableFile, string(want)); diff != "" {
		t.Errorf("the file of these tests is not tidy: %s", diff)
	}
	c.open("drill-spindle.hcl", spindleFile)
	c.call("textDocument/formatting", c.at("drill-spindle.hcl", lsp.Position{}), &edits)
	if len(edits) > 0 {
		t.Errorf("a tidy file is edited: %v", edits)
	}
}

func (c *client) actions(name string, r lsp.Range) []lsp.CodeAction {
	c.t.Helper()
	var out []lsp.CodeAction
	c.call("textDocument/codeAction", map[string]any{"textDocument": map[string]any{"uri": c.uri(name)}, "range": r, "context": map[string]any{"diagnostics": []any{}}}, &out)
	return out
}

func TestMends(t *testing.T) {
	for _, tt := range []struct{ old, text, title string }{
		{"given.sweep\n    unit", "given.swep\n    unit", "Write sweep"},
		{"correction.shim, reject", "correction.shin, reject", "Write correction.shim"},
		{"instrument.dial\n    range", "instrument.dail\n    range", "Write instrument.dial"},
		{"  unit  =", "  unti  =", "Write unit"},
		{`"stopped"`, `"stoped"`, `Write "stopped"`},
		{"positive = \"under the rear\"", "positve = \"under the rear\"", "Write positive"},
		{"caution = [caution.sleeves]", "caution = caution.sleeves", "Write caution = [caution.sleeves]"},
		{`do       = ["Loosen, shim, tighten."]`, `do       = "Loosen, shim, tighten."`, `Write do = ["Loosen, shim, tighten."]`},
		{"reading.height.front - reading", "reading.height.frnt - reading", "Write front"},
		{`outcome = "accepted"`, `outcome = "acepted"`, `Write "accepted"`},
		{"shim = at_most(3)", "shin = at_most(3)", "Write shim"},
		{"mm(200) / given", "mm(200)/ gievn", "Write given"},
	} {
		c := begin(t, shop())
		c.open("drill-table.hcl", edited(t, tt.old, tt.text))
		found := c.found("drill-table.hcl")
		if len(found) == 0 {
			t.Errorf("%s: nothing is found", tt.text)
			continue
		}
		acts := c.actions("drill-table.hcl", lsp.NewText([]byte(c.text[c.uri("drill-table.hcl")])).Whole())
		if len(acts) == 0 || acts[0].Title != tt.title || acts[0].Kind != "quickfix" {
			t.Errorf("%s: %+v for %q; want %q", tt.text, acts, found[0].Message, tt.title)
			continue
		}
		mended := c.apply(map[string]string{"drill-table.hcl": c.text[c.uri("drill-table.hcl")]}, *acts[0].Edit)["drill-table.hcl"]
		if strings.Join(strings.Fields(mended), "") != strings.Join(strings.Fields(tableFile), "") {
			t.Errorf("%s: mended it is %s", tt.text, cmp.Diff(tableFile, mended))
		}
	}
}

// In the corpus of broken procedures every mend that is offered takes its
// diagnostic away, and none makes a file worse.
func TestMendsOfTheCorpus(t *testing.T) {
	dir := filepath.Join("..", "..", "..", "..", "testdata", "procedures", "broken")
	names, err := filepath.Glob(filepath.Join(dir, "*.hcl"))
	if err != nil || len(names) == 0 {
		t.Fatal("no corpus: ", err)
	}
	files := map[string]string{}
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		files[filepath.Base(n)] = string(b)
	}
	c := begin(t, files)
	mends := 0
	for name, text := range files {
		c.open(name, text)
		before := c.found(name)
		for _, a := range c.actions(name, lsp.NewText([]byte(text)).Whole()) {
			mends++
			mended := c.apply(files, *a.Edit)[name]
			c.change(name, c.text[c.uri(name)], mended)
			after := c.found(name)
			same := func(list []lsp.Diagnostic) (n int) {
				for _, d := range list {
					if d.Code == a.Diagnostics[0].Code && d.Message == a.Diagnostics[0].Message {
						n++
					}
				}
				return n
			}
			if same(after) >= same(before) {
				t.Errorf("%s: %s does not mend %q", name, a.Title, a.Diagnostics[0].Message)
			}
			// What can be read now may have mistakes of its own, but not in how it is written.
			if strings.Count(said(after), "E010") > strings.Count(said(before), "E010") {
				t.Errorf("%s: with %s it cannot be read:\n%s", name, a.Title, said(after))
			}
			c.change(name, mended, text)
			c.found(name)
		}
	}
	if mends < 15 {
		t.Errorf("only %d mends are offered", mends)
	}
}
