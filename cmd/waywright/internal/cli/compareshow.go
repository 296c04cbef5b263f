package cli

import (
	"fmt"
	"strings"
	"time"

	"waywright/procedures/diagnose"
	"waywright/report/compare"
	"waywright/report/compare/printed"
	"waywright/report/document"
	"waywright/report/draw"
)

// comparedText lays a comparison out for a terminal: what differs first, then
// the runs, then each test, label before value.
type comparedText struct {
	b       strings.Builder
	width   int
	picture int // columns of the picture of each test; 0: none
}

// par writes a paragraph behind a label. Lines that follow stand below its
// words, or where the label is long a little further in than it.
func (w *comparedText) par(indent, label, s string) {
	if s = strings.TrimSpace(s); s == "" {
		return
	}
	if len([]rune(label)) > mostLabel {
		below := indent + "  "
		w.b.WriteString(indent + strings.TrimPrefix(w.fill(label+" "+s, below), below))
		return
	}
	below := indent
	if label != "" {
		below += strings.Repeat(" ", len([]rune(label))+1)
		label += " "
	}
	w.b.WriteString(indent + label + strings.TrimPrefix(w.fill(s, below), below))
}

// fill breaks a text into lines, a figure and its unit on one of them.
func (w *comparedText) fill(s, indent string) string {
	const held = "\uE000"
	s = strings.ReplaceAll(document.Keep(diagnose.Plain(s)), "\u00a0", held)
	return strings.ReplaceAll(fill(s, indent, w.width), held, " ")
}

// mostLabel is how long a label may be for lines to stand behind it.
const mostLabel = 12

func (w *comparedText) line(s string) { w.b.WriteString(s + "\n") }

func (w *comparedText) all(c compare.Comparison) {
	w.par("", "COMPARED ", c.About())
	w.line("")
	w.outcome(c)
	w.line("THE RUNS")
	for _, r := range c.Runs {
		w.run(r)
	}
	for i, t := range c.Tests {
		w.line("")
		w.test(c, i, t)
	}
	w.line("")
	w.line("HOW IT WAS COMPARED")
	for _, n := range c.Notes {
		w.par(" ", "-", n)
	}
}

func (w *comparedText) outcome(c compare.Comparison) {
	for _, word := range compare.Words {
		ts := c.Which(word)
		if len(ts) == 0 && word != compare.Different {
			continue
		}
		w.line(fmt.Sprintf("%s: %d", word, len(ts)))
		for i, t := range c.Tests {
			if t.Word() != word {
				continue
			}
			no := fmt.Sprintf("%2d", i+1)
			w.par(" ", no, t.Title)
			switch word {
			case compare.Different:
				for _, s := range t.Real() {
					w.par("    ", "", s)
				}
			case compare.Same:
				for _, s := range t.Same() {
					w.par("    ", "", s)
				}
			case compare.NotCompared:
				for _, s := range t.Cannot {
					w.par("    ", "", s)
				}
			}
		}
		w.line("")
	}
}

func (w *comparedText) run(r compare.Run) {
	w.par(" ", r.Letter, r.Name+", "+dayOf(r.To))
	w.par("   ", "", r.Text+". "+r.Title+", "+r.Machine+".")
	for _, s := range r.But {
		w.par("   ", "", s)
	}
}

func (w *comparedText) test(c compare.Comparison, i int, t compare.Test) {
	w.par("", fmt.Sprintf("%2d ", i+1), t.Title)
	w.par("   ", "", t.Word())
	for _, d := range t.Differences {
		w.par("   ", d.Between()+":", d.Said)
	}
	for _, d := range t.Drifts {
		w.par("   ", "Drift of "+d.Machine+":", d.Said)
	}
	for _, v := range t.Values {
		w.value(v)
	}
	if p, ok := printed.Picture(c, i); ok && w.picture > 0 {
		w.line("")
		w.line(strings.Join(draw.Terminal(p, w.picture, 0), "\n"))
		w.par("   ", "", lettersSaid(p))
	}
	for _, s := range append(append([]string{t.Limits}, t.Cannot...), t.Notes...) {
		w.par("   ", "", s)
	}
}

func (w *comparedText) value(v compare.Value) {
	if v.State == compare.NoTest {
		return
	}
	with := ""
	if len(v.Instruments) > 0 {
		with = ", with " + strings.Join(v.Instruments, ", ")
	}
	at := ""
	if v.AsLeft != nil {
		at = dayOf(v.AsLeft.At)
	}
	w.par("   ", v.Run, strings.TrimPrefix(at+with, ", "))
	switch {
	case v.AsLeft == nil:
		w.par("     ", "", v.StateSaid())
	case v.Worked:
		w.par("     ", "found  ", foundSaid(v.AsFound))
		w.par("     ", "left   ", foundSaid(v.AsLeft))
	default:
		w.par("     ", "found  ", foundSaid(v.AsLeft))
	}
	if v.Allowed != nil {
		w.par("     ", "allowed", v.Allowed.Said)
	}
}

func foundSaid(e *compare.Entry) string {
	if e == nil {
		return "not read"
	}
	s := e.Said
	if e.Worst != "" {
		s = "at " + e.Worst + " " + s
	}
	if e.U != nil {
		s += ", give or take " + e.U.WithUnit()
	}
	return s + ". " + e.Word
}

// dayOf is the day of a time of a record.
func dayOf(s string) string {
	t, err := time.Parse(time.RFC3339, s)
	if err != nil {
		return s
	}
	return t.UTC().Format("2 January 2006")
}
