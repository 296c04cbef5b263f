package editor_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waywright/cmd/waywright/internal/editor/lsp"
)

func TestConversation(t *testing.T) {
	c := start(t, nil, time.Millisecond)
	if m := c.ask("textDocument/hover", c.at("x.hcl", lsp.Position{})); m.Error == nil || m.Error.Code != -32002 {
		t.Errorf("a question before initialize: %+v", m.Error)
	}
	var got lsp.Initialized
	c.call("initialize", map[string]any{"capabilities": capabilities}, &got)
	if k := got.Capabilities; k.PositionEncoding != "utf-16" || k.TextDocumentSync.Change != 2 || !k.Hover || !k.Rename.PrepareProvider || got.ServerInfo.Name != "waywright" {
		t.Errorf("it says of itself: %+v", got)
	}
	if m := c.ask("initialize", map[string]any{}); m.Error == nil {
		t.Error("initialize came twice")
	}
	c.notify("initialized", map[string]any{})
	c.wait("the files to be watched", func() bool {
		return slices.ContainsFunc(c.asked, func(s string) bool {
			return strings.HasPrefix(s, "client/registerCapability") && strings.Contains(s, "**/*.hcl")
		})
	})
	c.notify("$/setTrace", map[string]any{"value": "off"})
	c.notify("no/suchThing", map[string]any{})
	if m := c.ask("no/suchThing", map[string]any{}); m.Error == nil || m.Error.Code != -32601 {
		t.Errorf("an unknown method: %+v", m.Error)
	}
	if m := c.ask("textDocument/hover", c.at("x.hcl", lsp.Position{})); m.Error == nil || !strings.Contains(m.Error.Message, "not open") {
		t.Errorf("a question about a file that is not open: %+v", m.Error)
	}
	if m := c.ask("textDocument/hover", []int{1}); m.Error == nil || m.Error.Code != -32602 {
		t.Errorf("parameters of another form: %+v", m.Error)
	}
	c.call("shutdown", nil, nil)
	if m := c.ask("textDocument/hover", c.at("x.hcl", lsp.Position{})); m.Error == nil || m.Error.Code != -32600 {
		t.Errorf("a question after shutdown: %+v", m.Error)
	}
	c.notify("exit", nil)
	if code := <-c.code; code != 0 {
		t.Errorf("exit after shutdown gives %d", code)
	}
}

// Messages are answered in the order in which they come, though nobody waits
// for an answer.
func TestOrder(t *testing.T) {
	for range 50 {
		c := start(t, nil, time.Millisecond)
		doc := func(version int, text string) string {
			return fmt.Sprintf(`{"textDocument":{"uri":"file:///x/p.hcl","version":%d,"text":%q},"contentChanges":[{"text":%q}]}`, version, text, text)
		}
		c.send(`{"jsonrpc":"2.0","id":1001,"method":"initialize","params":{}}`)
		c.send(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":` + doc(1, "step \"a\" {\n}\n") + `}`)
		c.send(`{"jsonrpc":"2.0","id":1002,"method":"textDocument/documentSymbol","params":` + doc(1, "") + `}`)
		c.send(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":` + doc(2, "step \"b\" {\n}\n") + `}`)
		c.send(`{"jsonrpc":"2.0","id":1003,"method":"textDocument/documentSymbol","params":` + doc(1, "") + `}`)
		c.send(`{"jsonrpc":"2.0","id":1004,"method":"shutdown"}`)
		c.wait("the answers", func() bool { return len(c.answers) == 4 })
		c.send(`{"jsonrpc":"2.0","method":"exit"}`)
		if code := <-c.code; code != 0 {
			t.Fatalf("it ends with %d", code)
		}
		for id, want := range map[int]string{1002: `"name":"a"`, 1003: `"name":"b"`} {
			if got := string(c.answers[id].Result); !strings.Contains(got, want) {
				t.Fatalf("answer %d is %s; want %s in it", id, got, want)
			}
		}
	}
}

func TestGoneWithoutShutdown(t *testing.T) {
	c := begin(t, nil)
	c.to.Close()
	if code := <-c.code; code != 1 {
		t.Errorf("an editor that goes without a word gives %d", code)
	}
}

// said writes diagnostics one a line.
func said(list []lsp.Diagnostic) string {
	var b strings.Builder
	for _, d := range list {
		fmt.Fprintf(&b, "%s %d:%d-%d:%d %s\n", d.Code, d.Range.Start.Line, d.Range.Start.Character, d.Range.End.Line, d.Range.End.Character,
			strings.Split(d.Message, ". ")[0])
	}
	return b.String()
}

