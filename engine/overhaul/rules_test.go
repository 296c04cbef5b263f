package overhaul_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"waywright/engine"
	"waywright/engine/drive"
	"waywright/engine/overhaul"
)

// Semantics rule 45: of the newest accepted, undisturbed run.
func TestRule45NewestAcceptedUndisturbed(t *testing.T) {
	procs, _ := shop(t)
	for _, tt := range []struct {
		name   string
		runs   []string
		want   string // the run
		spoilt bool
	}{
		{"none", []string{"1: bed: high=5"}, "", false},
		{"rejected", []string{"1: bed: high=50; level=reject"}, "", false},
		{"one", []string{"1: bed: " + good}, "bed-1", false},
		{"the newer of two", []string{"1: bed: " + good, "2: bed: " + good}, "bed-2", false},
		{"by the day of acceptance", []string{"1: bed: high=5; @5; fitter=Ana", "2: bed: " + good}, "bed-1", false},
		{"one that is open does not count", []string{"1: bed: " + good, "2: bed: high=5"}, "bed-1", false},
		{"of another machine", []string{"1: bed machine=lathe-2: " + good}, "", false},
		{"disturbed", []string{"1: quill: " + good, "2: head: " + mends}, "quill-1", true},
		{"disturbed before it was read", []string{"1: head: " + mends, "2: quill: " + good}, "quill-2", false},
		{"mended in a later run of its own", []string{"1: bed: " + good, "2: bed: high=50; mend=yes"}, "bed-1", true},
		{"mended in an earlier run of its own", []string{"1: bed: high=50; mend=yes", "2: bed: " + good}, "bed-2", false},
		{"measured again after a disturbance", []string{"1: quill: " + good, "2: head: " + mends, "3: quill: " + good}, "quill-3", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			of := "bed"
			if strings.Contains(strings.Join(tt.runs, " "), "quill") {
				of = "quill"
			}
			run, at, spoilt, ok := overhaul.Read(machine, work(t, procs, tt.runs...)).Newest(of)
			if run.Name != tt.want || ok != (tt.want != "") || len(spoilt) > 0 != tt.spoilt {
				t.Errorf("Newest(%s) = %q, %v, spoilt %v; want %q, spoilt %v", of, run.Name, at, spoilt, tt.want, tt.spoilt)
			}
		})
	}
}

// What is done to a run after it was signed does not make it newer.
func TestRule45AcceptedWhenItWasSigned(t *testing.T) {
	procs, _ := shop(t)
	_, at, _, _ := overhaul.Read(machine, work(t, procs, "1: bed: "+good+"; @9")).Newest("bed")
	if at.After(day(2)) {
		t.Errorf("accepted %v; want on the first day", at)
	}
}

