package tidy

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"pgregory.net/rapid"

	"waywright/checks/catalogue"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
	"waywright/procedures/source"
)

// folder is one with procedure files, and the files to try.
type folder struct {
	fsys  fs.FS
	names []string
}

func folders(t *testing.T) []folder {
	t.Helper()
	lib := folder{fsys: library.FS(), names: []string{"shared.hcl", "lathe/shared.hcl", "references/shared.hcl"}}
	for _, name := range library.List() {
		lib.names = append(lib.names, name+".hcl")
	}
	out := []folder{lib}
	for _, dir := range []string{"procedures/design", "procedures/engine", "procedures/overhaul", "demo/logbook"} {
		fsys := os.DirFS(filepath.Join("..", "..", "testdata", dir))
		names, err := fs.Glob(fsys, "*.hcl")
		if err != nil || len(names) == 0 {
			t.Fatalf("%s holds no files: %v", dir, err)
		}
		out = append(out, folder{fsys, names})
	}
	return out
}

// overlay is a folder with one file of it in other words.
type overlay struct {
	fs.FS
	name string
	file fs.FS
}

func (o overlay) Open(name string) (fs.File, error) {
	if name == o.name {
		return o.file.Open(name)
	}
	return o.FS.Open(name)
}

// said is what a file says: its model, and what is found in it.
type said struct {
	Procedure                           *procedures.Procedure
	Overhaul                            *procedures.Overhaul
	Machines, Instruments, People, Shop any
	Codes                               []string
}

func read(fsys fs.FS, name string, text []byte) said {
	all := overlay{fsys, name, fstest.MapFS{name: {Data: text}}}
	r, ds := hclfile.Parse(hclfile.Source{FS: all, Path: name, Also: library.FS()})
	out := said{Procedure: r.Procedure, Overhaul: r.Overhaul}
	for _, d := range ds {
		out.Codes = append(out.Codes, d.Code+" "+d.In)
	}
	switch path.Base(name) {
	case "machines.hcl":
		out.Machines, _ = hclfile.Machines(all, name)
	case "instruments.hcl":
		out.Instruments, _ = hclfile.Instruments(all, name)
	case "people.hcl":
		out.People, _ = hclfile.People(all, name)
	case "shop.hcl":
		out.Shop, _ = hclfile.Shop(all, name)
	}
	return out
}

// differences holds two models against each other, places and sources apart.
func differences(a, b said) string {
	x, y := model(a), model(b)
	if x == y {
		return ""
	}
	return cmp.Diff(strings.Split(x, "\n"), strings.Split(y, "\n"))
}

// model writes all that a value holds, a line each. What was met before is told
// by its number: a step stands in its results, and they in it.
func model(v any) string {
	w := writer{seen: map[uintptr]int{}}
	w.write("", reflect.ValueOf(v))
	return w.String()
}

type writer struct {
	strings.Builder
	seen map[uintptr]int
}

func (w *writer) say(name string, format string, args ...any) {
	fmt.Fprintf(w, name+" "+format+"\n", args...)
}

func (w *writer) write(name string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Invalid:
		w.say(name, "nothing")
	case reflect.Pointer, reflect.Interface:
		w.follow(name, v)
	case reflect.Struct:
		w.fields(name, v)
	case reflect.Slice, reflect.Array:
		w.say(name, "%d", v.Len())
		for i := range v.Len() {
			w.write(name+"[]", v.Index(i))
		}
	case reflect.Map:
		keys := v.MapKeys()
		slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
		for _, k := range keys {
			w.write(fmt.Sprintf("%s[%v]", name, k), v.MapIndex(k))
		}
	case reflect.Func:
		w.say(name, "a function: %t", !v.IsNil())
	default:
		w.say(name, "%v", v)
	}
}

func (w *writer) follow(name string, v reflect.Value) {
	switch {
	case v.IsNil():
		w.say(name, "nil")
		return
	case v.Kind() == reflect.Interface:
		w.write(name+" "+v.Elem().Type().String(), v.Elem())
		return
	case v.Type() == reflect.TypeFor[*catalogue.Func]():
		w.say(name, "%v", v.Elem().FieldByName("Name"))
		return
	}
	if n, ok := w.seen[v.Pointer()]; ok {
		w.say(name, "again %d", n)
		return
	}
	w.seen[v.Pointer()] = len(w.seen)
	w.write(name, v.Elem())
}

