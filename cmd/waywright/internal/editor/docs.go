package editor

import (
	"encoding/json"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/procedures/diagnose"
)

// doc is a file that is open in the editor.
type doc struct {
	uri     string
	path    string // on disk; of what was never saved a name of its own
	version int
	changed int // the edit that changed it last
	text    *lsp.Text
	found   diagnose.List // in the text that seen was
	seen    *lsp.Text
}

func (s *server) didOpen(params json.RawMessage) (any, error) {
	p, err := read[lsp.DidOpen](params)
	if err != nil {
		return nil, err
	}
	d := p.TextDocument
	s.docs[d.URI] = &doc{uri: d.URI, path: pathOf(d.URI), version: d.Version, changed: s.edits + 1, text: lsp.NewText([]byte(d.Text))}
	s.changed(s.opts.Delay)
	return nil, nil
}

func (s *server) didChange(params json.RawMessage) (any, error) {
	p, err := read[lsp.DidChange](params)
	if err != nil {
		return nil, err
	}
	d := s.docs[p.TextDocument.URI]
	if d == nil {
		return nil, errNoFile
	}
	for _, c := range p.ContentChanges {
		d.text = d.text.Edit(c)
	}
	if p.TextDocument.Version != nil {
		d.version = *p.TextDocument.Version
	}
	d.changed = s.edits + 1
	s.changed(s.opts.Delay)
	return nil, nil
}

func (s *server) didClose(params json.RawMessage) (any, error) {
	p, err := read[lsp.DocumentParams](params)
	if err != nil {
		return nil, err
	}
	delete(s.docs, p.TextDocument.URI)
	s.notify("textDocument/publishDiagnostics", lsp.PublishDiagnostics{URI: p.TextDocument.URI, Diagnostics: []lsp.Diagnostic{}})
	s.changed(s.opts.Delay)
	return nil, nil
}

// filesChanged is told when something on disk is another.
func (s *server) filesChanged(json.RawMessage) (any, error) {
	s.changed(s.opts.Delay)
	return nil, nil
}

// changed has all open files looked through after a while.
func (s *server) changed(after time.Duration) {
	s.edits++
	s.due = time.Now().Add(after)
	s.wakeUp()
}

func (s *server) wakeUp() {
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// letter is a path that begins with the letter of a drive.
var letter = regexp.MustCompile(`^/[A-Za-z]:`)

// pathOf returns where a file is on disk.
func pathOf(uri string) string {
	u, err := url.Parse(uri)
	if err != nil || u.Scheme != "file" {
		name := uri[strings.LastIndexAny(uri, "/:")+1:]
		if name == "" || filepath.Ext(name) != ".hcl" {
			name = "unsaved.hcl"
		}
		return filepath.FromSlash("/unsaved/" + url.PathEscape(uri) + "/" + name)
	}
	p := u.Path
	if letter.MatchString(p) {
		p = p[1:]
	}
	return filepath.Clean(filepath.FromSlash(p))
}

// uriOf returns the URI of a file on disk.
func (s *server) uriOf(path string) string {
	for _, d := range s.docs { // as the editor writes it
		if d.path == path {
			return d.uri
		}
	}
	p := filepath.ToSlash(path)
	if !strings.HasPrefix(p, "/") {
		p = "/" + p
	}
	return (&url.URL{Scheme: "file", Path: p}).String()
}