func TestRule46Disturbed(t *testing.T) {
	for _, l := range []looked{
		{"a correction names it", loose, []string{"1: quill: " + good, "2: head: " + mends}, 3, `
bed not_begun, ready
head accepted head-2
quill again quill-1, ready, spoilt: "Mend the head" (run head-2, 2026-03-03) disturbs it
`},
		{"also in a run that is not decided", loose, []string{"1: quill: " + good, "2: head: high=50; mend=yes"}, 3, `
bed not_begun, ready
head under_way head-2, ready
quill again quill-1, ready, spoilt: "Mend the head" (run head-2, 2026-03-03) disturbs it
`},
		{"also in one that was rejected", loose, []string{"1: quill: " + good, "2: head: high=50; mend=yes; high=50; level=reject"}, 3, `
bed not_begun, ready
head rejected head-2, ready
quill again quill-1, ready, spoilt: "Mend the head" (run head-2, 2026-03-03) disturbs it
`},
		{"a correction that names others", loose, []string{"1: quill: " + good, "2: bed: " + mends}, 3, `
bed accepted bed-2
head not_begun, ready
quill accepted quill-1
`},
		{"reading alone spoils nothing", loose, []string{"1: quill: " + good, "2: head: " + good}, 3, `
bed not_begun, ready
head accepted head-2
quill accepted quill-1
`},
		{"before its oldest reading", loose, []string{"1: head: " + mends, "2: quill: " + good}, 3, `
bed not_begun, ready
head accepted head-1
quill accepted quill-2
`},
		{"between its reading and its signature", loose, []string{"1: quill: high=5; @5; fitter=Ana", "2: head: " + mends}, 6, `
bed not_begun, ready
head accepted head-2
quill again quill-1, ready, spoilt: "Mend the head" (run head-2, 2026-03-03) disturbs it
`},
		{"only readings that stand count", loose, []string{"1: quill: high=50; @3; mend=yes; high=5; fitter=Ana", "2: head: " + mends}, 6, `
bed not_begun, ready
head accepted head-2
quill accepted quill-1
`},
		{"a correction of a task before it", line, []string{"1: bed: " + good, "2: head: " + good, "3: bed: " + mends}, 4, `
bed accepted bed-3
head again head-2, ready, spoilt: "Mend the bed" (run bed-3, 2026-03-04) is a correction of bed, which comes before it
tail not_begun, waits for head
`},
		{"at any depth", line, []string{"1: bed: " + good, "2: head: " + good, "3: tail: " + good, "4: bed: " + mends}, 5, `
bed accepted bed-4
head again head-2, ready, spoilt: "Mend the bed" (run bed-4, 2026-03-05) is a correction of bed, which comes before it
tail again tail-3, waits for head, spoilt: "Mend the bed" (run bed-4, 2026-03-05) is a correction of bed, which comes before it
`},
		{"a correction of a task after it", line, []string{"1: bed: " + good, "2: head: " + mends}, 3, `
bed accepted bed-1
head accepted head-2
tail not_begun, ready
`},
		{"done again, it holds", line, []string{"1: bed: " + good, "2: head: " + good, "3: bed: " + mends, "4: head: " + good}, 5, `
bed accepted bed-3
head accepted head-4
tail not_begun, ready
`},
		{"under way, read before the disturbance", loose, []string{"1: quill: high=5", "2: head: " + mends}, 3, `
bed not_begun, ready
head accepted head-2
quill under_way quill-1, ready, spoilt: "Mend the head" (run head-2, 2026-03-03) disturbs it
`},
		{"under way, and nothing read in it yet", loose, []string{"1: quill: ", "2: head: " + mends}, 3, `
bed not_begun, ready
head accepted head-2
quill under_way quill-1, ready
`},
		{"under way, and what was read is to be read again anyway", loose, []string{"1: quill: high=50; mend=yes", "2: head: " + mends}, 3, `
bed not_begun, ready
head accepted head-2
quill under_way quill-1, ready
`},
		{"a correction when it was measured again", loose, []string{"1: bed: " + good, "2: bed: high=50; mend=yes; high=50; level=reject"}, 3, `
bed rejected bed-2, ready
head not_begun, ready
quill not_begun, ready
`},
	} {
		t.Run(l.name, l.run)
	}
}

