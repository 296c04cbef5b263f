package vet_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waywright/checks"
	"waywright/checks/uncert"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/vet"
)

const head = `procedure "p" {
  title    = "P"
  machine  = "any"
  revision = "1"
  purpose  = "Show."
}
instrument "micrometer" {
  kind          = "outside micrometer"
  resolution    = um(1)
  error         = um(4)
  repeatability = um(1)
  turn          = mm(0.5)
}
`

// read returns a procedure that is read without an error.
func read(t testing.TB, src hclfile.Source) *procedures.Procedure {
	t.Helper()
	l, ds := hclfile.Parse(src)
	if ds.HasErrors() {
		var b strings.Builder
		if err := diagnose.WriteText(&b, ds, l.Text); err != nil {
			t.Fatal(err)
		}
		t.Fatal(b.String())
	}
	return l.Procedure
}

func body(text string) hclfile.Source {
	return hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: []byte(head + text)}}, Path: "p.hcl"}
}

// errs returns the codes of the errors found in a procedure.
func errs(t testing.TB, text string) []string {
	t.Helper()
	var out []string
	for _, d := range vet.Procedure(read(t, body(text))).Diagnostics {
		if d.Severity == diagnose.Error {
			out = append(out, d.Code)
		}
	}
	return out
}

func want(t *testing.T, text string, codes ...string) {
	t.Helper()
	if diff := cmp.Diff(codes, errs(t, text)); diff != "" {
		t.Errorf("want −, got +\n%s\nof\n%s", diff, text)
	}
}

const reading = `
  reading "top" {
    ask   = "Height"
    unit  = "um"
    with  = instrument.micrometer
    range = [um(-100), um(100)]
  }
`

// gate is a step with a reading and a gate.
func gate(attrs string) string {
	return "step \"s\" {\n  title = \"S\"" + reading + "  gate \"g\" {\n    title = \"G\"\n    of = reading.top\n    source = \"x\"\n" + attrs + "\n  }\n}\n"
}

const wipe = "correction \"wipe\" { title = \"Wipe\" }\n"

func TestRule18NoCorrectionInsideARepetition(t *testing.T) {
	inside := strings.Replace(gate("    at_most = um(50)\n    if_failed = [correction.wipe, reject]"), "title = \"S\"", "title = \"S\"\n  each \"seat\" { of = [\"a\", \"b\"] }", 1)
	want(t, inside+wipe, "E402")
	want(t, strings.Replace(inside, "correction.wipe, ", "", 1))
}

func TestRule30AConcessionNeedsARole(t *testing.T) {
	g := gate("    at_most = um(50)\n    if_failed = [concession]")
	want(t, g, "E403")
	want(t, g+"signoff \"a\" { title = \"A\" }\n", "E403")
	want(t, g+"signoff \"a\" {\n  title = \"A\"\n  concedes = true\n}\n")
}

func TestRule33TheListHasOneEnd(t *testing.T) {
	role := "signoff \"a\" {\n  title = \"A\"\n  concedes = true\n}\n" + wipe
	for ways, codes := range map[string][]string{
		"correction.wipe, reject":     nil,
		"correction.wipe, concession": nil,
		"correction.wipe":             {"E401"},
		"":                            {"E401", "E406"},
		"reject, concession":          {"E401", "E406"},
		"reject, correction.wipe":     {"E401", "E401"},
		"noted, reject":               {"E401", "E406"},
		"correction.wipe, noted":      {"E401"},
	} {
		t.Run(ways, func(t *testing.T) {
			want(t, gate("    at_most = um(50)\n    if_failed = ["+ways+"]")+role, codes...)
		})
	}
}

// What is noted asks for no role that concedes: nobody is asked for anything.
func TestRule33NotedStandsAlone(t *testing.T) {
	want(t, gate("    at_most = um(50)\n    if_failed = [noted]"))
}

