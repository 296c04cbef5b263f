package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"

	"waywright/checks"
	"waywright/engine"
	"waywright/engine/drive"
	"waywright/engine/journal"
	"waywright/engine/journal/journalfile"
	"waywright/procedures"
	"waywright/report"
	"waywright/report/pdf"
)

// Run is a run of the logbook: its files, and its state when it was read.
type Run struct {
	Name   string
	Dir    string
	Plan   *engine.Plan
	State  *engine.State
	Head   journal.Head
	Format journal.Format
	Notice journalfile.Notice // a torn line that was cut off, or left out
	Cuts   int                // torn lines that the journal records
	Since  []report.Spoilt    // what is to stand beside its record of what was done since

	ReplacedBy []report.Link // records that correct its own
	Paper      pdf.Paper     // that its record is printed on

	file    *journalfile.File // nil where the run was only read
	entries []journal.Entry
	program string
	kept    *Kept
	now     func() time.Time
}

// Start says what a run is begun with.
type Start struct {
	Procedure *procedures.Procedure
	Machine   engine.Machine
	Inch      bool
	Rule      checks.Rule            // the shop's own; NoRule: it has none
	Accepted  []engine.AcceptedValue // see [Book.Accepted]
	Gains     Gains                  // see [Book.Gains]
	Program   string                 // version of the program
	Task      Task                   // of an overhaul, or none
}

// Task is what a run is begun for.
type Task struct {
	Plan    *procedures.Overhaul // nil: for none
	Name    string
	Waits   []string     // what stands against beginning it, in sentences
	Because string       // why it is begun all the same
	Anew    *engine.Anew // the plan is begun anew with it
}

func (t Task) plan() string {
	if t.Plan == nil {
		return ""
	}
	return t.Plan.Name
}

// Begin makes a run and opens it. A run is there whole or not at all: its
// folder gets its name when its files and the first lines of its journal are
// on the disk.
func (b Book) Begin(s Start, now func() time.Time) (*Run, error) {
	runs := filepath.Join(b.Dir, runsName)
	tmp := filepath.Join(runs, fmt.Sprintf(".new-%x", rand.Uint64()))
	if err := os.Mkdir(tmp, 0o777); err != nil {
		return nil, fmt.Errorf("begin a run in %s: %w. Nothing was recorded. A run needs a folder that may be written to: name another with --logbook", b.Dir, err)
	}
	defer os.RemoveAll(tmp) // it has its name already when all went well
	if err := lay(tmp, s, now); err != nil {
		return nil, fmt.Errorf("begin a run in %s: %w", b.Dir, err)
	}
	name, err := b.settle(tmp, s)
	if err != nil {
		return nil, fmt.Errorf("begin a run in %s: %w", b.Dir, err)
	}
	return b.Open(name, now)
}

// lay writes what a run begins with: the procedure's files and the first two
// lines of the journal.
func lay(dir string, s Start, now func() time.Time) error {
	pinned, digest, err := pin(dir, s.Procedure.Files)
	if err != nil {
		return err
	}
	data, err := journal.Data(journal.Format{
		Format: journal.Version, Program: s.Program,
		Procedure: journal.Procedure{Name: s.Procedure.Name, Files: pinned},
	})
	if err != nil {
		return err
	}
	f, _, err := journalfile.Create(dir, journal.Entry{Time: now(), Kind: journal.KindFormat, Data: data})
	if err != nil {
		return err
	}
	_, err = drive.New(engine.New(engine.NewPlan(s.Procedure)), keeper{f: f}, now).Record(engine.Begun{
		Procedure: s.Procedure.Name, Revision: s.Procedure.Revision, Digest: digest,
		Machine: s.Machine, Inch: s.Inch, Rule: s.Rule.String(), Accepted: s.Accepted, Gains: s.Gains.Of, GainsFrom: s.Gains.From, Program: s.Program,
		Overhaul: s.Task.plan(), Task: s.Task.Name, Waits: s.Task.Waits, Because: s.Task.Because, Anew: s.Task.Anew,
	})
	return errors.Join(err, f.Close())
}

// settle gives the folder of a new run its name: the procedure's and the
// machine's, and from the second on a number behind a point.
func (b Book) settle(tmp string, s Start) (string, error) {
	base := plainName(s.Procedure.Name + "-" + s.Machine.ID)
	for n := 1; n < 100_000; n++ {
		name := base
		if n > 1 {
			name = fmt.Sprintf("%s.%d", base, n)
		}
		dir := filepath.Join(b.Dir, runsName, name)
		if _, err := os.Lstat(dir); err == nil {
			continue
		}
		// A run of that name that was begun just now is not empty, and a
		// folder takes the place of none that is not.
		err := os.Rename(tmp, dir)
		if err == nil {
			syncDir(filepath.Dir(dir))
			return name, nil
		}
		if _, there := os.Lstat(dir); there != nil {
			return "", err
		}
	}
	return "", fmt.Errorf("there are too many runs named %s", base)
}

