package editor

import (
	"cmp"
	"encoding/json"
	"errors"
	"regexp"
	"strings"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/procedures/diagnose"
	"waywright/procedures/tidy"
)

// actions lists what can be done about a piece of a file.
func (s *server) actions(params json.RawMessage) (any, error) {
	in, err := read[lsp.CodeActionParams](params)
	if err != nil {
		return nil, err
	}
	d := s.docs[in.TextDocument.URI]
	if d == nil {
		return nil, errNoFile
	}
	out := []lsp.CodeAction{}
	if d.seen != d.text { // what was found stands elsewhere by now
		return out, nil
	}
	_, name := s.viewOf(d.path)
	from, to := d.text.Offset(in.Range.Start), d.text.Offset(in.Range.End)
	for _, f := range d.found {
		if f.Subject.File != name || f.Subject.Start.Byte > to || f.Subject.End.Byte < from {
			continue
		}
		m, ok := mendOf(f, d.text.Bytes)
		if !ok {
			continue
		}
		edit := lsp.TextEdit{Range: d.text.Range(m.from, m.to), NewText: m.text}
		out = append(out, lsp.CodeAction{
			Title: "Write " + strings.TrimSpace(m.shown), Kind: "quickfix", IsPreferred: true,
			Diagnostics: []lsp.Diagnostic{told(d.text, f)},
			Edit:        &lsp.WorkspaceEdit{Changes: map[string][]lsp.TextEdit{d.uri: {edit}}},
		})
	}
	return out, nil
}

// mend is a piece of text in the place of another.
type mend struct {
	from, to    int
	text, shown string
}

var (
	meant = regexp.MustCompile(`(?:Did you mean ([^\s?"]+|"[^"]+")\?|Is ([^\s?"]+) meant\?|([a-z_]+\.[a-z0-9_]+) is there: is that meant\?)`)
	// An expression that can be written as it stands in the message.
	instead = regexp.MustCompile(`(?:^|\. |, )[Ww]rite ([a-z_]+ = \[.+\])$`)
	named   = regexp.MustCompile(`Write ("[^"]+")\.$`)
	blanks  = regexp.MustCompile(`put blanks round the minus: (.+)\.$`)
)

// mendOf returns the mend that a diagnostic names word for word.
func mendOf(f diagnose.Diagnostic, text []byte) (mend, bool) {
	from, to := f.Subject.Start.Byte, f.Subject.End.Byte
	if from < 0 || to > len(text) || from >= to {
		return mend{}, false
	}
	old := string(text[from:to])
	put := func(s string) (mend, bool) { return mend{from, to, s, s}, s != old }
	if m := meant.FindStringSubmatch(f.Detail); m != nil {
		return put(like(old, cmp.Or(m[1], m[2], m[3])))
	}
	if m := blanks.FindStringSubmatch(f.Detail); m != nil && !strings.Contains(old, "\n") {
		return put(m[1])
	}
	if m := named.FindStringSubmatch(f.Detail); m != nil && f.Code == "E108" {
		return put(like(old, m[1]))
	}
	if m := instead.FindStringSubmatch(f.Detail); m != nil && f.Code == "E112" {
		name, value, _ := strings.Cut(m[1], " = ")
		if !strings.Contains(old, "\n") && name != "" {
			return mend{from, to, value, m[1]}, value != old
		}
	}
	return mend{}, false
}

// like writes a word as the one that it takes the place of: in quotes, or
// with the word before its point.
func like(old, word string) string {
	bare := strings.Trim(word, `"`)
	switch {
	case strings.HasPrefix(old, `"`):
		return `"` + bare + `"`
	case strings.Contains(old, ".") && !strings.Contains(bare, "."):
		return old[:strings.LastIndex(old, ".")+1] + bare
	case !strings.Contains(old, ".") && strings.Contains(bare, "."):
		return bare[strings.LastIndex(bare, ".")+1:]
	}
	return bare
}

// format lays a file out.
func (s *server) format(params json.RawMessage) (any, error) {
	in, err := read[lsp.DocumentParams](params)
	if err != nil {
		return nil, err
	}
	d := s.docs[in.TextDocument.URI]
	if d == nil {
		return nil, errNoFile
	}
	out, err := tidy.Bytes(d.path[strings.LastIndexAny(d.path, `/\`)+1:], d.text.Bytes)
	var r *tidy.Refusal
	if errors.As(err, &r) {
		return nil, refuse("%v", err)
	}
	return differences(d.text, out), nil
}

// differences are the edits that make a text of another: the lines between the
// first and the last that differ, as one.
func differences(t *lsp.Text, out []byte) []lsp.TextEdit {
	was, now := t.Bytes, out
	if string(was) == string(now) {
		return []lsp.TextEdit{}
	}
	front := 0
	for front < len(was) && front < len(now) && was[front] == now[front] {
		front++
	}
	front = strings.LastIndexByte(string(was[:front]), '\n') + 1
	back := 0
	for back < len(was)-front && back < len(now)-front && was[len(was)-1-back] == now[len(now)-1-back] {
		back++
	}
	// From the beginning of a line on, in both.
	if i := strings.IndexByte(string(was[len(was)-back:]), '\n'); i >= 0 {
		back -= i + 1
	} else {
		back = 0
	}
	return []lsp.TextEdit{{Range: t.Range(front, len(was)-back), NewText: string(now[front : len(now)-back])}}
}
