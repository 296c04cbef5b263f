package editor_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
)

// place is the place of a caret in a file that ships with the tests, put where
// old stands.
func (c *client) place(name, old string) lsp.Position {
	c.t.Helper()
	i := strings.Index(c.text[c.uri(name)], strings.Replace(old, caret, "", 1))
	if i < 0 {
		c.t.Fatalf("no %q in %s", old, name)
	}
	return placeOf(c.text[c.uri(name)][:i+strings.Index(old, caret)])
}

func TestHover(t *testing.T) {
	c := beginQuiet(t, shop())
	c.open("drill-table.hcl", tableFile)
	c.open("drill-spindle.hcl", spindleFile)
	for _, tt := range []struct{ file, at, want string }{
		{"drill-table.hcl", "rea" + caret + `ding "height"`, "**reading**\n\nWhat is observed"},
		{"drill-table.hcl", "posi" + caret + "tive = \"table higher\"", "What plus means, in words."},
		{"drill-table.hcl", `spindle = "stop` + caret + `ped"`, "It stands"},
		{"drill-table.hcl", `unit     = "u` + caret + `m"`, "**um** — length, shown as µm"},
		{"drill-table.hcl", "reading.hei" + caret + "ght.front", "**reading.height** — lengths keyed by side, in µm\n\nTable, ${each.side}: height"},
		{"drill-table.hcl", "reading.hei" + caret + "ght.front", "Line 21, in step swing."},
		{"drill-table.hcl", "= result.til" + caret + "t\n    within", "value    = (reading.height.front - reading.height.rear) * mm(200) / given.sweep"},
		{"drill-table.hcl", "table.limits.squ" + caret + "are", "**table.limits.square** — a length, in µm"},
		{"drill-table.hcl", "table.limits.squ" + caret + "are", "source = \"shop rule, estimate\""},
		{"drill-table.hcl", "table.limits.squ" + caret + "are", "shared.hcl, line 17, in table limits."},
		{"drill-table.hcl", "instrument.di" + caret + "al", "dial indicator"},
		{"drill-table.hcl", "caution.slee" + caret + "ves", "Rotating parts: sleeves tight"},
		{"drill-table.hcl", "plus_" + caret + "minus", "**plus\\_minus(x)** — limits"},
		{"drill-table.hcl", "[m" + caret + "m(50)", "A number in millimetres."},
		{"drill-table.hcl", "-amo" + caret + "unt", "How far the correction is to go."},
		{"drill-table.hcl", "[correction.shim, rej" + caret + "ect]", "The machine is not accepted"},
		{"drill-table.hcl", "hidden.tilt_" + caret + "angle - moved", "tilt_angle = um(300) / m(1)"},
		{"drill-table.hcl", "sh" + caret + "im = at_most", "**correction.shim**"},
		{"drill-table.hcl", "hei" + caret + "ght = um(2)", "**reading.height**"},
		{"drill-table.hcl", "Judge the" + caret + " tilt", ""},
		{"drill-spindle.hcl", "result.ti" + caret + "lt", "**result.tilt** — a length, in µm\n\nTilt, front to rear, in 200 mm"},
		{"drill-spindle.hcl", "result.ti" + caret + "lt", "drill-table.hcl, line "},
		{"drill-spindle.hcl", `upstream  = [accepted["drill-t` + caret, "Table square: µm, Ø and 🙂"},
	} {
		at := tt.at
		var got *lsp.Hover
		c.call("textDocument/hover", c.at(tt.file, c.place(tt.file, at)), &got)
		switch {
		case tt.want == "":
			if got != nil {
				t.Errorf("at %s it tells %q", at, got.Contents.Value)
			}
		case got == nil || got.Contents.Kind != "markdown" || !strings.Contains(got.Contents.Value, tt.want):
			t.Errorf("at %s it tells %+v; want %q in it", at, got, tt.want)
		case got.Range.Start.Line != c.place(tt.file, at).Line:
			t.Errorf("at %s it is about %v", at, got.Range)
		}
	}
}