// Open opens a run to go on with it. The error is a [*journalfile.Held] if
// another program has it open, and wraps a [*journal.Damage] if the journal
// was changed; then nothing was changed here.
func (b Book) Open(name string, now func() time.Time) (*Run, error) {
	dir, err := b.runDir(name)
	if err != nil {
		return nil, err
	}
	f, entries, notice, err := journalfile.Open(dir)
	if err != nil {
		return nil, err
	}
	r := &Run{Name: name, Dir: dir, Head: f.Head(), Notice: notice, file: f, now: now, program: b.Program, kept: b.Kept, Paper: b.Paper()}
	if err := r.fold(entries); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return r, nil
}

// Read reads a run without changing anything, also while another program has
// it open.
func (b Book) Read(name string) (*Run, error) {
	dir, err := b.runDir(name)
	if err != nil {
		return nil, err
	}
	entries, notice, err := journalfile.Read(filepath.Join(dir, journalfile.Name))
	if err != nil {
		return nil, err
	}
	r := &Run{Name: name, Dir: dir, Notice: notice, program: b.Program, kept: b.Kept, now: time.Now, Paper: b.Paper()}
	if r.Head, err = journal.HeadOf(entries); err != nil {
		return nil, err
	}
	return r, r.fold(entries)
}

// fold works out the state from the journal and the procedure's files as they
// were.
func (r *Run) fold(entries []journal.Entry) error {
	var err error
	r.entries = entries
	if r.Format, err = entries[0].Format(); err != nil {
		return fmt.Errorf("run %s: %w", r.Name, err)
	}
	files, err := r.pinned()
	if err == nil {
		r.Plan, err = r.kept.plan(files)
	}
	if err != nil {
		return fmt.Errorf("run %s: %w", r.Name, err)
	}
	events, cuts, err := eventsOf(entries)
	if err != nil {
		return fmt.Errorf("run %s: journal %s: %w", r.Name, filepath.Join(r.Dir, journalfile.Name), err)
	}
	r.Cuts = cuts
	if r.State, err = engine.Fold(r.Plan, events); err != nil {
		return fmt.Errorf("run %s: the journal does not fit the procedure's files beside it: %w. Put back a copy of the folder that is whole", r.Name, err)
	}
	return nil
}

// Session returns the run as something to work on. It may be called once, for
// a run that was opened.
func (r *Run) Session() *drive.Session {
	s := drive.New(r.State, keeper{r.file, func(es []journal.Entry) { r.entries = append(r.entries, es...) }}, r.now)
	s.Seal(r.seals)
	return s
}

// Close lets others write the run.
func (r *Run) Close() error {
	if r.file == nil {
		return nil
	}
	f := r.file
	r.file = nil
	return f.Close()
}

// Drop takes a run back that was opened: its folder goes, and all that is in it.
func (r *Run) Drop() error {
	if r.file == nil {
		return fmt.Errorf("run %s is only read", r.Name)
	}
	return errors.Join(os.RemoveAll(r.Dir), r.Close())
}

// Now brings the run up to what a session has made of it.
func (r *Run) Now(s *engine.State) {
	r.State = s
	if r.file != nil {
		r.Head = r.file.Head()
	}
}

// RunDir returns the folder of a run of that name.
func (b Book) RunDir(name string) (string, error) { return b.runDir(name) }

// runDir returns the folder of a run.
func (b Book) runDir(name string) (string, error) {
	if name != filepath.Base(name) || !filepath.IsLocal(name) || name[0] == '.' {
		return "", fmt.Errorf("%q is not the name of a run. Names are listed by: waywright logbook", name)
	}
	dir := filepath.Join(b.Dir, runsName, name)
	switch info, err := os.Stat(dir); {
	case errors.Is(err, fs.ErrNotExist):
		return "", b.noRun(name)
	case err != nil:
		return "", fmt.Errorf("run %s: %w", name, err)
	case !info.IsDir():
		return "", fmt.Errorf("run %s: %s is a file, and a run is a folder", name, dir)
	}
	return dir, nil
}

// keeper lets a session append to a journal on disk.
type keeper struct {
	f    *journalfile.File
	kept func([]journal.Entry) // nil: nobody asks
}

func (k keeper) Next() int { return k.f.Next() }

func (k keeper) Append(events ...engine.Event) error {
	entries := make([]journal.Entry, len(events))
	for i, ev := range events {
		data, err := journal.Data(ev.Data)
		if err != nil {
			return err
		}
		entries[i] = journal.Entry{Time: ev.Time, By: ev.By, Kind: ev.Data.Kind(), Data: data}
	}
	sealed, err := k.f.Append(entries...)
	if err == nil && k.kept != nil {
		k.kept(sealed)
	}
	return err
}

// eventsOf turns the lines of a journal into the events of the engine. It
// counts the torn lines that are recorded.
func eventsOf(entries []journal.Entry) (events []engine.Event, cuts int, err error) {
	for _, e := range entries {
		switch e.Kind {
		case journal.KindFormat:
			continue
		case journal.KindRecovered:
			cuts++
			continue
		}
		d, err := engine.Decode(e.Kind, e.Data)
		if err != nil {
			return nil, cuts, fmt.Errorf("line %d: %w. A newer version of the program may have written it", e.N, err)
		}
		events = append(events, engine.Event{N: e.N, Time: e.Time, By: e.By, Data: d})
	}
	return events, cuts, nil
}