func TestDiagnostics(t *testing.T) {
	c := begin(t, shop())
	c.open("drill-table.hcl", tableFile)
	if got := c.found("drill-table.hcl"); len(got) > 0 {
		t.Errorf("the file without mistakes has %s", said(got))
	}
	// As it is typed: half an attribute, then all of it.
	c.change("drill-table.hcl", `unit  = "mm"`, `unit  = "m`)
	if got := said(c.found("drill-table.hcl")); !strings.HasPrefix(got, "E010 10:10-") || strings.Count(got, "\n") > 1 {
		t.Errorf("an open quote: %s", got)
	}
	c.change("drill-table.hcl", `unit  = "m`, `unit  = "mmm"`)
	want := "E114 10:10-10:15 Unknown unit\n"
	if got := said(c.found("drill-table.hcl")); got != want {
		t.Errorf("an unknown unit: %s", cmp.Diff(want, got))
	}
	c.change("drill-table.hcl", `"mmm"`, `"mm"`)
	if got := c.found("drill-table.hcl"); len(got) > 0 {
		t.Errorf("mended it has %s", said(got))
	}
	c.change("drill-table.hcl", `[correction.shim, reject]`, "[reject]")
	if got := c.found("drill-table.hcl"); len(got) == 0 || got[0].Severity != 1 || got[0].Code != "E406" || got[0].Source != "waywright" {
		t.Errorf("with a correction that no gate names: %s", said(got))
	}
	c.notify("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": c.uri("drill-table.hcl")}})
	c.foundUntil("drill-table.hcl", "nothing", func(d []lsp.Diagnostic) bool { return len(d) == 0 })
}

// A line may hold signs of several bytes and units before a mistake.
func TestDiagnosticsBehindWideSigns(t *testing.T) {
	c := begin(t, shop())
	text := strings.Replace(tableFile, `title = "Judge the tilt"`, `title = "µØ🙂 ${given.swep}"`, 1)
	c.open("drill-table.hcl", text)
	line := strings.Count(text[:strings.Index(text, "given.swep")], "\n")
	//   title = "µØ🙂 ${given. is 24 units, and 28 bytes.
	want := fmt.Sprintf("F002 %d:24-%d:28 Unknown name\n", line, line)
	if got := said(c.found("drill-table.hcl")); got != want {
		t.Errorf("%s", cmp.Diff(want, got))
	}
	// Typing behind the emoji changes what stands there.
	c.change("drill-table.hcl", "given.swep}", "given.sweep}")
	if got := c.found("drill-table.hcl"); len(got) > 0 {
		t.Errorf("mended it has %s", said(got))
	}
}

// What is open stands before what is on disk, for the files beside it too.
func TestOpenFilesComeFirst(t *testing.T) {
	c := begin(t, shop())
	c.open("drill-table.hcl", tableFile)
	if got := c.found("drill-table.hcl"); len(got) > 0 {
		t.Fatalf("the file without mistakes has %s", said(got))
	}
	c.open("shared.hcl", strings.Replace(sharedFile, `caution "sleeves"`, `caution "turning"`, 1))
	c.foundUntil("drill-table.hcl", "the caution that is gone", func(d []lsp.Diagnostic) bool { return strings.Contains(said(d), "E201 ") })
	c.change("shared.hcl", `caution "turning"`, `caution "sleeves"`)
	c.foundUntil("drill-table.hcl", "nothing", func(d []lsp.Diagnostic) bool { return len(d) == 0 })
	c.change("shared.hcl", `hazard = "rotating"`, `hazard = "rotating`)
	c.foundUntil("drill-table.hcl", "that shared.hcl cannot be read", func(d []lsp.Diagnostic) bool {
		i := slices.IndexFunc(d, func(x lsp.Diagnostic) bool { return x.Code == "E010" })
		return i >= 0 && strings.HasPrefix(d[i].Message, "In shared.hcl, line 3: ") && d[i].Range == lsp.Range{} &&
			len(d[i].RelatedInformation) == 1 && d[i].RelatedInformation[0].Location.URI == c.uri("shared.hcl")
	})
	c.notify("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": c.uri("shared.hcl")}})
	c.foundUntil("drill-table.hcl", "nothing, as shared.hcl is on disk", func(d []lsp.Diagnostic) bool { return len(d) == 0 })

	// A file that changes on disk.
	c.disk("shared.hcl", strings.Replace(sharedFile, `instrument "dial"`, `instrument "clock"`, 1))
	c.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []any{}})
	c.foundUntil("drill-table.hcl", "the instrument that is gone", func(d []lsp.Diagnostic) bool { return strings.Contains(said(d), "E201 ") })
}

// A file that was never saved is looked at alone, with what ships.
func TestUnsaved(t *testing.T) {
	c := begin(t, nil)
	uri := "untitled:Untitled-1"
	c.notify("textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": uri, "version": 1, "text": "procedure \"x\" {\n  titel = \"X\"\n}\n"}})
	c.wait("what is found", func() bool { return strings.Contains(said(c.told[uri].Diagnostics), "E101 1:2-1:7") })
}
