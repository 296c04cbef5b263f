package protocol

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/cmd/waywright/internal/prompt"
	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
)

func begin(t testing.TB, name string, inch bool) *enginetest.Runner {
	t.Helper()
	l, diags := hclfile.Parse(hclfile.Source{FS: os.DirFS("../../../../testdata/procedures/design"), Path: name + ".hcl"})
	if diags.HasErrors() {
		t.Fatalf("%s: %v", name, diags)
	}
	r, err := enginetest.Begin(engine.NewPlan(l.Procedure), engine.Begun{Inch: inch, Machine: engine.Machine{ID: "lathe-2", Class: "centre lathe"}})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func schema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("protocol.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("protocol.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// converse says the lines to a run and returns what came out, each line held
// against the schema.
func converse(t testing.TB, s prompt.Session, opts Options, lines ...string) ([]map[string]any, prompt.Result) {
	t.Helper()
	sch := schema(t)
	var out bytes.Buffer
	result, err := Serve(strings.NewReader(strings.Join(lines, "\n")+"\n"), &out, s, opts)
	if err != nil {
		t.Fatalf("Serve: %v", err)
	}
	return validated(t, sch, out.Bytes()), result
}

func validated(t testing.TB, sch *jsonschema.Schema, out []byte) []map[string]any {
	t.Helper()
	var all []map[string]any
	sc := bufio.NewScanner(bytes.NewReader(out))
	sc.Buffer(nil, 1<<20)
	for sc.Scan() {
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(sc.Bytes()))
		if err != nil {
			t.Fatalf("%s: %v", sc.Bytes(), err)
		}
		if err := sch.Validate(v); err != nil {
			t.Fatalf("%s: %v", sc.Bytes(), err)
		}
		var m map[string]any
		if err := json.Unmarshal(sc.Bytes(), &m); err != nil {
			t.Fatal(err)
		}
		all = append(all, m)
	}
	return all
}

func say(text string) string {
	b, err := json.Marshal(map[string]string{"type": "answer", "text": text})
	if err != nil {
		panic(err)
	}
	return string(b)
}

func says(texts ...string) []string {
	out := make([]string, len(texts))
	for i, x := range texts {
		out[i] = say(x)
	}
	return out
}

// of returns the lines of a type.
func of(all []map[string]any, typ string) []map[string]any {
	var out []map[string]any
	for _, m := range all {
		if m["type"] == typ {
			out = append(out, m)
		}
	}
	return out
}

const short = `{"type":"answer","text":"short","reason":"no heat went in"}`

// tapered is a run of the test cut up to the verdict: the tailstock end is
// 0.0283 thicker over 250 of 300 between centres, so the tailstock has to
// move 0.017 towards the operator (derived here, D2−D1 over 2 × L/l).
func tapered() []string {
	lines := says("300", "250", "yes", "yes", "yes")
	lines = append(lines, short)
	return append(lines, says("M-3", "20.011 20.012 20.011", "20.039 20.040 20.040")...)
}

func TestQuestionTellsAllThatAnotherFrontEndNeeds(t *testing.T) {
	all, result := converse(t, begin(t, "tailstock-by-test-cut", false), Options{}, tapered()...)
	if want := (prompt.Result{Paused: true, Outcome: engine.NotDecided, Reason: "the input ended"}); result != want {
		t.Errorf("result %+v, want %+v", result, want)
	}
	qs := of(all, "question")
	got := qs[len(qs)-2] // the tailstock end, take 1
	want := map[string]any{
		"v": 1.0, "type": "question", "id": "9", "name": "tailstock_end", "kind": "reading", "answer": "number", "outcome": "not_decided",
		"step":    map[string]any{"n": 2.0, "of": 2.0, "name": "measure", "title": "Measure both collars"},
		"spindle": "stopped", "text": "Diameter, tailstock-end collar",
		"unit": map[string]any{"name": "mm", "symbol": "mm", "ucum": "mm"}, "decimals": 3.0,
		"range": map[string]any{"from": 5.0, "to": 120.0},
		"instrument": map[string]any{"name": "micrometer", "kind": "outside micrometer", "id": "M-3", "resolution": 1.0,
			"unit": map[string]any{"name": "um", "symbol": "µm", "ucum": "um"}},
		"take": 1.0, "takes": 3.0, "remaining": 3.0,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("question (-want +got):\n%s", diff)
	}
}

func TestVerdictAndAdviceCarryNumbersWithUnits(t *testing.T) {
	all, _ := converse(t, begin(t, "tailstock-by-test-cut", false), Options{}, tapered()...)
	g := of(all, "settled")[0]["gate"].(map[string]any)
	if g["name"] != "cylindrical" || g["verdict"] != "fail" || g["positive"] != "larger at the tailstock end" || g["negative"] != "larger at the headstock end" {
		t.Errorf("gate: %v", g)
	}
	near(t, "value", g["value"], 28.333, 0.001) // µm: the mean of three less the mean of three
	near(t, "lo", g["lo"], -16.667, 0.001)      // 20 µm in 300, over 250
	near(t, "hi", g["hi"], 16.667, 0.001)
	if u, ok := g["U"].(float64); !ok || u <= 0 {
		t.Errorf("U = %v", g["U"])
	}
	a := of(all, "advice")[0]
	near(t, "amount", a["amount"], 0.017, 1e-9)
	if a["direction"] != "towards the operator" || a["report"] != "set_over.moved" || a["unit"].(map[string]any)["name"] != "mm" {
		t.Errorf("advice: %v", a)
	}
	q := of(all, "question")
	last := q[len(q)-1]
	if diff := cmp.Diff([]any{"set_over.moved"}, last["also"]); last["kind"] != "way" || diff != "" {
		t.Errorf("question: %v", last)
	}
}

func near(t *testing.T, what string, got any, want, tol float64) {
	t.Helper()
	if x, ok := got.(float64); !ok || math.Abs(x-want) > tol {
		t.Errorf("%s = %v, want %v ± %g", what, got, want, tol)
	}
}

func TestWrongWayIsToldBeforeACut(t *testing.T) {
	all, _ := converse(t, begin(t, "tailstock-by-test-cut", false), Options{}, append(tapered(), say("0.05 away"))...)
	q := of(all, "question")
	m := q[len(q)-1]["move"].(map[string]any)
	if m["band"] != "minus" || m["left_way"] != "towards the operator" {
		t.Errorf("move: %v", m)
	}
	near(t, "left", m["left"], 0.067, 1e-9)
}

func TestInchRunSpeaksInches(t *testing.T) {
	lines := append(says("12", "10", "yes", "yes", "yes"), short)
	lines = append(lines, says("M-3", "0.7878 0.7879 0.7878", "0.7889 0.7890 0.7890")...)
	all, _ := converse(t, begin(t, "tailstock-by-test-cut", true), Options{}, lines...)
	g := of(all, "settled")[0]["gate"].(map[string]any)
	if u := g["unit"].(map[string]any)["name"]; u != "thou" {
		t.Errorf("gate in %v, want thou", u)
	}
	near(t, "value", g["value"], 1.1333, 0.001)
	if u := of(all, "question")[0]["unit"].(map[string]any)["name"]; u != "inch" {
		t.Errorf("asked in %v, want inch", u)
	}
}

func TestRefusalsTellWhyAndKeepTheQuestion(t *testing.T) {
	for _, tt := range []struct{ line, code, wrong string }{
		{say("4 degrees"), "value", ""},
		{say("2000"), "range", "Expected 80 mm to 1500 mm."},
		{say("NaN"), "value", ""},
		{say("1e400"), "value", ""},
		{say("--5"), "value", ""},
		{say(""), "value", "Enter alone answers nothing."},
		{`{"type":"answer","name":"span","text":"250"}`, "name", "Now centres is asked."},
		{`{"type":"answer","id":"7","text":"300"}`, "id", `The open question has the id "1": centres.`},
		{`{"type":"answer","nonsense":1}`, "json", ""},
		{`{"type":"answer","text":3}`, "json", ""},
		{`{"type":"answer","text":"300"} {"type":"ask"}`, "json", "More than one object stands on the line."},
		{`300`, "json", ""},
		{`null`, "type", ""},
		{"\xff{}", "json", "The line is not UTF-8."},
		{`{"type":"question"}`, "type", "Only answer and ask go in."},
		{`{"type":"answer","verb":"nonsense"}`, "verb", "There is no such verb."},
		{`{"type":"answer","verb":"attach","file":"bed.jpg","text":"the bed"}`, "file", "This session keeps no files."},
		{`{"type":"answer","verb":"omit"}`, "name", "centres must be answered."},
	} {
		t.Run(tt.line, func(t *testing.T) {
			r := begin(t, "tailstock-by-test-cut", false)
			all, _ := converse(t, r, Options{}, tt.line)
			rs := of(all, "refusal")
			if len(rs) != 1 || rs[0]["code"] != tt.code || rs[0]["id"] != "1" {
				t.Fatalf("%s: got %v, want one refusal with the code %q", tt.line, all, tt.code)
			}
			if tt.wrong != "" && rs[0]["wrong"] != tt.wrong {
				t.Errorf("%s: wrong = %q, want %q", tt.line, rs[0]["wrong"], tt.wrong)
			}
			if q := r.Next(); q.Kind != engine.AskOperator { // the input ended: only the pause was kept
				t.Errorf("%s: the run asks %s", tt.line, q.Name)
			}
		})
	}
}

// A gauge that sends its value twice answers one question.
func TestAnswerForAnotherQuestionIsRefused(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut", false)
	twice := `{"type":"answer","id":"1","text":"300"}`
	all, _ := converse(t, r, Options{}, twice, twice, `{"type":"ask"}`)
	if rs := of(all, "refusal"); len(rs) != 1 || rs[0]["code"] != "id" || rs[0]["id"] != "2" {
		t.Errorf("refusals: %v", rs)
	}
	qs := of(all, "question")
	if len(qs) != 3 || qs[1]["id"] != "2" || qs[2]["id"] != "2" || qs[2]["name"] != "span" {
		t.Errorf("questions: %v", qs)
	}
}

func TestEndTellsOutcomeVerdictsAndRecord(t *testing.T) {
	lines := append(says("300", "250", "yes", "yes", "yes"), short)
	lines = append(lines, says("M-3", "20.011 20.012 20.011", "20.011 20.012 20.011", "A. Fitter", "B. Inspector")...)
	r := begin(t, "tailstock-by-test-cut", false)
	opts := Options{Record: func(res prompt.Result) (string, error) {
		if !res.Ended {
			return "", errors.New("not ended")
		}
		return "runs/tail/record.json", nil
	}}
	all, result := converse(t, r, opts, lines...)
	want := map[string]any{"v": 1.0, "type": "end", "ended": true, "paused": false, "outcome": "accepted", "record": "runs/tail/record.json",
		"gates": []any{map[string]any{"name": "cylindrical", "verdict": "pass"}}}
	if diff := cmp.Diff(want, all[len(all)-1]); diff != "" {
		t.Errorf("end (-want +got):\n%s", diff)
	}
	if !result.Ended || result.Outcome != engine.Accepted {
		t.Errorf("result %+v", result)
	}
}

func TestPauseEndsTheSession(t *testing.T) {
	all, result := converse(t, begin(t, "tailstock-by-test-cut", false), Options{}, say("300"), `{"type":"answer","verb":"pause"}`, say("250"))
	if last := all[len(all)-1]; last["type"] != "end" || last["paused"] != true || !result.Paused {
		t.Errorf("last line %v, result %+v", last, result)
	}
	if n := len(of(all, "question")); n != 2 {
		t.Errorf("%d questions, want 2: nothing is asked after a pause", n)
	}
}

func TestRecordThatCannotBeWrittenIsTold(t *testing.T) {
	var out bytes.Buffer
	_, err := Serve(strings.NewReader(""), &out, begin(t, "tailstock-by-test-cut", false), Options{
		Record: func(prompt.Result) (string, error) { return "", errors.New("disk full") }})
	all := validated(t, schema(t), out.Bytes())
	if last := all[len(all)-1]; last["error"] != "disk full" || err == nil {
		t.Errorf("end %v, error %v", last, err)
	}
}

type noOutput struct{}

func (noOutput) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestOutputThatIsGoneEndsTheSession(t *testing.T) {
	_, err := Serve(strings.NewReader(say("300")), noOutput{}, begin(t, "tailstock-by-test-cut", false), Options{})
	if !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("error %v", err)
	}
}

