package engine_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// mistake is a common mistake of the trade: a scenario whose data show it, with
// what the engine answers, and ones close by that must not be taken for it. The
// mistakes and their signs are common practice.
type mistake struct {
	name   string
	file   string // a scenario
	shows  int    // number of its begin that shows the mistake, from 0
	says   []string
	beside []int // numbers of those close by
	not    string
}

var mistakes = []mistake{
	{"tailstock moved the wrong way", "mistake-wrong-way", 0,
		[]string{"moved 20.0000 µm away from the operator, now 40.0000 µm towards the operator", ": wrong_way (response -1.00, fidelity -1.00", "way set_over, 40.0000 µm towards the operator"}, []int{1}, "wrong_way"},
	{"near and far swapped, or the needle's sign wrong", "mistake-places-taken-for-one-another", 0,
		[]string{": wrong_sign (response -1.00, fidelity 1.00", "test the needle"}, []int{1}, "wrong_sign"},
	{"places swapped before the move", "signs-swapped", 0, []string{"looks like swapped, taper"}, []int{1, 2}, "looks like swapped"},
	{"the clamp took it back", "mistake-clamp", 0, []string{"asked 20.0000 µm towards the operator, moved 7.0000 µm towards the operator, now 13.0000 µm"}, []int{1}, "next: set_over.moved"},
	{"sign confusion", "signs-mirrored", 0, []string{"looks like signs"}, []int{1}, "looks like signs"},
	{"lever at 45 degrees", "signs-lever", 0, []string{"looks like lever", "stands at 45°"}, []int{1, 2}, "looks like lever"},
	{"warm part", "signs-cooling", 0, []string{"looks like cooling", "Wait until two readings"}, []int{1, 2}, "looks like"},
	{"tightening changes the reading", "mistake-tightening", 0, []string{"gate still: fail", "way find_pad"}, []int{1}, "way find_pad"},
	{"one screw pulls", "signs-screw", 0, []string{"looks like pulling", "Look at the pad under screw 2"}, []int{1, 2}, "looks like pulling"},
	{"bar run-out taken for misalignment", "signs-bar", 0, []string{"looks like bar", "Only the mean of both turns"}, []int{1}, "looks like bar"},
	{"bar run-out, and passed by luck", "mistake-bar-passed", 0, []string{"gate line: undecided", "looks like bar", "way afresh"}, []int{1, 2}, "looks like"},
	{"chuck instead of bore", "signs-seat", 0, []string{"looks like seat"}, []int{1}, "looks like seat"},
	{"chuck instead of bore, acceptance refused", "signs-seat-passed", 0, []string{"gate line: undecided", "looks like seat", "way afresh"}, []int{1}, "looks like"},
	{"backlash", "signs-backlash", 0, []string{"looks like backlash", "from the same side"}, []int{1, 2}, "looks like backlash"},
	{"indicator sag", "mistake-sag", 0, []string{"looks like sag", "Find what the arm hangs by"}, []int{1, 2, 3}, "looks like sag"},
	{"only one plane", "mistake-one-plane", 0, []string{"gate in_line: not_measured"}, []int{1}, "not_measured"},
	{"impossible precision", "mistake-no-difference", 0, []string{"no difference shown"}, []int{1}, "no difference shown"},
	{"copied readings, one place", "signs-same", 0, []string{"refused (copied)"}, []int{1}, "refused (copied)"},
	{"copied readings, several places", "mistake-copied-sets", 0, []string{"refused (copied)", "7 takes at 2 places"}, []int{1, 2}, "refused (copied)"},
	{"copied readings of the time before", "signs-copied", 0, []string{"looks like copied"}, []int{1}, "looks like copied"},
	{"drift", "rule-20-void", 1, []string{"void row: moved 3 µm, allowed 2 µm"}, []int{0}, "void"},
	{"tight feel", "signs-pressing", 0, []string{"looks like pressing", "Use the ratchet"}, []int{1}, "looks like"},
}

func TestMistakes(t *testing.T) {
	for _, m := range mistakes {
		t.Run(m.name, func(t *testing.T) {
			scenario(t, m.file) // what the file has is what the engine says
			text, err := os.ReadFile(filepath.Join("..", "testdata", "scenarios", m.file+".txt"))
			if err != nil {
				t.Fatal(err)
			}
			said := strings.Split("\n"+string(text), "\nbegin ")[1:]
			for _, want := range m.says {
				if !strings.Contains(said[m.shows], want) {
					t.Errorf("begin %d does not say %q", m.shows, want)
				}
			}
			for _, i := range m.beside {
				if strings.Contains(said[i], m.not) {
					t.Errorf("begin %d, which is close by, says %q", i, m.not)
				}
			}
		})
	}
}
