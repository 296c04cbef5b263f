package editor

import (
	"cmp"
	"encoding/json"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/cmd/waywright/internal/editor/sketch"
)

// at reads which name stands at a place.
func (s *server) nameAt(params json.RawMessage) (v *view, p *page, r sketch.Ref, to place, err error) {
	in, err := read[lsp.PositionParams](params)
	if err != nil {
		return nil, nil, r, to, err
	}
	v, p, err = s.look(in.TextDocument.URI)
	if err != nil {
		return nil, nil, r, to, err
	}
	r, ok := p.refAt(p.text.Offset(in.Position))
	if !ok {
		return v, p, r, to, errNoName
	}
	if to, ok = v.resolve(p, r); !ok {
		return v, p, r, to, errNoName
	}
	return v, p, r, to, nil
}

// errNoName is told where a name is asked for and none is there.
var errNoName = refuse("there is no name here that is given anywhere")

func (s *server) definition(params json.RawMessage) (any, error) {
	v, _, _, to, err := s.nameAt(params)
	switch {
	case err == errNoName:
		return []lsp.Location{}, nil
	case err != nil:
		return nil, err
	}
	return v.locations([]place{to}), nil
}

// locations turns places into those of the editor.
func (v *view) locations(places []place) []lsp.Location {
	out := []lsp.Location{}
	for _, at := range places {
		if uri := v.uri(at.page); uri != "" {
			out = append(out, lsp.Location{URI: uri, Range: at.page.text.Range(at.ref.At.From, at.ref.At.To)})
		}
	}
	return out
}

func (s *server) references(params json.RawMessage) (any, error) {
	in, err := read[lsp.ReferenceParams](params)
	if err != nil {
		return nil, err
	}
	v, _, _, to, err := s.nameAt(params)
	switch {
	case err == errNoName:
		return []lsp.Location{}, nil
	case err != nil:
		return nil, err
	}
	uses := v.uses(to)
	if !in.Context.IncludeDeclaration {
		uses = slices.DeleteFunc(uses, func(p place) bool { return p.ref.Gives })
	}
	return v.locations(uses), nil
}

func (s *server) highlight(params json.RawMessage) (any, error) {
	v, p, _, to, err := s.nameAt(params)
	out := []lsp.DocumentHighlight{}
	switch {
	case err == errNoName:
		return out, nil
	case err != nil:
		return nil, err
	}
	for _, r := range p.refs {
		if at, ok := v.resolve(p, r); ok && r.Name == to.ref.Name && at.same(to) {
			out = append(out, lsp.DocumentHighlight{Range: p.text.Range(r.At.From, r.At.To)})
		}
	}
	return out, nil
}

// prepareRename says which piece is renamed, or why none is.
func (s *server) prepareRename(params json.RawMessage) (any, error) {
	_, p, r, to, err := s.nameAt(params)
	if err != nil {
		return nil, err
	}
	if why := s.fixed(to); why != "" {
		return nil, refuse("%s", why)
	}
	return struct {
		Range       lsp.Range `json:"range"`
		Placeholder string    `json:"placeholder"`
	}{p.text.Range(r.At.From, r.At.To), r.Name}, nil
}

// fixed says why a name cannot be another one; "" where it can.
func (s *server) fixed(to place) string {
	if strings.HasPrefix(to.page.name, builtIn) {
		return fmt.Sprintf("%s is given in %s, which ships with the program and stays as it is. Give it anew in a shared.hcl of your own",
			written(to.ref), strings.TrimPrefix(to.page.name, builtIn))
	}
	if k := to.ref.Kind; (k == sketch.Procedure || k == sketch.Plan) && path.Base(to.page.name) == to.ref.Name+".hcl" && !s.client.renamesFiles {
		return fmt.Sprintf("a procedure is looked for by the name of its file. Rename %s too: this editor cannot do both at once", path.Base(to.page.name))
	}
	return ""
}

