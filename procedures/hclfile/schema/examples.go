package schema

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"
)

//go:embed examples/*.hcl
var exampleFiles embed.FS

// Examples returns the files that the examples of blocks are taken from: a
// folder of two procedures, what they share, a plan, and a shop's registers.
func Examples() fs.FS {
	sub, err := fs.Sub(exampleFiles, "examples")
	if err != nil {
		panic(err) // the folder is embedded
	}
	return sub
}

// takenFrom says where the example of a block stands: the file, and the line
// that it begins with.
var takenFrom = map[*Block][2]string{
	ProcedureFile:   {"vice-base.hcl"},
	Procedure:       {"vice-jaw.hcl", `procedure "vice-jaw"`},
	Given:           {"shared.hcl", `given "jaw"`},
	Instrument:      {"vice-jaw.hcl", `instrument "thermometer"`},
	Step:            {"vice-base.hcl", `step "read"`},
	Each:            {"vice-jaw.hcl", `each "end"`},
	Confirm:         {"vice-jaw.hcl", `confirm "clean_both"`},
	Wait:            {"vice-jaw.hcl", `wait "warm"`},
	Until:           {"vice-jaw.hcl", `until`},
	Reading:         {"vice-jaw.hcl", `reading "jaw_end"`},
	Result:          {"vice-jaw.hcl", `result "skew"`},
	Gate:            {"vice-jaw.hcl", `gate "parallel"`},
	Correction:      {"vice-jaw.hcl", `correction "tap"`},
	Moved:           {"vice-jaw.hcl", `moved`},
	ShouldChange:    {"vice-jaw.hcl", `should_change`},
	Signoff:         {"vice-jaw.hcl", `signoff "inspector"`},
	Rehearsal:       {"vice-base.hcl", `rehearsal "a chip under it"`},
	Hidden:          {"vice-base.hcl", `hidden`},
	Spread:          {"vice-jaw.hcl", `spread`},
	Noise:           {"vice-base.hcl", `noise`},
	Answer:          {"vice-base.hcl", `answer`},
	Reacts:          {"vice-base.hcl", `reacts "lift"`},
	Mistake:         {"vice-jaw.hcl", `mistake "wrong_way"`},
	Ends:            {"vice-jaw.hcl", `ends`},
	SharedFile:      {"shared.hcl"},
	Caution:         {"shared.hcl", `caution "hands_off"`},
	Table:           {"shared.hcl", `table "vice"`},
	Row:             {"shared.hcl", `row "jaw_parallel"`},
	SharedRehearsal: {"shared.hcl", `rehearsal "the shop's vice"`},
	OverhaulFile:    {"mill-vice.hcl"},
	Overhaul:        {"mill-vice.hcl", `overhaul "mill-vice"`},
	Task:            {"mill-vice.hcl", `task "jaw"`},
	PlanRehearsal:   {"mill-vice.hcl", `rehearsal "knocked, with a chip under it"`},
	PlanHidden:      {"mill-vice.hcl", `hidden`},
	PlanPart:        {"mill-vice.hcl", `procedure "vice-base"`},
	PlanBound:       {"mill-vice.hcl", `hidden { rise`},
	PlanReacts:      {"mill-vice.hcl", `reacts "lift"`},
	PlanEnds:        {"mill-vice.hcl", `ends`},
	MachinesFile:    {"machines.hcl"},
	Machine:         {"machines.hcl", `machine "mill-1"`},
	TestBar:         {"machines.hcl", `test_bar`},
	InstrumentsFile: {"instruments.hcl"},
	RealInstrument:  {"instruments.hcl", `instrument "I-4"`},
	History:         {"instruments.hcl", `history`},
	PeopleFile:      {"people.hcl"},
	Person:          {"people.hcl", `person "tomas"`},
	ShopFile:        {"shop.hcl"},
}

var examples = func() map[*Block]string {
	out := map[*Block]string{}
	for b, from := range takenFrom {
		text, err := exampleFiles.ReadFile("examples/" + from[0])
		if err != nil {
			panic("schema: " + err.Error())
		}
		out[b] = cutOut(string(text), from[1])
		if out[b] == "" {
			panic(fmt.Sprintf("schema: %s has no %s", from[0], from[1]))
		}
	}
	return out
}()

// cutOut returns the block that begins with the words, from its line to that
// of its closing brace, without the indent that they have in common; the whole
// text where no words are given.
func cutOut(text, words string) string {
	if words == "" {
		return text
	}
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		begins := strings.TrimLeft(line, " ")
		if !strings.HasPrefix(begins, words+" ") {
			continue
		}
		indent := line[:len(line)-len(begins)]
		if strings.HasSuffix(line, "}") {
			return begins + "\n"
		}
		for n, last := range lines[i:] {
			if last == indent+"}" {
				return dedent(lines[i:i+n+1], indent)
			}
		}
	}
	return ""
}

func dedent(lines []string, indent string) string {
	var b strings.Builder
	for _, line := range lines {
		b.WriteString(strings.TrimPrefix(line, indent) + "\n")
	}
	return b.String()
}