// A run that took a value from a disturbed run is disturbed with it.
func TestRule46SpreadsWithValues(t *testing.T) {
	plan := `
task "bed" { procedure = "bed" }
task "collars" { procedure = "collars" }
task "sleeve" { procedure = "sleeve" }
`
	for _, l := range []looked{
		{"replaced, by the same value", plan, []string{"1: bed: " + good, "2: collars: " + takes, "3: bed: " + good}, 4, `
bed accepted bed-3
collars accepted collars-2, stands: by was taken from run bed-1, and measured again in run bed-3 on 2026-03-04: the same; what rests on it stands
sleeve not_begun, ready
`},
		{"replaced, by another one with which its tests pass too", plan, []string{"1: bed: " + good, "2: collars: " + takes, "3: bed: high=10; fitter=Ana"}, 4, `
bed accepted bed-3
collars accepted collars-2, stands: by was taken from run bed-1, and measured again in run bed-3 on 2026-03-04: 5 µm more; with that every test comes out as before, and what rests on it stands
sleeve not_begun, ready
`},
		{"replaced, by one with which a test does not pass", plan, []string{"1: bed: " + good, "2: collars: " + takes, "3: bed: high=-18; fitter=Ana"}, 4, `
bed accepted bed-3
collars again collars-2, ready, spoilt: by was taken from run bed-1, and run bed-3 took its place on 2026-03-04 with 23 µm less
sleeve not_begun, ready
`},
		{"replaced twice, the newest counts", plan, []string{"1: bed: " + good, "2: collars: " + takes, "3: bed: high=-18; fitter=Ana", "4: bed: high=4; fitter=Ana"}, 5, `
bed accepted bed-4
collars accepted collars-2, stands: by was taken from run bed-1, and measured again in run bed-4 on 2026-03-05: 1 µm less; with that every test comes out as before, and what rests on it stands
sleeve not_begun, ready
`},
		{"at second hand, what comes of it is borne", plan, []string{"1: bed: " + good, "2: collars: " + takes, "3: sleeve: " + takes, "4: bed: high=10; fitter=Ana"}, 5, `
bed accepted bed-4
collars accepted collars-2, stands: by was taken from run bed-1, and measured again in run bed-4 on 2026-03-05: 5 µm more; with that every test comes out as before, and what rests on it stands
sleeve accepted sleeve-3, stands: by was taken from run collars-2, and measured again in run bed-4 on 2026-03-05: 5 µm less; with that every test comes out as before, and what rests on it stands
`},
		{"at second hand, a test does not pass", plan, []string{"1: bed: " + good, "2: collars: " + takes, "3: sleeve: taken=offered; high=18; fitter=Ana", "4: bed: high=10; fitter=Ana"}, 5, `
bed accepted bed-4
collars accepted collars-2, stands: by was taken from run bed-1, and measured again in run bed-4 on 2026-03-05: 5 µm more; with that every test comes out as before, and what rests on it stands
sleeve again sleeve-3, ready, spoilt: by was taken from run collars-2, and with what run bed-4 found on 2026-03-05 it comes to 5 µm less
`},
		{"spoilt", plan, []string{"1: bed: " + good, "2: collars: " + takes, "3: bed: high=50; mend=yes"}, 4, `
bed under_way bed-3, ready
collars again collars-2, ready, spoilt: by was taken from run bed-1, and that was spoilt: "Mend the bed" (run bed-3, 2026-03-04) was done when it was measured again
sleeve not_begun, ready
`},
		{"from hand to hand", plan, []string{"1: bed: " + good, "2: collars: " + takes, "3: sleeve: " + takes, "4: bed: high=50; mend=yes"}, 5, `
bed under_way bed-4, ready
collars again collars-2, ready, spoilt: by was taken from run bed-1, and that was spoilt: "Mend the bed" (run bed-4, 2026-03-05) was done when it was measured again
sleeve again sleeve-3, ready, spoilt: by was taken from run collars-2, and that was spoilt: by was taken from run bed-1, and that was spoilt: "Mend the bed" (run bed-4, 2026-03-05) was done when it was measured again
`},
		{"taken over, and spoilt before anything was read", plan, []string{"1: bed: " + good, "2: collars: taken=offered", "3: bed: high=50; mend=yes"}, 4, `
bed under_way bed-3, ready
collars under_way collars-2, ready, spoilt: by was taken from run bed-1, and that was spoilt: "Mend the bed" (run bed-3, 2026-03-04) was done when it was measured again
sleeve not_begun, ready
`},
		{"replaced before its reading", plan, []string{"1: bed: " + good, "2: bed: " + good, "3: collars: " + takes}, 4, `
bed accepted bed-2
collars accepted collars-3
sleeve not_begun, ready
`},
	} {
		t.Run(l.name, l.run)
	}
}