var (
	nameForm     = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)
	hyphenedForm = regexp.MustCompile(`^[a-z][a-z0-9_-]*$`)
	identityForm = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]*$`)
)

// reserved are the words that are answered at a gate, or stand in formulas.
var reserved = []string{"again", "afresh", "concession", "reject", "noted", "amount", "moved", "attempt"}

// badName says what is wrong with a name; "" where nothing is.
func badName(kind sketch.Kind, name string) string {
	switch kind {
	case sketch.Procedure, sketch.Plan:
		if !hyphenedForm.MatchString(name) {
			return fmt.Sprintf("%q cannot be the name of a procedure: it is made of lower-case letters, figures, underscores and hyphens, and begins with a letter", name)
		}
	case sketch.Rehearsal:
		if name == "" || strings.ContainsAny(name, "\"\\\n\r$%") {
			return fmt.Sprintf("%q cannot stand in quotes as it is", name)
		}
	case "machine", "person":
		if !identityForm.MatchString(name) {
			return fmt.Sprintf("%q is made of other characters than letters, figures, underscores, points and hyphens", name)
		}
	default:
		if !nameForm.MatchString(name) {
			return fmt.Sprintf("%q is no name: a name is made of lower-case letters, figures and underscores, and begins with a letter", name)
		}
		if slices.Contains(reserved, name) {
			return fmt.Sprintf("%q is what a person answers at a gate, or a word of formulas. Choose another name", name)
		}
	}
	return ""
}

// rename gives a name another one wherever it stands in the folder.
func (s *server) rename(params json.RawMessage) (any, error) {
	in, err := read[lsp.RenameParams](params)
	if err != nil {
		return nil, err
	}
	v, _, r, to, err := s.nameAt(params)
	if err != nil {
		return nil, err
	}
	if why := cmp.Or(s.fixed(to), badName(to.ref.Kind, in.NewName)); why != "" {
		return nil, refuse("%s", why)
	}
	if r.Name == in.NewName {
		return lsp.WorkspaceEdit{}, nil
	}
	uses := v.uses(to)
	if why := v.taken(uses, to, in.NewName); why != "" {
		return nil, refuse("%s", why)
	}
	return v.edit(uses, to, in.NewName), nil
}

func article(noun string) string {
	if strings.ContainsRune("aeiou", rune(noun[0])) {
		return "an " + noun
	}
	return "a " + noun
}

// labels are the kinds whose names are unique in a file, whatever they are.
var labels = []sketch.Kind{"given", "step", "confirm", "wait", "reading", "result", "gate", "correction", "signoff"}

// taken says where the new name stands already, in one of the files; "" where
// it is free.
func (v *view) taken(uses []place, to place, name string) string {
	kinds := []sketch.Kind{to.ref.Kind}
	if slices.Contains(labels, to.ref.Kind) {
		kinds = labels
	}
	seen := map[*page]bool{}
	for _, use := range append(uses, to) {
		p := use.page
		if use.ref.Of != "" && use.ref.Kind != sketch.Row { // it is named there, but belongs to another file
			continue
		}
		if seen[p] && to.ref.Kind != sketch.Each && to.ref.Kind != sketch.Row {
			continue
		}
		seen[p] = true
		for _, k := range kinds {
			r := sketch.Ref{Kind: k, Name: name, Of: use.ref.Of, In: use.ref.In}
			if k == sketch.Procedure || k == sketch.Plan {
				r = sketch.Ref{Kind: sketch.Procedure, Name: name}
			}
			if at, ok := v.resolve(p, r); ok {
				return fmt.Sprintf("%q is the name of %s already, in %s, line %d. Choose another", name, article(string(at.ref.Kind)), at.page.name,
					at.page.text.Position(at.ref.At.From).Line+1)
			}
		}
	}
	return ""
}

// edit puts the new name in the place of the old one.
func (v *view) edit(uses []place, to place, name string) lsp.WorkspaceEdit {
	out := lsp.WorkspaceEdit{Changes: map[string][]lsp.TextEdit{}}
	var order []string
	for _, use := range uses {
		uri := v.uri(use.page)
		if out.Changes[uri] == nil {
			order = append(order, uri)
		}
		out.Changes[uri] = append(out.Changes[uri], lsp.TextEdit{Range: use.page.text.Range(use.ref.At.From, use.ref.At.To), NewText: name})
	}
	if !v.s.client.documentChanges {
		return out
	}
	for _, uri := range order {
		var version *int
		if d := v.s.docs[uri]; d != nil {
			version = &d.version
		}
		out.DocumentChanges = append(out.DocumentChanges, lsp.DocumentEdit{TextDocument: lsp.VersionedDocument{URI: uri, Version: version}, Edits: out.Changes[uri]})
	}
	out.Changes = nil
	if k := to.ref.Kind; (k == sketch.Procedure || k == sketch.Plan) && path.Base(to.page.name) == to.ref.Name+".hcl" {
		old := v.uri(to.page)
		out.DocumentChanges = append(out.DocumentChanges, lsp.RenameFile{Kind: "rename", OldURI: old, NewURI: old[:strings.LastIndex(old, "/")+1] + name + ".hcl"})
	}
	return out
}