func (w *writer) fields(name string, v reflect.Value) {
	switch v.Type() {
	case reflect.TypeFor[source.Range]():
		return
	case reflect.TypeFor[procedures.File]():
		w.say(name, "%v", v.FieldByName("Name"))
		return
	}
	for i := range v.NumField() {
		field := v.Type().Field(i).Name
		if field == "text" && v.Type() == reflect.TypeFor[formula.Program]() {
			continue // as it is written
		}
		w.write(name+"."+field, v.Field(i))
	}
}

// Every file that ships, and those of the tests, say the same after tidying.
func TestSameModel(t *testing.T) {
	for _, f := range folders(t) {
		for _, name := range f.names {
			src, err := fs.ReadFile(f.fsys, name)
			if err != nil {
				t.Fatal(err)
			}
			out := mustTidy(t, name, src)
			if string(out) == string(src) {
				continue
			}
			if diff := differences(read(f.fsys, name, src), read(f.fsys, name, out)); diff != "" {
				t.Errorf("%s says something else after tidying:\n%s", name, diff)
			}
			if again := mustTidy(t, name, out); string(again) != string(out) {
				t.Errorf("%s tidied again is another:\n%s", name, cmp.Diff(string(out), string(again)))
			}
		}
	}
}

// The comparison sees a changed number, a changed name and a step elsewhere.
func TestDifferences(t *testing.T) {
	fsys := os.DirFS(filepath.Join("..", "..", "testdata", "procedures", "design"))
	src, err := fs.ReadFile(fsys, "two-collar.hcl")
	if err != nil {
		t.Fatal(err)
	}
	for old, now := range map[string]string{"um(": "mm(", "given.": "given .", `title `: `title # x` + "\n", `"guarded"`: `"strict"`} {
		changed := strings.Replace(string(src), old, now, 1)
		if changed == string(src) {
			t.Fatalf("no %q in it", old)
		}
		same := old == "given."
		if diff := differences(read(fsys, "two-collar.hcl", src), read(fsys, "two-collar.hcl", []byte(changed))); same != (diff == "") {
			t.Errorf("%q for %q: %s", now, old, diff)
		}
	}
}

type failer interface {
	Helper()
	Fatalf(string, ...any)
}

func mustTidy(t failer, name string, src []byte) []byte {
	t.Helper()
	out, err := Bytes(name, src)
	if err != nil {
		t.Fatalf("%v in\n%s", err, src)
	}
	return out
}

// What ships is tidy: the library, the demo, the examples that the reference
// and the editor show, and the procedure in README.md.
func TestWhatShipsIsTidy(t *testing.T) {
	root := filepath.Join("..", "..")
	files := map[string][]byte{}
	for _, dir := range []string{"procedures/library", "procedures/hclfile/schema/examples", "testdata/demo"} {
		err := fs.WalkDir(os.DirFS(filepath.Join(root, dir)), ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || path.Ext(name) != ".hcl" {
				return err
			}
			files[path.Join(dir, name)], err = os.ReadFile(filepath.Join(root, dir, name))
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(readme), "```hcl\n")
	shown, _, _ := strings.Cut(after, "```")
	files["README.md"] = []byte(shown)
	if len(files) < 50 || shown == "" {
		t.Fatalf("only %d files were found", len(files))
	}
	for name, src := range files {
		if out := mustTidy(t, name, src); string(out) != string(src) {
			t.Errorf("%s is not tidy; waywright tidy %s makes it so:\n%s", name, name, cmp.Diff(string(src), string(out)))
		}
	}
}

// Files whose blanks, line ends, comments and last commas were shaken are
// another text of the same model; tidying keeps the model and every comment,
// and gives what it gives for the file that was not shaken where only blanks
// within lines were.
func TestShaken(t *testing.T) {
	all := folders(t)
	// A plan reads all its procedures: one is enough, a small one.
	all[0].names = slices.DeleteFunc(all[0].names, func(name string) bool { return name == "lathe/bench-lathe.hcl" })
	whole := map[string]said{}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, len(all)-1).Draw(t, "folder")
		f := all[n]
		name := rapid.SampledFrom(f.names).Draw(t, "file")
		src, err := fs.ReadFile(f.fsys, name)
		if err != nil {
			t.Fatal(err)
		}
		inLines := rapid.Bool().Draw(t, "only within lines")
		shaken := shake(t, name, src, inLines)
		out := mustTidy(t, name, shaken)
		if again := mustTidy(t, name, out); string(again) != string(out) {
			t.Fatalf("tidied again it is another:\n%s", cmp.Diff(string(out), string(again)))
		}
		if inLines {
			if diff := cmp.Diff(string(mustTidy(t, name, src)), string(out)); diff != "" {
				t.Fatalf("blanks make a difference:\n%s", diff)
			}
			return
		}
		if before, after := comments(shaken), comments(out); cmp.Diff(before, after) != "" {
			t.Fatalf("comments:\n%s", cmp.Diff(before, after))
		}
		key := fmt.Sprint(n, " ", name)
		if _, ok := whole[key]; !ok {
			whole[key] = read(f.fsys, name, src)
		}
		if diff := differences(whole[key], read(f.fsys, name, out)); diff != "" {
			t.Fatalf("it says something else after tidying:\n%s\nshaken:\n%s", diff, shaken)
		}
	})
}