// where are places as file:line:column text.
func (c *client) where(list []lsp.Location) []string {
	var out []string
	for _, l := range list {
		name := c.name(l.URI)
		b, err := os.ReadFile(filepath.Join(c.dir, name))
		if err != nil {
			c.t.Errorf("%s: %v", l.URI, err)
			continue
		}
		text := lsp.NewText(b)
		out = append(out, fmt.Sprintf("%s:%d %s", name, l.Range.Start.Line+1, b[text.Offset(l.Range.Start):text.Offset(l.Range.End)]))
	}
	return out
}

func lineOf(text, piece string) int {
	return strings.Count(text[:strings.Index(text, piece)], "\n") + 1
}

func TestDefinition(t *testing.T) {
	files := shop()
	files["survey/shared.hcl"] = likeShared
	files["survey/like.hcl"] = likeFile
	c := beginQuiet(t, files)
	for _, name := range []string{"drill-table.hcl", "drill-spindle.hcl", "drill.hcl", "survey/like.hcl", "survey/shared.hcl"} {
		c.open(name, files[name])
	}
	for _, tt := range []struct{ file, at, want string }{
		{"drill-table.hcl", "= result.til" + caret + "t\n    within", fmt.Sprintf("drill-table.hcl:%d tilt", lineOf(tableFile, `result "tilt"`))},
		{"drill-table.hcl", "re" + caret + "sult.tilt\n    within", fmt.Sprintf("drill-table.hcl:%d tilt", lineOf(tableFile, `result "tilt"`))},
		{"drill-table.hcl", "each.si" + caret + "de}: height", fmt.Sprintf("drill-table.hcl:%d side", lineOf(tableFile, `each "side"`))},
		{"drill-table.hcl", "instrument.dia" + caret + "l", "shared.hcl:7 dial"},
		{"drill-table.hcl", "table.lim" + caret + "its", "shared.hcl:15 limits"},
		{"drill-table.hcl", "table.limits.squ" + caret + "are", "shared.hcl:17 square"},
		{"drill-table.hcl", `reacts "sh` + caret + `im"`, fmt.Sprintf("drill-table.hcl:%d shim", lineOf(tableFile, `correction "shim"`))},
		{"drill-table.hcl", "noise { hei" + caret + "ght", fmt.Sprintf("drill-table.hcl:%d height", lineOf(tableFile, `reading "height"`))},
		{"drill-table.hcl", "    swee" + caret + "p  = mm(200)", fmt.Sprintf("drill-table.hcl:%d sweep", lineOf(tableFile, `given "sweep"`))},
		{"drill-spindle.hcl", "accepted[\"drill-ta" + caret + "ble\"].result", "drill-table.hcl:2 drill-table"},
		{"drill-spindle.hcl", "].result.til" + caret + "t", fmt.Sprintf("drill-table.hcl:%d tilt", lineOf(tableFile, `result "tilt"`))},
		{"drill.hcl", "procedure = \"drill-spi" + caret + "ndle\"", "drill-spindle.hcl:1 drill-spindle"},
		{"drill.hcl", "task.tab" + caret + "le", "drill.hcl:7 table"},
		{"survey/like.hcl", "reading.top_" + caret + "of.near", fmt.Sprintf("survey/shared.hcl:%d top_of", lineOf(likeShared, `reading "top_of"`))},
		{"survey/like.hcl", "like    = step.sur" + caret + "vey", fmt.Sprintf("survey/shared.hcl:%d survey", lineOf(likeShared, `step "survey"`))},
		{"survey/like.hcl", "step.here" + caret, fmt.Sprintf("survey/like.hcl:%d here", lineOf(likeFile, `step "here"`))},
		// The nearest definition, and one of the shop's root.
		{"survey/like.hcl", "caution.slee" + caret + "ves", "survey/shared.hcl:1 sleeves"},
		{"survey/shared.hcl", "instrument.di" + caret + "al", "shared.hcl:7 dial"},
		// What ships is shown as a file.
		{"survey/like.hcl", "caution.iso" + caret + "late", "cache/shared.hcl:"},
		{"drill-table.hcl", "Judge the" + caret, ""},
	} {
		var got []lsp.Location
		c.call("textDocument/definition", c.at(tt.file, c.place(tt.file, tt.at)), &got)
		text := strings.Join(c.where(got), "\n")
		if text != tt.want && !(strings.HasSuffix(tt.want, ":") && strings.HasPrefix(text, tt.want)) {
			t.Errorf("%s at %s leads to %q; want %q", tt.file, tt.at, text, tt.want)
		}
	}
}