func TestRule47TaskOfARun(t *testing.T) {
	twice := `
task "first" { procedure = "bed" }
task "second" {
  procedure = "bed"
  after     = [task.first]
}
`
	for _, l := range []looked{
		{"begun for a task", twice, []string{"1: bed task=first: " + good}, 2, "first accepted bed-1\nsecond not_begun, ready\n"},
		{"begun for that task of that plan", twice, []string{"1: bed task=first plan=plan-1: " + good}, 2, "first accepted bed-1\nsecond not_begun, ready\n"},
		{"begun for none, where two would do", twice, []string{"1: bed: " + good}, 2, "first not_begun, ready\nsecond not_begun, waits for first\n"},
		{"begun for a task of another plan", twice, []string{"1: bed task=first plan=other: " + good}, 2, "first not_begun, ready\nsecond not_begun, waits for first\n"},
		{"begun for none, where only one will do", loose, []string{"1: bed: " + good}, 2, "bed accepted bed-1\nhead not_begun, ready\nquill not_begun, ready\n"},
		{"the other task's correction is no second look", twice, []string{"1: bed task=first: " + good, "2: bed task=second: " + mends}, 3, "first accepted bed-1\nsecond accepted bed-2\n"},
		{"the first task's correction spoils the other", twice, []string{"1: bed task=first: " + good, "2: bed task=second: " + good, "3: bed task=first: " + mends}, 4, `
first accepted bed-3
second again bed-2, ready, spoilt: "Mend the bed" (run bed-3, 2026-03-04) is a correction of first, which comes before it
`},
	} {
		t.Run(l.name, l.run)
	}
}

// An unknown when holds a task back, a false one settles it.
func TestRule47When(t *testing.T) {
	plan := `
task "quill" { procedure = "quill" }
task "tail" {
  procedure = "tail"
  when      = %s
}
task "sleeve" {
  procedure = "bed"
  after     = [task.tail]
}
`
	for _, tt := range []struct {
		name, when string
		runs       []string
		want       string
	}{
		{"unknown", `accepted["quill"].result.by > um(1)`, nil, "tail not_begun, unknown: quill is not accepted yet\nsleeve not_begun, waits for tail\n"},
		{"true", `accepted["quill"].result.by > um(1)`, []string{"1: quill: " + good}, "tail not_begun, ready\nsleeve not_begun, waits for tail\n"},
		{"false", `accepted["quill"].result.by > um(9)`, []string{"1: quill: " + good}, "tail settled\nsleeve not_begun, ready\n"},
		{"unknown again, when it was spoilt", `accepted["quill"].result.by > um(9)`, []string{"1: quill: " + good, "2: head: " + mends},
			"tail not_begun, unknown: quill was accepted, and spoilt since\nsleeve not_begun, waits for tail\n"},
		{"false whatever is not known", `machine.swing > mm(300) && accepted["quill"].result.by > um(1)`, nil, "tail settled\nsleeve not_begun, ready\n"},
		{"by the machine's words", `machine.drive == "belt"`, nil, "tail not_begun, ready\nsleeve not_begun, waits for tail\n"},
		{"which the entry lacks", `machine.test_bar.length > mm(300)`, nil,
			"tail not_begun, unknown: the machine's entry has no test bar length\nsleeve not_begun, waits for tail\n"},
		{"begun all the same, then settled", `accepted["quill"].result.by > um(9)`, []string{"1: tail: high=5", "2: quill: " + good}, "tail settled tail-1\nsleeve not_begun, ready\n"},
		{"accepted, unknown or not", `accepted["quill"].result.by > um(1)`, []string{"1: tail: " + good}, "tail accepted tail-1\nsleeve not_begun, ready\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			procs, plans := shop(t, strings.Replace(plan, "%s", tt.when, 1))
			v := overhaul.Read(machine, work(t, procs, tt.runs...), plans...).Look(plans[0], day(5))
			_, got, _ := strings.Cut(said(v), "\n") // of what comes behind quill
			if got != tt.want {
				t.Errorf("got\n%swant\n%s", got, tt.want)
			}
		})
	}
}

