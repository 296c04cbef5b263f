package editor_test

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"waywright/cmd/waywright/internal/editor"
	"waywright/cmd/waywright/internal/editor/lsp"
)

// client is an editor that speaks the protocol over pipes, framing and all.
type client struct {
	t    *testing.T
	dir  string
	to   io.WriteCloser
	code chan int // how the server ended

	mu      sync.Mutex
	changed *sync.Cond
	id      int
	answers map[int]message
	told    map[string]lsp.PublishDiagnostics // what was found last, by URI
	count   map[string]int                    // how often something was told of a file
	asked   []string                          // methods that the server called
	over    bool
	version map[string]int
	text    map[string]string
}

type message struct {
	ID     json.RawMessage `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Code    int    `json:"code"`
		Message string `json:"message"`
	} `json:"error"`
}

// patience is how long an answer may take on a busy machine.
const patience = 2 * time.Minute

// begin starts a server for a folder with some files, and says initialize.
func begin(t *testing.T, files map[string]string) *client {
	return beginAfter(t, files, time.Millisecond)
}

// beginQuiet starts one that is asked and does not look files through.
func beginQuiet(t *testing.T, files map[string]string) *client {
	return beginAfter(t, files, 24*time.Hour)
}

func beginAfter(t *testing.T, files map[string]string, delay time.Duration) *client {
	t.Helper()
	c := start(t, files, delay)
	c.call("initialize", map[string]any{"rootUri": c.uri(""), "capabilities": capabilities}, nil)
	c.notify("initialized", map[string]any{})
	return c
}

// capabilities are those of an editor that can take everything.
var capabilities = json.RawMessage(`{
  "textDocument": {
    "completion": {"completionItem": {"snippetSupport": true, "documentationFormat": ["markdown"]}},
    "hover": {"contentFormat": ["markdown", "plaintext"]},
    "publishDiagnostics": {"relatedInformation": true}
  },
  "workspace": {
    "didChangeWatchedFiles": {"dynamicRegistration": true},
    "workspaceEdit": {"documentChanges": true, "resourceOperations": ["create", "rename", "delete"]}
  }
}`)

func start(t *testing.T, files map[string]string, delay time.Duration) *client {
	t.Helper()
	c := &client{t: t, dir: t.TempDir(), code: make(chan int, 1), answers: map[int]message{}, told: map[string]lsp.PublishDiagnostics{},
		count: map[string]int{}, version: map[string]int{}, text: map[string]string{}}
	c.changed = sync.NewCond(&c.mu)
	for name, text := range files {
		c.disk(name, text)
	}
	in, to := io.Pipe()
	from, out := io.Pipe()
	c.to = to
	go func() {
		c.code <- editor.Serve(in, out, editor.Options{Version: "1", Delay: delay, Cache: filepath.Join(c.dir, "cache"), Log: testLog{t}})
		out.Close()
	}()
	go c.listen(bufio.NewReader(from))
	t.Cleanup(func() {
		to.Close()
		c.wait("the server to end", func() bool { return c.over })
	})
	return c
}

// testLog fails a test when the server writes of a mistake of its own.
type testLog struct{ t *testing.T }

func (l testLog) Write(b []byte) (int, error) {
	l.t.Errorf("the server says: %s", b)
	return len(b), nil
}

// disk writes a file.
func (c *client) disk(name, text string) {
	c.t.Helper()
	file := filepath.Join(c.dir, name)
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		c.t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		c.t.Fatal(err)
	}
}

func (c *client) uri(name string) string {
	return "file://" + filepath.ToSlash(filepath.Join(c.dir, name))
}

// name is the file of a URI in the folder.
func (c *client) name(uri string) string {
	return strings.TrimPrefix(strings.TrimPrefix(uri, c.uri("")), "/")
}

// listen reads what the server says.
func (c *client) listen(r *bufio.Reader) {
	defer func() {
		c.mu.Lock()
		c.over = true
		c.changed.Broadcast()
		c.mu.Unlock()
	}()
	for {
		size := 0
		for {
			line, err := r.ReadString('\n')
			if err != nil {
				return
			}
			line = strings.TrimSpace(line)
			if line == "" {
				break
			}
			if n, ok := strings.CutPrefix(line, "Content-Length: "); ok {
				size, _ = strconv.Atoi(n)
			}
		}
		b := make([]byte, size)
		if _, err := io.ReadFull(r, b); err != nil {
			return
		}
		var m message
		if err := json.Unmarshal(b, &m); err != nil {
			c.t.Errorf("the server says %s: %v", b, err)
			return
		}
		c.heard(m)
	}
}

func (c *client) heard(m message) {
	c.mu.Lock()
	defer c.mu.Unlock()
	defer c.changed.Broadcast()
	switch {
	case m.Method == "textDocument/publishDiagnostics":
		var p lsp.PublishDiagnostics
		if err := json.Unmarshal(m.Params, &p); err != nil {
			c.t.Errorf("%s: %v", m.Params, err)
		}
		c.told[p.URI] = p
		c.count[p.URI]++
	case m.Method != "":
		c.asked = append(c.asked, m.Method+" "+string(m.Params))
		if m.ID != nil {
			go c.send(fmt.Sprintf(`{"jsonrpc":"2.0","id":%s,"result":null}`, m.ID))
		}
	default:
		id, _ := strconv.Atoi(string(m.ID))
		c.answers[id] = m
	}
}

// wait waits until something holds.
func (c *client) wait(what string, holds func() bool) {
	c.t.Helper()
	late := time.AfterFunc(patience, c.changed.Broadcast)
	defer late.Stop()
	from := time.Now()
	c.mu.Lock()
	defer c.mu.Unlock()
	for !holds() {
		if time.Since(from) > patience {
			c.t.Fatalf("waited in vain for %s", what)
		}
		c.changed.Wait()
	}
}

func (c *client) send(text string) {
	if _, err := fmt.Fprintf(c.to, "Content-Length: %d\r\n\r\n%s", len(text), text); err != nil {
		c.t.Logf("nobody hears %s: %v", text, err)
	}
}

func (c *client) notify(method string, params any) {
	c.t.Helper()
	b, err := json.Marshal(map[string]any{"jsonrpc": "2.0", "method": method, "params": params})
	if err != nil {
		c.t.Fatal(err)
	}
	c.send(string(b))
}

// ask sends a request and returns the answer, whatever it is.
func (c *client) ask(method string, params any) message {
	c.t.Helper()
	c.mu.Lock()
	c.id++
	id := c.id
	c.mu.Unlock()
	b, err := json.Marshal(map[string]any{"jsonrpc": "2.0", "id": id, "method": method, "params": params})
	if err != nil {
		c.t.Fatal(err)
	}
	c.send(string(b))
	c.wait("the answer to "+method, func() bool { _, ok := c.answers[id]; return ok })
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.answers[id]
}

// call sends a request that must succeed.
func (c *client) call(method string, params, into any) {
	c.t.Helper()
	m := c.ask(method, params)
	if m.Error != nil {
		c.t.Fatalf("%s: %s", method, m.Error.Message)
	}
	if into == nil {
		return
	}
	if err := json.Unmarshal(m.Result, into); err != nil {
		c.t.Fatalf("%s: %v in %s", method, err, m.Result)
	}
}

// caret stands in a test's text for the place that is asked about.
const caret = "‸"

// open opens a file. A caret in its text is taken out; its place is returned.
func (c *client) open(name, text string) lsp.Position {
	c.t.Helper()
	before, after, _ := strings.Cut(text, caret)
	uri := c.uri(name)
	c.version[uri], c.text[uri] = 1, before+after
	c.notify("textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": uri, "languageId": "hcl", "version": 1, "text": before + after}})
	return placeOf(before)
}

// placeOf is the place behind a text, counted as editors do.
func placeOf(before string) lsp.Position {
	p := lsp.Position{Line: strings.Count(before, "\n")}
	for _, r := range before[strings.LastIndex(before, "\n")+1:] {
		p.Character++
		if r > 0xFFFF {
			p.Character++
		}
	}
	return p
}

// change puts another text in the place of the first one, as an editor does that
// tells of pieces.
func (c *client) change(name, old, text string) {
	c.t.Helper()
	uri := c.uri(name)
	before, after, ok := strings.Cut(c.text[uri], old)
	if !ok {
		c.t.Fatalf("no %q in %s", old, name)
	}
	c.version[uri]++
	c.text[uri] = before + text + after
	c.notify("textDocument/didChange", lsp.DidChange{
		TextDocument:   lsp.VersionedDocument{URI: uri, Version: ptr(c.version[uri])},
		ContentChanges: []lsp.Change{{Range: &lsp.Range{Start: placeOf(before), End: placeOf(before + old)}, Text: text}},
	})
}

func ptr[T any](x T) *T { return &x }

// found waits for what is found in the present text of a file.
func (c *client) found(name string) []lsp.Diagnostic {
	c.t.Helper()
	uri := c.uri(name)
	c.wait("what is found in "+name, func() bool {
		p, ok := c.told[uri]
		return ok && p.Version != nil && *p.Version == c.version[uri]
	})
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.told[uri].Diagnostics
}

// foundUntil waits until what is found in a file is as wanted.
func (c *client) foundUntil(name, what string, holds func([]lsp.Diagnostic) bool) {
	c.t.Helper()
	uri := c.uri(name)
	c.wait(what+" in "+name, func() bool {
		p, ok := c.told[uri]
		return ok && holds(p.Diagnostics)
	})
}

// at are the parameters of a question about a place.
func (c *client) at(name string, p lsp.Position) map[string]any {
	return map[string]any{"textDocument": map[string]any{"uri": c.uri(name)}, "position": p}
}

// with adds parameters.
func with(params map[string]any, name string, value any) map[string]any {
	out := maps.Clone(params)
	out[name] = value
	return out
}