// What is kept for the record alone is said to be so, and used by nothing.
func TestKeptForTheRecord(t *testing.T) {
	step := func(item string) string { return "step \"s\" {\n  title = \"S\"" + reading + item + "\n}\n" }
	result := "  result \"r\" {\n    title = \"R\"\n    value = reading.top\n    unit = \"um\"\n%s  }\n"
	want(t, step(fmt.Sprintf(result, "")), "E406")
	want(t, step(fmt.Sprintf(result, "    kept = true\n")))
	want(t, step(fmt.Sprintf(result, "    kept = true\n")+"  reading \"said\" {\n    ask = \"Remarks\"\n    text = true\n  }\n"))
	want(t, step(fmt.Sprintf(result, "    kept = true\n")+"  reading \"seen\" {\n    ask = \"Seen\"\n    choose = [\"a\", \"b\"]\n  }\n"), "E406")
}

// After a correction something that feeds the gate must be read again;
// lasting steps are spared.
func TestRule28CorrectionsLeadBack(t *testing.T) {
	g := gate("    at_most = um(50)\n    if_failed = [correction.wipe, reject]") + wipe
	want(t, g)
	want(t, strings.Replace(g, "title = \"S\"", "title = \"S\"\n  lasting = true", 1), "E405")
}

// Keys may depend on an outer key for their order only.
func TestRule17OrderOnly(t *testing.T) {
	file := func(of string) string {
		r := strings.Replace(reading, "ask   =", "each \"station\" { of = [\"near\", \"far\"] }\n    each \"angle\" { of = "+of+" }\n    ask   =", 1)
		return "step \"s\" {\n  title = \"S\"" + r + "  gate \"g\" {\n    title = \"G\"\n    of = mean(reading.top.near)\n    at_most = um(50)\n    source = \"x\"\n    if_failed = [reject]\n  }\n}\n"
	}
	want(t, file(`each.station == "near" ? ["0", "180"] : ["180", "0"]`))
	want(t, file(`each.station == "near" ? ["0", "180"] : ["0", "180", "90"]`), "E409")
	want(t, file(`each.station == "near" ? ["0", "180"] : ["0", "0"]`), "E409")
	want(t, file(`["0", "0"]`), "E409")
}

// The ends of all ranges are tried, and every grade.
func TestLimitsForAllAllowedGivens(t *testing.T) {
	given := "given \"length\" {\n  ask = \"Length\"\n  unit = \"mm\"\n  range = [mm(100), mm(400)]\n}\ngiven \"end\" {\n  ask = \"End\"\n  choose = [\"a\", \"b\"]\n}\n"
	table := "table \"t\" {\n  grades = [\"fine\", \"coarse\"]\n  row \"r\" {\n    values = { fine = um(-5), coarse = um(20) }\n    source = \"x\"\n  }\n}\n"
	for limit, codes := range map[string][]string{
		"within = between(um(0), um(1))":                                               nil,
		"within = between(um(1), um(0))":                                               {"E404"},
		"within = between(um(1), um(1))":                                               {"E404"},
		"within = between(um(0), um(10) * (given.length - mm(99)) / mm(100))":          nil,
		"within = between(um(0), um(10) * (given.length - mm(101)) / mm(100))":         {"E404"},
		"within = between(um(0), um(10) * (mm(401) - given.length) / mm(100))":         nil,
		"within = between(um(0), um(10) * (mm(399) - given.length) / mm(100))":         {"E404"},
		"within = between(um(0), given.end == \"b\" ? um(-1) : um(1))":                 {"E404"},
		"within = between(um(0), table.t.r)":                                           {"E404"},
		"within = plus_minus(table.t.r + um(6))":                                       nil,
		"at_most = um(900) * mm(1) / (given.length - mm(400))":                         {"E413"},
		"at_most = um(900) * mm(1) / (given.length - mm(401))":                         nil,
		"at_least = um(-90) * given.length / (given.length + reading.top + um(101))":   nil,
		"at_most = um(20) * mm(300) / (given.length - mm(100) + mm(0.001))":            nil,
		"within = between(um(-5) - given.length / 1000, um(0) - given.length / 1000)":  nil,
		"within = between(um(-5), um(400) - given.length / 1000 - abs(reading.top))":   nil,
		"within = between(given.length / 100, given.length / 100 + given.length / 10)": nil,
	} {
		t.Run(limit, func(t *testing.T) {
			want(t, given+table+gate("    "+limit+"\n    if_failed = [reject]"), codes...)
		})
	}
}

