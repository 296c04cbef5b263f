// Package enginetest runs scenarios: what the engine is told, and what it
// then says.
//
// A scenario file is a list of blocks. The lines of a block up to "----" are
// told, those after it, up to an empty line, are what is said in answer. Lines
// that can be told:
//
//	begin PROCEDURE [key=value …]     machine numbers, "inch", "rule=strict", "gain.C=0.4"
//	NAME = VALUE [because REASON]     an answer; NAME may be "-" for whatever is asked
//	omit | back | pause               the verbs
//	sit NAME                          a new sitting
//	amend NAME TAKE VALUE because …   correct an answer
//	file NAME FILE                    a file, as evidence
//	cannot NAME because …             it cannot be taken
//	disturb NAME because …            something moved
//	shop {JSON}                       an instrument of the shop's register, as the
//	                                  journal has one; named by an answer, it counts
//	wait DURATION                     the clock goes on
//	sheet                             what comes next is typed in from a work sheet
//	gate NAME | explain               ask for a judgement, for the explanation
//	sets | givens | clock | words     ask what the record has of readings and of
//	                                  givens, how late it is, and for the words
//	                                  of the question
//	hands                             ask which instruments were in the hand
//
// With -update the answers are rewritten; read the difference.
package enginetest

import (
	"cmp"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/engine/drive"

	gocmp "github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite what scenarios say")

// Loader finds a procedure by name.
type Loader func(name string) (*engine.Plan, error)

// memory is a journal that forgets nothing while the test runs.
type memory struct{ events []engine.Event }

func (m *memory) Next() int { return len(m.events) + 1 }

func (m *memory) Append(ev ...engine.Event) error {
	for _, e := range ev {
		kind, data, err := engine.Encode(e.Data)
		if err != nil {
			return err
		}
		if e.Data, err = engine.Decode(kind, data); err != nil {
			return err
		}
		m.events = append(m.events, e)
	}
	return nil
}

// Start is the time at which every scenario begins.
var Start = time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)

// Runner is a run under test.
type Runner struct {
	*drive.Session
	Plan  *engine.Plan
	Clock time.Time
	mem   *memory
	shop  map[string]engine.Bound // instruments of the register, by id
}

// Begin starts a run of a plan.
func Begin(p *engine.Plan, b engine.Begun) (*Runner, error) {
	r := &Runner{Plan: p, Clock: Start, mem: &memory{}}
	r.Session = drive.New(engine.New(p), r.mem, func() time.Time { r.Clock = r.Clock.Add(time.Second); return r.Clock })
	b.Procedure = p.Procedure().Name
	_, err := r.Record(b, engine.Sat{Operator: "A. Fitter"})
	return r, err
}

// Events returns what the journal holds.
func (r *Runner) Events() []engine.Event { return r.mem.events }

// Run plays a scenario file.
func Run(t *testing.T, file string, load Loader) {
	t.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	var r *Runner
	for _, block := range blocks(string(raw)) {
		said := ""
		for _, line := range block.told {
			if line == "" || strings.HasPrefix(line, "#") {
				continue
			}
			if rest, ok := strings.CutPrefix(line, "begin "); ok {
				r = begin(t, rest, load)
				said += asked(r)
				continue
			}
			if r == nil {
				t.Fatalf("%s: %q comes before begin", file, line)
			}
			said += r.tell(line)
		}
		// Only what the last line led to is shown with the question.
		fmt.Fprintf(&out, "%s\n----\n%s\n", strings.Join(block.told, "\n"), said)
	}
	got := strings.TrimRight(out.String(), "\n") + "\n"
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := gocmp.Diff(string(raw), got); diff != "" {
		t.Errorf("%s (-file +said):\n%s", file, diff)
	}
	if r != nil {
		checkFold(t, file, r)
	}
}

// checkFold holds the state against a fold of its journal from the beginning.
func checkFold(t *testing.T, file string, r *Runner) {
	t.Helper()
	s, err := engine.Fold(r.Plan, r.Events())
	if err != nil {
		t.Errorf("%s: fold: %v", file, err)
		return
	}
	now := r.Clock
	if got, want := question(s, s.Next(now)), question(r.State(), r.State().Next(now)); got != want {
		t.Errorf("%s: the fold asks\n%s\nthe run asked\n%s", file, got, want)
	}
}

type block struct{ told []string }

