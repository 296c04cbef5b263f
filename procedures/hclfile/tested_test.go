package hclfile_test

import (
	"fmt"
	"testing"

	"waywright/procedures"
)

// A reading whose needle was tested at another one names it (semantics rule 22).
func TestRule22TestedElsewhere(t *testing.T) {
	reading := func(name, with, more string) string {
		return fmt.Sprintf("  reading %q {\n    ask = \"R\"\n    unit = \"um\"\n    with = instrument.%s\n    positive = \"up\"\n    range = [um(-9), um(9)]\n%s  }\n", name, with, more)
	}
	other := "instrument \"other\" {\n  kind = \"dial\"\n  resolution = um(1)\n}\n"
	up, each := "    nudge = \"up\"\n", "  each \"seat\" { of = [\"a\", \"b\"] }\n"
	for _, tt := range []struct {
		name, body string
		want       []string
	}{
		{"above", openS + reading("a", "dial", up) + reading("b", "dial", up+"    tested = reading.a\n") + "}\n", nil},
		{"itself, for all rounds", openS + each + reading("a", "dial", up+"    tested = reading.a\n") + "}\n", nil},
		{"itself, without rounds", openS + reading("a", "dial", up+"    tested = reading.a\n") + "}\n", []string{"E110 reading.a"}},
		{"itself, without a nudge", openS + each + reading("a", "dial", "    tested = reading.a\n") + "}\n", []string{"E110 reading.a"}},
		{"below", openS + reading("a", "dial", up+"    tested = reading.b\n") + reading("b", "dial", up) + "}\n", []string{"E202 reading.b"}},
		{"no nudge here", openS + reading("a", "dial", up) + reading("b", "dial", "    tested = reading.a\n") + "}\n", []string{"E110 reading.a"}},
		{"no nudge there", openS + reading("a", "dial", "") + reading("b", "dial", up+"    tested = reading.a\n") + "}\n", []string{"E204 reading.a"}},
		{"another needle", openS + reading("a", "other", up) + reading("b", "dial", up+"    tested = reading.a\n") + "}\n", []string{"E204 reading.a"}},
		{"nowhere", openS + reading("b", "dial", up+"    tested = reading.c\n") + "}\n", []string{"E201 reading.c"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			src := procedure(dial + other + tt.body)
			got := said(src)
			got = without(got, "W501")
			if fmt.Sprint(got) != fmt.Sprint(tt.want) && len(got)+len(tt.want) > 0 {
				t.Errorf("said %q; want %q", got, tt.want)
			}
		})
	}
	p := read(t, procedure(dial+openS+reading("a", "dial", up)+reading("b", "dial", up+"    tested = reading.a\n")+"}\n"))
	if b := item[*procedures.Reading](t, p, "b"); b.Tested != item[*procedures.Reading](t, p, "a") {
		t.Errorf("b is tested at %v; want a", b.Tested)
	}
}

func without(list []string, code string) (out []string) {
	for _, s := range list {
		if s[:len(code)] != code {
			out = append(out, s)
		}
	}
	return out
}

// The angles of a turn have words: which way they run, and seen from where.
func TestTurningOfATurn(t *testing.T) {
	around := func(more string) string {
		return openS + "  reading \"a\" {\n    ask = \"At ${each.angle}\"\n    unit = \"um\"\n    with = instrument.dial\n    positive = \"out\"\n    range = [um(-9), um(9)]\n" + more + "  }\n}\n"
	}
	for _, tt := range []struct {
		more string
		want []string
	}{
		{"    around = 8\n    turning = \"anticlockwise, seen from the tailstock\"\n", nil},
		{"    around = 8\n    turning = \"to the right\"\n", []string{`E112 "to the right"`}},
		{"    turning = \"clockwise\"\n", []string{"E110 turning"}},
	} {
		got := said(procedure(dial + around(tt.more)))
		if len(tt.want) == 0 && len(got) > 0 || len(tt.want) > 0 && (len(got) == 0 || got[len(got)-1] != tt.want[0]) {
			t.Errorf("%s: said %q; want %q", tt.more, got, tt.want)
		}
	}
}