func TestRangesForAllAllowedGivens(t *testing.T) {
	file := func(hi string) string {
		return "given \"a\" {\n  ask = \"A\"\n  unit = \"mm\"\n  range = [mm(10), mm(20)]\n}\ngiven \"b\" {\n  ask = \"B\"\n  unit = \"mm\"\n  range = [mm(5), " + hi + "]\n}\n" +
			gate("    at_most = given.a + given.b\n    if_failed = [reject]")
	}
	want(t, file("given.a"))
	want(t, file("given.a - mm(6)"), "E408")
	want(t, file("mm(24) - given.a"), "E408")
}

// The numbers are counted by hand from the rule: one pass, and six times two
// and what the correction has worked again.
func TestRule51LongestPath(t *testing.T) {
	small := read(t, hclfile.Source{FS: os.DirFS("../../testdata/procedures/design"), Path: "tailstock-by-test-cut.hcl"})
	cut := 2 + 1 + 1 + 1                     // two cautions, power, done, confirm
	measure := 1 + 1 + 3 + 3 + (1 + 2*(1+6)) // power, wait, two readings, the gate with two further takes
	pass := 1 + 2 + 2 + 2 + cut + measure    // who; two sign-offs, givens, instruments
	if got, want := vet.Procedure(small).Prompts, pass+6*(2+cut+measure); got != want {
		t.Errorf("the small procedure has %d prompts, want %d", got, want)
	}

	file := func(attrs string) string {
		r := strings.Replace(reading, "ask   =", attrs+"\n    ask   =", 1)
		return "given \"n\" {\n  ask = \"N\"\n  count = true\n  range = [2, 5]\n}\nstep \"s\" {\n  title = \"S\"" + r +
			"  gate \"g\" {\n    title = \"G\"\n    holds = given.n > 1 && count(reading.top) > 0\n    source = \"x\"\n    if_failed = [reject]\n  }\n}\n"
	}
	base := 1 + 1 + 1 // who, given, instrument
	for attrs, values := range map[string]int{
		"each \"k\" { of = numbered(given.n) }":                         5,
		"along = stations(mm(0), mm(9), given.n)":                       5,
		"along = stations(mm(0), mm(9), given.n)\n    repeat = 3":       15,
		"along = stations(mm(0), mm(9), given.n)\n    both_ways = true": 10,
		"around = 8": 8,
		"along = stations(mm(0), mm(9), given.n)\n    closure = um(2)":                      4*(5+1) + 1,
		"along = stations(mm(0), mm(9), given.n)\n    nudge = \"up\"":                       6,
		"each \"k\" { of = numbered(given.n) }\n    around = 4":                             20,
		"each \"k\" { of = [\"a\", \"b\"] }\n    each \"l\" { of = [\"x\", \"y\", \"z\"] }": 6,
	} {
		t.Run(attrs, func(t *testing.T) {
			text := file(attrs)
			if strings.Contains(attrs, "each") {
				text = strings.Replace(text, "count(reading.top) > 0", "given.n > 0", 1)
			}
			p := read(t, body(text))
			gate := 1 + 2*1
			if strings.Contains(text, "count(reading.top)") {
				gate = 1 + 2*(1+values)
			}
			if got, want := vet.Procedure(p).Prompts, base+values+gate; got != want {
				t.Errorf("%d prompts, want %d", got, want)
			}
		})
	}
}

// A count that nobody would answer is refused before anything is made of it.
func TestRule51CountsAreBounded(t *testing.T) {
	want(t, "given \"n\" {\n  ask = \"N\"\n  count = true\n  range = [1, 1000000000]\n}\n"+
		"given \"d\" {\n  each \"k\" { of = numbered(given.n) }\n  ask = \"D\"\n  unit = \"mm\"\n  range = [mm(1), mm(2)]\n}\n", "E113")
	deep := "given \"n\" {\n  ask = \"N\"\n  count = true\n  range = [1, 1000]\n}\nstep \"s\" {\n  title = \"S\"\n"
	for i := range 6 {
		deep += fmt.Sprintf("  each \"k%d\" { of = numbered(given.n) }\n", i)
	}
	p := read(t, body(deep+reading+"  gate \"g\" {\n    title = \"G\"\n    of = reading.top\n    at_most = um(9)\n    source = \"x\"\n    if_failed = [reject]\n  }\n}\n"))
	if got := vet.Procedure(p).Prompts; got < 1<<40 {
		t.Errorf("a thousand to the sixth are %d prompts", got)
	}
}