func TestLongLineEndsTheSession(t *testing.T) {
	var out bytes.Buffer
	in := io.MultiReader(strings.NewReader(`{"type":"answer","text":"`), strings.NewReader(strings.Repeat("9", maxLine)))
	result, err := Serve(in, &out, begin(t, "tailstock-by-test-cut", false), Options{})
	if err == nil || !result.Paused {
		t.Errorf("result %+v, error %v", result, err)
	}
	validated(t, schema(t), out.Bytes())
}

// Every field that the engine can fill, filled: what comes out is of the
// schema, and every field of the schema can come out.
func TestSchemaAndLinesAgree(t *testing.T) {
	sch := schema(t)
	um, err := quantity.Lookup("um")
	if err != nil {
		t.Fatal(err)
	}
	inf := math.Inf(1)
	j := engine.Judgement{Name: "level", Title: "Level", Verdict: checks.Fail, Value: 1, U: math.NaN(), K: 2, Dof: inf, P: 0.1, Lo: -inf, Hi: inf,
		Rule: checks.Guarded, Unit: um, Positive: "free end high", Element: "a", Elements: []engine.Element{{Key: "a", Lo: -inf, Hi: 0.02, U: inf}},
		Budget: []uncert.Line{{Source: "micrometer", Share: math.NaN()}}, Source: "shop rule", Why: "x",
		Conceded: &engine.Concession{Reason: "r", By: "A", Decided: true, Granted: true, Role: "inspector", Because: "b"}}
	q := engine.Question{Name: "x", Kind: engine.AskReading, Unit: &um, Range: &engine.Range{From: -inf, To: inf}, So: []float64{math.NaN(), 1},
		At: []float64{0, 10}, Offer: &engine.Offer{Value: math.NaN(), Text: "?"}, Gate: &j,
		Wait: &engine.Waiting{Last: []float64{inf}, Agree: inf, Every: 1}}
	for _, v := range []any{shape{}.question(q, true), settled{Version, "settled", shape{}.gate(j)}} {
		b, err := json.Marshal(v)
		if err != nil {
			t.Fatalf("%T: %v", v, err)
		}
		doc, _ := jsonschema.UnmarshalJSON(bytes.NewReader(b))
		if m, ok := doc.(map[string]any); ok && m["type"] == "question" {
			m["id"] = "1"
		}
		if err := sch.Validate(doc); err != nil {
			t.Errorf("%s: %v", b, err)
		}
	}
}

