package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"time"

	"waywright/engine"
	"waywright/engine/journal"
	"waywright/engine/journal/journalfile"
	"waywright/procedures"
	"waywright/report"
)

// A sealed record is never altered. What corrects it is a run of its own, whose
// journal says which record it corrects; the older run's folder stays as it is.

// Superseding says of a sealed run that it is corrected. The error says why
// that cannot be: it is not sealed, or is corrected already.
func (b Book) Superseding(old *Run, name, because string) (engine.Superseding, error) {
	if old.State.Seal() == nil {
		return engine.Superseding{}, fmt.Errorf("run %s is not signed, so nothing takes its place: go on with it, or amend it", old.Name)
	}
	if because == "" {
		return engine.Superseding{}, errors.New("a record that is corrected wants a reason, which the new one keeps: --because \"…\"")
	}
	next, err := b.SupersededBy(old)
	if err != nil {
		return engine.Superseding{}, err
	}
	if len(next) > 0 {
		return engine.Superseding{}, fmt.Errorf("run %s is corrected by run %s already. Go on with that one, or correct it in its turn", old.Name, next[0].Run)
	}
	i, err := old.Issue()
	if err != nil {
		return engine.Superseding{}, err
	}
	return engine.Superseding{Run: old.Name, Number: i.Record.Number, Digest: i.Digest(), Because: because, Name: name}, nil
}

// SupersededBy returns the records that correct that of a run. One that is not
// sealed yet has no number.
func (b Book) SupersededBy(old *Run) ([]report.Link, error) {
	if old.State.Seal() == nil {
		return nil, nil
	}
	all, err := b.Runs()
	if err != nil {
		return nil, err
	}
	return supersededBy(all, old), nil
}

// supersededBy finds them among all runs.
func supersededBy(all []Summary, old *Run) []report.Link {
	seal := old.State.Seal()
	if seal == nil {
		return nil
	}
	var out []report.Link
	for _, s := range all {
		if s.Run == nil || s.Name == old.Name {
			continue
		}
		x := s.Run.State.Supersedes()
		if x == nil || x.Digest != seal.Digest {
			continue
		}
		l := report.Link{Run: s.Name, Because: x.Because}
		if newer := s.Run.State.Seal(); newer != nil {
			if i, err := s.Run.Issue(); err == nil {
				l.Number, l.SHA256 = i.Record.Number, newer.Digest
			}
		}
		out = append(out, l)
	}
	return out
}

// carried names the runs of which the lines are told by another one, and would
// count twice. Where a run has taken over the lines of a signed one, that is the
// signed one once the correction is decided; until then it stands, and the
// correction is left out, unless work was done at the machine for it.
func carried(all []Summary) map[string]bool {
	there := map[string]bool{}
	for _, s := range all {
		there[s.Name] = s.Run != nil
	}
	out := map[string]bool{}
	for _, s := range all {
		if s.Run == nil {
			continue
		}
		x := s.Run.State.Supersedes()
		switch {
		case x == nil || x.Carried == 0:
		case there[x.Run] && !decided(s.Run.State) && !worked(s.Run.State, x.Carried):
			out[s.Name] = true
		default:
			out[x.Run] = true
		}
	}
	return out
}

// decided tells whether everybody has signed.
func decided(s *engine.State) bool { return s.Outcome() != engine.NotDecided }

// worked tells whether something was done at the machine after a line of the
// journal.
func worked(s *engine.State, after int) bool {
	gone := map[int]bool{}
	for _, ev := range s.Events() {
		if w, ok := ev.Data.(engine.Withdrawn); ok {
			gone[w.Of] = true
		}
	}
	return slices.ContainsFunc(s.Events(), func(ev engine.Event) bool {
		_, ok := ev.Data.(engine.Reported)
		return ok && ev.N > after && !gone[ev.N]
	})
}

// Carry makes a run that takes over everything up to the seal of another one:
// the procedure's files, the evidence, and the lines of the journal, byte by
// byte. Then it says which record it corrects.
func (b Book) Carry(old *Run, d engine.Superseding, now func() time.Time) (*Run, error) {
	seal := old.State.Seal()
	if seal == nil {
		return nil, fmt.Errorf("run %s is not sealed", old.Name)
	}
	d.Carried = seal.N - 1
	tmp := filepath.Join(b.Dir, runsName, fmt.Sprintf(".new-%x", rand.Uint64()))
	if err := os.Mkdir(tmp, 0o777); err != nil {
		return nil, fmt.Errorf("begin a run in %s: %w. Nothing was recorded", b.Dir, err)
	}
	defer os.RemoveAll(tmp) // it has its name already when all went well
	if err := old.layCopy(tmp, d, now); err != nil {
		return nil, fmt.Errorf("begin a run in %s: %w", b.Dir, err)
	}
	name, err := b.settle(tmp, Start{Procedure: old.Plan.Procedure(), Machine: old.State.Begun().Machine})
	if err != nil {
		return nil, fmt.Errorf("begin a run in %s: %w", b.Dir, err)
	}
	return b.Open(name, now)
}

// layCopy writes what the new run begins with.
func (r *Run) layCopy(dir string, d engine.Superseding, now func() time.Time) error {
	var files []procedures.File
	for _, f := range r.Format.Procedure.Files {
		path, err := inside(filepath.Join(r.Dir, procedureName), f.Name)
		if err != nil {
			return err
		}
		text, err := readSmall(path)
		if err != nil {
			return err
		}
		files = append(files, procedures.File{Name: f.Name, Bytes: text})
	}
	if _, _, err := pin(dir, files); err != nil {
		return err
	}
	if err := copyAll(filepath.Join(dir, evidenceName), os.DirFS(filepath.Join(r.Dir, evidenceName))); err != nil {
		return err
	}
	lines := r.entries[:d.Carried]
	for _, e := range lines {
		if e.Kind == journal.KindRecovered {
			if err := copyTorn(dir, r.Dir, e); err != nil {
				return err
			}
		}
	}
	f, _, err := journalfile.Create(dir, lines[0])
	if err != nil {
		return err
	}
	_, err = f.Append(slices.Clone(lines[1:])...)
	if err == nil {
		err = r.point(keeper{f: f}, d, now)
	}
	return errors.Join(err, f.Close())
}

// point appends which record is corrected.
func (r *Run) point(k keeper, d engine.Superseding, now func() time.Time) error {
	seal := r.State.Seal()
	before, err := r.State.BeforeSeal()
	if err != nil {
		return err
	}
	var out []engine.Event
	if before.Seated() { // the sitting ended when it was sealed
		out = append(out, engine.Event{N: k.Next(), Time: seal.At, By: before.Operator(), Data: engine.Paused{Reason: "sealed"}})
	}
	out = append(out, engine.Event{N: k.Next() + len(out), Time: now().UTC().Truncate(time.Millisecond), By: r.State.Author(d), Data: d})
	return k.Append(out...)
}

// copyAll copies a folder of files; one that is not there holds none.
func copyAll(to string, from fs.FS) error {
	names, err := fs.ReadDir(from, ".")
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil || len(names) == 0 {
		return err
	}
	if err := os.CopyFS(to, from); err != nil {
		return err
	}
	syncDir(to)
	return nil
}

// copyTorn copies the bytes of a line that was cut off.
func copyTorn(to, from string, e journal.Entry) error {
	c, err := e.Cut()
	if err != nil {
		return err
	}
	src, err := inside(from, c.File)
	if err != nil {
		return err
	}
	b, err := readSmall(src)
	if err != nil {
		return err
	}
	dst, err := inside(to, c.File)
	if err != nil {
		return err
	}
	return writeNew(dst, b)
}