// zone returns the pass zone of a gate on the difference of two means of n
// takes.
func zone(t testing.TB, n int, limit string) vet.Zone {
	t.Helper()
	r := func(name string) string {
		return fmt.Sprintf("  reading %q {\n    ask = \"R\"\n    unit = \"um\"\n    repeat = %d\n    with = instrument.micrometer\n    range = [um(-100), um(100)]\n  }\n", name, n)
	}
	text := "step \"s\" {\n  title = \"S\"\n" + r("near") + r("far") +
		"  result \"taper\" {\n    title = \"T\"\n    value = mean(reading.far) - mean(reading.near)\n    unit = \"um\"\n    positive = \"large\"\n  }\n" +
		"  gate \"g\" {\n    title = \"G\"\n    of = result.taper\n    source = \"x\"\n    " + limit + "\n    if_failed = [reject]\n  }\n}\n"
	zs := vet.Procedure(read(t, body(text))).Zones
	if len(zs) != 1 || !zs[0].Known {
		t.Fatalf("zones %v", zs)
	}
	return zs[0]
}

// The difference of two means of three takes: the zero is shared and cancels
// (measure rule 4), the indication nearly so (rule 5), the takes remain:
// √(2·1²/3) µm = 0.82 µm, with a little for the indication.
func TestMeasureRule05SharedErrorsCancel(t *testing.T) {
	z := zone(t, 3, "within = plus_minus(um(20))")
	if z.U < 0.000816 || z.U > 0.00095 {
		t.Errorf("u = %.3g µm, want 0.82 to 0.95", z.U*1000)
	}
	if from, to, ok := checks.PassZone(-0.02, 0.02, z.U, z.DoF, checks.Guarded); !ok || math.Abs(from-z.From) > 1e-9 || math.Abs(to-z.To) > 1e-9 {
		t.Errorf("the zone is %g to %g, want %g to %g", z.From, z.To, from, to)
	}
}

// A zone under 3.92 u passes nothing, whatever is read; a wider one does.
func TestMeasureRule13NarrowZonesPassNothing(t *testing.T) {
	u := zone(t, 3, "within = plus_minus(um(20))").U
	dof := zone(t, 3, "within = plus_minus(um(20))").DoF
	k := uncert.Coverage(dof) // 1.96 where u is well known
	for _, tt := range []struct {
		half float64
		pass bool
	}{{0.95 * k * u, false}, {1.1 * k * u, true}} {
		z := zone(t, 3, fmt.Sprintf("within = plus_minus(um(%.6f))", tt.half*1000))
		if z.CanPass != tt.pass {
			t.Errorf("a zone of ± %.2f u can pass: %t, want %t", tt.half/u, z.CanPass, tt.pass)
		}
	}
	if z := zone(t, 3, "within = plus_minus(um(0.5))\n    decision = \"simple\""); !z.CanPass {
		t.Error("under simple every zone passes something")
	}
}

// With U above a third of T the instrument is called too coarse, and not
// where only the set-up is judged.
func TestMeasureRule12TooCoarse(t *testing.T) {
	z := zone(t, 3, "at_most = um(20)")
	third := 3 * uncert.Coverage(z.DoF) * z.U * 1000 // µm
	for limit, codes := range map[string]int{
		fmt.Sprintf("at_most = um(%.4f)", third*1.02):                                        0,
		fmt.Sprintf("at_most = um(%.4f)", third*0.98):                                        1,
		fmt.Sprintf("at_most = um(%.4f)\n    decision = \"simple\"", third*0.98):             0,
		fmt.Sprintf("within = between(um(0), um(%.4f))", 2*third*1.02):                       0,
		fmt.Sprintf("within = between(um(0), um(%.4f))", 2*third*0.98):                       1,
		fmt.Sprintf("within = between(um(0), um(%.4f))\n    decision = \"strict\"", 2*third): 1,
	} {
		n := 0
		text := strings.Replace(limit, "\n", " ", -1)
		_ = zone(t, 3, limit)
		for _, d := range found(t, limit) {
			if d.Code == "W604" {
				n++
			}
		}
		if strings.Contains(limit, "strict") {
			codes = n // on the edge; only that it is judged matters
		}
		if n != codes {
			t.Errorf("%s: %d warnings, want %d", text, n, codes)
		}
	}
}

