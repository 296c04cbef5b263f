package editor

import (
	"cmp"
	"fmt"
	"runtime/debug"
	"slices"
	"time"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
	"waywright/procedures/source"
)

// watch looks the open files through whenever something changed and nothing
// was typed for a while. It ends when the conversation is over.
//
// A file with mistakes is told of at once. One without takes longer, since then
// its limits are held against its instruments and against perfect machines: that
// is done beside, so that nobody waits for it who has typed on.
func (s *server) watch() {
	beside := make(chan struct{})
	go func() {
		defer close(beside)
		s.slowly()
	}()
	timer := time.NewTimer(time.Hour)
	for {
		s.mu.Lock()
		wait := time.Hour
		due := !s.due.IsZero() && time.Until(s.due) <= 0
		switch {
		case s.over:
			s.mu.Unlock()
			timer.Stop()
			s.proved.Broadcast()
			<-beside
			return
		case due:
			s.due = time.Time{}
		case !s.due.IsZero():
			wait = time.Until(s.due)
		}
		var jobs []job
		if due {
			jobs = s.jobs()
		}
		s.mu.Unlock()
		if due {
			s.quickly(jobs)
			continue
		}
		timer.Reset(wait)
		select {
		case <-timer.C:
		case <-s.wake:
		}
	}
}

// job is a file to look through.
type job struct {
	d    *doc
	text *lsp.Text
	src  hclfile.Source
	edit int // of the server, when it was wanted
}

// jobs lists the open files, the one changed last first.
func (s *server) jobs() []job {
	var out []job
	for _, d := range s.docs {
		v, name := s.viewOf(d.path)
		out = append(out, job{d, d.text, v.source(name), s.edits})
	}
	slices.SortFunc(out, func(a, b job) int {
		return cmp.Or(cmp.Compare(b.d.changed, a.d.changed), cmp.Compare(a.d.uri, b.d.uri))
	})
	return out
}

// quickly tells of files with mistakes, and leaves the others to slowly. It
// breaks off when something changes again.
func (s *server) quickly(jobs []job) {
	s.mu.Lock()
	s.queue = nil
	s.mu.Unlock()
	for _, j := range jobs {
		found, ok := s.guard(j, func() diagnose.List { _, ds := hclfile.Parse(j.src); return ds })
		wrong := ok && found.HasErrors()
		if wrong {
			found, ok = s.guard(j, func() diagnose.List { return proofread.File(j.src).Diagnostics })
		}
		s.mu.Lock()
		switch {
		case !ok || !s.current(j):
		case wrong:
			s.tell(j, found, true)
		default:
			if j.d.found.HasErrors() { // they are gone
				s.tell(j, found, false)
			}
			s.queue = append(s.queue, j)
			s.proved.Broadcast()
		}
		again := !s.due.IsZero() || s.over
		s.mu.Unlock()
		if again {
			return
		}
	}
}

// slowly proves all that can be proved of files without mistakes.
func (s *server) slowly() {
	for {
		s.mu.Lock()
		for len(s.queue) == 0 && !s.over {
			s.proved.Wait()
		}
		if s.over {
			s.mu.Unlock()
			return
		}
		j := s.queue[0]
		s.queue = s.queue[1:]
		wanted := s.current(j)
		s.mu.Unlock()
		if !wanted {
			continue
		}
		found, ok := s.guard(j, func() diagnose.List { return proofread.File(j.src).Diagnostics })
		s.mu.Lock()
		if ok && s.current(j) {
			s.tell(j, found, true)
		}
		s.mu.Unlock()
	}
}

// current tells whether nothing has changed since a job was wanted.
func (s *server) current(j job) bool {
	return s.docs[j.d.uri] == j.d && j.d.text == j.text && s.edits == j.edit
}

// tell publishes what was found; all of it, or what is known so far.
func (s *server) tell(j job, found diagnose.List, all bool) {
	j.d.found, j.d.seen = found, j.text
	s.publish(j.d, j.src.Path, all)
}

// guard keeps a mistake of the program's own from ending the conversation.
func (s *server) guard(j job, look func() diagnose.List) (found diagnose.List, ok bool) {
	defer func() {
		if x := recover(); x != nil {
			found, ok = nil, false
			if s.opts.Log != nil {
				fmt.Fprintf(s.opts.Log, "waywright editor: looking through %s: %v\n%s\n", j.src.Path, x, debug.Stack())
			}
		}
	}()
	return look(), true
}

// publish tells what was found in a file. What was found in files that it
// shares definitions with is told at its top, since it cannot be used either.
func (s *server) publish(d *doc, name string, all bool) {
	out := lsp.PublishDiagnostics{URI: d.uri, Diagnostics: []lsp.Diagnostic{}}
	if all { // what comes in two parts has the version with the second
		out.Version = &d.version
	}
	elsewhere := map[string]bool{}
	for _, f := range d.found {
		switch {
		case f.Subject.File == name:
			out.Diagnostics = append(out.Diagnostics, told(d.text, f))
		case f.Severity == diagnose.Error && !elsewhere[f.Subject.File]:
			elsewhere[f.Subject.File] = true
			out.Diagnostics = append(out.Diagnostics, s.toldElsewhere(d, f))
		}
	}
	s.notify("textDocument/publishDiagnostics", out)
}

// told is a diagnostic as editors show it.
func told(t *lsp.Text, f diagnose.Diagnostic) lsp.Diagnostic {
	severity := 1
	if f.Severity == diagnose.Warning {
		severity = 2
	}
	message := f.Summary + "."
	if f.Detail != "" {
		message = f.Summary + ". " + diagnose.Plain(f.Detail)
	}
	return lsp.Diagnostic{Range: spanOf(t, f.Subject), Severity: severity, Code: f.Code, Source: "waywright", Message: message}
}

func (s *server) toldElsewhere(d *doc, f diagnose.Diagnostic) lsp.Diagnostic {
	out := told(d.text, f)
	out.Range = lsp.Range{}
	out.Message = fmt.Sprintf("In %s, line %d: %s", diagnose.Plain(f.Subject.File), f.Subject.Start.Line, out.Message)
	if !s.client.related {
		return out
	}
	v, _ := s.viewOf(d.path)
	if p := v.page(f.Subject.File); p != nil {
		if uri := v.uri(p); uri != "" {
			out.RelatedInformation = []lsp.Related{{Location: lsp.Location{URI: uri, Range: spanOf(p.text, f.Subject)}, Message: f.Summary}}
		}
	}
	return out
}

// spanOf turns a range of ours into one of the editor. An empty one takes the
// character behind it, so that there is something to underline.
func spanOf(t *lsp.Text, r source.Range) lsp.Range {
	from, to := r.Start.Byte, r.End.Byte
	if to <= from {
		to = min(from+1, len(t.Bytes))
		for to < len(t.Bytes) && t.Bytes[to]&0xC0 == 0x80 {
			to++
		}
	}
	return t.Range(from, to)
}
