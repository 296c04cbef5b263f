package rehearse_test

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
)

// planned reads a plan and the procedures of its tasks that are at hand.
func planned(t *testing.T, src hclfile.Source) (*procedures.Overhaul, map[string]*engine.Plan) {
	t.Helper()
	l, ds := hclfile.Parse(src)
	if ds.HasErrors() || l.Overhaul == nil {
		t.Fatalf("%s: %v", src.Path, ds)
	}
	plans := map[string]*engine.Plan{}
	for _, task := range l.Overhaul.Tasks {
		if at, ok := hclfile.Peer(src, task.Procedure); ok && plans[task.Procedure] == nil {
			plans[task.Procedure] = load(t, at)
		}
	}
	return l.Overhaul, plans
}

// A lathe with ten faults and more is brought to acceptance through the plan
// that ships, by the rehearsed person alone, and nothing that was accepted is
// left spoilt; of a good one nothing is corrected.
func TestLibraryPlanRehearsals(t *testing.T) {
	src, ok := library.Source("bench-lathe")
	if !ok {
		t.Fatal("the library has no bench-lathe")
	}
	plan, plans := planned(t, src)
	if len(plan.Rehearsals) < 2 {
		t.Fatalf("it has %d rehearsals", len(plan.Rehearsals))
	}
	for i, r := range plan.Rehearsals {
		for _, c := range rehearse.Courses(plan, r, plans, 1+i, 2, nil) {
			if f := c.Failure; f != nil {
				t.Errorf("%q, seed %d, run %s: %s", r.Name, c.Seed, f.Run, f.Said)
				continue
			}
			if left := leftSpoilt(c); len(left) > 0 {
				t.Errorf("%q, seed %d: left spoilt: %v", r.Name, c.Seed, left)
			}
			if n := len(corrected(c)); len(r.Hidden) == 0 && n > 0 || len(r.Hidden) > 0 && n < 10 {
				t.Errorf("%q, seed %d: %d tasks were corrected: %v", r.Name, c.Seed, n, corrected(c))
			}
		}
	}
}

// corrected lists the tasks in which something was put right.
func corrected(c rehearse.Course) (tasks []string) {
	for _, r := range c.Runs {
		if len(r.Rounds) > 0 && !slices.Contains(tasks, r.Task.Name) {
			tasks = append(tasks, r.Task.Name)
		}
	}
	return tasks
}

// leftSpoilt lists the tasks whose newest run was spoilt by a later one.
func leftSpoilt(c rehearse.Course) (tasks []string) {
	newest := map[string]string{}
	for _, r := range c.Runs {
		newest[r.Task.Name] = r.Name
	}
	for _, r := range c.Runs {
		for _, s := range r.Spoilt {
			if newest[s.Task.Name] == s.Run {
				tasks = append(tasks, s.Task.Name)
			}
		}
	}
	return tasks
}

// The plan of this test stands a post on a table: the post is wedged, which
// leans the table.
const twoPosts = `
overhaul "posts" {
  title    = "A post on a table"
  machine  = "bench drill"
  revision = "1"
}
task "table" { procedure = "table" }
task "post" {
  procedure = "lean"
  after     = [task.table]
}
`

// posts is a plan with a rehearsal, and its two procedures, which are alike but
// in name and in what they disturb.
func posts(t *testing.T, plan string) (*procedures.Overhaul, map[string]*engine.Plan) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/procedures/broken/course/lean.hcl")
	if err != nil {
		t.Fatal(err)
	}
	table := strings.ReplaceAll(string(text), `procedure "lean"`, `procedure "table"`)
	post := strings.ReplaceAll(string(text), `  title = "Clean its foot"`, `  title    = "Clean its foot"
  disturbs = [accepted["table"]]`)
	post = strings.ReplaceAll(post, `  title    = "Drive the wedge"`, `  title    = "Drive the wedge"
  disturbs = [accepted["table"]]`)
	return planned(t, hclfile.Source{FS: fstest.MapFS{
		"posts.hcl": {Data: []byte(plan)}, "table.hcl": {Data: []byte(table)}, "lean.hcl": {Data: []byte(post)},
	}, Path: "posts.hcl"})
}

// worked says how a course went, a run a line.
func worked(c rehearse.Course) string {
	var b strings.Builder
	for _, r := range c.Runs {
		b.WriteString(r.Name + " " + string(r.Outcome))
		for _, x := range r.Rounds {
			b.WriteString(" " + x.Correction + "×" + strings.Repeat("I", x.N))
		}
		for _, s := range r.Spoilt {
			b.WriteString(", spoils " + s.Run)
		}
		b.WriteString("\n")
	}
	b.WriteString(string(c.Outcome) + "; " + strings.Join(c.After, ", ") + "\n")
	if c.Failure != nil {
		b.WriteString(c.Failure.Said + "\n")
	}
	return b.String()
}

