package overhaul_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/overhaul"
)

// A machine that comes back: what was accepted before its plan was begun anew is
// history.
func TestRounds(t *testing.T) {
	const anew = " plan=plan-1 anew=worn: "
	for _, l := range []looked{
		{"nothing of it counts", line, []string{"1: bed: " + good, "2: head: " + good, "3: tail: " + good, "40: bed" + anew + "high=5"}, 41, `
bed under_way bed-40, ready
head not_begun, waits for bed
tail not_begun, waits for head
`},
		{"done again, it goes on in order", line, []string{"1: bed: " + good, "2: head: " + good, "40: bed" + anew + good}, 41, `
bed accepted bed-40
head not_begun, ready
tail not_begun, waits for head
`},
		{"one that is open still does not count when it is accepted later", line, []string{"1: bed: high=5; @50; fitter=Ana", "40: bed" + anew + "high=5"}, 60, `
bed under_way bed-40, ready
head not_begun, waits for bed
tail not_begun, waits for head
`},
		{"begun for no task, of before", line, []string{"39: bed: " + good, "40: head" + anew + good}, 41, `
bed not_begun, ready
head accepted head-40
tail not_begun, ready
`},
		{"a correction of the round before that is reported late spoils", line, []string{"1: bed: high=50; @50; mend=yes", "40: bed" + anew + good, "41: head: " + good}, 60, `
bed again bed-40, ready, spoilt: "Mend the bed" (run bed-1, 2026-04-20) was done when it was measured again
head again head-41, waits for bed, spoilt: "Mend the bed" (run bed-1, 2026-04-20) is a correction of bed, which comes before it
tail not_begun, waits for head
`},
		{"anew twice", line, []string{"1: bed: " + good, "40: bed" + anew + good, "80: head" + anew + "high=5"}, 81, `
bed not_begun, ready
head under_way head-80, waits for bed
tail not_begun, waits for head
`},
		{"a plan that was not begun anew keeps its runs", loose, []string{"1: bed: " + good, "40: head plan=other anew=worn: " + good}, 41, `
bed accepted bed-1
head accepted head-40
quill not_begun, ready
`},
		{"another machine's round", line, []string{"1: bed: " + good, "40: bed machine=lathe-2" + anew + good}, 41, `
bed accepted bed-1
head not_begun, ready
tail not_begun, waits for head
`},
	} {
		t.Run(l.name, l.run)
	}
}

// What it came to before is told, and which round this is.
func TestRoundsAreTold(t *testing.T) {
	procs, plans := shop(t, line)
	h := overhaul.Read(machine, work(t, procs, "1: bed: "+good, "2: head: high=5", "40: bed plan=plan-1 anew=worn: "+good, "80: bed plan=plan-1 anew=wrecked: high=5"), plans...)
	v := h.Look(plans[0], day(81))
	if d := cmp.Diff(overhaul.Round{N: 3, Since: day(80), Because: "wrecked", Run: "bed-80"}, v.Round); d != "" {
		t.Errorf("the round (-want +got)\n%s", d)
	}
	bed, _ := v.Task("bed")
	head, _ := v.Task("head")
	got := append(bed.Before, head.Before...)
	for i := range got {
		got[i].At = day(1) // the hour is of no interest
	}
	if d := cmp.Diff([]overhaul.Past{{"bed-1", engine.Accepted, day(1)}, {"bed-40", engine.Accepted, day(1)}, {"head-2", engine.NotDecided, day(1)}}, got); d != "" {
		t.Errorf("before (-want +got)\n%s", d)
	}
	if !h.History("bed-1") || !h.History("bed-40") || !h.History("head-2") || h.History("bed-80") {
		t.Error("which runs are history: want all but bed-80")
	}
	causes := h.Spoilt("bed-1")
	if len(causes) != 1 || causes[0].Kind != overhaul.NewRound || causes[0].Said() != "plan-1 was begun anew on 2026-04-10 with run bed-40: worn" || causes[0].Origin() != "bed-40" {
		t.Errorf("what bed-1 does not hold by: %+v", causes)
	}
}

// Semantics rule 45: no value is taken from a round that is over, and of two the
// one that counts is the newest, whenever the other was signed.
func TestRule45NotFromARoundBefore(t *testing.T) {
	procs, plans := shop(t, line)
	h := overhaul.Read(machine, work(t, procs, "1: bed: "+good, "40: head plan=plan-1 anew=worn: high=5"), plans...)
	run, _, spoilt, ok := h.Newest("bed")
	if !ok || run.Name != "bed-1" || len(spoilt) != 1 || !strings.Contains(spoilt[0].Said(), "begun anew") {
		t.Errorf("%s, %v, %v; want bed-1, which does not count any more", run.Name, spoilt, ok)
	}
	h = overhaul.Read(machine, work(t, procs, "1: bed: high=5; @50; fitter=Ana", "40: bed plan=plan-1 anew=worn: "+good), plans...)
	if run, _, spoilt, _ := h.Newest("bed"); run.Name != "bed-40" || len(spoilt) != 0 {
		t.Errorf("%s, %v; want bed-40", run.Name, spoilt)
	}
	if got := h.Replaced("bed-40"); got != "" {
		t.Errorf("bed-40 is replaced by %s, of the round before", got)
	}
}

// Before anything is begun, it can be seen how it will stand.
func TestRoundAboutToBegin(t *testing.T) {
	procs, plans := shop(t, line)
	h := overhaul.Read(machine, work(t, procs, "1: bed: "+good, "2: head: "+good, "30: quill: "+good), plans...)
	if n := h.Anew(plans[0], day(40), "worn"); n != 2 {
		t.Errorf("%d runs are left behind; want the 2 of the plan", n)
	}
	v := h.Look(plans[0], day(40))
	if v.Count(overhaul.NotBegun) != 3 || v.Round.N != 2 || v.Round.Because != "worn" {
		t.Errorf("round %+v:\n%s", v.Round, said(v))
	}
	if s := h.Spoilt("bed-1"); len(s) != 1 || s[0].Said() != "plan-1 was begun anew on 2026-04-10: worn" {
		t.Errorf("bed-1: %+v", s)
	}
	// From a day that lies back: what was begun since counts.
	h = overhaul.Read(machine, work(t, procs, "1: bed: "+good, "2: head: "+good, "38: bed: "+good), plans...)
	if n := h.Anew(plans[0], day(38), "worn"); n != 2 {
		t.Errorf("%d runs are left behind; want 2", n)
	}
	if bed, _ := h.Look(plans[0], day(40)).Task("bed"); bed.State != overhaul.Accepted || bed.Run != "bed-38" {
		t.Errorf("bed %s %s; want accepted, bed-38", bed.State, bed.Run)
	}
}
