package datamap_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/procedures"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
	"waywright/report/datamap"
	"waywright/report/draw"
)

func parse(t *testing.T, src hclfile.Source) *procedures.Procedure {
	t.Helper()
	l, ds := hclfile.Parse(src)
	if ds.HasErrors() {
		t.Fatalf("%s: %v", src.Path, ds)
	}
	return l.Procedure
}

// The rail has one of everything: what is written here was read off its file
// by hand.
func TestLines(t *testing.T) {
	fsys := os.DirFS(filepath.Join("..", "..", "testdata", "procedures", "engine"))
	var b strings.Builder
	for _, l := range datamap.Of(parse(t, hclfile.Source{FS: fsys, Path: "rail.hcl"})).Lines() {
		b.WriteString(strings.Repeat("  ", l.Indent) + l.Text + "\n")
	}
	want := `READ AND GIVEN
  reading.high: Rail: reading, take n
    used for result.off
  reading.mark: Blue on the rail: where did it rub off?
    used for gate.bears
WORKED OUT
  result.off: Rail above the datum
    from reading.high
    used for gate.level
HELD AGAINST LIMITS
  gate.level: The rail is level
    from result.off
    if not: correction.shift, correction.pack
    within plus_minus(um(10))
  gate.bears: The rail bears all over
    from reading.mark
    if not: correction.wipe
    reading.mark == "all"
CORRECTIONS
  correction.shift: Shift the rail
    for gate.level
    spoils step.prepare, step.look
    amount from -result.off
  correction.pack: Pack the rail up
    for gate.level
    spoils step.prepare, step.look
    amount from -result.off
  correction.wipe: Clean it and blue it again
    for gate.bears
    spoils step.prepare, step.look
`
	if d := cmp.Diff(want, b.String()); d != "" {
		t.Errorf("(−want +got)\n%s", d)
	}
}

// Every procedure that ships has a map on which every gate stands on something
// that was read here, or is given from a run before, and every correction leads
// back to a step.
func TestLibrary(t *testing.T) {
	seen := 0
	for _, name := range library.Procedures() {
		src, _ := library.Source(name)
		p := parse(t, src)
		seen++
		m := datamap.Of(p)
		for i, n := range m.Nodes {
			switch n.Kind {
			case datamap.Gate:
				if !reads(m, i) {
					t.Errorf("%s: %s stands on nothing that was read or given", name, n.Name)
				}
			case datamap.Correction:
				if !leads(m, i) {
					t.Errorf("%s: %s leads back to no step", name, n.Name)
				}
			}
		}
		drawn(t, m)
	}
	if seen < 2 {
		t.Errorf("only %d procedures were looked at", seen)
	}
}

func reads(m datamap.Map, i int) bool {
	if k := m.Nodes[i].Kind; k == datamap.Reading || k == datamap.Given {
		return true
	}
	for _, l := range m.Links {
		if l.To == i && l.Kind == datamap.Feeds && reads(m, l.From) {
			return true
		}
	}
	return false
}

func leads(m datamap.Map, i int) bool {
	for _, l := range m.Links {
		if l.From == i && l.Kind == datamap.Spoils && m.Nodes[l.To].Kind == datamap.Step {
			return true
		}
	}
	return false
}

// drawn holds the picture against the map: each thing has its name in it, each
// link its arrow.
func drawn(t *testing.T, m datamap.Map) {
	t.Helper()
	names, arrows := map[string]bool{}, 0
	for _, x := range m.Picture().Marks {
		switch x := x.(type) {
		case draw.Label:
			names[x.Text] = true
		case draw.Curve:
			arrows++
		}
	}
	for _, n := range m.Nodes {
		if !names[n.Name] {
			t.Errorf("%s: the picture has no %s", m.Title, n.Name)
		}
	}
	const keys = 3
	if arrows != len(m.Links)+keys {
		t.Errorf("%s: %d arrows for %d links", m.Title, arrows-keys, len(m.Links))
	}
}

// What no gate stands on is joined with the correction that uses it: here the
// screw that pulls most, of which the correction's title speaks.
func TestLooseResults(t *testing.T) {
	fsys := os.DirFS(filepath.Join("..", "..", "testdata", "procedures", "design"))
	m := datamap.Of(parse(t, hclfile.Source{FS: fsys, Path: "headstock-holddown.hcl"}))
	var got []string
	for _, l := range m.Links {
		if m.Nodes[l.To].Kind == datamap.Correction && l.Kind == datamap.Feeds {
			got = append(got, m.Nodes[l.From].Name+" "+m.Nodes[l.To].Name)
		}
	}
	if d := cmp.Diff([]string{"result.share correction.relieve",
		"given.end correction.relieve", "given.pads correction.relieve", "given.reach correction.relieve"}, got); d != "" {
		t.Errorf("(−want +got)\n%s", d)
	}
	drawn(t, m)
}

// What only the amount of a correction is worked out from is read and given too:
// a size of the machine, a row of the table of limits.
func TestAmountsStandOnWhatIsGiven(t *testing.T) {
	for _, tt := range []struct{ procedure, from, to string }{
		{"lathe/tailstock-by-test-cut", "given.centres", "correction.set_over"},
		{"lathe/headstock-align", "given.pads", "correction.turn"},
		{"lathe/headstock-align", "table.lathe.axis_level", "correction.turn"},
		{"lathe/headstock-align", "table.lathe.axis_level", "gate.level_plane"},
	} {
		src, _ := library.Source(tt.procedure)
		m := datamap.Of(parse(t, src))
		found := false
		for _, l := range m.Links {
			found = found || m.Nodes[l.From].Name == tt.from && m.Nodes[l.To].Name == tt.to && l.Kind == datamap.Feeds
		}
		if !found {
			t.Errorf("%s: %s is not used for %s", tt.procedure, tt.from, tt.to)
		}
		drawn(t, m)
	}
}

// A title names what it has no value of, and says both where it depends on it.
func TestTitlesCanBeRead(t *testing.T) {
	want := map[string]string{
		"lathe/headstock-align":       "Front, (station), spindle at (angle)°: reading",
		"lathe/tailstock-by-test-cut": "Headstock-end collar: diameter or Tailstock-end collar: diameter",
	}
	for name, title := range want {
		src, _ := library.Source(name)
		titles := map[string]bool{}
		for _, n := range datamap.Of(parse(t, src)).Nodes {
			titles[n.Title] = true
			if strings.Contains(n.Title, "…") {
				t.Errorf("%s: the title %q", name, n.Title)
			}
		}
		if !titles[title] {
			t.Errorf("%s has no title %q: %v", name, title, titles)
		}
	}
}
