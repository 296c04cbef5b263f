package engine

import (
	"fmt"
	"strings"
)

// What a remark is about, where it stands in the record under a heading of its
// own. A remark without one stands among the remarks.
const (
	AboutPart         = "part"         // a part was replaced, or one was made
	AboutCompensation = "compensation" // a deviation that is meant: the bed twisted on purpose
	AboutOthers       = "others"       // work or a certificate from outside
	AboutAgain        = "again"        // when to measure again, and what
)

// headings are the words with which a remark says what it is about. A colon
// follows.
var headings = []struct{ word, about, wanted string }{
	{"part", AboutPart, "which part was replaced, and by what"},
	{"parts", AboutPart, "which parts were replaced, and by what"},
	{"compensation", AboutCompensation, "how much, and why"},
	{"from others", AboutOthers, "what was done elsewhere, by whom, and under which number"},
	{"measure again", AboutAgain, "when, and which tests"},
}

// noted is a remark, or a file with one, as the journal keeps it.
func noted(name string, in Input) (Noted, *Refusal) {
	d := Noted{Name: name, Text: in.Text, File: in.File}
	head, rest, ok := strings.Cut(strings.TrimSpace(in.Text), ":")
	if !ok {
		return d, nil
	}
	head = strings.ToLower(strings.Join(strings.Fields(head), " "))
	for _, h := range headings {
		if h.word != head {
			continue
		}
		if rest = strings.TrimSpace(rest); rest == "" {
			return d, refuse("value", fmt.Sprintf("I read %q.", in.Text), "Nothing is said of it.", fmt.Sprintf("Say %s: note %s: …", h.wanted, h.word))
		}
		d.About, d.Text = h.about, rest
	}
	return d, nil
}

// said reads a remark back.
func (d Noted) said() string {
	out := "Noted."
	switch d.About {
	case AboutPart:
		out = "Noted with the parts."
	case AboutCompensation:
		out = "Noted with what deviates on purpose."
	case AboutOthers:
		out = "Noted with what comes from others."
	case AboutAgain:
		out = "Noted with what is to be measured again."
	}
	if d.File != nil {
		out = strings.TrimSuffix(out, ".") + ", with the file " + d.File.Name + ", " + size(d.File.Size) + "." + d.File.said()
	}
	return out
}

// size says how large a file is, as people count.
func size(bytes int64) string {
	switch {
	case bytes < 1000:
		return fmt.Sprintf("%d bytes", bytes)
	case bytes < 1_000_000:
		return fmt.Sprintf("%d kB", (bytes+500)/1000)
	}
	return fmt.Sprintf("%.1f MB", float64(bytes)/1e6)
}

// said tells of a file what its owner may not know.
func (f File) said() string {
	switch {
	case len(f.Removed) > 0:
		return fmt.Sprintf(" Taken out of it before it was kept: %s.", strings.Join(f.Removed, ", "))
	case f.Place:
		return " It says where it was taken. attach --no-place FILE keeps a file without that."
	}
	return ""
}
