package editor_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"waywright/cmd/waywright/internal/editor/lsp"
)

// edited is the table's procedure with a piece of it written otherwise.
func edited(t *testing.T, old, text string) string {
	t.Helper()
	if !strings.Contains(tableFile, old) {
		t.Fatalf("no %q in the file", old)
	}
	return strings.Replace(tableFile, old, text, 1)
}

func (c *client) complete(name string, p lsp.Position) []lsp.CompletionItem {
	c.t.Helper()
	var list lsp.CompletionList
	c.call("textDocument/completion", c.at(name, p), &list)
	slices.SortStableFunc(list.Items, func(a, b lsp.CompletionItem) int { return strings.Compare(a.SortText, b.SortText) })
	return list.Items
}

func labels(items []lsp.CompletionItem) []string {
	var out []string
	for _, i := range items {
		out = append(out, i.Label)
	}
	return out
}

func TestCompletion(t *testing.T) {
	c := beginQuiet(t, shop())
	defer func() { c.t = t }()
	for _, tt := range []struct {
		name, old, text string
		first           string // comes first of all; may be empty
		has, hasNot     string // words
		only            string // all of them
	}{
		{name: "attributes that are not there yet", old: "  unit  = \"mm\"\n  range", text: "  " + caret + "\n  range",
			has: "unit title from fresh with each", hasNot: "ask range of gate"},
		{name: "attributes of a step, with blocks", old: `title   = "Swing the dial over the table"`, text: caret,
			first: "title", has: "needs do reading result gate confirm", hasNot: "spindle caution"},
		{name: "a block that is enough once", old: `  moved {`, text: "  " + caret + "\n  moved {", has: "attempts ledger", hasNot: "moved should_change"},
		{name: "blocks of the file", old: `signoff "fitter"`, text: caret + "\n\nsignoff \"fitter\"", has: "given step correction rehearsal", hasNot: "procedure reading row"},
		{name: "in a block of one line", old: `noise { height = um(2) }`, text: "noise { " + caret + " }", only: "height"},
		{name: "names to be answered", old: "    sweep  = mm(200)\n", text: "    " + caret + "\n", only: "sweep"},
		{name: "states that react", old: `reacts "shim" { tilt_angle = hidden.tilt_angle - moved / given.sweep }`, text: `reacts "shim" { ` + caret + ` }`, only: "moved tilt_angle"},
		{name: "a correction that reacts", old: `reacts "shim"`, text: `reacts "` + caret + `"`, only: "shim"},
		{name: "instruments with their word", old: "with     = instrument.dial", text: "with     = " + caret, first: "instrument.dial", has: "instrument.micrometer"},
		{name: "instruments behind their word", old: "with     = instrument.dial", text: "with     = instrument." + caret, first: "dial", has: "micrometer", hasNot: "instrument.dial"},
		{name: "cautions", old: "caution.sleeves]", text: "caution." + caret, first: "sleeves", has: "isolate"},
		{name: "names above", old: "reading.height.front - ", text: "reading." + caret + " - ", only: "height"},
		{name: "nothing that stands below", old: `title   = "Swing the dial over the table"`, text: `title   = "S ${result.` + caret + `}"`, hasNot: "tilt"},
		{name: "keys behind a name", old: "reading.height.front - ", text: "reading.height." + caret + " - ", only: "front rear"},
		{name: "keys in brackets", old: "reading.height.front - ", text: `reading.height["` + caret + `"] - `, only: "front rear"},
		{name: "words that are compared", old: `each.side == "front"`, text: `each.side == "` + caret + `"`, only: "front rear"},
		{name: "keys that are asked for", old: "Swing the dial over the table", text: "Swing ${each." + caret + "}", only: "side"},
		{name: "keys within a reading", old: "Table, ${each.side}", text: "Table, ${each." + caret + "}", only: "side"},
		{name: "tables", old: "table.limits.square", text: "table." + caret, only: "limits"},
		{name: "rows", old: "table.limits.square", text: "table.limits." + caret, only: "square"},
		{name: "ways on", old: "[correction.shim, reject]", text: "[" + caret + "]", only: "correction.shim concession reject noted"},
		{name: "the fitting units first", old: "plus_minus(table.limits.square)", text: "plus_minus(" + caret + ")", first: "given.sweep", has: "mm um deg stdev given.sweep result.tilt", hasNot: "result.nothing hidden.tilt_angle"},
		{name: "names of the dimension first", old: "range = [mm(50), mm(400)]", text: "fresh = " + caret, first: "seconds", has: "days mm", hasNot: "given.sweep"},
		{name: "amount where there is one", old: "by     = -amount", text: "by     = -" + caret, has: "amount result.tilt", hasNot: "moved"},
		{name: "moved where there is one", old: "hidden.tilt_angle - moved", text: "hidden.tilt_angle - " + caret, has: "moved amount attempt hidden.tilt_angle"},
		{name: "words of an attribute", old: `spindle = "stopped"`, text: `spindle = "` + caret + `"`, only: "turning stopped"},
		{name: "words with their quotes", old: `spindle = "stopped"`, text: `spindle = ` + caret, only: `"turning" "stopped"`},
		{name: "units", old: `unit     = "um"` + "\n    positive = \"front higher\"", text: `unit     = "` + caret + `"`, first: "mm", has: "um um/m celsius"},
		{name: "grades", old: `grade = "normal"`, text: `grade = "` + caret + `"`, only: "normal fine"},
		{name: "rounds", old: "rounds  = { shim = at_most(3) }", text: "rounds  = { " + caret + " }", only: "shim at_most at_least"},
		{name: "classes of machine", old: `machine  = "bench drill"`, text: `machine  = "` + caret + `"`, has: "bench drill, centre lathe"},
		{name: "sizes of a machine", old: "  unit  = \"mm\"\n", text: "  from = machine." + caret + "\n", has: "table_length test_bar", hasNot: "length"},
		{name: "sizes of its bar", old: "  unit  = \"mm\"\n", text: "  from = machine.test_bar." + caret + "\n", only: "length diameter"},
		{name: "other procedures", old: "  unit  = \"mm\"\n", text: "  from = accepted[\"" + caret + "\n", first: "drill-spindle", has: "headstock-align", hasNot: "drill-table drill"},
		{name: "what another one found", old: "  unit  = \"mm\"\n", text: "  from = accepted[\"headstock-align\"].result." + caret + "\n", has: "level upright", hasNot: "front"},
		{name: "nothing in a comment", old: "# The table", text: "# The " + caret, hasNot: "procedure title", only: ""},
		{name: "nothing in words", old: `"Judge the tilt"`, text: `"Judge ` + caret + `the tilt"`, only: ""},
		{name: "behind signs of several bytes", old: `"Judge the tilt"`, text: `"µØ🙂 ${result.` + caret + `}"`, only: ""},
		{name: "behind them, a name above", old: `"Judge the tilt"`, text: `"µØ🙂 ${given.` + caret + `}"`, only: "sweep"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c.t = t
			p := c.open("drill-table.hcl", edited(t, tt.old, tt.text))
			got := labels(c.complete("drill-table.hcl", p))
			words := strings.Fields
			if strings.Contains(tt.has, ",") {
				words = func(s string) []string { return strings.Split(s, ", ") }
			}
			for _, w := range words(tt.has) {
				if !slices.Contains(got, w) {
					t.Errorf("%q is not offered, but %q", w, got)
				}
			}
			for _, w := range words(tt.hasNot) {
				if slices.Contains(got, w) {
					t.Errorf("%q is offered", w)
				}
			}
			if tt.first != "" && (len(got) == 0 || got[0] != tt.first) {
				t.Errorf("first comes %.40q; want %q", got, tt.first)
			}
			if tt.has+tt.hasNot+tt.first == "" && !slices.Equal(got, words(tt.only)) {
				t.Errorf("offered are %.200q; want %q", got, tt.only)
			}
		})
	}
}

