package rehearse_test

import (
	"slices"
	"strings"
	"testing"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures"
	"waywright/procedures/library"
)

// What is asked of a sheet that was filled in at the machine comes in the order
// of its numbers, so that no page is turned back, whatever the machine was like:
// on the straight path, and through the corrections that stand behind gates. It
// goes back only where the same lines are filled in a second time, on a copy.
func TestPaperOrderIsThatOfTheSheet(t *testing.T) {
	for _, name := range library.Procedures() {
		t.Run(name, func(t *testing.T) {
			plan := fromLibrary(t, name).WithTrials(50) // verdicts near a limit do not matter here
			played := 0
			for _, r := range plan.Procedure().Rehearsals {
				if len(r.Mistakes) == 0 && played < 4 {
					followSheet(t, plan, r)
					played++
				}
			}
		})
	}
}

func followSheet(t *testing.T, plan *engine.Plan, r *procedures.Rehearsal) {
	t.Helper()
	s, asked, ended := rehearse.OnPaper(plan, r, 1)
	fields := blankSheet(t, plan).Fields()
	at := []int{-1} // where one may be on the sheet: a correction stands behind each gate that names it
	followed, stopped := 0, false
	for i, q := range asked {
		if !q.Sheet {
			t.Fatalf("%s: %s is not asked of the sheet", r.Name, q.Name)
		}
		stopped = stopped || q.Kind == engine.AskWay || q.Kind == engine.AskMove
		if q.Field == "" || q.Kind == engine.AskWay || strings.HasSuffix(q.Field, " further") {
			continue
		}
		if i > 0 && asked[i-1].Field == q.Field { // the next take, or a value that was refused
			continue
		}
		no, _, _ := strings.Cut(q.Field, " (") // a third time is written on a copy
		first, _, _ := strings.Cut(q.Name, ".")
		copied := stopped || slices.Contains(ended.Said[first], "void")
		var next []int
		for k, f := range fields {
			if f.No == no && (k > slices.Min(at) || copied) {
				next = append(next, k)
			}
		}
		if len(next) == 0 {
			if copied { // read once more for a gate that has no correction
				continue
			}
			last := slices.Min(at)
			t.Errorf("%s: question %d is field %s (%s), behind field %s (%s) of the sheet", r.Name, i+1, q.Field, q.Name, fields[max(last, 0)].No, fields[max(last, 0)].Name)
			return
		}
		at, stopped = next, false
		followed++
	}
	if followed < 4 {
		t.Errorf("%s: only %d fields were followed", r.Name, followed)
	}
	if got := len(s.Sheets()); got != 1 {
		t.Errorf("%s: %d sheets, want 1", r.Name, got)
	}
}

func blankSheet(t *testing.T, plan *engine.Plan) engine.WorkSheet {
	t.Helper()
	s, err := engine.New(plan).With(engine.Event{N: 1, Data: engine.Begun{Procedure: plan.Procedure().Name}})
	if err != nil {
		t.Fatal(err)
	}
	return s.WorkSheet()
}