const likeShared = `caution "sleeves" {
  text   = "Nearer."
  hazard = "rotating"
}

step "survey" {
  title   = "Survey"
  spindle = "stopped"

  reading "top_of" {
    each "end" { of = ["near", "far"] }
    ask      = "Top, ${each.end}: reading"
    unit     = "um"
    with     = instrument.dial
    positive = "up"
    range    = [um(-50), um(50)]
  }
}
`

const likeFile = `procedure "like" {
  title    = "A survey"
  machine  = "bench drill"
  revision = "1"
  purpose  = "See how much the top of the rail differs from end to end."
}

step "here" {
  like    = step.survey
  caution = [caution.sleeves, caution.isolate]
  reading "top_of" { range = [um(-90), um(90)] }
}

step "judge" {
  title = "Judge"
  needs = [step.here]
  gate "level" {
    title     = "Level"
    of        = reading.top_of.near - reading.top_of.far
    within    = plus_minus(um(30))
    source    = "shop rule"
    if_failed = [reject]
  }
}

signoff "fitter" { title = "Carried out by" }
`

func TestReferences(t *testing.T) {
	files := shop()
	c := beginQuiet(t, files)
	c.open("drill-table.hcl", tableFile)
	uses := func(at string, with_ bool) []string {
		var got []lsp.Location
		c.call("textDocument/references", with(c.at("drill-table.hcl", c.place("drill-table.hcl", at)), "context", map[string]any{"includeDeclaration": with_}), &got)
		return c.where(got)
	}
	want := []string{
		"drill-spindle.hcl:11 tilt", "drill-table.hcl:33 tilt", "drill-table.hcl:41 tilt", "drill-table.hcl:49 tilt", "drill-table.hcl:59 tilt", "drill.hcl:11 tilt",
	}
	if diff := cmp.Diff(want, uses(`result "ti`+caret+`lt"`, true)); diff != "" {
		t.Errorf("result.tilt: %s", diff)
	}
	if diff := cmp.Diff(slices.Delete(slices.Clone(want), 1, 2), uses("of        = result.ti"+caret+"lt", false)); diff != "" {
		t.Errorf("result.tilt without the place where it is given: %s", diff)
	}
	want = []string{"drill-spindle.hcl:23 dial", "drill-table.hcl:24 dial", "drill-table.hcl:56 dial", "shared.hcl:7 dial"}
	if diff := cmp.Diff(want, uses("instrument.di"+caret+"al", true)); diff != "" {
		t.Errorf("instrument.dial: %s", diff)
	}
	want = []string{"drill-spindle.hcl:11 drill-table", "drill-spindle.hcl:33 drill-table", "drill-table.hcl:2 drill-table", "drill.hcl:7 drill-table", "drill.hcl:11 drill-table"}
	if diff := cmp.Diff(want, uses(`procedure "drill-`+caret+`table"`, true)); diff != "" {
		t.Errorf("the procedure: %s", diff)
	}
	var marks []lsp.DocumentHighlight
	c.call("textDocument/documentHighlight", c.at("drill-table.hcl", c.place("drill-table.hcl", "given.swe"+caret+"ep")), &marks)
	if len(marks) != 7 {
		t.Errorf("given.sweep is marked at %v; want 7 places", marks)
	}
}

// apply makes the edits of a rename and returns the files by their names then.
func (c *client) apply(files map[string]string, e lsp.WorkspaceEdit) map[string]string {
	c.t.Helper()
	out := maps.Clone(files)
	edit := func(uri string, edits []lsp.TextEdit) {
		text := lsp.NewText([]byte(out[c.name(uri)]))
		slices.SortFunc(edits, func(a, b lsp.TextEdit) int { return text.Offset(b.Range.Start) - text.Offset(a.Range.Start) })
		for _, x := range edits {
			text = text.Edit(lsp.Change{Range: &x.Range, Text: x.NewText})
		}
		out[c.name(uri)] = string(text.Bytes)
	}
	for uri, edits := range e.Changes {
		edit(uri, edits)
	}
	for _, x := range e.DocumentChanges {
		b, err := json.Marshal(x)
		if err != nil {
			c.t.Fatal(err)
		}
		var d struct {
			lsp.DocumentEdit
			lsp.RenameFile
		}
		if err := json.Unmarshal(b, &d); err != nil {
			c.t.Fatal(err)
		}
		if d.Kind == "rename" {
			out[c.name(d.NewURI)] = out[c.name(d.OldURI)]
			delete(out, c.name(d.OldURI))
			continue
		}
		edit(d.TextDocument.URI, d.Edits)
	}
	return out
}

