package document

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"waywright/checks/quantity"
	"waywright/report"
)

func parse(s string) (time.Time, bool) {
	t, err := time.Parse(time.RFC3339, s)
	return t.UTC(), err == nil
}

// when prints a time: 3 Nov 2026, 08:36. What is no time is shown as it is.
func when(s string) string {
	if t, ok := parse(s); ok {
		return t.Format("2 Jan 2006, 15:04")
	}
	return s
}

// day prints the day of a time.
func day(s string) string {
	if t, ok := parse(s); ok {
		return t.Format("2 January 2006")
	}
	return s
}

// days prints the days from one time to another: 3 to 24 November 2026.
func days(from, to string) string {
	a, okA := parse(from)
	b, okB := parse(to)
	switch {
	case !okA || !okB || day(from) == day(to):
		return day(from)
	case a.Year() != b.Year():
		return day(from) + " to " + day(to)
	case a.Month() != b.Month():
		return a.Format("2 January") + " to " + day(to)
	}
	return fmt.Sprintf("%d to %s", a.Day(), day(to))
}

func lower(s string) string { return first(unicode.ToLower, s) }
func upper(s string) string { return first(unicode.ToUpper, s) }

// first turns the first letter of a text.
func first(turn func(rune) rune, s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 || r == utf8.RuneError {
		return s
	}
	return string(turn(r)) + s[n:]
}

// sentence ends with a stop.
func sentence(s string) string {
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") {
		return upper(s)
	}
	return upper(s) + "."
}

// stampText says when and by whom.
func stampText(s report.Stamp) string {
	if s.By == "" {
		return when(s.Time)
	}
	return when(s.Time) + ", by " + s.By
}

// keep holds a figure and its unit together on a line.
func keep(s string) string { return figureAndUnit.ReplaceAllString(s, "$1\u00a0$2") }

// figureAndUnit finds a figure with a unit behind it, which stay on one line.
var figureAndUnit = unitPattern()

func unitPattern() *regexp.Regexp {
	var symbols []string
	for _, u := range quantity.Units() {
		if u.Symbol != "" {
			symbols = append(symbols, regexp.QuoteMeta(u.Symbol))
		}
	}
	slices.SortFunc(symbols, func(a, b string) int { return len(b) - len(a) })
	return regexp.MustCompile(`([0-9]) ((?:` + strings.Join(symbols, "|") + `)(?:[^\pL]|$))`)
}

// trueMinus puts the minus of pages in the place of the one on a keyboard.
func trueMinus(typed string) string { return keyboardMinus.ReplaceAllString(typed, "${1}−$2") }

var keyboardMinus = regexp.MustCompile(`(^|\s)-([0-9.,])`)

// giveOrTake is the doubt of a value.
func giveOrTake(f *report.Finding) string {
	switch {
	case f == nil || f.Value == nil:
		return ""
	case f.U == nil:
		return "none stated"
	}
	return f.U.WithUnit()
}

func coverage(f *report.Finding) string {
	if f == nil || f.U == nil || f.K == 0 {
		return ""
	}
	return fmt.Sprintf("k\u00a0=\u00a0%.2f", f.K)
}

func foundSaid(f *report.Finding) string {
	if f == nil {
		return ""
	}
	return f.Said
}

// names joins instruments as they are called in one breath: M-3, I-2.
func instrumentNames(r report.Record, ids []string) []string {
	var out []string
	for _, id := range ids {
		i, ok := r.Instrument(id)
		if !ok {
			continue
		}
		if n := instrumentName(i); !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

func instrumentName(i report.Instrument) string {
	switch {
	case i.Number != "":
		return i.Number
	case i.Skipped:
		return i.Kind + ", not identified"
	}
	return i.Kind
}

// instrumentSaid tells what an instrument is and can do.
func instrumentSaid(i report.Instrument) string {
	parts := []string{i.Kind}
	if i.Number != "" {
		parts = []string{i.Number, i.Kind}
	}
	if i.Resolution != nil {
		parts = append(parts, "reads "+i.Resolution.WithUnit())
	}
	if i.Certificate != nil {
		parts = append(parts, "certificate "+i.Certificate.WithUnit())
	}
	switch {
	case i.Overdue:
		parts = append(parts, "calibration OVERDUE, ended "+date(i.Due))
	case i.Due != "":
		parts = append(parts, "calibration until "+date(i.Due))
	case i.Skipped:
		parts = append(parts, "not identified")
	}
	if c := unsuited(i); c.Strong {
		parts = append(parts, c.Text)
	}
	return strings.Join(parts, ", ")
}

func date(s string) string {
	if t, err := time.Parse(time.DateOnly, s); err == nil {
		return t.Format("2 Jan 2006")
	}
	return s
}
