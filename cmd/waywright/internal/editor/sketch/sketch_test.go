package sketch_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"pgregory.net/rapid"

	"waywright/cmd/waywright/internal/editor/sketch"
	"waywright/procedures/hclfile"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/library"
)

// outline writes the blocks and attributes that were found.
func outline(f *sketch.File) string {
	var b strings.Builder
	var write func(k *sketch.Block, depth int)
	write = func(k *sketch.Block, depth int) {
		in := strings.Repeat(" ", depth)
		type at struct {
			from int
			text string
		}
		var all []at
		for _, a := range k.Attrs {
			all = append(all, at{a.NameAt.From, fmt.Sprintf("%s%s = %s\n", in, a.Name, strings.Join(strings.Fields(f.String(a.Value)), " "))})
		}
		for _, x := range k.Blocks {
			mark := len(b.String())
			write(x, depth+1)
			inner := b.String()[mark:]
			rest := b.String()[:mark]
			b.Reset()
			b.WriteString(rest)
			kind := ""
			if x.Kind == nil {
				kind = " ?"
			}
			all = append(all, at{x.TypeAt.From, fmt.Sprintf("%s%s %q%s\n%s", in, x.Type, x.Label, kind, inner)})
		}
		for len(all) > 0 {
			least := 0
			for i := range all {
				if all[i].from < all[least].from {
					least = i
				}
			}
			b.WriteString(all[least].text)
			all = append(all[:least], all[least+1:]...)
		}
	}
	write(f.Root, 0)
	return b.String()
}

