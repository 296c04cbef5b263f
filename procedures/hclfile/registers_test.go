package hclfile_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"waywright/checks"
	"waywright/checks/value"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula/compile"
	"waywright/procedures/hclfile"
	"waywright/procedures/register"
)

const machines = `# The machines of the shop.
machine "lathe-2" {
  class         = "centre lathe"
  serial        = "1180"
  stands        = "bay 3"
  spindle_taper = "MT3"
  centre_height = mm(125)
  swing         = inch(10)
  rack_pitch    = mm(6.3)
  test_bar {
    length   = mm(310)
    diameter = mm(30)
  }
}
machine "M-7" { class = "milling machine" }
`

func TestMachines(t *testing.T) {
	ms, ds := hclfile.Machines(fstest.MapFS{"machines.hcl": {Data: []byte(machines)}}, "machines.hcl")
	if len(ds) > 0 || len(ms) != 2 {
		t.Fatalf("%d machines, %v", len(ms), ds)
	}
	m := ms[0]
	if m.ID != "lathe-2" || m.Class != "centre lathe" || ms[1].ID != "M-7" {
		t.Errorf("the first is %+v", m)
	}
	for path, want := range map[string]value.Value{
		"test_bar.length": value.Num(310), "test_bar.diameter": value.Num(30), "centre_height": value.Num(125),
		"swing": value.Num(254), "rack_pitch": value.Num(6.3), "spindle_taper": value.Str("MT3"), "class": value.Str("centre lathe"),
		"maker": value.NotYet(), "feet_along": value.NotYet(),
	} {
		if diff := cmp.Diff(want, m.Value(path)); diff != "" {
			t.Errorf("machine.%s: %s", path, diff)
		}
	}
	if u := m.Sizes["swing"].Unit.Name; u != "inch" {
		t.Errorf("swing is written in %s", u)
	}
}