// What is offered is written in the place of the word that was begun, and says
// what it is.
func TestCompletionItem(t *testing.T) {
	c := beginQuiet(t, shop())
	find := func(old, text, label string) lsp.CompletionItem {
		t.Helper()
		c.version[c.uri("drill-table.hcl")]++
		p := c.open("drill-table.hcl", edited(t, old, text))
		for _, i := range c.complete("drill-table.hcl", p) {
			if i.Label == label {
				return i
			}
		}
		t.Fatalf("%s is not offered", label)
		return lsp.CompletionItem{}
	}
	i := find("table.limits.square", "set_ov"+caret, "set_over")
	if i.TextEdit.NewText != "set_over($0)" || i.InsertTextFormat != 2 || i.TextEdit.Range.End.Character-i.TextEdit.Range.Start.Character != 6 {
		t.Errorf("set_over is written as %+v", i.TextEdit)
	}
	if !strings.Contains(i.Detail, "set_over(taper, centres, span) → a length") || !strings.Contains(i.Documentation.Value, "Source: ") {
		t.Errorf("set_over is told as %q, %q", i.Detail, i.Documentation.Value)
	}
	i = find(`signoff "fitter"`, caret+"\nsignoff \"fitter\"", "given")
	want := "given \"${1:name}\" {\n  ask   = \"${2:Fixed jaw: length}\"\n  unit  = \"${3:mm}\"\n  range = [${4:mm(80), mm(250)}]\n}"
	if i.TextEdit.NewText != want {
		t.Errorf("a given is written as %s", i.TextEdit.NewText)
	}
	i = find(`title = "Judge the tilt"`, caret, "reading")
	if !strings.Contains(i.TextEdit.NewText, `"${2:\${each.end\} end of the jaw}"`) {
		t.Errorf("a reading is written as %s", i.TextEdit.NewText)
	}
	i = find("reading.height.front - ", "reading."+caret, "height")
	if i.Detail != "lengths keyed by side, in µm" || !strings.Contains(i.Documentation.Value, "Table, ${each.side}: height") {
		t.Errorf("height is told as %q, %q", i.Detail, i.Documentation.Value)
	}
	i = find("  unit  = \"mm\"\n", "  from = accepted[\""+caret+"\n", "drill-spindle")
	if i.TextEdit.NewText != `drill-spindle"]` {
		t.Errorf("the name of a procedure is written as %s", i.TextEdit.NewText)
	}
}