// The condition says what it was found on.
func TestRule47WhenSaysOnWhat(t *testing.T) {
	procs, plans := shop(t, "task \"quill\" { procedure = \"quill\" }\ntask \"tail\" {\n procedure = \"tail\"\n when = accepted[\"quill\"].result.by > um(9) && machine.swing > mm(1)\n}\n")
	v := overhaul.Read(machine, work(t, procs, "1: quill: "+good), plans...).Look(plans[0], day(5))
	task, _ := v.Task("tail")
	if got := strings.Join(task.Facts, "; "); got != "by is 5 µm" {
		t.Errorf("Facts = %q; want the one value that decided", got)
	}
}

func TestRule47RenewAndDelay(t *testing.T) {
	renew := `
task "bed" {
  procedure = "bed"
  renew     = days(10)
}
task "head" {
  procedure = "head"
  after     = [task.bed]
}
`
	delay := `
task "bed" { procedure = "bed" }
task "quill" { procedure = "quill" }
task "head" {
  procedure = "head"
  after     = [task.bed, task.quill]
  delay     = days(10)
}
`
	both := []string{"1: bed: " + good, "4: quill: " + good}
	for _, l := range []looked{
		{"not yet due", renew, []string{"1: bed: " + good}, 10, "bed accepted bed-1\nhead not_begun, ready\n"},
		{"due", renew, []string{"1: bed: " + good}, 12, "bed again bed-1, ready, due since 03-12 08:03\nhead not_begun, waits for bed\n"},
		{"due, what came after it stands", renew, []string{"1: bed: " + good, "2: head: " + good}, 12, "bed again bed-1, ready, due since 03-12 08:03\nhead accepted head-2\n"},
		{"renewed", renew, []string{"1: bed: " + good, "11: bed: " + good}, 12, "bed accepted bed-11\nhead not_begun, ready\n"},
		{"counts from the last", delay, both, 12, "bed accepted bed-1\nquill accepted quill-4\nhead not_begun, not before 03-15 08:03\n"},
		{"over", delay, both, 15, "bed accepted bed-1\nquill accepted quill-4\nhead not_begun, ready\n"},
		{"does not count while one is open", delay, both[:1], 12, "bed accepted bed-1\nquill not_begun, ready\nhead not_begun, waits for quill\n"},
		{"under way, it is gone on with", delay, append(both, "5: head: high=5"), 6, "bed accepted bed-1\nquill accepted quill-4\nhead under_way head-5, ready\n"},
	} {
		t.Run(l.name, l.run)
	}
}

// The same runs in any order give the same view.
func TestLookIsTheSameInAnyOrder(t *testing.T) {
	procs, plans := shop(t, line)
	runs := work(t, procs, "1: bed: "+good, "2: head: "+good, "3: bed: "+mends, "4: head: "+good, "5: tail: high=5")
	want := said(overhaul.Read(machine, runs, plans...).Look(plans[0], day(9)))
	for shift := range runs {
		turned := append(append([]overhaul.Run{}, runs[shift:]...), runs[:shift]...)
		if got := said(overhaul.Read(machine, turned, plans...).Look(plans[0], day(9))); got != want {
			t.Errorf("turned by %d:\n%swant\n%s", shift, got, want)
		}
	}
}

func TestReplaced(t *testing.T) {
	procs, _ := shop(t)
	h := overhaul.Read(machine, work(t, procs, "1: bed: "+good, "2: bed: "+good, "3: bed: high=5"))
	for run, want := range map[string]string{"bed-1": "bed-2", "bed-2": "", "bed-3": "", "none": ""} {
		if got := h.Replaced(run); got != want {
			t.Errorf("Replaced(%s) = %q; want %q", run, got, want)
		}
	}
}

