package overhaul_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/drive"
	"waywright/engine/overhaul"
	"waywright/procedures"
	"waywright/procedures/hclfile"
)

// kind is a procedure that reads how high a part stands and mends it.
type kind struct {
	name     string
	disturbs string // of other procedures, that mending spoils
	from     string // the procedure that a value is taken over from
}

var kinds = []kind{
	{name: "bed"},
	{name: "head", disturbs: "quill"},
	{name: "tail"},
	{name: "quill"},
	{name: "collars", from: "bed"},
	{name: "sleeve", from: "collars"},
}

const form = `procedure "%[1]s" {
  title    = "The %[1]s stands level"
  machine  = "any"
  revision = "1"
  purpose  = "Read how high it stands."
  decision = "simple"
}
%[2]s
step "look" {
  title = "Read the %[1]s"
  reading "high" {
    ask      = "Height of the %[1]s"
    unit     = "um"
    positive = "high"
    range    = [um(-100), um(100)]
  }
  result "by" {
    title    = "Height of the %[1]s"
    value    = reading.high%[3]s
    unit     = "um"
    positive = "high"
  }
  gate "level" {
    title     = "The %[1]s stands level"
    of        = result.by
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [correction.mend, reject]
  }
}
correction "mend" {
  title    = "Mend the %[1]s"
  do       = ["Mend it."]
  attempts = 3
  %[4]s
}
signoff "fitter" { title = "Carried out by" }
`

func (k kind) source() string {
	given, less, disturbs := "", "", ""
	if k.from != "" {
		given = fmt.Sprintf("given \"taken\" {\n  title = \"What %[1]s has\"\n  unit = \"um\"\n  from = accepted[%[1]q].result.by\n}", k.from)
		less = " - given.taken"
	}
	if k.disturbs != "" {
		disturbs = fmt.Sprintf("disturbs = [accepted[%q]]", k.disturbs)
	}
	return fmt.Sprintf(form, k.name, given, less, disturbs)
}

// shop is the procedures with plans beside them.
func shop(t *testing.T, plans ...string) (map[string]*procedures.Procedure, []*procedures.Overhaul) {
	t.Helper()
	fsys := fstest.MapFS{}
	for _, k := range kinds {
		fsys[k.name+".hcl"] = &fstest.MapFile{Data: []byte(k.source())}
	}
	procs := map[string]*procedures.Procedure{}
	for _, k := range kinds {
		l, ds := hclfile.Parse(hclfile.Source{FS: fsys, Path: k.name + ".hcl"})
		if ds.HasErrors() {
			t.Fatalf("%s: %v", k.name, ds)
		}
		procs[k.name] = l.Procedure
	}
	var out []*procedures.Overhaul
	for i, p := range plans {
		name := fmt.Sprintf("plan-%d", i+1)
		head := fmt.Sprintf("overhaul %q {\n  title = \"Plan\"\n  machine = \"any\"\n  revision = \"1\"\n}\n", name)
		fsys[name+".hcl"] = &fstest.MapFile{Data: []byte(head + p)}
		l, ds := hclfile.Parse(hclfile.Source{FS: fsys, Path: name + ".hcl"})
		if ds.HasErrors() {
			t.Fatalf("plan: %v", ds)
		}
		out = append(out, l.Overhaul)
	}
	return procs, out
}

// journal is a journal that forgets nothing while the test runs.
type journal struct{ n int }

func (j *journal) Next() int { return j.n + 1 }
func (j *journal) Append(ev ...engine.Event) error {
	j.n += len(ev)
	return nil
}

var start = time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)

// day is the morning of a day, from 1.
func day(n int) time.Time { return start.AddDate(0, 0, n-1) }

// work plays a run: "1: bed: high=5; fitter=Ana" is a run of bed, begun on day
// 1. "@3" goes on on day 3; "task=a" and "plan=b" before the colon say what it
// is begun for, "anew=why" that the plan is begun anew with it. The runs are called by their procedure and its day: bed-1.
func work(t *testing.T, procs map[string]*procedures.Procedure, lines ...string) []overhaul.Run {
	t.Helper()
	var runs []overhaul.Run
	for _, line := range lines {
		runs = append(runs, play(t, procs, runs, line))
	}
	return runs
}

func play(t *testing.T, procs map[string]*procedures.Procedure, before []overhaul.Run, line string) overhaul.Run {
	t.Helper()
	p := strings.SplitN(line, ": ", 3)
	words := strings.Fields(p[1])
	begun := engine.Begun{Procedure: words[0], Machine: machine}
	for _, w := range words[1:] {
		k, v, _ := strings.Cut(w, "=")
		switch k {
		case "task":
			begun.Task = v
		case "plan":
			begun.Overhaul = v
		case "machine":
			begun.Machine.ID = v
		case "anew":
			begun.Anew = &engine.Anew{Because: v}
		}
	}
	var n int
	fmt.Sscanf(p[0], "%d", &n)
	clock := day(n)
	if begun.Anew != nil {
		begun.Anew.Since = clock
	}
	proc := procs[words[0]]
	for _, g := range proc.Givens {
		for _, r := range g.From.Refs() {
			procedure, _, _ := strings.Cut(r.Name, ".")
			run, at, _, ok := overhaul.Read(machine, before).Newest(procedure)
			if !ok {
				t.Fatalf("%s: no accepted run of %s", line, procedure)
			}
			begun.Accepted = append(begun.Accepted, engine.AcceptedValue{
				Name: r.Name, Value: run.State.Results()[0].Value.Num * 1000, Unit: "um", Run: run.Name, Day: at.Format(time.DateOnly)})
		}
	}
	s := drive.New(engine.New(engine.NewPlan(proc)), &journal{}, func() time.Time { clock = clock.Add(time.Minute); return clock })
	if _, err := s.Record(begun, engine.Sat{Operator: "Ana"}); err != nil {
		t.Fatal(err)
	}
	for _, a := range strings.Split(p[2], ";") {
		a = strings.TrimSpace(a)
		if strings.HasPrefix(a, "@") {
			fmt.Sscanf(a, "@%d", &n)
			clock = day(n)
			continue
		}
		if a == "" {
			continue
		}
		name, text, _ := strings.Cut(a, "=")
		in := engine.Input{Name: name, Text: text}
		if text == "reject" {
			in.Reason = "worn out"
		}
		_, refusal, err := s.Say(in)
		if err != nil || refusal != nil {
			t.Fatalf("%s: %s: %+v, %v", line, a, refusal, err)
		}
	}
	return overhaul.Run{Name: words[0] + "-" + p[0], State: s.State()}
}