// An editor without snippets and markdown gets neither.
func TestCompletionPlain(t *testing.T) {
	c := start(t, shop(), 24*time.Hour)
	c.call("initialize", map[string]any{"capabilities": map[string]any{}}, nil)
	p := c.open("drill-table.hcl", edited(t, "table.limits.square", "set_ov"+caret))
	for _, i := range c.complete("drill-table.hcl", p) {
		if i.InsertTextFormat == 2 || strings.Contains(i.TextEdit.NewText, "$") || i.Documentation != nil && (i.Documentation.Kind != "plaintext" || strings.Contains(i.Documentation.Value, "**")) {
			t.Errorf("%s is offered as %+v, %+v", i.Label, i.TextEdit, i.Documentation)
		}
	}
}

func TestSignatureHelp(t *testing.T) {
	c := beginQuiet(t, shop())
	for _, tt := range []struct {
		text, label string
		arg         int
	}{
		{"set_over(" + caret, "set_over(taper, centres, span) → a length", 0},
		{"set_over(um(1), mm(300), " + caret, "set_over(taper, centres, span) → a length", 2},
		{"set_over(um(1), [1, 2][0], abs(" + caret, "abs(x)", 0},
		{"um(" + caret + ")", "um(number)", 0},
		{"(" + caret, "plus_minus(x) → ", 0},
		{"least([um(1), " + caret, "least(", 0},
	} {
		p := c.open("drill-table.hcl", edited(t, "table.limits.square", tt.text))
		var got *lsp.SignatureHelp
		c.call("textDocument/signatureHelp", c.at("drill-table.hcl", p), &got)
		if got == nil || len(got.Signatures) != 1 || !strings.HasPrefix(got.Signatures[0].Label, tt.label) || got.ActiveParameter != tt.arg {
			t.Errorf("%s: %+v", tt.text, got)
			continue
		}
		for _, x := range got.Signatures[0].Parameters {
			if x.Label[0] >= x.Label[1] || x.Label[1] > len(got.Signatures[0].Label) {
				t.Errorf("%s: the parameter stands at %v", tt.text, x.Label)
			}
		}
	}
	p := c.open("drill-table.hcl", edited(t, `"Judge the tilt"`, `"Judge `+caret+`the tilt"`))
	if m := c.ask("textDocument/signatureHelp", c.at("drill-table.hcl", p)); string(m.Result) != "null" {
		t.Errorf("outside of calls: %s", m.Result)
	}
}