func TestRead(t *testing.T) {
	for _, tt := range []struct{ name, in, want string }{
		{"whole", "procedure \"p\" {\n  title = \"A # b\" # c\n}\nstep \"s\" { title = \"B\" }\n",
			"procedure \"p\"\n title = \"A # b\"\nstep \"s\"\n title = \"B\"\n"},
		{"an open quote costs its line",
			"step \"s\" {\n  title = \"Lev\n  spindle = \"stopped\"\n}\ngiven \"g\" {\n}\n",
			"step \"s\"\n title = \"Lev\n spindle = \"stopped\"\ngiven \"g\"\n"},
		{"an open value in a text costs its line",
			"step \"s\" {\n  title = \"Top ${each.\n  spindle = \"stopped\"\n}\n",
			"step \"s\"\n title = \"Top ${each.\n spindle = \"stopped\"\n"},
		{"an open bracket ends at the next attribute",
			"step \"s\" {\n  result \"r\" {\n    value = mean(reading.\n    unit = \"um\"\n  }\n}\n",
			"step \"s\"\n result \"r\"\n  value = mean(reading.\n  unit = \"um\"\n"},
		{"an open list ends at the next block",
			"step \"s\" {\n  do = [\"a\",\n  reading \"x\" {\n    unit = \"mm\"\n  }\n}\n",
			"step \"s\"\n do = [\"a\",\n reading \"x\"\n  unit = \"mm\"\n"},
		{"an open bracket ends with its block",
			"given \"g\" {\n  range = [mm(\n}\ngiven \"h\" {\n}\n", "given \"g\"\n range = [mm(\ngiven \"h\"\n"},
		{"nothing behind the equals sign", "given \"g\" {\n  unit =\n  ask = \"x\"\n}\n", "given \"g\"\n unit = \n ask = \"x\"\n"},
		{"half a word", "given \"g\" {\n  un\n  ask = \"x\"\n}\n", "given \"g\"\n ask = \"x\"\n"},
		{"half a head", "step \"s\" {\n  reading \"x\n  gate \"y\" {\n  }\n}\n", "step \"s\"\n gate \"y\"\n"},
		{"a missing brace", "step \"s\" {\n  reading \"x\" {\n    unit = \"mm\"\n  gate \"g\" {\n    of = 1\n  }\n\nstep \"t\" {\n}\n",
			"step \"s\"\n reading \"x\"\n  unit = \"mm\"\n gate \"g\"\n  of = 1\nstep \"t\"\n"},
		{"a brace too many", "step \"s\" {\n}\n}\nstep \"t\" {\n}\n", "step \"s\"\nstep \"t\"\n"},
		{"lists and objects over lines",
			"rehearsal \"r\" {\n  ends {\n    outcome = \"accepted\"\n    rounds = {\n      a = 1\n      outcome = 2\n    }\n    said = { a = [\n    \"x\",\n  ] }\n  }\n}\n",
			"rehearsal \"r\"\n ends \"\"\n  outcome = \"accepted\"\n  rounds = { a = 1 outcome = 2 }\n  said = { a = [ \"x\", ] }\n"},
		{"an open object ends at the next attribute",
			"table \"t\" {\n  row \"r\" {\n    values = { normal = um(\n    source = \"x\"\n  }\n}\n",
			"table \"t\"\n row \"r\"\n  values = { normal = um(\n  source = \"x\"\n"},
		{"comments of several lines", "/* step \"x\" {\n \" */ given \"g\" {\n}\n", "given \"g\"\n"},
		{"a block in the wrong place", "given \"g\" {\n  gate \"x\" {\n    of = 1\n  }\n}\n", "given \"g\"\n gate \"x\" ?\n  of = 1\n"},
		{"a plan", "overhaul \"o\" {\n}\ntask \"t\" { procedure = \"p\" }\n", "overhaul \"o\"\ntask \"t\"\n procedure = \"p\"\n"},
		{"line ends of two bytes", "given \"g\" {\r\n  ask = \"x\"\r\n}\r\n", "given \"g\"\n ask = \"x\"\n"},
		{"a heredoc", "given \"g\" {\n  ask = <<EOT\nstep \"s\" {\nEOT\n  unit = \"mm\"\n}\n", "given \"g\"\n ask = \n unit = \"mm\"\n"},
		{"nothing", "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, outline(sketch.Read("p.hcl", []byte(tt.in)))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// files calls f with every procedure file that ships and those of the tests.
func files(t testing.TB, f func(name string, b []byte)) {
	t.Helper()
	try := func(fsys fs.FS, names []string) {
		for _, name := range names {
			b, err := fs.ReadFile(fsys, name)
			if err != nil {
				t.Fatal(err)
			}
			f(name, b)
		}
	}
	names := []string{"shared.hcl", "lathe/shared.hcl"}
	for _, n := range library.List() {
		names = append(names, n+".hcl")
	}
	try(library.FS(), names)
	for _, dir := range []string{"design", "engine", "overhaul"} {
		fsys := os.DirFS(filepath.Join("..", "..", "..", "..", "..", "testdata", "procedures", dir))
		names, err := fs.Glob(fsys, "*.hcl")
		if err != nil || len(names) == 0 {
			t.Fatal("no files: ", err)
		}
		try(fsys, names)
	}
}

// Of a file without mistakes the sketch is what the parser of HCL reads.
func TestSameAsParsed(t *testing.T) {
	files(t, func(name string, b []byte) {
		body, ds := hclfile.Syntax(name, b)
		if ds.HasErrors() {
			t.Fatalf("%s: %v", name, ds)
		}
		same(t, name, b, sketch.Read(name, b).Root, body)
	})
}

func same(t *testing.T, name string, text []byte, got *sketch.Block, want *hclsyntax.Body) {
	t.Helper()
	if len(got.Attrs) != len(want.Attributes) || len(got.Blocks) != len(want.Blocks) {
		t.Fatalf("%s: %s %q has %d attributes and %d blocks; want %d and %d", name, got.Type, got.Label,
			len(got.Attrs), len(got.Blocks), len(want.Attributes), len(want.Blocks))
	}
	for _, a := range got.Attrs {
		w := want.Attributes[a.Name]
		if w == nil {
			t.Fatalf("%s: %s is no attribute of %s %q", name, a.Name, got.Type, got.Label)
		}
		if r := w.Expr.Range(); a.NameAt.From != w.NameRange.Start.Byte || a.Value.From > r.Start.Byte || a.Value.To < r.End.Byte {
			t.Errorf("%s: %s stands at %v, its value at %v; want %v and %v", name, a.Name, a.NameAt, a.Value, w.NameRange, r)
		}
	}
	for i, k := range got.Blocks {
		w := want.Blocks[i]
		label := ""
		if len(w.Labels) > 0 {
			label = w.Labels[0]
		}
		if k.Kind == nil || k.Type != w.Type || k.Label != label || k.Body.From != w.OpenBraceRange.End.Byte ||
			k.Body.To != w.CloseBraceRange.Start.Byte || k.End != w.CloseBraceRange.End.Byte {
			t.Errorf("%s: %s %q (%v, body %v); want %s %q (%v)", name, k.Type, k.Label, k.Kind != nil, k.Body, w.Type, label, w.Range())
		}
		same(t, name, text, k, w.Body)
	}
}

func TestRefs(t *testing.T) {
	src := `given "g" { from = accepted["other"].result.x }
step "s" {
  each "seat" { of = ["a"] }
  title = "At ${each.seat} of ${given.g / 2}"
  with  = instrument.m
  gate "level" {
    of        = result.r["k"].y
    within    = plus_minus(table.lathe.axis)
    upstream  = [gate.level, accepted["p-q"]]
    like      = gate.z
  }
}
rehearsal "r" {
  like = "good"
  hidden { off = um(1) }
  noise { top = um(1) }
  answer { top = hidden.off }
  reacts "fix" {
    off   = hidden.off - moved
    moved = moved
  }
  ends {
    rounds = { fix = at_most(2), "b" = 1 }
    said   = { top = ["turn"] }
  }
}
`
	var got []string
	f := sketch.Read("p.hcl", []byte(src))
	for _, r := range f.Refs() {
		mark := ""
		if r.Gives {
			mark = "!"
		}
		if r.Like {
			mark = "~"
		}
		got = append(got, fmt.Sprintf("%s%s %s.%s %q", mark, r.Kind, r.Of, r.Name, f.String(r.Whole)))
		if f.String(r.At) != r.Name {
			t.Errorf("%v is %q", r, f.String(r.At))
		}
	}
	want := []string{
		`!given .g "g"`, `procedure .other "accepted[\"other\"]"`, `result other.x "accepted[\"other\"].result.x"`,
		`!step .s "s"`, `!each .seat "seat"`, `each .seat "each.seat"`, `given .g "given.g"`, `instrument .m "instrument.m"`,
		`!gate .level "level"`, `result .r "result.r"`, `table .lathe "table.lathe"`, `row lathe.axis "table.lathe.axis"`,
		`gate .level "gate.level"`, `procedure .p-q "accepted[\"p-q\"]"`, `~gate .z "gate.z"`,
		`!rehearsal .r "r"`, `~rehearsal .good "good"`, `!hidden .off "off"`, `reading .top "top"`, `fact .top "top"`, `hidden .off "hidden.off"`,
		`correction .fix "fix"`, `hidden .off "off"`, `hidden .off "hidden.off"`, `correction .fix "fix"`, `correction .b "b"`, `said .top "top"`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// The words before the points of names are those of the language.
func TestSpaces(t *testing.T) {
	var want []string
	for _, r := range schema.Roots() {
		if r.Name != "amount" && r.Name != "moved" && r.Name != "attempt" { // they have no point behind them
			want = append(want, r.Name)
		}
	}
	slices.Sort(want)
	if diff := cmp.Diff(want, sketch.Spaces()); diff != "" {
		t.Error(diff)
	}
}

// Whatever is cut out of a file or put into it, reading it ends, and every place
// lies in the file.
func TestAnyFile(t *testing.T) {
	var all [][]byte
	files(t, func(_ string, b []byte) { all = append(all, b) })
	rapid.Check(t, func(t *rapid.T) {
		b := slices.Clone(rapid.SampledFrom(all).Draw(t, "file"))
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			from := rapid.IntRange(0, len(b)).Draw(t, "from")
			to := min(len(b), from+rapid.IntRange(0, 200).Draw(t, "length"))
			put := rapid.SampledFrom([]string{"", "\"", "{", "}", "[", "(", "${", "/*", "<<E\n", "\n", "\xff", "µ🙂", "a = ", "step \"x\" {", "accepted[\"", "table."}).Draw(t, "put")
			b = slices.Replace(b, from, to, []byte(put)...)
		}
		s := sketch.Read("p.hcl", b)
		s.Root.Walk(func(k *sketch.Block) {
			for _, a := range k.Attrs {
				if a.Value.From < a.Equals || a.Value.To < a.Value.From || a.Stop < a.Value.To || a.Stop > len(b) {
					t.Errorf("%s: value %v, stop %d of %d", a.Name, a.Value, a.Stop, len(b))
				}
			}
			if k.Body.To < k.Body.From || k.End < k.Body.To || k.End > len(b) {
				t.Errorf("%s: body %v, end %d of %d", k.Type, k.Body, k.End, len(b))
			}
		})
		for _, r := range s.Refs() {
			if s.String(r.At) != r.Name {
				t.Errorf("%q is at %v", r.Name, r.At)
			}
		}
	})
}