func blocks(text string) []block {
	var out []block
	var cur []string
	said := false
	for _, line := range strings.Split(text, "\n") {
		switch {
		case said && line == "":
			said = false
		case said:
		case line == "----":
			out = append(out, block{cur})
			cur, said = nil, true
		default:
			cur = append(cur, line)
		}
	}
	for len(cur) > 0 && cur[len(cur)-1] == "" {
		cur = cur[:len(cur)-1]
	}
	if len(cur) > 0 {
		out = append(out, block{cur})
	}
	return out
}

func begin(t testing.TB, rest string, load Loader) *Runner {
	t.Helper()
	f := strings.Fields(rest)
	p, err := load(f[0])
	if err != nil {
		t.Fatal(err)
	}
	b := engine.Begun{Machine: engine.Machine{ID: "lathe-2", Class: "centre lathe", Numbers: map[string]engine.Stored{}}, Gains: map[string]float64{}}
	for _, kv := range f[1:] {
		k, v, _ := strings.Cut(kv, "=")
		switch {
		case k == "inch":
			b.Inch = true
		case k == "rule":
			b.Rule = v
		case strings.HasPrefix(k, "gain."):
			var g float64
			fmt.Sscanf(v, "%g", &g)
			b.Gains[strings.TrimPrefix(k, "gain.")] = g
		default:
			q, err := quantity.Parse(v, quantity.Context{Any: true})
			if err != nil {
				t.Fatalf("%s: %v", kv, err)
			}
			b.Machine.Numbers[k] = engine.Stored{Value: q[0].Unit.Of(q[0].Value), Unit: q[0].Unit.Name}
		}
	}
	r, err := Begin(p, b)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// tell says one line to the run and returns what it says.
func (r *Runner) tell(line string) string {
	in, special := r.input(line)
	if special != "" {
		return special
	}
	notices, refusal, err := r.Say(in)
	if err != nil {
		return "error: " + err.Error() + "\n"
	}
	if refusal != nil {
		return "refused (" + refusal.Code + "): " + strings.TrimSpace(strings.Join([]string{refusal.Understood, refusal.Wrong, refusal.Mend}, " ")) + "\n"
	}
	return told(notices) + asked(r)
}

func (r *Runner) input(line string) (in engine.Input, special string) {
	line, reason, _ := strings.Cut(line, " because ")
	in.Reason = reason
	word, rest, _ := strings.Cut(line, " ")
	switch word {
	case "omit", "back", "pause":
		in.Verb = engine.Verb(word)
		return in, ""
	case "sit":
		return engine.Input{Name: "operator", Text: rest}, ""
	case "wait":
		d, err := time.ParseDuration(rest)
		if err != nil {
			return in, "error: " + err.Error() + "\n"
		}
		r.Clock = r.Clock.Add(d)
		return in, asked(r)
	case "gate":
		for _, j := range r.State().Judgements() {
			if j.Name == rest {
				return in, judgement(&j)
			}
		}
		return in, "no such gate\n"
	case "sheet":
		if _, err := r.Record(engine.FromSheet{}); err != nil {
			return in, "error: " + err.Error() + "\n"
		}
		return in, asked(r)
	case "sets":
		return in, sets(r.State())
	case "givens":
		return in, givens(r.State())
	case "words":
		q := r.Next()
		all := append(append([]string{q.Ask}, q.Do...), q.Why)
		return in, strings.Join(slices.DeleteFunc(all, func(w string) bool { return w == "" }), " | ") + "\n"
	case "clock":
		return in, r.Clock.Sub(Start).Round(time.Minute).String() + " since the beginning\n"
	case "shop":
		var b engine.Bound
		if err := json.Unmarshal([]byte(rest), &b); err != nil {
			return in, "error: " + err.Error() + "\n"
		}
		if r.shop == nil {
			r.shop = map[string]engine.Bound{}
		}
		r.shop[b.ID] = b
		return in, "registered " + b.ID + "\n"
	case "hands":
		return in, hands(r.Events())
	case "file":
		name, path, _ := strings.Cut(rest, " ")
		in.Name, in.File = name, &engine.File{Name: path, SHA256: strings.Repeat("0", 64), Size: 1}
		return in, ""
	case "explain":
		return in, strings.Join(r.State().Explain(r.Next()), "\n") + "\n"
	case "amend":
		f := strings.SplitN(rest, " ", 3)
		in.Verb, in.Name, in.Text = engine.Amend, f[0], f[len(f)-1]
		if len(f) == 3 {
			fmt.Sscanf(f[1], "%d", &in.Take)
		}
		return in, ""
	case "cannot", "disturb", "note":
		in.Verb, in.Name = engine.Verb(word), rest
		if word == "note" {
			in.Name, in.Text = "", rest
		}
		return in, ""
	}
	name, value, _ := strings.Cut(line, " = ")
	if name != "-" {
		in.Name = strings.TrimSpace(name)
	}
	in.Text = strings.TrimSpace(value)
	if b, ok := r.shop[in.Text]; ok && (strings.HasPrefix(in.Name, "instrument.") || r.Next().Kind == engine.AskInstrument) {
		in.Known = &b
	}
	return in, ""
}

// hands lists the instruments that were named, and what was odd about them.
func hands(events []engine.Event) string {
	var b strings.Builder
	for _, ev := range events {
		d, ok := ev.Data.(engine.Bound)
		if !ok {
			continue
		}
		fmt.Fprintf(&b, "%s: %s", d.Name, cmp.Or(d.ID, "not identified"))
		for _, o := range d.Odd {
			fmt.Fprintf(&b, ", %s (%s)", o.What, o.Said)
		}
		if d.Reason != "" {
			b.WriteString(", because " + d.Reason)
		}
		b.WriteString("\n")
	}
	return b.String()
}

func told(notices []engine.Notice) string {
	var b strings.Builder
	for _, n := range notices {
		switch n.Kind {
		case engine.Settled:
			b.WriteString(judgement(n.Judgement))
			b.WriteString(change(n.Change, n.Judgement))
		case engine.Answers:
			b.WriteString(response(n.Response))
		case engine.Suspect:
			b.WriteString(suspicion(*n.Suspicion))
		case engine.SetVoid:
			u := n.Drift.Reading.Unit
			fmt.Fprintf(&b, "void %s: moved %s, allowed %s, number %d\n", n.Name, quantity.Plain(n.Drift.Moved, *u), quantity.Plain(n.Drift.Allowed, *u), n.Drift.Voids)
		default:
			fmt.Fprintf(&b, "%s: %s\n", n.Kind, n.Text)
		}
	}
	return b.String()
}

func judgement(j *engine.Judgement) string {
	var b strings.Builder
	fmt.Fprintf(&b, "gate %s: %s", j.Name, j.Verdict)
	switch {
	case j.Holds:
	case j.Verdict == checks.NotApplied || j.Verdict == checks.NotMeasured || j.Verdict == checks.Open:
		if j.Why != "" {
			fmt.Fprintf(&b, " (%s)", j.Why)
		}
	default:
		y, u := quantity.Rounded(j.Value, j.U, j.Unit)
		fmt.Fprintf(&b, ", %s ± %s, p %.3f, limits %s to %s", y, u, j.P, limit(j.Lo, j.Unit), limit(j.Hi, j.Unit))
		if j.Element != "" {
			fmt.Fprintf(&b, ", at %s", j.Element)
		}
	}
	if c := j.Conceded; c != nil {
		fmt.Fprintf(&b, ", concession asked: %s", c.Reason)
	}
	b.WriteString("\n")
	return b.String()
}

// change says whether a value differs from the one before it.
func change(c *engine.Change, j *engine.Judgement) string {
	if c == nil {
		return ""
	}
	d := j.Unit.Difference()
	by, u := quantity.Rounded(c.By, c.U, d)
	said := "no difference shown"
	if c.Shown {
		said = "a difference"
	}
	return fmt.Sprintf("  changed by %s ± %s since attempt %d: %s\n", by, u, c.Since, said)
}

// sets lists what the record has of readings.
func sets(s *engine.State) string {
	var b strings.Builder
	for _, set := range s.Readings() {
		fmt.Fprintf(&b, "%s, working %d: %s", set.Name, set.Working, set.State)
		if set.Why != "" {
			fmt.Fprintf(&b, " (%s)", set.Why)
		}
		for _, t := range set.Takes {
			fmt.Fprintf(&b, ", %s", t.Typed)
		}
		b.WriteString("\n")
	}
	return b.String()
}

// givens lists what the record has of givens.
func givens(s *engine.State) string {
	var b strings.Builder
	for _, f := range s.Givens() {
		exact := "with an uncertainty"
		if f.Exact {
			exact = "exact"
		}
		fmt.Fprintf(&b, "%s: %s", f.Name, exact)
		if f.From != "" {
			b.WriteString(", from " + f.From)
		}
		b.WriteString("\n")
	}
	return b.String()
}

func limit(x float64, u quantity.Unit) string {
	if math.IsInf(x, 0) {
		return "none"
	}
	return quantity.Format(x, u, 2)
}

func response(r *engine.Response) string {
	if r.Cannot != "" {
		return fmt.Sprintf("response of %s %d: cannot be told, %s\n", r.Correction.Name, r.Attempt, r.Cannot)
	}
	s := fmt.Sprintf("response of %s %d: %s (response %.2f, fidelity %.2f", r.Correction.Name, r.Attempt, r.Finding.Word, r.Finding.Rho, r.Finding.Kappa)
	if r.Finding.GainKnown {
		s += fmt.Sprintf(", gain %.2f", r.Finding.Gain)
	}
	return s + ")\n"
}

func suspicion(x engine.Suspicion) string {
	return fmt.Sprintf("looks like %s, %s (%s): %s %s\n", x.Kind, x.Name, x.ByNoise, x.Said, x.Mend)
}

func asked(r *Runner) string { return question(r.State(), r.State().Next(r.Clock)) }

func question(s *engine.State, q engine.Question) string {
	var b strings.Builder
	if q.Expired != "" {
		fmt.Fprintf(&b, "expired: %s\n", q.Expired)
	}
	fmt.Fprintf(&b, "next: %s", q.Name)
	if q.Field != "" {
		fmt.Fprintf(&b, ", field %s", q.Field)
	}
	switch q.Kind {
	case engine.End:
		return fmt.Sprintf("end: %s\n", q.Outcome)
	case engine.AskReading:
		if q.Takes > 0 {
			fmt.Fprintf(&b, ", take %d of %d", q.Take, q.Takes)
		}
		if q.Stations > 0 {
			fmt.Fprintf(&b, ", place %d of %d", q.Station, q.Stations)
		}
	case engine.AskClear:
		for _, c := range q.Cautions {
			fmt.Fprintf(&b, ", caution %s", c.Name)
		}
		if q.SpindleTo != 0 {
			fmt.Fprintf(&b, ", spindle %s", q.SpindleTo)
		}
	case engine.AskWay:
		b.WriteString("\n")
		b.WriteString(judgement(q.Gate))
		for _, w := range q.Ways {
			b.WriteString("way " + w.Name)
			if ad := w.Advice; ad != nil && ad.HasAmount {
				if len(ad.At) == 0 {
					fmt.Fprintf(&b, ", %s %s", quantity.Format(math.Abs(ad.Amount), ad.Unit, 4), ad.Direction)
				} else {
					for i := range ad.At {
						fmt.Fprintf(&b, ", %s", quantity.Format(ad.Amounts[i], ad.Unit, 2))
					}
				}
				if ad.Divisions > 0 {
					fmt.Fprintf(&b, ", %.1f divisions", ad.Divisions)
				}
				fmt.Fprintf(&b, ", %d left", ad.Left)
			}
			b.WriteString("\n")
		}
		for _, w := range q.Withheld {
			b.WriteString("not " + w.Name + ": " + w.Why + "\n")
		}
		for _, x := range q.Suspicions {
			b.WriteString(suspicion(x))
		}
		for _, o := range q.Open {
			b.WriteString("upstream: " + o + "\n")
		}
		return b.String()
	case engine.AskMove:
		m := q.Move
		fmt.Fprintf(&b, ", asked %s %s, moved %s %s", quantity.Format(math.Abs(m.Asked), m.Unit, 4), m.AskedWay, quantity.Format(math.Abs(m.Moved), m.Unit, 4), m.MovedWay)
		if m.Nudge {
			b.WriteString(", test the needle")
		} else {
			fmt.Fprintf(&b, ", now %s %s", quantity.Format(math.Abs(m.Left), m.Unit, 4), m.LeftWay)
		}
	case engine.AskSign:
		for _, o := range q.Open {
			fmt.Fprintf(&b, ", open: %s", o)
		}
	}
	b.WriteString("\n")
	return b.String()
}
