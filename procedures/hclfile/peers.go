package hclfile

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

// peer is another procedure that this one names.
type peer struct {
	fsys    fs.FS
	path    string // "" where there is no such file
	reading bool   // it is being read just now
	proc    *procedures.Procedure
	broken  bool // it has mistakes of its own
	told    bool // it was said that it is not at hand
}

// peers are those that have been looked for, shared by all that are read on
// behalf of one file.
type peers struct {
	known map[string]*peer
}

// maxPeers bounds how many procedures are read on behalf of one.
const maxPeers = 200

// find looks for a procedure: beside the file, then in the folders below each
// folder above it, then in Also.
func (r *reader) find(name string) *peer {
	if p := r.peers.known[name]; p != nil {
		return p
	}
	p := &peer{}
	r.peers.known[name] = p
	if r.pinned != nil || !hyphenedForm.MatchString(name) {
		return p
	}
	if src, ok := Peer(r.src, name); ok {
		p.fsys, p.path = src.FS, src.Path
	}
	return p
}

// Peer returns where another procedure that a file names is; ok is false where
// it is not at hand.
func Peer(src Source, name string) (peer Source, ok bool) {
	file := name + ".hcl"
	if found := lookFor(src.FS, path.Dir(src.Path), file); found != "" {
		return Source{FS: src.FS, Path: found, Also: src.Also}, true
	}
	if found := lookFor(src.Also, ".", file); found != "" {
		return Source{FS: src.Also, Path: found}, true
	}
	return Source{}, false
}

// lookFor looks in a folder, in the folders beside it, and so on upwards.
func lookFor(fsys fs.FS, dir, file string) string {
	if fsys == nil {
		return ""
	}
	for ; ; dir = path.Dir(dir) {
		if p := path.Join(dir, file); exists(fsys, p) {
			return p
		}
		subs, err := fs.ReadDir(fsys, dir)
		if err != nil {
			subs = nil
		}
		for _, d := range subs {
			if p := path.Join(dir, d.Name(), file); d.IsDir() && exists(fsys, p) {
				return p
			}
		}
		if dir == "." || dir == "/" {
			return ""
		}
	}
}

// peerAtHand tells, once for each name, when a procedure that is named is not
// at hand. Then what is said of it cannot be proved, which is no mistake of
// this file.
func (r *reader) peerAtHand(n *node, ref reference) *peer {
	if ref.name == r.procName() {
		r.say(n, "E204", ref.at, "accepted[%q] is this procedure itself. Name another one.", ref.name)
		return nil
	}
	p := r.find(ref.name)
	if p.path == "" && r.pinned == nil && !r.brief && !p.told {
		p.told = true
		r.say(n, "W502", ref.at, "The procedure %q is not at hand, so what is said of it here could not be checked. Put %s.hcl beside this file or into the library.", ref.name, ref.name)
	}
	return p
}

func (r *reader) procName() string {
	if r.p == nil {
		return ""
	}
	return r.p.Name
}

// acceptedResults gives the results of another procedure. Where it is not at
// hand, or is the very one that is being read, a value has the type that its
// place asks for.
func (r *reader) acceptedResults(s *scope, name string) (map[string]compile.Symbol, bool) {
	p := r.readPeer(name)
	if p == nil || p.proc == nil || p.broken {
		return nil, false
	}
	out := map[string]compile.Symbol{}
	for _, step := range p.proc.Steps {
		for _, item := range step.Items {
			if x, ok := item.(*procedures.Result); ok {
				out[x.Name] = compile.Symbol{Type: x.Outer, Unit: x.Unit}
			}
		}
	}
	return out, true
}

// readPeer reads another procedure, without its rehearsals.
func (r *reader) readPeer(name string) *peer {
	p := r.find(name)
	if p.path == "" || p.reading || p.proc != nil || p.broken || len(r.peers.known) > maxPeers {
		return p
	}
	p.reading = true
	defer func() { p.reading = false }()
	other := newReader(Source{FS: p.fsys, Path: p.path, Also: r.src.Also}, r.peers)
	other.brief = true
	loaded, ds := other.parse()
	p.proc, p.broken = loaded.Procedure, loaded.Procedure == nil || ds.HasErrors()
	return p
}

// fileName warns where the file has another name than the procedure, since
// other procedures find it by its name.
func (r *reader) fileName(n *node) {
	base := path.Base(r.own.name)
	if n.label == "" || base == n.label+".hcl" || r.pinned != nil || r.brief {
		return
	}
	r.say(n, "W503", n.name, "The file is called %s. Other procedures look for %s.hcl: give the two one name.", base, n.label)
}

// outsideAtHand does so for the procedures whose results a program uses.
func (r *reader) outsideAtHand(n *node, p *formula.Program) {
	if p == nil {
		return
	}
	for _, ref := range p.Refs() {
		if name, _, ok := strings.Cut(ref.Name, "."); ok && ref.Space == formula.Accepted {
			r.peerAtHand(n, reference{word: "accepted", name: name, at: p.At()})
		}
	}
}

// waitsForItself tells of givens that can only come from a run which itself
// waits for a run of this procedure.
func (r *reader) waitsForItself() {
	for _, g := range r.p.Givens {
		for _, name := range takenFrom(g) {
			if trail := r.trail(name, nil, map[string]bool{}); trail != nil {
				n := r.decls["given"][g.Name].node
				r.say(n, "E208", g.From.At(), "This waits for an accepted run of %s, which in the end waits for one of %s: neither can ever begin. Write ask in one of the givens, so that it can be typed.",
					join(trail, ", which waits for one of "), r.p.Name)
			}
		}
	}
}

// takenFrom are the procedures without an accepted run of which a given has
// no value.
func takenFrom(g *procedures.Given) []string {
	if g.Ask != nil || g.From == nil {
		return nil
	}
	var out []string
	for _, ref := range g.From.Refs() {
		if name, _, ok := strings.Cut(ref.Name, "."); ok && ref.Space == formula.Accepted {
			out = append(out, name)
		}
	}
	return out
}

// trail is how the procedure called name comes to wait for this one; nil
// where it does not.
func (r *reader) trail(name string, before []string, seen map[string]bool) []string {
	if name == r.p.Name || seen[name] {
		return nil
	}
	seen[name] = true
	before = append(slices.Clip(before), name)
	p := r.readPeer(name)
	if p == nil || p.proc == nil {
		return nil
	}
	for _, g := range p.proc.Givens {
		for _, next := range takenFrom(g) {
			if next == r.p.Name {
				return before
			}
			if t := r.trail(next, before, seen); t != nil {
				return t
			}
		}
	}
	return nil
}
