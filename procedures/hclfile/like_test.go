package hclfile_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"waywright/procedures"
	"waywright/procedures/hclfile"
)

const sharedNose = `
instrument "dial" {
  kind       = "dial"
  resolution = um(1)
}
given "span" {
  ask   = "Span"
  unit  = "mm"
  range = [mm(50), mm(300)]
}
step "nose" {
  title   = "Indicator against the nose"
  spindle = "stopped"
  do      = ["Turn it by hand over ${given.span}."]
  reading "slip" {
    each "end" { of = ["greatest", "least"] }
    ask      = "Slip: ${each.end}"
    unit     = "um"
    with     = instrument.dial
    positive = "out"
    range    = [um(-90), um(90)]
  }
  reading "seat" {
    like = reading.slip
    ask  = "Seat: ${each.end}"
  }
  result "slips" {
    title    = "Slip"
    value    = reading.slip.greatest - reading.slip.least
    unit     = "um"
    positive = "never below nothing"
  }
  result "runs" {
    like  = result.slips
    title = "Seat"
    value = reading.seat.greatest - reading.seat.least
  }
  gate "no_slip" {
    title   = "No slip"
    of      = result.slips
    at_most = um(10)
    source  = "x"
    test    = "axial_slip"
  }
  gate "nose_true" {
    like  = gate.no_slip
    title = "The nose runs true"
    of    = result.runs
    test  = "nose"
  }
}
`

// shop is a folder with a shared file and a procedure of lathes.
func shopOf(shared, body string) hclfile.Source {
	text := "procedure \"p\" {\n  title = \"P\"\n  machine = \"any\"\n  revision = \"1\"\n  purpose = \"P.\"\n}\n" + body
	return hclfile.Source{FS: fstest.MapFS{"lathe/p.hcl": {Data: []byte(text)}, "shared.hcl": {Data: []byte(shared)}}, Path: "lathe/p.hcl"}
}

const likeNose = `
given "span" {
  like  = given.span
  range = [mm(80), mm(300)]
}
step "nose" {
  like  = step.nose
  title = "Nose, as found"
  gate "no_slip" { if_failed = [noted] }
  gate "nose_true" {
    within    = plus_minus(um(7))
    if_failed = [noted]
  }
  gate "more" {
    like  = gate.nose_true
    title = "More"
  }
}
`

