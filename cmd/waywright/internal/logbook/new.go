package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/google/renameio/v2"
	"github.com/hashicorp/hcl/v2/hclwrite"
	"github.com/zclconf/go-cty/cty"

	"waywright/checks/quantity"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
)

// NewMachine is a machine to be entered.
type NewMachine struct {
	ID, Class, Title, Maker, Serial, Stands, Taper string
	Sizes                                          []NewSize // "centre_height", "test_bar.length"
}

// NewInstrument is an instrument to be entered. Sizes are typed with their
// units: "1 um".
type NewInstrument struct {
	ID, Kind, Certificate, Calibrated, Due, Maker, Serial string
	Coverage                                              int
	Sizes                                                 []NewSize // "resolution", "error" …
}

// NewSize is a size as a person types it.
type NewSize struct{ Name, Text string }

var idForm = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_.-]*$`)

// CheckID tells whether a text can be the id of a machine or an instrument.
func CheckID(id string) error {
	if !idForm.MatchString(id) || len(id) > 64 {
		return errors.New("an id is made of letters, figures, underscores, points and hyphens, and begins with a letter or figure, such as lathe-1")
	}
	return nil
}

// AddMachine enters a machine in machines.hcl. What stands in the file stays
// as it is.
func (b Book) AddMachine(m NewMachine) error {
	known, err := b.Machines()
	if err != nil {
		return err
	}
	for _, k := range known {
		if k.ID == m.ID {
			return fmt.Errorf("%s is entered already, in line %d of %s", m.ID, k.At.Start.Line, filepath.Join(b.Dir, machinesName))
		}
	}
	w := &entry{head: "machine", id: m.ID}
	for _, f := range [][2]string{{"class", m.Class}, {"title", m.Title}, {"maker", m.Maker}, {"serial", m.Serial}, {"stands", m.Stands}, {"spindle_taper", m.Taper}} {
		w.word(f[0], f[1])
	}
	if err := w.sizes(m.Sizes); err != nil {
		return err
	}
	return b.enter(machinesName, w, func(fsys fs.FS, p string) diagnose.List { _, ds := hclfile.Machines(fsys, p); return ds })
}

// AddInstrument enters an instrument in instruments.hcl.
func (b Book) AddInstrument(in NewInstrument) error {
	known, err := b.Instruments()
	if err != nil {
		return err
	}
	for _, k := range known {
		if strings.EqualFold(k.ID, in.ID) {
			return fmt.Errorf("%s is entered already, in line %d of %s", k.ID, k.At.Start.Line, filepath.Join(b.Dir, instrumentsName))
		}
	}
	w := &entry{head: "instrument", id: in.ID}
	w.word("kind", in.Kind)
	if err := w.sizes(in.Sizes); err != nil {
		return err
	}
	if in.Coverage != 0 {
		w.lines = append(w.lines, [2]string{"coverage", fmt.Sprint(in.Coverage)})
	}
	for _, f := range [][2]string{{"certificate", in.Certificate}, {"calibrated", in.Calibrated}, {"due", in.Due}, {"maker", in.Maker}, {"serial", in.Serial}} {
		w.word(f[0], f[1])
	}
	return b.enter(instrumentsName, w, func(fsys fs.FS, p string) diagnose.List { _, ds := hclfile.Instruments(fsys, p); return ds })
}

// enter puts a block at the end of a register, when the register with it has
// no mistakes.
func (b Book) enter(name string, w *entry, check func(fs.FS, string) diagnose.List) error {
	if err := CheckID(w.id); err != nil {
		return fmt.Errorf("%q: %w", w.id, err)
	}
	path := filepath.Join(b.Dir, name)
	old, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	text := strings.TrimRight(string(old), "\n")
	if text != "" {
		text += "\n\n"
	}
	text += w.String()
	trial, err := os.MkdirTemp("", "register-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(trial)
	if err := os.WriteFile(filepath.Join(trial, name), []byte(text), 0o600); err != nil {
		return err
	}
	for _, d := range check(os.DirFS(trial), name) {
		if d.Severity == diagnose.Error {
			return fmt.Errorf("%s: %s", d.Summary, d.Detail)
		}
	}
	if err := renameio.WriteFile(path, []byte(text), 0o666); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return nil
}

// entry is a block of a register.
type entry struct {
	head, id string
	lines    [][2]string
	bar      [][2]string // test_bar
}

func (w *entry) word(name, s string) {
	if s != "" {
		w.lines = append(w.lines, [2]string{name, quote(s)})
	}
}

func (w *entry) sizes(sizes []NewSize) error {
	for _, s := range sizes {
		if s.Text == "" {
			continue
		}
		if !sizeForm.MatchString(s.Name) {
			return fmt.Errorf("%q is not the name of a size, such as centre_height or test_bar.length", s.Name)
		}
		text, err := sizeText(s.Text)
		if err != nil {
			return fmt.Errorf("%s: %w", s.Name, err)
		}
		if name, ok := strings.CutPrefix(s.Name, "test_bar."); ok {
			w.bar = append(w.bar, [2]string{name, text})
			continue
		}
		w.lines = append(w.lines, [2]string{s.Name, text})
	}
	return nil
}

// CheckSize tells whether a text is a size as a register has it: a number with
// its unit.
func CheckSize(text string) error {
	_, err := sizeText(text)
	return err
}

// sizeText writes a typed size as a register has it.
func sizeText(typed string) (string, error) {
	t, err := quantity.ParseOne(typed, quantity.Context{Any: true})
	if err != nil {
		return "", err
	}
	if !t.HasUnit {
		return "", fmt.Errorf("%q has no unit. Write it with one, such as %s mm", typed, strings.TrimSpace(typed))
	}
	text, ok := written(t)
	if !ok {
		return "", fmt.Errorf("the unit of %q cannot be written in a register. Use another, such as mm or um", typed)
	}
	return text, nil
}

var sizeForm = regexp.MustCompile(`^(test_bar\.)?[a-z][a-z0-9_]*$`)

func (w *entry) String() string {
	var s strings.Builder
	fmt.Fprintf(&s, "%s %q {\n", w.head, w.id)
	table(&s, "  ", w.lines)
	if len(w.bar) > 0 {
		s.WriteString("\n  test_bar {\n")
		table(&s, "    ", w.bar)
		s.WriteString("  }\n")
	}
	s.WriteString("}\n")
	return s.String()
}

func table(s *strings.Builder, indent string, lines [][2]string) {
	wide := 0
	for _, l := range lines {
		wide = max(wide, len(l[0]))
	}
	for _, l := range lines {
		fmt.Fprintf(s, "%s%-*s = %s\n", indent, wide, l[0], l[1])
	}
}

// quote writes words as the files have them, with nothing in them that means
// anything.
func quote(s string) string {
	return string(hclwrite.TokensForValue(cty.StringVal(s)).Bytes())
}

// written writes a number with its unit: um(20), or um(20) / m(1).
func written(t quantity.Typed) (string, bool) {
	number := strconv.FormatFloat(t.Unit.Of(t.Value), 'f', -1, 64)
	literals := quantity.Literals()
	find := func(unit string) (string, bool) {
		i := slices.IndexFunc(literals, func(l quantity.Literal) bool { return l.Unit.Name == unit })
		if i < 0 {
			return "", false
		}
		return literals[i].Name, true
	}
	if name, ok := find(t.Unit.Name); ok {
		return fmt.Sprintf("%s(%s)", name, number), true
	}
	top, bottom, ok := strings.Cut(t.Unit.Name, "/")
	a, okA := find(top)
	b, okB := find(bottom)
	if !ok || !okA || !okB {
		return "", false
	}
	return fmt.Sprintf("%s(%s) / %s(1)", a, number, b), true
}
