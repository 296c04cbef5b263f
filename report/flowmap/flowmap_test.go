package flowmap_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/procedures"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
	"waywright/report/draw"
	"waywright/report/flowmap"
)

var update = flag.Bool("update", false, "rewrite the golden picture")

func parse(t *testing.T, src hclfile.Source) *procedures.Procedure {
	t.Helper()
	src.Brief = true
	l, ds := hclfile.Parse(src)
	if ds.HasErrors() {
		t.Fatalf("%s: %v", src.Path, ds)
	}
	return l.Procedure
}

func engineFile(t *testing.T, name string) *procedures.Procedure {
	t.Helper()
	return parse(t, hclfile.Source{FS: os.DirFS(filepath.Join("..", "..", "testdata", "procedures", "engine")), Path: name})
}

func text(f flowmap.Flow) string {
	var b strings.Builder
	for _, l := range f.Lines() {
		b.WriteString(strings.Repeat("  ", l.Indent) + l.Text + "\n")
	}
	return b.String()
}

// The rail has one of everything that a loop of correction can do: what is
// written here was read off its file by hand.
func TestLines(t *testing.T) {
	want := `Stated before
  Rail: height above the bed
1  Set the gauge to nothing
2  Read the rail
  needs: Set the gauge to nothing
  confirm: Is the rail clamped?
  read: Rail: reading, take n; 2 takes
  read: Blue on the rail: where did it rub off?
  GATE The rail is level
    up to 10 µm, either way
    if not: Shift the rail, then back to step 1
      one way: up
      the other: down
      at most 3 times
      then again: steps 1, 2
    or: Pack the rail up, then back to step 1
      only where “Rail above the datum” < -40 µm
      shim under the rail; it cannot be put back
      at most 2 times
      then again: steps 1, 2
    or: Conceded, or not passed
  GATE The rail bears all over
    it must be so that “Blue on the rail: where did it rub off” is all
    if not: Clean it and blue it again, then back to step 1
      at most 2 times
      then again: steps 1, 2
    or: Rejected
The record is sealed
  signed: Carried out by
  signed: Accepted by, by another person than Carried out by; grants or refuses concessions
  accepted, where every gate is passed
  accepted with concessions, where these are granted
  rejected, where that is chosen
`
	if d := cmp.Diff(want, text(flowmap.Of(engineFile(t, "rail.hcl")))); d != "" {
		t.Errorf("(−want +got)\n%s", d)
	}
}

// The picture of the rail: look at it before a difference goes in.
func TestPicture(t *testing.T) {
	got := draw.File(flowmap.Of(engineFile(t, "rail.hcl")).Picture())
	file := filepath.Join("testdata", "rail.golden.svg")
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Errorf("%s is not as it was:\n%s", file, got)
	}
}

// Every procedure that ships has a map on which each of its steps, gates and
// corrections stands, in the order of the file and under its own title, and on
// which every correction leads back to a step above its gate. In its picture no
// box lies on another, and it is no wider than A4.
func TestLibrary(t *testing.T) {
	names := library.Procedures()
	if len(names) < 20 {
		t.Fatalf("only %d procedures were looked at", len(names))
	}
	for _, name := range names {
		src, _ := library.Source(name)
		p := parse(t, src)
		f := flowmap.Of(p)
		if d := cmp.Diff(inFile(p), onMap(f)); d != "" {
			t.Errorf("%s (−file +map)\n%s", name, d)
		}
		pic := f.Picture()
		held(t, name, f, lettering(pic))
		held(t, name, f, text(f))
		if !strings.Contains(pic.Desc, "GATE ") && strings.Contains(text(f), "GATE ") {
			t.Errorf("%s: who cannot see the picture is not told of its gates", name)
		}
		roomy(t, name, pic)
		for i, x := range f.Parts {
			for _, w := range x.Ways {
				if w.Kind == procedures.Correct && (w.Back < 0 || w.Back >= i || f.Parts[w.Back].Kind != flowmap.Work) {
					t.Errorf("%s: %s leads back to part %d, its gate is part %d", name, w.Name, w.Back, i)
				}
			}
		}
		for _, line := range strings.Split(text(f), "\n") {
			if strings.Contains(line, "…)") || strings.Contains(line, "given.") || strings.Contains(line, "result.") {
				t.Errorf("%s: a name of the file is left in %q", name, line)
			}
		}
	}
}