// A step that is like one of shared.hcl has what stands in that, with what is
// written here laid over it.
func TestLikeTakesOver(t *testing.T) {
	p := read(t, shopOf(sharedNose, likeNose))
	var got []string
	for _, it := range p.Steps[0].Items {
		switch x := it.(type) {
		case *procedures.Reading:
			got = append(got, fmt.Sprintf("reading %s %s each %d with %s", x.Name, x.Positive.Words(nil), len(x.Each), x.With.Name))
		case *procedures.Result:
			got = append(got, fmt.Sprintf("result %s %s in %s", x.Name, x.Title.Words(nil), x.Unit.Name))
		case *procedures.Gate:
			got = append(got, fmt.Sprintf("gate %s %s: at most %t, within %t, test %s, ways %d, line %d of %s",
				x.Name, x.Title.Words(nil), x.AtMost != nil, x.Within != nil, x.Test, len(x.IfFailed), x.At.Start.Line, x.At.File))
		}
	}
	want := []string{
		"reading slip out each 1 with dial",
		"reading seat out each 1 with dial",
		"result slips Slip in um",
		"result runs Seat in um",
		"gate no_slip No slip: at most true, within false, test axial_slip, ways 1, line 15 of lathe/p.hcl",
		"gate nose_true The nose runs true: at most false, within true, test nose, ways 1, line 16 of lathe/p.hcl",
		"gate more More: at most false, within true, test nose, ways 1, line 20 of lathe/p.hcl",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if s := p.Steps[0]; s.Title.Words(nil) != "Nose, as found" || s.Spindle != procedures.Stopped || len(s.Do) != 1 {
		t.Errorf("the step is %q, spindle %s, %d instructions", s.Title.Words(nil), s.Spindle, len(s.Do))
	}
	if v, _ := p.Givens[0].Range[0].Static(); v.Num != 80 {
		t.Errorf("the span begins at %g mm; want what stands in the procedure", v.Num)
	}
	if len(p.Files) != 2 || p.Files[1].Name != "shared.hcl" {
		t.Errorf("the procedure is made from %d files; want the shared one too, that a run keeps it", len(p.Files))
	}
	again, ds := hclfile.Pinned(p.Files)
	if ds.HasErrors() || len(again.Procedure.Steps[0].Items) != len(p.Steps[0].Items) {
		t.Errorf("kept with a run it reads as another procedure: %v", ds)
	}
}

func TestLikeMistakes(t *testing.T) {
	step := func(s string) string {
		return "given \"span\" { like = given.span }\nstep \"nose\" {\n  like = step.nose\n" + s + "}\n"
	}
	both := "  gate \"no_slip\" { if_failed = [reject] }\n  gate \"nose_true\" { if_failed = [reject] }\n"
	for _, tt := range []struct {
		name, body string
		want       []string
	}{
		{"all right", step(both), nil},
		{"no such step", "step \"a\" { like = step.noose }\n", []string{"E201 step.noose"}},
		{"of another kind", "step \"a\" { like = given.span }\n", []string{"E204 given.span"}},
		{"itself", "given \"a\" {\n  like = given.a\n}\n", []string{"E201 given.a"}},
		{"below", "given \"a\" { like = given.b }\ngiven \"b\" {\n  ask = \"B\"\n  count = true\n}\n", []string{"E202 given.b"}},
		{"a step of its own file", step(both) + "step \"b\" { like = step.nose }\n", []string{"E204 step.nose"}},
		{"still missing", step("  gate \"no_slip\" { if_failed = [reject] }\n"), []string{`E103 gate "nose_true"`}},
		{"what it has is missing here", strings.Replace(step(both), "given \"span\" { like = given.span }", "", 1), []string{"F002 span"}},
		{"its name is taken", "given \"slip\" {\n  ask = \"S\"\n  count = true\n}\n" + step(both), []string{`E203 "slip"`}},
		{"a gate inside", step(both + "  gate \"g\" { like = gate.none }\n"), []string{"E201 gate.none"}},
		{"used above its place", step("  gate \"no_slip\" {\n    if_failed = [reject]\n    at_most = result.late\n  }\n  gate \"nose_true\" { if_failed = [reject] }\n  result \"late\" {\n    like = result.slips\n    title = \"Late\"\n  }\n"),
			[]string{"F004 result.late"}},
	} {
		t.Run(tt.name, func(t *testing.T) { want(t, shopOf(sharedNose, tt.body), tt.want...) })
	}
}

// What is wrong in a step of shared.hcl is told where it stands, once, with who
// has taken it over.
func TestLikeSaysWhoTookItOver(t *testing.T) {
	src := shopOf(strings.Replace(sharedNose, `unit     = "um"`, `unit     = "furlongs"`, 1), likeNose)
	_, ds := hclfile.Parse(src)
	var about []string
	for _, d := range ds {
		if d.Code == "E114" {
			about = append(about, d.Subject.File+": "+d.Detail)
		}
	}
	if len(about) != 1 || !strings.HasPrefix(about[0], "shared.hcl: ") || !strings.Contains(about[0], `taken over by like in step "nose", line 12 of lathe/p.hcl`) {
		t.Errorf("told: %q", about)
	}
}

// Likes of likes may not grow without end.
func TestLikeIsBounded(t *testing.T) {
	var b strings.Builder
	long := strings.Repeat("x", 20000)
	fmt.Fprintf(&b, "given \"g0\" {\n  ask = %q\n  count = true\n}\n", long)
	for i := range 400 {
		fmt.Fprintf(&b, "given \"g%d\" { like = given.g%d }\n", i+1, i)
	}
	_, ds := hclfile.Parse(shopOf("", b.String()))
	n := 0
	for _, d := range ds {
		if d.Code == "E007" {
			n++
		}
	}
	if n != 1 {
		t.Errorf("E007 is told %d times; want once", n)
	}
}

// The procedure's if_failed stands for every gate that says nothing else.
func TestIfFailedOfTheProcedure(t *testing.T) {
	body := "given \"span\" { like = given.span }\nstep \"nose\" {\n  like = step.nose\n  gate \"no_slip\" { if_failed = [reject] }\n}\n"
	src := shopOf(sharedNose, body)
	want(t, src, `E103 gate "nose_true"`)
	fsys := src.FS.(fstest.MapFS)
	fsys["lathe/p.hcl"].Data = []byte(strings.Replace(string(fsys["lathe/p.hcl"].Data), "  purpose", "  if_failed = [noted]\n  purpose", 1))
	p := read(t, src)
	for name, kind := range map[string]procedures.WayKind{"no_slip": procedures.Reject, "nose_true": procedures.Note} {
		if g := item[*procedures.Gate](t, p, name); len(g.IfFailed) != 1 || g.IfFailed[0].Kind != kind {
			t.Errorf("%s: ways %v; want %d", name, g.IfFailed, kind)
		}
	}
}

// A machine that stands in shared.hcl is met by several procedures: what one of
// them does not ask is left out.
func TestLikeAMachineOfTheSharedFile(t *testing.T) {
	machine := `
rehearsal "a good machine" {
  hidden { slip = um(3) }
  noise {
    slip  = um(0.1)
    other = um(0.1)
  }
  answer {
    span  = mm(100)
    slip  = each.end == "greatest" ? hidden.slip : um(0)
    seat  = um(0)
    other = hidden.slip
  }
  reacts "unknown" { slip = um(0) }
}
`
	ways := "  gate \"no_slip\" { if_failed = [reject] }\n  gate \"nose_true\" { if_failed = [reject] }\n"
	body := "given \"span\" { like = given.span }\nstep \"nose\" {\n  like = step.nose\n" + ways + "}\n" +
		"rehearsal \"good\" {\n  like = \"a good machine\"\n  ends { outcome = \"accepted\" }\n}\n" +
		"rehearsal \"worn\" {\n  like = \"good\"\n  hidden { slip = um(30) }\n  ends { outcome = \"rejected\" }\n}\n"
	p := read(t, shopOf(sharedNose+machine, body))
	if len(p.Rehearsals) != 2 {
		t.Fatalf("%d rehearsals; want 2", len(p.Rehearsals))
	}
	for i, slip := range []float64{3e-3, 30e-3} {
		x := p.Rehearsals[i]
		if len(x.Answer) != 3 || len(x.Noise) != 1 || len(x.Reacts) != 0 || len(x.Hidden) != 1 {
			t.Errorf("%s: %d answers, %d noises, %d reacts, %d states", x.Name, len(x.Answer), len(x.Noise), len(x.Reacts), len(x.Hidden))
		}
		if v, _ := x.Hidden[0].Value.Static(); v.Num != slip {
			t.Errorf("%s: slip %g mm; want %g", x.Name, v.Num, slip)
		}
	}
	want(t, shopOf(sharedNose+machine, strings.Replace(body, `"a good machine"`, `"a good machin"`, 1)), `E201 "a good machin"`)
	want(t, hclfile.Source{FS: fstest.MapFS{"shared.hcl": {Data: []byte(sharedNose + machine)}}, Path: "shared.hcl"})
	bad := strings.Replace(sharedNose+machine, `hidden.slip : um(0)`, `hidden.slop : um(0)`, 1)
	want(t, hclfile.Source{FS: fstest.MapFS{"shared.hcl": {Data: []byte(bad)}}, Path: "shared.hcl"}, "F002 slop")
}