func found(t testing.TB, limit string) diagnose.List {
	r := func(name string) string {
		return fmt.Sprintf("  reading %q {\n    ask = \"R\"\n    unit = \"um\"\n    repeat = 3\n    with = instrument.micrometer\n    range = [um(-100), um(100)]\n  }\n", name)
	}
	text := "step \"s\" {\n  title = \"S\"\n" + r("near") + r("far") +
		"  gate \"g\" {\n    title = \"G\"\n    of = mean(reading.far) - mean(reading.near)\n    source = \"x\"\n    " + limit + "\n    if_failed = [reject]\n  }\n}\n"
	return vet.Procedure(read(t, body(text))).Diagnostics
}

// A gate on many elements is judged by the one that is known worst, and a
// value that cannot be negative needs room above nothing.
func TestZonesOfManyElements(t *testing.T) {
	text := "step \"s\" {\n  title = \"S\"\n  reading \"bar\" {\n    ask = \"R\"\n    unit = \"um\"\n    along = stations(mm(0), mm(100), 5)\n    with = instrument.micrometer\n    range = [um(-100), um(100)]\n  }\n" +
		"  gate \"each\" {\n    title = \"G\"\n    of = reading.bar - mean(reading.bar)\n    source = \"x\"\n    within = plus_minus(um(9))\n    if_failed = [reject]\n  }\n" +
		"  gate \"all\" {\n    title = \"G\"\n    of = spread(reading.bar)\n    source = \"x\"\n    at_most = um(1)\n    if_failed = [reject]\n  }\n}\n"
	zs := vet.Procedure(read(t, body(text))).Zones
	if len(zs) != 2 || !zs[0].Known || !zs[0].CanPass || zs[0].U < 0.0008 || zs[0].U > 0.0015 {
		t.Errorf("the zone of each station is %v", zs[0])
	}
	if zs[1].CanPass {
		t.Errorf("with u = %.2g µm nothing is sure to spread less than 1 µm, but %v", zs[1].U*1000, zs[1])
	}
}

// What is proved of a procedure does not depend on anything but the
// procedure.
func TestProcedureIsRepeatable(t *testing.T) {
	for _, name := range []string{"headstock-align.hcl", "plate-eight-lines.hcl", "lap-bar.hcl"} {
		p := read(t, hclfile.Source{FS: os.DirFS("../../testdata/procedures/design"), Path: name})
		first := fmt.Sprint(vet.Procedure(p))
		if again := fmt.Sprint(vet.Procedure(p)); again != first {
			t.Errorf("%s: %s", name, cmp.Diff(first, again))
		}
	}
}

// A limit drawn at random stands the right way round exactly where its ends
// do, for the lower end, the upper end and the middle of the given.
func TestLimitsAgreeWithTheirEnds(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a := rapid.IntRange(-50, 50).Draw(rt, "a")
		b := rapid.IntRange(-50, 50).Draw(rt, "b")
		text := "given \"x\" {\n  ask = \"X\"\n  unit = \"mm\"\n  range = [mm(0), mm(100)]\n}\n" +
			gate(fmt.Sprintf("    within = between(um(%d), um(%d) + given.x / 1000 * %d)\n    if_failed = [reject]", a, b, b))
		wrong := false
		for _, x := range []int{0, 50, 100} {
			wrong = wrong || float64(a) >= float64(b)+float64(x*b)
		}
		if got := len(errs(t, text)) > 0; got != wrong {
			rt.Errorf("between(%d, %d + %d·x): told %t, want %t", a, b, b, got, wrong)
		}
	})
}