// mistakes are what reading a file shows.
func mistakes(files map[string]string, name string) diagnose.List {
	dir := fstest.MapFS{}
	for n, text := range files {
		dir[n] = &fstest.MapFile{Data: []byte(text)}
	}
	_, ds := hclfile.Parse(hclfile.Source{FS: dir, Path: name, Also: library.FS()})
	return ds
}

// Whatever is renamed, nothing new is found in any file afterwards, and the old
// name is gone where it was meant.
func TestRename(t *testing.T) {
	files := shop()
	files["survey/shared.hcl"] = likeShared
	files["survey/like.hcl"] = likeFile
	for _, tt := range []struct {
		file, at, to string
		changed      string // files
		gone         []string
	}{
		{"drill-table.hcl", `result "ti` + caret + `lt"`, "lean", "drill-spindle.hcl drill-table.hcl drill.hcl", []string{"result.tilt", `result "tilt"`}},
		{"drill.hcl", "result.ti" + caret + "lt", "lean", "drill-spindle.hcl drill-table.hcl drill.hcl", []string{"result.tilt", `result "tilt"`}},
		{"drill-table.hcl", `reading "hei` + caret + `ght"`, "rise", "drill-table.hcl", []string{"height.front", "height = "}},
		{"drill-table.hcl", "given.swe" + caret + "ep", "circle", "drill-table.hcl", []string{"sweep"}},
		{"drill-table.hcl", "correction.sh" + caret + "im", "pack", "drill-table.hcl", []string{`"shim"`, "shim ="}},
		{"drill-table.hcl", "hidden.tilt_" + caret + "angle", "lean", "drill-table.hcl", []string{"tilt_angle"}},
		{"drill-table.hcl", "each.si" + caret + "de}", "edge", "drill-table.hcl", []string{"each.side", `each "side"`}},
		{"drill-table.hcl", "instrument.di" + caret + "al", "clock", "drill-spindle.hcl drill-table.hcl shared.hcl survey/shared.hcl", []string{"instrument.dial", `instrument "dial"`}},
		{"drill-table.hcl", "table.limits.squ" + caret + "are", "upright", "drill-table.hcl shared.hcl", []string{"limits.square", `row "square"`}},
		{"drill-table.hcl", "table.lim" + caret + "its", "bounds", "drill-table.hcl shared.hcl", []string{"table.limits", `table "limits"`}},
		{"drill-table.hcl", "caution.slee" + caret + "ves", "cuffs", "drill-spindle.hcl drill-table.hcl shared.hcl", []string{"caution.sleeves"}},
		{"drill-table.hcl", `procedure "drill-ta` + caret + `ble"`, "drill-plate", "drill-plate.hcl drill-spindle.hcl drill.hcl", []string{`"drill-table"`}},
		{"drill-table.hcl", `rehearsal "til` + caret + `ted"`, "a tilt of 0.06", "drill-table.hcl", []string{`"tilted"`}},
		{"survey/like.hcl", "reading.top_" + caret + "of", "crest", "survey/like.hcl survey/shared.hcl", []string{"top_of"}},
		{"survey/like.hcl", `reading "top_` + caret + `of"`, "crest", "survey/like.hcl survey/shared.hcl", []string{"top_of"}},
		{"survey/like.hcl", "step.sur" + caret + "vey", "look", "survey/like.hcl survey/shared.hcl", []string{"step.survey", `step "survey"`}},
	} {
		t.Run(tt.file+" "+tt.at, func(t *testing.T) {
			c := beginQuiet(t, files)
			for name, text := range files {
				c.open(name, text)
			}
			var e lsp.WorkspaceEdit
			c.call("textDocument/rename", with(c.at(tt.file, c.place(tt.file, tt.at)), "newName", tt.to), &e)
			after := c.apply(files, e)
			var changed []string
			for name, text := range after {
				if files[name] != text {
					changed = append(changed, name)
				}
			}
			slices.Sort(changed)
			if got := strings.Join(changed, " "); got != tt.changed {
				t.Errorf("changed are %s; want %s", got, tt.changed)
			}
			for _, name := range strings.Fields(tt.changed) {
				for _, old := range tt.gone {
					if strings.Contains(after[name], old) {
						t.Errorf("%s still has %s:\n%s", name, old, after[name])
					}
				}
			}
			for name := range after {
				if got := mistakes(after, name); len(got) > 0 {
					t.Errorf("%s: %v", name, got)
				}
			}
		})
	}
}