func comments(src []byte) []string {
	var out []string
	for _, p := range piecesOf("", src) {
		if p.typ == hclsyntax.TokenComment {
			out = append(out, p.text)
		}
	}
	return out
}

// shake writes a file anew with other blanks, and, unless inLines, with line
// ends, comments and commas where HCL lets them be.
func shake(t *rapid.T, name string, src []byte, inLines bool) []byte {
	tree, ds := hclfile.Syntax(name, src)
	if ds.HasErrors() {
		t.Fatalf("%v", ds)
	}
	s := facts(tree)
	pieces := piecesOf(name, src)
	// One draw a file, not one a token: shrinking is not what this test is for.
	seed := rapid.Uint64().Draw(t, "seed")
	dice := func(n uint64) uint64 {
		seed = seed*6364136223846793005 + 1442695040888963407
		return seed >> 33 % n
	}
	end := "\n"
	if dice(4) == 0 {
		end = "\r\n"
	}
	if inLines {
		end = "\n"
	}
	var b strings.Builder
	var open []kind
	quoted := 0
	for i, p := range pieces {
		inside := innermost(open)
		free := inside == list || inside == call || inside == other && len(open) > 0
		if i > 0 && p.typ != hclsyntax.TokenNewline {
			before := pieces[i-1]
			sticks := quoted > 0 && (literal(p) || literal(before) || before.typ == hclsyntax.TokenOQuote || p.typ == hclsyntax.TokenCQuote ||
				p.typ == hclsyntax.TokenTemplateInterp || before.typ == hclsyntax.TokenTemplateSeqEnd)
			switch {
			case sticks:
			case !inLines && free && quoted == 0 && dice(12) == 0:
				b.WriteString([]string{end, end + end + end, " # shaken" + end, " /* shaken */ "}[dice(4)])
			case !inLines && inside == object && before.typ == hclsyntax.TokenComma && dice(4) == 0:
				b.WriteString(end)
			default:
				least := 0
				if blank(before, p, s) {
					least = 1
				}
				b.WriteString([]string{"", " ", "  ", "\t", "     "}[max(dice(5), uint64(least))])
			}
		}
		switch {
		case p.typ == hclsyntax.TokenNewline:
			b.WriteString([]string{"", " ", "\t "}[dice(3)] + end)
			if !inLines && inside == body && dice(6) == 0 {
				b.WriteString([]string{end, end + end, "  # shaken" + end, "// shaken \t" + end}[dice(4)])
			}
			continue
		case opens(p):
			open = append(open, s.kind(p))
		case closes(p) && len(open) > 0:
			if !inLines && (inside == list || inside == object) && i > 0 && ends(pieces[i-1]) && dice(3) == 0 {
				b.WriteString(",")
			}
			open = open[:len(open)-1]
		case p.typ == hclsyntax.TokenOQuote:
			quoted++
		case p.typ == hclsyntax.TokenCQuote:
			quoted--
		}
		b.WriteString(p.text)
	}
	return []byte(b.String())
}

// innermost is what the innermost bracket stands for.
func innermost(open []kind) kind {
	if len(open) == 0 {
		return body
	}
	return open[len(open)-1]
}

// ends tells whether an element may end with the piece.
func ends(p piece) bool {
	switch p.typ {
	case hclsyntax.TokenIdent, hclsyntax.TokenNumberLit, hclsyntax.TokenCQuote, hclsyntax.TokenCParen, hclsyntax.TokenCBrack, hclsyntax.TokenCBrace:
		return true
	}
	return false
}
