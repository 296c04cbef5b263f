// Package editor is a language server for procedure files: it speaks the
// Language Server Protocol, as editors do, over standard input and output. It
// says what is wrong while a file is typed, offers what can be written at a
// place, tells what a name, a word or a function is, finds where a name is
// given and used, renames it in all files of the folder, and lays a file out.
//
// What is offered and told comes from the tables that also read the files: the
// schema, the catalogue of functions, the units. Files are looked for as the
// commands look for them; what is open in the editor stands before what is on
// disk. Nothing is written but by the editor itself, and by [Options.Cache].
package editor

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"sync"
	"time"

	"github.com/creachadair/jrpc2"
	"github.com/creachadair/jrpc2/handler"

	"waywright/cmd/waywright/internal/editor/lsp"
)

// Options say how the server works.
type Options struct {
	Version string
	// Delay is how long nothing must be typed before a file is looked through.
	Delay time.Duration
	// Cache is a folder into which files that ship with the program are written
	// when somebody wants to see where a name is given in one of them; empty:
	// they cannot be shown.
	Cache string
	Log   io.Writer // for what is a mistake of the server's own
}

// Serve talks to an editor until it says exit or closes in, and returns the
// exit code: 0, or 1 where the editor went without saying shutdown.
func Serve(in io.ReadCloser, out io.Writer, o Options) int {
	s := newServer(o)
	w := &wire{in: bufio.NewReader(in), out: out, end: in.Close}
	rpc := jrpc2.NewServer(&queue{methods: s.methods()}, &jrpc2.ServerOptions{AllowPush: true, DisableBuiltin: true, Concurrency: maxWaiting})
	s.notify = func(method string, params any) {
		_ = rpc.Notify(context.Background(), method, params) // nobody is there any more
	}
	s.call = func(method string, params any) {
		_, _ = rpc.Callback(context.Background(), method, params)
	}
	looked := make(chan struct{})
	go func() {
		defer close(looked)
		s.watch()
	}()
	rpc.Start(w)
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		_ = rpc.Wait() // how it ended is told by shutdown
	}()
	select {
	case <-ended:
	case <-s.left: // in may stay open, and a read of it cannot be broken off
	}
	s.mu.Lock()
	s.over = true
	shut := s.shut
	s.mu.Unlock()
	s.wakeUp()
	<-looked
	if shut {
		return 0
	}
	return 1
}

// server is one conversation with an editor. Its fields are read and written
// with mu held, but for those that never change.
type server struct {
	opts   Options
	notify func(method string, params any)
	call   func(method string, params any) // waits for the answer
	left   chan struct{}                   // closed when the editor says exit
	wake   chan struct{}

	mu     sync.Mutex
	docs   map[string]*doc // by URI
	edits  int             // counts what changes any file
	begun  bool
	shut   bool // the editor said shutdown
	gone   bool // the editor said exit
	over   bool
	client client
	queue  []job // files that are to be proved
	proved *sync.Cond
	due    time.Time         // when the files are to be looked through; zero: not
	models map[string]*model // by the name of a file
}

// client is what the editor can take.
type client struct {
	snippets, markdown, related, documentChanges, renamesFiles, watches bool
}

func newServer(o Options) *server {
	s := &server{opts: o, wake: make(chan struct{}, 1), left: make(chan struct{}), docs: map[string]*doc{}, models: map[string]*model{},
		notify: func(string, any) {}, call: func(string, any) {}}
	s.proved = sync.NewCond(&s.mu)
	return s
}

// method answers a message of one kind.
type method func(json.RawMessage) (any, error)

// table lists what the server answers to.
func (s *server) table() map[string]method {
	m := map[string]method{
		"initialize": s.initialize, "initialized": s.initialized, "shutdown": s.shutdown, "exit": s.exit,

		"textDocument/didOpen":            s.didOpen,
		"textDocument/didChange":          s.didChange,
		"textDocument/didClose":           s.didClose,
		"textDocument/didSave":            s.filesChanged,
		"workspace/didChangeWatchedFiles": s.filesChanged,

		"textDocument/completion":        s.completion,
		"textDocument/signatureHelp":     s.signature,
		"textDocument/hover":             s.hover,
		"textDocument/definition":        s.definition,
		"textDocument/references":        s.references,
		"textDocument/documentHighlight": s.highlight,
		"textDocument/documentSymbol":    s.outline,
		"textDocument/codeAction":        s.actions,
		"textDocument/formatting":        s.format,
		"textDocument/prepareRename":     s.prepareRename,
		"textDocument/rename":            s.rename,
	}
	// What an editor may say and nothing is to be done about.
	for _, quiet := range []string{"$/cancelRequest", "$/setTrace", "workspace/didChangeConfiguration", "textDocument/willSave"} {
		m[quiet] = func(json.RawMessage) (any, error) { return nil, nil }
	}
	return m
}

// methods is the table as the library wants it.
func (s *server) methods() handler.Map {
	out := handler.Map{}
	for name, m := range s.table() {
		out[name] = s.handler(m)
	}
	return out
}

// maxWaiting is how many messages may wait for their turn.
const maxWaiting = 1 << 16

