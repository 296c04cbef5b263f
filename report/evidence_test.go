package report_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
	"waywright/report"
)

// withPhotos plays a run in which files are kept: at a step, at a reading, as an
// answer that is asked for again, and remarks that have a heading.
func withPhotos(t testing.TB) report.Record {
	t.Helper()
	load := func(name string) (*engine.Plan, error) {
		l, diags := hclfile.Parse(hclfile.Source{FS: os.DirFS("../testdata/procedures/engine"), Path: name + ".hcl"})
		if diags.HasErrors() {
			return nil, fmt.Errorf("%s: %v", name, diags)
		}
		return engine.NewPlan(l.Procedure), nil
	}
	r := enginetest.Play(t, "begin parts\nform = flat\nmaker = Ours\n", load)
	say := func(in engine.Input) {
		t.Helper()
		if _, refusal, err := r.Say(in); refusal != nil || err != nil {
			t.Fatalf("%+v: %+v, %v", in, refusal, err)
		}
	}
	photo := func(name string) *engine.File {
		return &engine.File{Name: name, SHA256: strings.Repeat("ab", 32), Size: 12345, Type: "image/jpeg"}
	}
	say(engine.Input{Verb: engine.Attach, Text: "the ways, wiped", File: photo("ways.jpg")})
	say(engine.Input{Text: "yes"})
	say(engine.Input{Text: "all"})
	bare := photo("dots.jpg")
	bare.Removed, bare.Original = []string{"the place (GPS)"}, &engine.WasFile{SHA256: strings.Repeat("cd", 32), Size: 23456}
	say(engine.Input{Verb: engine.Attach, File: bare})
	say(engine.Input{Text: "20"})
	say(engine.Input{Text: "bright"})
	say(engine.Input{Text: "print.jpg", File: photo("print.jpg")})
	say(engine.Input{Verb: engine.Note, Text: "part: two gibs of bronze"})
	say(engine.Input{Verb: engine.Note, Text: "measure again: March 2027"})
	say(engine.Input{Verb: engine.Note, Text: "belt on"})
	return report.Build(r.State(), head, r.State().Len())
}

func TestEvidenceBelongsToItsQuestion(t *testing.T) {
	rec := withPhotos(t)
	plain := report.File{Name: "ways.jpg", SHA256: strings.Repeat("ab", 32), Size: 12345, Type: "image/jpeg"}
	bare, print := plain, plain
	bare.Name, bare.Removed, bare.Original = "dots.jpg", []string{"the place (GPS)"}, &report.WasFile{SHA256: strings.Repeat("cd", 32), Size: 23456}
	print.Name = "print.jpg"
	id := func(name string) string {
		for _, rd := range rec.Readings {
			if rd.Name == name {
				return rd.ID
			}
		}
		return "no reading " + name
	}
	// The spots are what "fine" is worked out from; the picture is in no formula,
	// so it belongs to the tests of its step.
	want := []report.Evidence{
		{No: 1, Caption: "the ways, wiped", Where: "Clean the ways", Name: "clean", File: plain},
		{No: 2, Where: "How many spots in a square inch?", Name: "spots", Reading: id("spots"), Tests: []int{3}, File: bare},
		{No: 3, Where: "Photograph of the print", Name: "picture", Reading: id("picture"), Answer: true, Tests: []int{2, 3, 4}, File: print},
	}
	if d := cmp.Diff(want, rec.Evidence, cmpopts.IgnoreFields(report.Evidence{}, "At")); d != "" {
		t.Errorf("evidence (-want +got):\n%s", d)
	}
	var about []string
	for _, n := range rec.Notes {
		if n.File == nil {
			about = append(about, n.About+": "+n.Text)
		}
	}
	if d := cmp.Diff([]string{"part: two gibs of bronze", "again: March 2027", ": belt on"}, about); d != "" {
		t.Errorf("remarks (-want +got):\n%s", d)
	}
	if err := validate(t, compile(t), marshal(t, rec)); err != nil {
		t.Errorf("the schema refuses it: %v", err)
	}
}