// A correction at the very instant of a reading was not after it.
func TestRule46AtTheSameInstant(t *testing.T) {
	procs, _ := shop(t)
	// Every answer takes a minute: the quill is read at 8:02, and the head is
	// mended then, or a minute later.
	for begins, spoilt := range map[int]bool{1: true, 0: false} {
		h := overhaul.Read(machine, work(t, procs, "1: quill: "+good, []string{"0: head: @1; high=50; mend=yes", "1: head: high=50; mend=yes"}[begins]))
		_, at, got, _ := h.Newest("quill")
		if len(got) > 0 != spoilt {
			t.Errorf("read %v: spoilt %v; want %v", at.Format(time.TimeOnly), got, spoilt)
		}
	}
}

// Random histories, held against rule 46 as it is written: every run against
// every other, in loops.
func TestRule46AgainstLoops(t *testing.T) {
	names := map[string]string{"head": "quill"}                             // whose runs a correction of it names
	before := map[string][]string{"head": {"bed"}, "tail": {"bed", "head"}} // in the plan
	rapid.Check(t, func(r *rapid.T) {
		type done struct {
			kind  string
			mends bool
			from  int // the run a value was taken from, or −1
			high  int // what is read in the end
		}
		procs, plans := shop(t, line)
		var script []done
		var runs []overhaul.Run
		newest := -1 // run of bed
		for day := range rapid.IntRange(1, 7).Draw(r, "runs") {
			d := done{rapid.SampledFrom([]string{"bed", "head", "tail", "quill", "collars"}).Draw(r, "kind"), rapid.Bool().Draw(r, "mends"), -1, 5}
			if d.kind == "collars" {
				if newest < 0 {
					d.kind = "quill"
				} else {
					d.from = newest
				}
			}
			if d.kind == "bed" {
				newest = day
				d.high = rapid.SampledFrom([]int{5, 6, -14}).Draw(r, "high")
			}
			if d.from >= 0 {
				d.high = script[d.from].high + 3
			}
			says := fmt.Sprintf("high=%d; fitter=Ana", d.high)
			if d.mends {
				says = "high=50; mend=yes; " + says
			}
			if d.from >= 0 {
				says = "taken=offered; " + says
			}
			script = append(script, d)
			runs = append(runs, play(t, procs, runs, fmt.Sprintf("%d: %s: %s", day+1, d.kind, says)))
		}
		// The days of the corrections that spoilt a run, or of what replaced it.
		var spoilt func(i int) []int
		spoilt = func(i int) []int {
			var out []int
			for k := i + 1; k < len(script); k++ {
				mine, its := script[i], script[k]
				if its.mends && (names[its.kind] == mine.kind || slices.Contains(before[mine.kind], its.kind) || its.kind == mine.kind) {
					out = append(out, k)
				}
			}
			// The newest value counts, and only where a test does not pass with it.
			for k := len(script) - 1; k > i && script[i].from >= 0; k-- {
				if script[k].kind == "bed" {
					if by := script[i].high - script[k].high; by > 20 || by < -20 {
						out = append(out, k)
					}
					break
				}
			}
			if from := script[i].from; from >= 0 {
				for _, k := range spoilt(from) {
					if k > i {
						out = append(out, k)
					}
				}
			}
			return out
		}
		h := overhaul.Read(machine, runs, plans...)
		for i := range runs {
			got, want := h.Spoilt(runs[i].Name), spoilt(i)
			if len(got) > 0 != (len(want) > 0) {
				r.Fatalf("%s: spoilt %v; want by the runs %v of %+v", runs[i].Name, got, want, script)
			}
			if len(want) > 0 && !got[0].At.Truncate(24*time.Hour).Equal(day(slices.Min(want)+1).Truncate(24*time.Hour)) {
				r.Fatalf("%s: spoilt first on %v; want on day %d", runs[i].Name, got[0].At, slices.Min(want)+1)
			}
		}
	})
}

