package rehearse_test

import (
	"slices"
	"testing"

	"waywright/checks"
	"waywright/engine/rehearse"
	"waywright/procedures"
	"waywright/procedures/library"
)

// unspoken says of a procedure why no mistake made in it can be told from what
// is read there.
var unspoken = map[string]string{
	"lathe/lathe-arrival": "it is looked at, not measured",
}

// Every procedure that ships has at least a good machine, one out of tolerance
// that is corrected, and a mistake on purpose that is found out; together they
// reach every branch.
func TestLibraryRehearsals(t *testing.T) {
	for _, name := range library.Procedures() {
		t.Run(name, func(t *testing.T) {
			plan := fromLibrary(t, name)
			p := plan.Procedure()
			seen := hold(t, plan)
			for _, m := range rehearse.Cover(p, seen).Missing {
				t.Errorf("%s: %s", m.At, m.What)
			}
			untouched, corrected, caught := 0, 0, 0
			for _, r := range p.Rehearsals {
				if len(r.Mistakes) > 0 && len(r.Said) > 0 {
					caught++
				}
				if r.Outcome == "rejected" || r.Outcome == "not_decided" || len(r.Mistakes) > 0 {
					continue
				}
				if slices.ContainsFunc(r.Rounds, func(x procedures.Rounds) bool { return x.Most != 0 }) {
					corrected++
				} else {
					untouched++
				}
			}
			// Where nothing is corrected, nothing is brought right.
			if untouched == 0 || corrected == 0 && len(p.Corrections) > 0 || caught == 0 && unspoken[name] == "" {
				t.Errorf("%d good machines, %d corrected, %d mistakes found out", untouched, corrected, caught)
			}
			if caught > 0 && unspoken[name] != "" {
				t.Errorf("a mistake is found out, though: %s", unspoken[name])
			}
		})
	}
}

// No more machines out of tolerance are accepted than the rule states (measure
// rule 12: a pass is right with 0.95), and at least 995 of 1000 that can be
// corrected are brought to acceptance within the attempts allowed. The numbers
// of machines are what runs in a few seconds; the interval is exact.
func TestMeasureRule18LibraryRisk(t *testing.T) {
	for _, tt := range []struct {
		procedure string
		machines  int
		least     int // out of tolerance at first, so that there is something to correct
	}{
		{"lathe/tailstock-by-test-cut", 2000, 1000},
		{"lathe/headstock-align", 300, 200},
	} {
		t.Run(tt.procedure, func(t *testing.T) {
			plan := fromLibrary(t, tt.procedure)
			r := first(plan)
			if !rehearse.Spreads(r) {
				t.Fatalf("rehearsal %q states no spread", r.Name)
			}
			s := rehearse.Sum(plan.Procedure(), rehearse.Machines(plan, r, tt.machines, 2, nil))
			if len(s.Failed) > 0 || s.Unknown > 0 {
				t.Fatalf("%d runs could not be played, of %d machines the truth is not known; the first: %+v", len(s.Failed), s.Unknown, s.Failed)
			}
			for _, g := range s.Gates {
				if g.Rule == checks.Simple {
					continue
				}
				// Not above what is promised, and surely not: the whole interval.
				if _, hi := g.Bad.Interval(); g.Promised == nil || hi > *g.Promised {
					t.Errorf("gate %s: %d of %d accepted are out, up to %.4f; promised %v", g.Gate.Name, g.Bad.K, g.Bad.N, hi, g.Promised)
				}
			}
			if !s.Kept() {
				t.Error("the rule is said not to be kept")
			}
			if s.OutAtFirst.N < tt.least || s.OutAtFirst.Share() < 0.995 {
				t.Errorf("%d of %d out of tolerance were brought to acceptance, want 0.995 of at least %d", s.OutAtFirst.K, s.OutAtFirst.N, tt.least)
			}
			t.Logf("%+v; brought to acceptance %+v, touched %+v, rounds at most %d", s.Tally, s.OutAtFirst, s.Touched, s.Rounds)
		})
	}
}