// inFile lists the steps, gates and ways on from them, as they are written.
func inFile(p *procedures.Procedure) (out []string) {
	for _, st := range p.Steps {
		out = append(out, "step."+st.Name)
		for _, it := range st.Items {
			g, ok := it.(*procedures.Gate)
			if !ok {
				continue
			}
			out = append(out, "gate."+g.Name)
			for _, w := range g.IfFailed {
				if w.Correction != nil {
					out = append(out, "gate."+g.Name+" → correction."+w.Correction.Name)
				}
			}
		}
	}
	return out
}

func onMap(f flowmap.Flow) (out []string) {
	for _, p := range f.Parts {
		if p.Kind == flowmap.Work || p.Kind == flowmap.Gate {
			out = append(out, p.Name)
		}
		for _, w := range p.Ways {
			if w.Kind == procedures.Correct {
				out = append(out, p.Name+" → "+w.Name)
			}
		}
	}
	return out
}

// lettering is all that stands in a picture, in one line.
func lettering(p draw.Picture) string {
	var b strings.Builder
	for _, m := range p.Marks {
		if l, ok := m.(draw.Label); ok {
			b.WriteString(strings.TrimSpace(l.Text) + " ")
		}
	}
	return b.String()
}

// held holds titles and what is said of them against what a form shows.
func held(t *testing.T, name string, f flowmap.Flow, shown string) {
	t.Helper()
	plain := strings.NewReplacer(" ", "", "\n", "")
	shown = plain.Replace(shown)
	for _, p := range f.Parts {
		for _, s := range append([]string{p.Title}, p.Said...) {
			if !strings.Contains(shown, plain.Replace(s)) {
				t.Errorf("%s: %q is not shown", name, s)
			}
		}
		for _, w := range p.Ways {
			said := []string{w.Title}
			if !w.Seen {
				said = append(said, w.Said...)
			}
			for _, s := range said {
				if !strings.Contains(shown, plain.Replace(s)) {
					t.Errorf("%s: %q beside %q is not shown", name, s, p.Title)
				}
			}
		}
	}
}

func roomy(t *testing.T, name string, p draw.Picture) {
	t.Helper()
	const a4 = 794 // pixels, at 96 in an inch
	if p.W > a4 {
		t.Errorf("%s: the picture is %g wide", name, p.W)
	}
	var boxes []draw.Rect
	for _, m := range p.Marks {
		r, ok := m.(draw.Rect)
		if !ok {
			continue
		}
		if r.X < 0 || r.Y < 0 || r.X+r.W > p.W || r.Y+r.H > p.H {
			t.Errorf("%s: a box lies outside: %v", name, r)
		}
		for _, o := range boxes {
			if r.X < o.X+o.W && o.X < r.X+r.W && r.Y < o.Y+o.H && o.Y < r.Y+r.H {
				t.Errorf("%s: %v lies on %v", name, r, o)
			}
		}
		boxes = append(boxes, r)
	}
}

// A condition leads past what hangs on it, and a step with keys is gone through
// once more for the next.
func TestBranchesAndRounds(t *testing.T) {
	src, _ := library.Source("lathe/lathe-baseline")
	f := flowmap.Of(parse(t, src))
	past := 0
	for i, p := range f.Parts {
		if p.Past < 0 {
			continue
		}
		past++
		if p.Past <= i || f.Parts[p.Past].No == p.No {
			t.Errorf("past part %d stands part %d, of step %d", i, p.Past, f.Parts[p.Past].No)
		}
		if !slices.ContainsFunc(p.Said, func(s string) bool { return strings.HasPrefix(s, "only where ") }) {
			t.Errorf("%q has no condition: %q", p.Title, p.Said)
		}
	}
	if past != 1 { // two steps in a row have the same condition: one way leads past both
		t.Errorf("%d ways lead past something, want 1", past)
	}
	src, _ = library.Source("lathe/headstock-align")
	said := ""
	for _, p := range flowmap.Of(parse(t, src)).Parts {
		if p.Again >= 0 {
			said += fmt.Sprintf("%s, %s;", p.Name, p.Next)
		}
	}
	if want := "step.sweep, each seat: marked, turned;"; said != want {
		t.Errorf("gone through once more: %q, want %q", said, want)
	}
}