// queue has messages answered in the order in which they come. The library
// answers requests side by side, so that one which is sent right behind another,
// or a change right behind a question, might come first.
type queue struct {
	methods handler.Map

	mu   sync.Mutex
	turn chan struct{} // closed when the message before is answered
}

// Assign gives each message a ticket; the library asks in the order of reading.
func (q *queue) Assign(ctx context.Context, name string) jrpc2.Handler {
	h := q.methods.Assign(ctx, name)
	if h == nil {
		return nil
	}
	q.mu.Lock()
	before, done := q.turn, make(chan struct{})
	q.turn = done
	q.mu.Unlock()
	return func(ctx context.Context, req *jrpc2.Request) (any, error) {
		defer close(done)
		if before != nil {
			<-before
		}
		return h(ctx, req)
	}
}

// The codes of the protocol's own errors.
const (
	notInitialized = jrpc2.Code(-32002)
	requestFailed  = jrpc2.Code(-32803)
)

// handler guards a method: one at a time, nothing before initialize, and a
// mistake of the server's own is an answer and not its end.
func (s *server) handler(m method) jrpc2.Handler {
	return func(_ context.Context, req *jrpc2.Request) (any, error) {
		var params json.RawMessage
		if req.HasParams() {
			if err := req.UnmarshalParams(&params); err != nil {
				return nil, err
			}
		}
		return s.answer(req.Method(), params, m)
	}
}

func (s *server) answer(name string, params json.RawMessage, m method) (out any, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	defer func() {
		if x := recover(); x != nil {
			if s.opts.Log != nil {
				fmt.Fprintf(s.opts.Log, "waywright editor: %s: %v\n%s\n", name, x, debug.Stack())
			}
			out, err = nil, jrpc2.Errorf(jrpc2.InternalError, "%s: %v", name, x)
		}
	}()
	switch {
	case !s.begun && name != "initialize" && name != "exit":
		return nil, notInitialized.Err()
	case s.shut && name != "exit":
		return nil, jrpc2.Errorf(jrpc2.InvalidRequest, "after shutdown there is only exit")
	}
	return m(params)
}

// read reads the parameters of a message.
func read[T any](params json.RawMessage) (T, error) {
	var out T
	if len(params) == 0 {
		return out, jrpc2.Errorf(jrpc2.InvalidParams, "there are no parameters")
	}
	if err := json.Unmarshal(params, &out); err != nil {
		return out, jrpc2.Errorf(jrpc2.InvalidParams, "%v", err)
	}
	return out, nil
}

// refuse is the answer to what cannot be done.
func refuse(format string, args ...any) error {
	return jrpc2.Errorf(requestFailed, "%s", fmt.Sprintf(format, args...))
}

func (s *server) initialize(params json.RawMessage) (any, error) {
	p, err := read[lsp.Initialize](params)
	if err != nil {
		return nil, err
	}
	if s.begun {
		return nil, jrpc2.Errorf(jrpc2.InvalidRequest, "initialize comes once")
	}
	s.begun = true
	c := p.Capabilities
	s.client = client{
		snippets:        c.TextDocument.Completion.CompletionItem.SnippetSupport,
		markdown:        slices.Contains(c.TextDocument.Hover.ContentFormat, "markdown"),
		related:         c.TextDocument.PublishDiagnostics.RelatedInformation,
		documentChanges: c.Workspace.WorkspaceEdit.DocumentChanges,
		renamesFiles:    slices.Contains(c.Workspace.WorkspaceEdit.ResourceOperations, "rename"),
		watches:         c.Workspace.DidChangeWatchedFiles.DynamicRegistration,
	}
	return lsp.Initialized{
		Capabilities: lsp.Capabilities{
			PositionEncoding: "utf-16",
			TextDocumentSync: lsp.SyncOptions{OpenClose: true, Change: 2, Save: true},
			Completion:       lsp.CompletionOptions{TriggerCharacters: []string{".", "\"", "[", "{"}},
			SignatureHelp:    lsp.TriggerOptions{TriggerCharacters: []string{"(", ","}},
			Hover:            true, Definition: true, References: true, DocumentHighlight: true,
			DocumentSymbol: true, DocumentFormatting: true,
			CodeAction: lsp.CodeActionOptions{CodeActionKinds: []string{"quickfix"}},
			Rename:     lsp.RenameOptions{PrepareProvider: true},
		},
		ServerInfo: lsp.ServerInfo{Name: "waywright", Version: s.opts.Version},
	}, nil
}

// initialized asks to be told when files change outside the editor.
func (s *server) initialized(json.RawMessage) (any, error) {
	if s.client.watches {
		go s.call("client/registerCapability", lsp.RegistrationParams{Registrations: []lsp.Registration{{
			ID: "files", Method: "workspace/didChangeWatchedFiles",
			RegisterOptions: json.RawMessage(`{"watchers":[{"globPattern":"**/*.hcl"}]}`),
		}}})
	}
	return nil, nil
}

func (s *server) shutdown(json.RawMessage) (any, error) {
	s.shut = true
	return nil, nil
}

func (s *server) exit(json.RawMessage) (any, error) {
	if !s.gone {
		s.gone = true
		close(s.left)
	}
	return nil, nil
}

// errNoFile is the answer about a file that is not open.
var errNoFile = errors.New("the file is not open")