var machine = engine.Machine{ID: "lathe-1", Class: "centre lathe",
	Numbers: map[string]engine.Stored{"swing": {Value: 250, Unit: "mm"}}, Text: map[string]string{"drive": "belt"}}

// The shorthands for what is done in a run.
const (
	good  = "high=5; fitter=Ana"
	mends = "high=50; mend=yes; high=5; fitter=Ana"
	takes = "taken=offered; high=5; fitter=Ana"
)

// said puts how a plan stands on lines: a task, its state, its run, and what
// holds it back.
func said(v overhaul.View) string {
	var b strings.Builder
	for _, t := range v.Tasks {
		fmt.Fprintf(&b, "%s %s", t.Name, t.State)
		if t.Run != "" {
			b.WriteString(" " + t.Run)
		}
		for _, w := range t.Waits {
			b.WriteString(", waits for " + w.Name)
		}
		if !t.From.IsZero() {
			b.WriteString(", not before " + t.From.Format("01-02 15:04"))
		}
		for _, u := range t.Unknown {
			b.WriteString(", unknown: " + u)
		}
		if t.Ready() {
			b.WriteString(", ready")
		}
		for _, c := range t.Spoilt {
			b.WriteString(", spoilt: " + c.Said())
		}
		for _, x := range t.Stands {
			b.WriteString(", stands: " + x.Said())
		}
		if t.Overdue(v.Now) {
			b.WriteString(", due since " + t.Due.Format("01-02 15:04"))
		}
		b.WriteString("\n")
	}
	return b.String()
}

// looked is one plan as it stands after some runs.
type looked struct {
	name, plan string
	runs       []string
	on         int // the day of looking
	want       string
}

func (l looked) run(t *testing.T) {
	procs, plans := shop(t, l.plan)
	h := overhaul.Read(machine, work(t, procs, l.runs...), plans...)
	got := said(h.Look(plans[0], day(l.on)))
	if diff := cmp.Diff(strings.TrimLeft(l.want, "\n"), got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// line is a plan of three, one after the other.
const line = `
task "bed" { procedure = "bed" }
task "head" {
  procedure = "head"
  after     = [task.bed]
}
task "tail" {
  procedure = "tail"
  after     = [task.head]
}
`

// loose is a plan of three in no order.
const loose = `
task "bed" { procedure = "bed" }
task "head" { procedure = "head" }
task "quill" { procedure = "quill" }
`

func TestStates(t *testing.T) {
	for _, l := range []looked{
		{"nothing is begun", line, nil, 2, `
bed not_begun, ready
head not_begun, waits for bed
tail not_begun, waits for head
`},
		{"one is under way", line, []string{"1: bed: high=5"}, 2, `
bed under_way bed-1, ready
head not_begun, waits for bed
tail not_begun, waits for head
`},
		{"one is accepted", line, []string{"1: bed: " + good}, 2, `
bed accepted bed-1
head not_begun, ready
tail not_begun, waits for head
`},
		{"rejected, and not begun again", line, []string{"1: bed: high=50; level=reject"}, 2, `
bed rejected bed-1, ready
head not_begun, waits for bed
tail not_begun, waits for head
`},
		{"accepted, then rejected when it was measured again", line, []string{"1: bed: " + good, "3: bed: high=50; level=reject"}, 4, `
bed rejected bed-3, ready
head not_begun, waits for bed
tail not_begun, waits for head
`},
		{"rejected, then accepted", line, []string{"1: bed: high=50; level=reject", "3: bed: " + good}, 4, `
bed accepted bed-3
head not_begun, ready
tail not_begun, waits for head
`},
		{"measured again, not decided yet", line, []string{"1: bed: " + good, "3: bed: high=5"}, 4, `
bed under_way bed-3, ready
head not_begun, waits for bed
tail not_begun, waits for head
`},
		{"left lying when another one was accepted", line, []string{"1: bed: high=5", "3: bed: " + good}, 4, `
bed accepted bed-3
head not_begun, ready
tail not_begun, waits for head
`},
		{"a run of another machine is none of this one", line, []string{"1: bed machine=lathe-2: " + good}, 2, `
bed not_begun, ready
head not_begun, waits for bed
tail not_begun, waits for head
`},
		{"written in another order than done", `
task "tail" {
  procedure = "tail"
  after     = [task.bed]
}
task "bed" { procedure = "bed" }
`, nil, 1, `
bed not_begun, ready
tail not_begun, waits for bed
`},
	} {
		t.Run(l.name, l.run)
	}
}