// Journals in which two runs took values from one another were tampered with.
// They are looked through all the same.
func TestRule46EndsInACircle(t *testing.T) {
	procs, _ := shop(t)
	run := func(kind, name, from, value string) overhaul.Run {
		taken := engine.Taken{Typed: "1", Value: 1, Unit: "um"}
		events := []engine.Data{
			engine.Begun{Procedure: kind, Machine: machine, Accepted: []engine.AcceptedValue{{Name: value, Value: 1, Unit: "um", Run: from, Day: "2026-03-02"}}},
			engine.Sat{Operator: "Ana"},
			engine.Answered{Name: "taken", Takes: []engine.Taken{taken}, From: "run " + from + ", accepted 2026-03-02"},
			engine.Answered{Name: "high", Takes: []engine.Taken{taken}},
			engine.Signed{Role: "fitter", Name: "Ana"},
		}
		s := engine.New(engine.NewPlan(procs[kind]))
		for i, d := range events {
			var err error
			if s, err = s.With(engine.Event{N: i + 1, Time: start.Add(time.Duration(i) * time.Minute), By: "Ana", Data: d}); err != nil {
				t.Fatal(err)
			}
		}
		if s.Outcome() != engine.Accepted || len(s.Taken()) != 1 {
			t.Fatalf("%s is %s and took %v", name, s.Outcome(), s.Taken())
		}
		return overhaul.Run{Name: name, State: s}
	}
	h := overhaul.Read(machine, []overhaul.Run{run("sleeve", "a", "b", "collars.by"), run("collars", "b", "a", "bed.by")})
	for _, name := range []string{"a", "b"} {
		if got := h.Spoilt(name); got != nil {
			t.Errorf("Spoilt(%s) = %v; want nothing", name, got)
		}
	}
}

// A value is taken over anew by amending the answer with what is offered now; it
// cannot be typed that way either (semantics rules 43 and 45).
func TestRule45TakenOverAnew(t *testing.T) {
	procs, _ := shop(t)
	of := func(run string, n float64) engine.AcceptedValue {
		return engine.AcceptedValue{Name: "bed.by", Value: n, Unit: "um", U: 1, Run: run, Day: "2026-03-02"}
	}
	clock := day(2)
	s := drive.New(engine.New(engine.NewPlan(procs["collars"])), &journal{}, func() time.Time { clock = clock.Add(time.Minute); return clock })
	if _, err := s.Record(engine.Begun{Procedure: "collars", Machine: machine, Accepted: []engine.AcceptedValue{of("bed-1", 5)}}, engine.Sat{Operator: "Ana"}); err != nil {
		t.Fatal(err)
	}
	say := func(in engine.Input) *engine.Refusal {
		t.Helper()
		_, refusal, err := s.Say(in)
		if err != nil {
			t.Fatal(err)
		}
		return refusal
	}
	say(engine.Input{Name: "taken", Text: "offered"})
	say(engine.Input{Name: "high", Text: "25"})
	if _, err := s.Record(engine.Found{Accepted: []engine.AcceptedValue{of("bed-3", 9)}}); err != nil {
		t.Fatal(err)
	}
	amend := engine.Input{Verb: engine.Amend, Name: "taken", Text: "7", Reason: "it was read so"}
	if r := say(amend); r == nil || r.Code != "offer" {
		t.Errorf("typing it is answered with %+v; want a refusal", r)
	}
	amend.Text, clock = "offered", day(4)
	if r := say(amend); r != nil {
		t.Fatalf("taking it over anew is refused: %+v", r)
	}
	taken := s.State().Taken()
	if len(taken) != 1 || taken[0].Run != "bed-3" || taken[0].At.Before(day(4)) {
		t.Errorf("taken: %+v; want from bed-3 on day 4", taken)
	}
	if by := s.State().Results()[0].Value.Num; math.Abs(by-16e-3) > 1e-9 {
		t.Errorf("25 less 9 µm is %g mm", by)
	}
}

