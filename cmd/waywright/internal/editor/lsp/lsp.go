// Package lsp has the messages of the Language Server Protocol 3.17 that the
// editor speaks, as far as it speaks them, and turns its positions into bytes
// and back. A position counts lines from 0 and, within a line, units of UTF-16:
// µ is one, an emoji two.
package lsp

import "encoding/json"

// Position is a place in a text.
type Position struct {
	Line      int `json:"line"`
	Character int `json:"character"`
}

// Range is a piece of a text; End is behind the last character.
type Range struct {
	Start Position `json:"start"`
	End   Position `json:"end"`
}

// Location is a place in a file.
type Location struct {
	URI   string `json:"uri"`
	Range Range  `json:"range"`
}

// TextDocument names a file.
type TextDocument struct {
	URI string `json:"uri"`
}

// VersionedDocument names a state of a file.
type VersionedDocument struct {
	URI     string `json:"uri"`
	Version *int   `json:"version"`
}

// Initialize is what a client says first.
type Initialize struct {
	RootURI      string `json:"rootUri"`
	Capabilities struct {
		TextDocument struct {
			Completion struct {
				CompletionItem struct {
					SnippetSupport      bool     `json:"snippetSupport"`
					DocumentationFormat []string `json:"documentationFormat"`
				} `json:"completionItem"`
			} `json:"completion"`
			Hover struct {
				ContentFormat []string `json:"contentFormat"`
			} `json:"hover"`
			PublishDiagnostics struct {
				RelatedInformation bool `json:"relatedInformation"`
			} `json:"publishDiagnostics"`
		} `json:"textDocument"`
		Workspace struct {
			DidChangeWatchedFiles struct {
				DynamicRegistration bool `json:"dynamicRegistration"`
			} `json:"didChangeWatchedFiles"`
			WorkspaceEdit struct {
				DocumentChanges    bool     `json:"documentChanges"`
				ResourceOperations []string `json:"resourceOperations"`
			} `json:"workspaceEdit"`
		} `json:"workspace"`
	} `json:"capabilities"`
}

// Initialized is the answer to [Initialize].
type Initialized struct {
	Capabilities Capabilities `json:"capabilities"`
	ServerInfo   ServerInfo   `json:"serverInfo"`
}

// ServerInfo names the server.
type ServerInfo struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

// Capabilities say what the server does.
type Capabilities struct {
	PositionEncoding   string            `json:"positionEncoding"`
	TextDocumentSync   SyncOptions       `json:"textDocumentSync"`
	Completion         CompletionOptions `json:"completionProvider"`
	SignatureHelp      TriggerOptions    `json:"signatureHelpProvider"`
	Hover              bool              `json:"hoverProvider"`
	Definition         bool              `json:"definitionProvider"`
	References         bool              `json:"referencesProvider"`
	DocumentHighlight  bool              `json:"documentHighlightProvider"`
	DocumentSymbol     bool              `json:"documentSymbolProvider"`
	CodeAction         CodeActionOptions `json:"codeActionProvider"`
	DocumentFormatting bool              `json:"documentFormattingProvider"`
	Rename             RenameOptions     `json:"renameProvider"`
}

// SyncOptions say how changes are told: 2 is by pieces.
type SyncOptions struct {
	OpenClose bool `json:"openClose"`
	Change    int  `json:"change"`
	Save      bool `json:"save"`
}

// CompletionOptions say after which characters something is offered unasked.
type CompletionOptions struct {
	TriggerCharacters []string `json:"triggerCharacters"`
}

// TriggerOptions do the same for signatures.
type TriggerOptions struct {
	TriggerCharacters []string `json:"triggerCharacters"`
}

// CodeActionOptions say which kinds of action there are.
type CodeActionOptions struct {
	CodeActionKinds []string `json:"codeActionKinds"`
}

// RenameOptions say that a place can be asked about first.
type RenameOptions struct {
	PrepareProvider bool `json:"prepareProvider"`
}

// DidOpen tells of a file that was opened.
type DidOpen struct {
	TextDocument struct {
		URI     string `json:"uri"`
		Version int    `json:"version"`
		Text    string `json:"text"`
	} `json:"textDocument"`
}

// DidChange tells of changes, one after another.
type DidChange struct {
	TextDocument   VersionedDocument `json:"textDocument"`
	ContentChanges []Change          `json:"contentChanges"`
}

// Change is a piece of new text; without a range it is all of it.
type Change struct {
	Range *Range `json:"range"`
	Text  string `json:"text"`
}

// DocumentParams names a file alone.
type DocumentParams struct {
	TextDocument TextDocument `json:"textDocument"`
}

// PositionParams names a place in a file.
type PositionParams struct {
	TextDocument TextDocument `json:"textDocument"`
	Position     Position     `json:"position"`
}

// ReferenceParams asks for the uses of a name.
type ReferenceParams struct {
	PositionParams
	Context struct {
		IncludeDeclaration bool `json:"includeDeclaration"`
	} `json:"context"`
}

// RenameParams asks for another name.
type RenameParams struct {
	PositionParams
	NewName string `json:"newName"`
}

// CodeActionParams asks what can be done about a piece of a file.
type CodeActionParams struct {
	TextDocument TextDocument `json:"textDocument"`
	Range        Range        `json:"range"`
}

