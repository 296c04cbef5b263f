package editor

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/creachadair/jrpc2"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

// FuzzMessages holds that no file and no message makes the server fail in
// itself: each is answered, or refused for a reason.
func FuzzMessages(f *testing.F) {
	for _, name := range []string{"design/two-collar.hcl", "broken/twenty.hcl", "overhaul/bench-drill.hcl", "design/shared.hcl"} {
		b, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "procedures", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b, 12, 9, `{"textDocument":{"uri":"file:///x/p.hcl"},"contentChanges":[{"range":{"start":{"line":3,"character":1},"end":{"line":2,"character":0}},"text":"\""}]}`)
	}
	f.Add([]byte("a = \"${b.c[\"d"), 0, 9, `[]`)
	f.Add([]byte("rehearsal \"µ🙂\" { like = \""), 0, 30, `{"textDocument":3}`)
	f.Fuzz(func(t *testing.T, text []byte, line, char int, raw string) {
		if len(text) > 20000 {
			return
		}
		s := newServer(Options{})
		all := s.table()
		say := func(method string, params any) {
			b, err := json.Marshal(params)
			if err != nil {
				t.Fatal(err)
			}
			send(t, s, method, b)
		}
		say("initialize", map[string]any{"capabilities": map[string]any{"workspace": map[string]any{"workspaceEdit": map[string]any{"documentChanges": true, "resourceOperations": []string{"rename"}}}}})
		doc := map[string]any{"uri": "file:///nowhere/p.hcl", "version": 1, "text": string(text)}
		say("textDocument/didOpen", map[string]any{"textDocument": doc})
		place := map[string]any{"textDocument": doc, "position": lsp.Position{Line: line, Character: char}, "newName": "x1",
			"range": lsp.Range{Start: lsp.Position{Line: line, Character: char}, End: lsp.Position{Line: char, Character: line}}}
		for method := range all {
			switch method {
			case "initialize", "initialized", "shutdown", "exit", "textDocument/didClose", "textDocument/didOpen", "textDocument/didChange":
			default:
				say(method, place)
			}
		}
		d := s.docs["file:///nowhere/p.hcl"]
		j := job{d, d.text, hclfile.Source{FS: overlay{os.DirFS("/nowhere"), "/nowhere", map[string][]byte{d.path: d.text.Bytes}}, Path: "p.hcl"}, s.edits}
		s.tell(j, proofread.File(j.src).Diagnostics, true)
		say("textDocument/codeAction", place)
		for method := range all {
			if method != "exit" && method != "shutdown" {
				send(t, s, method, []byte(raw))
			}
		}
	})
}

// send answers a message as one that came from an editor.
func send(t *testing.T, s *server, name string, params []byte) {
	t.Helper()
	_, err := s.answer(name, params, s.table()[name])
	var e *jrpc2.Error
	if errors.As(err, &e) && e.Code == jrpc2.InternalError {
		t.Fatalf("%s with %s: %v", name, params, err)
	}
}