// A newer value spoils what took the older one only where the two differ by more
// than the doubt of both, and a test would not pass with it. The collars pass up
// to 20 µm over what was taken, and read 20 over nothing.
func TestRule46ReplacedWithinTheDoubt(t *testing.T) {
	procs, _ := shop(t)
	fold := func(kind string, events ...engine.Data) *engine.State {
		s := engine.New(engine.NewPlan(procs[kind]))
		for i, d := range events {
			var err error
			if s, err = s.With(engine.Event{N: i + 1, Time: start.Add(time.Duration(i) * time.Minute), By: "Ana", Data: d}); err != nil {
				t.Fatal(err)
			}
		}
		return s
	}
	um := func(v float64) []engine.Taken { return []engine.Taken{{Typed: fmt.Sprint(v), Value: v, Unit: "um"}} }
	for _, tt := range []struct {
		name         string
		u, dof       float64 // of the value that was taken over, µm
		newer        float64
		stands, real bool
		said         string
	}{
		{"the same", 2, 0, 0, true, false, "the same"},
		{"within the doubt, a test would not pass", 2, 0, -3.9, true, false, "3.9 µm less, give or take 3.9 µm, so no real difference"},
		{"beyond it, a test would not pass", 2, 0, -4, false, true, "with 4.0 µm less, give or take 3.9 µm"},
		{"beyond it, the other way: every test passes", 2, 0, 8, true, true, "8.0 µm more, give or take 3.9 µm; with that every test comes out as before"},
		{"poorly known: t(0.975) for 4 degrees of freedom is 2.78", 2, 4, -5.5, true, false, "no real difference"},
		{"poorly known, beyond it", 2, 4, -5.6, false, true, "5.6 µm less"},
		{"well known", 0, 0, -0.5, false, true, "0.5 µm less"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			v := engine.AcceptedValue{Name: "bed.by", Value: 0, Unit: "um", U: tt.u, DoF: tt.dof, Run: "bed-1", Day: "2026-03-02"}
			bed := fold("bed", engine.Begun{Procedure: "bed", Machine: machine}, engine.Sat{Operator: "Ana"}, engine.Answered{Name: "high", Takes: um(0)}, engine.Signed{Role: "fitter", Name: "Ana"})
			collars := fold("collars", engine.Begun{Procedure: "collars", Machine: machine, Accepted: []engine.AcceptedValue{v}}, engine.Sat{Operator: "Ana"}, engine.Noted{Text: "later"}, engine.Noted{Text: "than the bed"},
				engine.Answered{Name: "taken", Takes: um(0), From: "run bed-1, accepted 2026-03-02", U: tt.u, DoF: tt.dof}, engine.Answered{Name: "high", Takes: um(20)}, engine.Signed{Role: "fitter", Name: "Ana"})
			again := fold("bed", engine.Begun{Procedure: "bed", Machine: machine}, engine.Sat{Operator: "Ana"}, engine.Noted{Text: "a"}, engine.Noted{Text: "b"}, engine.Noted{Text: "c"},
				engine.Noted{Text: "d"}, engine.Answered{Name: "high", Takes: um(tt.newer)}, engine.Signed{Role: "fitter", Name: "Ana"})
			h := overhaul.Read(machine, []overhaul.Run{{Name: "bed-1", State: bed}, {Name: "collars-1", State: collars}, {Name: "bed-2", State: again}})
			spoilt, stands := h.Spoilt("collars-1"), h.Standing("collars-1")
			if len(stands)+len(spoilt) != 1 || len(stands) > 0 != tt.stands || tt.stands && stands[0].Real != tt.real {
				t.Fatalf("spoilt %v, stands %+v; want it to stand: %t", spoilt, stands, tt.stands)
			}
			got := ""
			if tt.stands {
				got = stands[0].Said()
			} else {
				got = spoilt[0].Said()
			}
			if !strings.Contains(got, tt.said) {
				t.Errorf("said %q; want %q in it", got, tt.said)
			}
		})
	}
}