// PublishDiagnostics tells what was found in a file.
type PublishDiagnostics struct {
	URI         string       `json:"uri"`
	Version     *int         `json:"version,omitempty"`
	Diagnostics []Diagnostic `json:"diagnostics"`
}

// Diagnostic is one thing that was found. Severity 1 is an error, 2 a warning.
type Diagnostic struct {
	Range              Range     `json:"range"`
	Severity           int       `json:"severity"`
	Code               string    `json:"code"`
	Source             string    `json:"source"`
	Message            string    `json:"message"`
	RelatedInformation []Related `json:"relatedInformation,omitempty"`
}

// Related is another place that a diagnostic is about.
type Related struct {
	Location Location `json:"location"`
	Message  string   `json:"message"`
}

// TextEdit puts a text in the place of another.
type TextEdit struct {
	Range   Range  `json:"range"`
	NewText string `json:"newText"`
}

// WorkspaceEdit is a change to several files. A client that cannot take
// DocumentChanges gets Changes.
type WorkspaceEdit struct {
	Changes         map[string][]TextEdit `json:"changes,omitempty"`
	DocumentChanges []any                 `json:"documentChanges,omitempty"` // DocumentEdit, RenameFile
}

// DocumentEdit is a change to one file.
type DocumentEdit struct {
	TextDocument VersionedDocument `json:"textDocument"`
	Edits        []TextEdit        `json:"edits"`
}

// RenameFile gives a file another name. Kind is "rename".
type RenameFile struct {
	Kind   string `json:"kind"`
	OldURI string `json:"oldUri"`
	NewURI string `json:"newUri"`
}

// CodeAction is something that can be done.
type CodeAction struct {
	Title       string         `json:"title"`
	Kind        string         `json:"kind"`
	Diagnostics []Diagnostic   `json:"diagnostics,omitempty"`
	IsPreferred bool           `json:"isPreferred,omitempty"`
	Edit        *WorkspaceEdit `json:"edit,omitempty"`
}

// Markup is a text for a person: plaintext or markdown.
type Markup struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

// Hover tells of what stands at a place.
type Hover struct {
	Contents Markup `json:"contents"`
	Range    *Range `json:"range,omitempty"`
}

// The kinds of completion that are used.
const (
	KindFunction  = 3
	KindVariable  = 6
	KindProperty  = 10
	KindUnit      = 11
	KindValue     = 12
	KindKeyword   = 14
	KindReference = 18
	KindStruct    = 22
)

// CompletionList is what can be written at a place.
type CompletionList struct {
	IsIncomplete bool             `json:"isIncomplete"`
	Items        []CompletionItem `json:"items"`
}

// CompletionItem is one of them. InsertTextFormat 2 is a snippet.
type CompletionItem struct {
	Label            string    `json:"label"`
	Kind             int       `json:"kind"`
	Detail           string    `json:"detail,omitempty"`
	Documentation    *Markup   `json:"documentation,omitempty"`
	SortText         string    `json:"sortText,omitempty"`
	FilterText       string    `json:"filterText,omitempty"`
	InsertTextFormat int       `json:"insertTextFormat,omitempty"`
	TextEdit         *TextEdit `json:"textEdit,omitempty"`
}

// SignatureHelp tells how a function is called.
type SignatureHelp struct {
	Signatures      []Signature `json:"signatures"`
	ActiveSignature int         `json:"activeSignature"`
	ActiveParameter int         `json:"activeParameter"`
}

// Signature is a function as it is called.
type Signature struct {
	Label         string      `json:"label"`
	Documentation *Markup     `json:"documentation,omitempty"`
	Parameters    []Parameter `json:"parameters"`
}

// Parameter is a piece of a signature's label, from and to in units of UTF-16.
type Parameter struct {
	Label         [2]int `json:"label"`
	Documentation string `json:"documentation,omitempty"`
}

// The kinds of symbol that are used.
const (
	SymbolModule   = 2
	SymbolClass    = 5
	SymbolMethod   = 6
	SymbolProperty = 7
	SymbolFunction = 12
	SymbolVariable = 13
	SymbolConstant = 14
	SymbolBoolean  = 17
	SymbolArray    = 18
	SymbolObject   = 19
	SymbolKey      = 20
	SymbolStruct   = 23
	SymbolEvent    = 24
	SymbolOperator = 25
)

// DocumentSymbol is an entry of a file's outline.
type DocumentSymbol struct {
	Name           string           `json:"name"`
	Detail         string           `json:"detail,omitempty"`
	Kind           int              `json:"kind"`
	Range          Range            `json:"range"`
	SelectionRange Range            `json:"selectionRange"`
	Children       []DocumentSymbol `json:"children,omitempty"`
}

// DocumentHighlight is a use of a name in the file at hand.
type DocumentHighlight struct {
	Range Range `json:"range"`
}

// Registration asks a client to tell something.
type Registration struct {
	ID              string          `json:"id"`
	Method          string          `json:"method"`
	RegisterOptions json.RawMessage `json:"registerOptions"`
}

// RegistrationParams holds them.
type RegistrationParams struct {
	Registrations []Registration `json:"registrations"`
}