// The schema refuses what the reader refuses before it reaches a question, and
// takes the rest.
func TestSchemaTellsGoodLinesFromBad(t *testing.T) {
	sch := schema(t)
	for _, line := range []string{
		say("300"), short, `{"type":"ask"}`, `{"type":"answer","id":"7","name":"span","text":"250"}`,
		`{"type":"answer","verb":"amend","name":"span","take":1,"text":"252","reason":"mistyped"}`, `{"type":"answer","verb":"attach","file":"bed.jpg"}`,
		`{"type":"answer","nonsense":1}`, `{"type":"answer","text":3}`, `300`, `null`, `{"type":"question"}`, `{"type":"answer","verb":"nonsense"}`, `{"type":"answer","take":"2"}`,
	} {
		doc, err := jsonschema.UnmarshalJSON(strings.NewReader(line))
		if err != nil {
			t.Fatal(err)
		}
		err = sch.Validate(doc)
		if _, bad := parseLine([]byte(line)); (bad == nil) != (err == nil) {
			t.Errorf("%s: the reader says %v, the schema %v", line, bad, err)
		}
	}
}

// The fields of the schema are those of the lines, name for name.
func TestSchemaHasEveryField(t *testing.T) {
	var doc struct {
		Defs map[string]struct {
			Properties map[string]any `json:"properties"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal(Schema, &doc); err != nil {
		t.Fatal(err)
	}
	for name, v := range map[string]any{
		"question": question{}, "advice": advice{}, "notice": notice{}, "settled": settled{}, "refusal": refusal{}, "end": end{}, "answer": answer{},
		"gate": gate{}, "response": response{}, "move": move{}, "unit": unit{}, "choice": choice{}, "instrument": instrument{},
		"concession": concession{}, "element": element{},
	} {
		var want, got []string
		for f := range reflect.TypeOf(v).Fields() {
			tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			want = append(want, tag)
		}
		for p := range doc.Defs[name].Properties {
			got = append(got, p)
		}
		slices.Sort(want)
		slices.Sort(got)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-lines +schema):\n%s", name, diff)
		}
	}
}

func FuzzParseLine(f *testing.F) {
	for _, s := range []string{say("31.847"), `{"type":"ask"}`, `{"type":"answer","verb":"amend","name":"span","take":2,"text":"3","reason":"r"}`,
		`{`, `[]`, "\xff", `{"type":"answer","take":1e99}`, `{"type":"answer","id":"` + strings.Repeat("a", 100) + `"}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		a, bad := parseLine(line)
		if bad != nil {
			if bad.Code == "" || bad.Wrong == "" || bad.Mend == "" {
				t.Fatalf("%q: a refusal says code, wrong and mend: %+v", line, bad)
			}
			return
		}
		// What was understood says the same again.
		b, err := json.Marshal(a)
		if err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		again, bad := parseLine(b)
		if bad != nil || again != a {
			t.Fatalf("%q: read %+v, then %+v, %v", line, a, again, bad)
		}
		if _, ok := verbs[a.Verb]; !ok {
			t.Fatalf("%q: unknown verb passed", line)
		}
	})
}

// Of a row the refusal names the odd value, so that a gauge sends that one again
// and the good ones by themselves.
func TestOddValueOfARowIsNamed(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut", false)
	lines := append(tapered()[:7], say("20.011 20.112 20.012"))
	all, _ := converse(t, r, Options{}, lines...)
	rs := of(all, "refusal")
	if len(rs) != 1 || rs[0]["code"] != "spread" || rs[0]["at"] != 2.0 || rs[0]["keep"] != true {
		t.Fatalf("refused as %v", rs)
	}
	if row, ok := rs[0]["row"].([]any); !ok || len(row) != 3 || row[1] != "20.112" {
		t.Errorf("the row is %v", rs[0]["row"])
	}
}