func TestRenameRefused(t *testing.T) {
	c := beginQuiet(t, shop())
	c.open("drill-table.hcl", tableFile)
	text := strings.Replace(spindleFile, "caution.sleeves]", "caution.isolate]", 1)
	c.open("drill-spindle.hcl", text)
	for _, tt := range []struct{ file, at, to, why string }{
		{"drill-table.hcl", `result "ti` + caret + `lt"`, "Lean Over", "lower-case letters"},
		{"drill-table.hcl", `result "ti` + caret + `lt"`, "", "lower-case letters"},
		{"drill-table.hcl", `result "ti` + caret + `lt"`, "moved", "is what a person answers at a gate, or a word of formulas"},
		{"drill-table.hcl", `result "ti` + caret + `lt"`, "height", `"height" is the name of a reading already, in drill-table.hcl, line 21`},
		{"drill-table.hcl", "instrument.di" + caret + "al", "lever", `"lever" is the name of an instrument already`},
		{"drill-table.hcl", `procedure "drill-ta` + caret + `ble"`, "drill-spindle", `is the name of a procedure already`},
		{"drill-table.hcl", `procedure "drill-ta` + caret + `ble"`, "Drill", "cannot be the name of a procedure"},
		{"drill-table.hcl", `rehearsal "til` + caret + `ted"`, `a "word"`, "cannot stand in quotes"},
		{"drill-table.hcl", "Judge the" + caret + " tilt", "x", "no name here"},
		{"drill-spindle.hcl", "caution.iso" + caret + "late", "x", "ships with the program"},
	} {
		m := c.ask("textDocument/rename", with(c.at(tt.file, c.place(tt.file, tt.at)), "newName", tt.to))
		if m.Error == nil || !strings.Contains(m.Error.Message, tt.why) {
			t.Errorf("%s as %q: %s, %+v; want a refusal with %q", tt.at, tt.to, m.Result, m.Error, tt.why)
		}
	}
	var got struct {
		Range       lsp.Range
		Placeholder string
	}
	c.call("textDocument/prepareRename", c.at("drill-table.hcl", c.place("drill-table.hcl", "of        = result.ti"+caret+"lt")), &got)
	if got.Placeholder != "tilt" || got.Range.End.Character-got.Range.Start.Character != 4 {
		t.Errorf("asked first: %+v", got)
	}
	if m := c.ask("textDocument/prepareRename", c.at("drill-table.hcl", c.place("drill-table.hcl", "Judge the"+caret))); m.Error == nil {
		t.Errorf("asked first where no name is: %s", m.Result)
	}
}

// An editor that cannot rename files is told to do it by hand; one that takes
// only plain changes gets them.
func TestRenamePlain(t *testing.T) {
	c := start(t, shop(), 24*time.Hour)
	c.call("initialize", map[string]any{"capabilities": map[string]any{}}, nil)
	c.open("drill-table.hcl", tableFile)
	if m := c.ask("textDocument/rename", with(c.at("drill-table.hcl", c.place("drill-table.hcl", `procedure "drill-ta`+caret)), "newName", "drill-plate")); m.Error == nil ||
		!strings.Contains(m.Error.Message, "by the name of its file") {
		t.Errorf("a procedure: %+v", m)
	}
	var e lsp.WorkspaceEdit
	c.call("textDocument/rename", with(c.at("drill-table.hcl", c.place("drill-table.hcl", "given.swe"+caret+"ep")), "newName", "circle"), &e)
	if len(e.Changes) != 1 || len(e.Changes[c.uri("drill-table.hcl")]) != 7 || e.DocumentChanges != nil {
		t.Errorf("a given: %+v", e)
	}
}