func TestMachinesSayWhatIsWrong(t *testing.T) {
	src := `machine "a" {
  clas          = "centre lathe"
  centre_height = deg(3)
  centre_hight  = mm(3)
  swing         = 250
}
machine "a" { class = "x" }
machine "b c" { class = "x" }
lathe "d" {}
`
	_, ds := hclfile.Machines(fstest.MapFS{"machines.hcl": {Data: []byte(src)}}, "machines.hcl")
	var got []string
	for _, d := range ds {
		got = append(got, d.Code+" "+src[d.Subject.Start.Byte:d.Subject.End.Byte])
	}
	want := []string{`E103 machine "a"`, "E101 clas", "E301 deg(3)", "W504 centre_hight", "E301 250", `E203 "a"`, `E108 "b c"`, `E102 lathe "d"`}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestInstruments(t *testing.T) {
	src := `instrument "M-3" {
  kind        = "outside micrometer"
  resolution  = um(1)
  error       = um(4)
  turn        = mm(0.5)
  certificate = "K-2026-118"
  uncertainty = um(1.5)
  calibrated  = "2026-03-02"
  due         = "2027-03-02"
}
instrument "I-9" {
  kind       = "dial indicator"
  resolution = thou(0.5)
  division   = thou(1)
  due        = "next spring"
}
`
	ins, ds := hclfile.Instruments(fstest.MapFS{"instruments.hcl": {Data: []byte(src)}}, "instruments.hcl")
	if len(ins) != 2 || len(ds) != 1 || ds[0].Code != "E112" || ds[0].Subject.Start.Line != 15 {
		t.Fatalf("%d instruments, %v", len(ins), ds)
	}
	m := ins[0]
	if m.ID != "M-3" || m.Resolution != 0.001 || m.Error != 0.004 || !m.HasError || m.Turn != 0.5 || m.Uncertainty != 0.0015 ||
		m.Coverage != 2 || m.Division != m.Resolution || m.Certificate != "K-2026-118" || m.Due != "2027-03-02" || m.HasZero {
		t.Errorf("M-3 is %+v", m)
	}
	if got := ins[1]; got.Division != 0.0254 || got.Unit.Name != "thou" || got.HasError {
		t.Errorf("I-9 is %+v", got)
	}
}

// A register says what an instrument can read, who vouches for it and what has
// become of it, in whatever unit it is marked.
func TestInstrumentsWhole(t *testing.T) {
	src := `instrument "M-9" {
  kind              = "outside micrometer"
  range             = [inch(1), inch(2)]
  resolution        = inch(0.0001)
  error             = inch(0.00015)
  zero              = um(0)
  repeatability     = um(0.8)
  repeatability_dof = 14
  uncertainty       = um(1.1)
  coverage          = 2.13
  certificate       = "K-0611"
  calibrated        = "2026-02-16"
  calibrated_by     = "the county gauge room"
  due               = "2027-02-16"

  history {
    day  = "2026-01-20"
    what = "dropped, then set again"
    by   = "Anna Brook"
  }
  history {
    day  = "2024-06-01"
    what = "bought new"
  }
}
`
	ins, ds := hclfile.Instruments(fstest.MapFS{"instruments.hcl": {Data: []byte(src)}}, "instruments.hcl")
	if len(ins) != 1 || len(ds) != 0 {
		t.Fatalf("%d instruments, %v", len(ins), ds)
	}
	in := ins[0]
	if !in.HasRange || in.From != 25.4 || in.To != 50.8 || in.Coverage != 2.13 || in.CalibratedBy != "the county gauge room" ||
		!in.HasZero || in.Zero != 0 || in.RepeatabilityDoF != 14 || in.Unit.Name != "inch" {
		t.Errorf("M-9 is %+v", in)
	}
	if h := in.History; len(h) != 2 || h[0].What != "bought new" || h[1].By != "Anna Brook" || h[1].Day != "2026-01-20" {
		t.Errorf("its history is %+v", h)
	}
}

func TestInstrumentsSayWhatIsWrong(t *testing.T) {
	for _, tt := range []struct{ line, want string }{
		{`range = [mm(25), mm(0)]`, "E113 [mm(25), mm(0)]"},
		{`range = [mm(0), deg(3)]`, "F022 deg(3)"},
		{`range = mm(25)`, "E112 mm(25)"},
		{`range = [mm(0), mm(1), mm(2)]`, "E112 [mm(0), mm(1), mm(2)]"},
		{`coverage = 2`, "E110 coverage"},
		{"uncertainty = um(1)\n  coverage = 0.5", "E113 0.5"},
		{"uncertainty = um(1)\n  coverage = um(2)", "E112 um(2)"},
		{`uncertainty = um(-1)`, "E113 um(-1)"},
		{"calibrated = \"2026-03-02\"\n  due = \"2026-03-02\"", `E113 "2026-03-02"`},
		{`history { day = "2026-03-02" }`, "E103 history"},
		{`history { what = "bought" }`, "E103 history"},
		{"history {\n    day = \"March\"\n    what = \"bought\"\n  }", `E112 "March"`},
		{`calibrated_bye = "me"`, "E101 calibrated_bye"},
	} {
		src := "instrument \"M-3\" {\n  kind = \"micrometer\"\n  resolution = um(1)\n  " + tt.line + "\n}\n"
		_, ds := hclfile.Instruments(fstest.MapFS{"instruments.hcl": {Data: []byte(src)}}, "instruments.hcl")
		var got []string
		for _, d := range ds {
			got = append(got, d.Code+" "+src[d.Subject.Start.Byte:d.Subject.End.Byte])
			if d.Detail == "" || d.Subject.Start.Line < 4 {
				t.Errorf("%s: line %d, %q", tt.line, d.Subject.Start.Line, d.Detail)
			}
		}
		if diff := cmp.Diff([]string{tt.want}, got); diff != "" {
			t.Errorf("%s: %s", tt.line, diff)
		}
	}
}

func TestPeople(t *testing.T) {
	src := "person \"anna\" {\n  name  = \"Anna Brook\"\n  roles = [\"fitter\", \"inspector\"]\n}\nperson \"x\" {}\n"
	ps, ds := hclfile.People(fstest.MapFS{"people.hcl": {Data: []byte(src)}}, "people.hcl")
	if len(ps) != 2 || ps[0].Name != "Anna Brook" || !slices.Equal(ps[0].Roles, []string{"fitter", "inspector"}) {
		t.Errorf("people are %+v", ps)
	}
	if len(ds) != 1 || ds[0].Code != "E103" {
		t.Errorf("said: %v, want E103 of x", ds)
	}
}

// What holds for the whole shop, and mistakes in it with their place.
func TestShop(t *testing.T) {
	for _, tt := range []struct {
		src  string
		want checks.Rule
		said string // code, line:column, mend
	}{
		{"decision = \"strict\"\n", checks.Strict, ""},
		{"# ours\n\n  decision = \"guarded\"", checks.Guarded, ""},
		{"# nothing is written\n", checks.NoRule, ""},
		{"", checks.NoRule, ""},
		{"decision = \"strickt\"\n", checks.NoRule, "E111 1:12 decision is \"guarded\" or \"strict\", not \"strickt\". Did you mean strict?"},
		{"# ours\ndecision = \"simple\"\n", checks.NoRule, "E111 2:12 decision is \"guarded\" or \"strict\", not \"simple\"."},
		{"decision = 0.977\n", checks.NoRule, "E112 1:12 decision is one of a few words, known before the run. Write, for example, decision = \"strict\""},
		{"decison = \"strict\"\n", checks.NoRule, "E101 1:1 A shop file has no attribute \"decison\". Did you mean decision?"},
		{"decision = \"strict\"\ndecision = \"guarded\"\n", checks.Strict, "E106 2:1 decision is set in line 1 already. Keep one of the two."},
		{"shop \"ours\" {\n}\n", checks.NoRule, "E102 1:1 A shop block has no place in the outermost level of a shop file. It may have: decision, paper."},
		{"decision = \"strict\"\npaper = \"letter\"\n", checks.Strict, ""},
		{"paper = \"a5\"\n", checks.NoRule, "E111 1:9 paper is \"a4\" or \"letter\", not \"a5\"."},
		{"decision = \"strict\n", checks.Strict, "E010 1:12 A quote is opened here"},
	} {
		fsys := fstest.MapFS{"shop.hcl": {Data: []byte(tt.src)}}
		got, ds := hclfile.Shop(fsys, "shop.hcl")
		said := ""
		if len(ds) > 0 {
			d := ds[0]
			said = fmt.Sprintf("%s %d:%d %s", d.Code, d.Subject.Start.Line, d.Subject.Start.Column, d.Detail)
		}
		if got.Decision != tt.want || tt.said == "" && said != "" || !strings.HasPrefix(said, tt.said) {
			t.Errorf("%q: %q, said %q; want %q, %q …", tt.src, got.Decision, said, tt.want, tt.said)
		}
		if l, again := hclfile.Parse(hclfile.Source{FS: fsys, Path: "shop.hcl"}); l.Register != "shop" || len(again) != len(ds) {
			t.Errorf("%q, proofread: a register of %q, %v", tt.src, l.Register, again)
		}
	}
}

// A register that is not there is an error that names it.
func TestRegistersMissing(t *testing.T) {
	_, ds := hclfile.People(fstest.MapFS{}, "people.hcl")
	if len(ds) != 1 || ds[0].Code != "E001" {
		t.Errorf("said: %v", ds)
	}
}

// What the machine's entry has a fixed name for can be asked for by name.
func TestMachineSizesInFrom(t *testing.T) {
	for _, k := range register.Sizes() {
		answer := "text = true"
		if k.Unit != nil {
			answer = "unit = \"mm\"\n  range = [mm(1), mm(2)]"
		}
		want(t, procedure("given \"x\" {\n  ask = \"X\"\n  "+answer+"\n  from = machine."+k.Path+"\n}\n"))
		if k.Doc == "" {
			t.Errorf("%s is not explained", k.Path)
		}
	}
	want(t, procedure("given \"x\" {\n  ask = \"X\"\n  unit = \"mm\"\n  from = machine.quill.travel\n}\n"))
}

// The codes of formulas are explained where all codes are, under the same
// summary.
func TestFormulaCodesAreExplained(t *testing.T) {
	have := map[string]bool{}
	for _, c := range compile.Codes() {
		have[string(c)] = true
		if e, ok := diagnose.Explain(string(c)); !ok || e.Summary != c.Summary() {
			t.Errorf("%s is %q here and %q there", c, c.Summary(), e.Summary)
		}
	}
	for _, c := range diagnose.Codes() {
		if c[0] == 'F' && !have[c] {
			t.Errorf("%s is not a code of formulas", c)
		}
	}
}
