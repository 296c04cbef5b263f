package cli

import (
	"fmt"
	"slices"
	"strings"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile/schema"
)

// toldWhole is how many rehearsals that fail are told of in full: most often the
// others fail by the same.
const toldWhole = 3

// failures says of each rehearsal that failed where it did first.
func (a *app) failures(f *rehearsedFile) {
	n := 0
	for _, r := range f.Rehearsals {
		if r.Failed == 0 {
			continue
		}
		x := r.Failures[0]
		a.printf("%s: rehearsal %q failed\n", x.At, diagnose.Plain(r.Rehearsal))
		a.par("  ", diagnose.Plain(x.Sentence))
		a.item("  ", "Seed", fmt.Sprintf("%d, answer %d: %s = %s", x.Seed, x.Answer, x.Question, diagnose.Plain(or(x.Typed, "nothing"))))
		if n++; n > toldWhole {
			continue
		}
		a.item("  ", "Stated:", strings.Join(x.Stated, ", "))
		a.item("  ", "Came:  ", strings.Join(append([]string{x.Outcome}, x.Rounds...), ", "))
		for _, m := range x.Mistakes {
			a.item("  ", "Mistake:", m)
		}
		a.item("  ", "Hidden:", strings.Join(x.Hidden, "; "))
		for _, g := range x.Gates {
			a.item("  ", "Gate", diagnose.Plain(g))
		}
		for _, s := range x.Said {
			a.item("  ", "Said of", s)
			a.meanings(s)
		}
		a.lookAt(x)
		a.trail(x)
		if r.Failed > 1 {
			a.printf("  So or otherwise failed %d of %s.\n", r.Failed, plural(r.Seeds, "seed"))
		}
	}
	if n > toldWhole {
		a.par("", fmt.Sprintf("The first %d are told in full. Mend them first: the others often fail by the same. Or see all: waywright rehearse --json.", toldWhole))
	}
}

// meanings says what the words mean that were said of a correction or a reading.
func (a *app) meanings(said string) {
	_, words, _ := strings.Cut(said, ": ")
	told := map[string]bool{"as_expected": true}
	for _, w := range strings.Split(words, ", ") {
		w, _, _ = strings.Cut(w, " ")
		if told[w] {
			continue
		}
		told[w] = true
		if i := slices.Index(schema.Responses, w); i >= 0 {
			a.item("    ", w+":", schema.ResponseMean[i])
		} else if i := slices.Index(schema.Objections, w); i >= 0 {
			a.item("    ", w+":", schema.ObjectionMean[i])
		}
	}
}

// lookAt says what may have led to it, and where that stands.
func (a *app) lookAt(x failureSeen) {
	for _, l := range x.Looks {
		var at []string
		for _, p := range l.At {
			at = append(at, shortPlace(p, x.At))
		}
		a.item("  ", "Look:", diagnose.Plain(l.Said)+" "+capital(strings.Join(at, ", "))+".")
	}
}

// shortPlace is a place as a line of the file that is spoken of, or of another.
func shortPlace(place, besides string) string {
	file, line := fileAndLine(place)
	if other, _ := fileAndLine(besides); other == file {
		return "line " + line
	}
	return "line " + line + " of " + file
}

// fileAndLine parts bar.hcl:12:3.
func fileAndLine(place string) (file, line string) {
	parts := strings.Split(place, ":")
	if len(parts) < 3 {
		return place, ""
	}
	return strings.Join(parts[:len(parts)-2], ":"), parts[len(parts)-2]
}

// trail lists the last answers, each with the places that state and ask it.
func (a *app) trail(x failureSeen) {
	if len(x.Last) == 0 {
		return
	}
	a.printf("  The last answers\n")
	wide := 0
	lines := make([]string, len(x.Last))
	for i, t := range x.Last {
		lines[i] = fmt.Sprintf("%4d  %s = %s", t.N, t.Question, diagnose.Plain(t.Typed))
		if t.Refused != "" {
			lines[i] += " (not taken: " + t.Refused + ")"
		}
		wide = max(wide, len([]rune(lines[i])))
	}
	for i, t := range x.Last {
		places := shortPlace(t.From, x.At)
		if t.Asked != "" {
			places += ", asked in " + shortPlace(t.Asked, x.At)
		}
		a.printf("  %-*s  %s\n", wide, lines[i], places)
	}
}