// Semantics rule 52.
func TestRule52Courses(t *testing.T) {
	for _, tt := range []struct{ name, rehearsal, want string }{
		{"nothing is wrong", `ends { outcome = "accepted" }`, `
table-1 accepted
post-1 accepted
accepted; 
`},
		{"what a correction leaves is met by the next run, and what it spoils is worked again", `
  hidden {
    post  = um(300) / m(1)
    table = um(10) / m(1)
  }
  procedure "lean" {
    hidden { lean = hidden.post }
    reacts "wedge" { table = hidden.table + amount / 2 }
  }
  procedure "table" {
    hidden { lean = hidden.table }
  }
  ends {
    outcome = "accepted"
    runs    = { table = 2, post = 2 }
  }`, `
table-1 accepted
post-1 accepted wedge×I, spoils table-1
table-2 accepted wedge×I, spoils post-1
post-2 accepted
accepted; post = 0, table = 0
`},
		{"a state that is worked out follows the plan's", `
  hidden { post = um(300) / m(1) }
  procedure "lean" {
    hidden { lean = hidden.post * 2 }
    reacts "wedge" { post = hidden.post - amount / 2 }
  }
  ends { outcome = "accepted" }`, `
table-1 accepted
post-1 accepted wedge×I, spoils table-1
table-2 accepted
accepted; post = 0
`},
		{"two corrections that undo one another go round", `
  hidden {
    post  = um(300) / m(1)
    table = um(10) / m(1)
  }
  procedure "lean" {
    hidden { lean = hidden.post }
    reacts "wedge" { table = um(300) / m(1) }
  }
  procedure "table" {
    hidden { lean = hidden.table }
    reacts "wedge" { post = um(300) / m(1) }
  }
  ends { outcome = "not_decided" }`, ""},
		{"a task that is rejected ends it", `
  hidden { post = um(300) / m(1) }
  procedure "lean" {
    hidden { lean = hidden.post }
    reacts "wedge" { post = um(300) / m(1) }
    reacts "clean" { post = um(300) / m(1) }
  }
  ends { outcome = "rejected" }`, ""},
		{"another end than is stated", `ends { outcome = "rejected" }`, `
table-1 accepted
post-1 accepted
accepted; 
It ends accepted, not rejected.
`},
		{"more runs than are stated", `
  ends {
    outcome = "accepted"
    runs    = { post = at_least(2) }
  }`, `
table-1 accepted
post-1 accepted
accepted; 
Task post was worked once, not at least twice.
`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			plan, plans := posts(t, twoPosts+"rehearsal \"it\" {\n"+tt.rehearsal+"\n}\n")
			c := rehearse.Through(plan, plan.Rehearsals[0], plans, 1)
			switch {
			case tt.want == "" && (c.Failure != nil || string(c.Outcome) != plan.Rehearsals[0].Outcome):
				t.Errorf("it went\n%s", worked(c))
			case tt.want != "":
				if diff := cmp.Diff(strings.TrimPrefix(tt.want, "\n"), worked(c)); diff != "" {
					t.Errorf("want −, got +:\n%s", diff)
				}
			}
		})
	}
}

// Where something is not at hand the course says so, and where.
func TestRule52NotAtHand(t *testing.T) {
	text := twoPosts + "rehearsal \"it\" {\n  ends { outcome = \"accepted\" }\n}\n"
	plan, plans := posts(t, text)
	delete(plans, "lean")
	c := rehearse.Through(plan, plan.Rehearsals[0], plans, 1)
	if c.Failure == nil || c.Failure.Kind != rehearse.Stuck || !strings.Contains(c.Failure.Said, "lean of task post cannot be played") {
		t.Errorf("without a procedure: %+v", c.Failure)
	}
	held := strings.Replace(text, `after     = [task.table]`, `when = accepted["nowhere"].result.out > um(3)`, 1)
	plan, plans = posts(t, held)
	c = rehearse.Through(plan, plan.Rehearsals[0], plans, 1)
	if c.Failure == nil || c.Failure.Kind != rehearse.Stuck || c.Failure.Said != "No task can be begun. post waits: nowhere is not accepted yet." {
		t.Errorf("with a condition that nobody can know: %+v", c.Failure)
	}
}
