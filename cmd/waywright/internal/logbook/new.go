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
	"time"

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
// units: "1 um". What is empty is not known.
type NewInstrument struct {
	ID, Kind, Certificate, Calibrated, CalibratedBy, Due, Maker, Serial string

	Range    string    // what it can read: "0 to 25 mm"
	Takes    string    // how many takes its repeatability was found from
	Coverage string    // the factor k of its uncertainty
	Sizes    []NewSize // "resolution", "error" …
	History  string    // "2025-11-03 new spindle nut, by Anna Brook", several parted by semicolons
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
	w, err := instrumentEntry(in)
	if err != nil {
		return err
	}
	return b.enter(instrumentsName, w, func(fsys fs.FS, p string) diagnose.List { _, ds := hclfile.Instruments(fsys, p); return ds })
}

func instrumentEntry(in NewInstrument) (*entry, error) {
	w := &entry{head: "instrument", id: in.ID}
	w.word("kind", in.Kind)
	if in.Range != "" {
		text, err := spanText(in.Range)
		if err != nil {
			return nil, fmt.Errorf("range: %w", err)
		}
		w.lines = append(w.lines, [2]string{"range", text})
	}
	if err := w.sizes(in.Sizes); err != nil {
		return nil, err
	}
	if in.Takes != "" {
		n, err := takes(in.Takes)
		if err != nil {
			return nil, fmt.Errorf("takes: %w", err)
		}
		w.lines = append(w.lines, [2]string{"repeatability_dof", strconv.Itoa(n - 1)})
	}
	if in.Coverage != "" {
		if err := CheckFactor(in.Coverage); err != nil {
			return nil, fmt.Errorf("coverage: %w", err)
		}
		w.lines = append(w.lines, [2]string{"coverage", strings.ReplaceAll(in.Coverage, ",", ".")})
	}
	for _, f := range [][2]string{
		{"certificate", in.Certificate}, {"calibrated", in.Calibrated}, {"calibrated_by", in.CalibratedBy}, {"due", in.Due},
		{"maker", in.Maker}, {"serial", in.Serial},
	} {
		w.word(f[0], f[1])
	}
	if err := w.history(in.History); err != nil {
		return nil, fmt.Errorf("history: %w", err)
	}
	slices.SortStableFunc(w.lines, func(a, b [2]string) int {
		return slices.Index(instrumentOrder, a[0]) - slices.Index(instrumentOrder, b[0])
	})
	return w, nil
}

// instrumentOrder is how an entry is written: what it is, what it can do, who
// vouches for it.
var instrumentOrder = []string{
	"kind", "range", "resolution", "error", "zero", "repeatability", "repeatability_dof", "turn",
	"certificate", "uncertainty", "coverage", "calibrated", "calibrated_by", "due", "maker", "serial",
}

// history writes what has become of an instrument so far.
func (w *entry) history(text string) error {
	for line := range strings.SplitSeq(text, ";") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		day, what, by, err := happening(line)
		if err != nil {
			return err
		}
		b := [][2]string{{"day", quote(day)}, {"what", quote(what)}}
		if by != "" {
			b = append(b, [2]string{"by", quote(by)})
		}
		w.more = append(w.more, b)
	}
	return nil
}

// happening takes a day, what was done, and who did it apart.
func happening(line string) (day, what, by string, err error) {
	day, what, _ = strings.Cut(strings.TrimSpace(line), " ")
	what = strings.TrimSpace(what)
	if i := strings.LastIndex(what, ", by "); i >= 0 {
		what, by = strings.TrimSpace(what[:i]), strings.TrimSpace(what[i+len(", by "):])
	}
	if _, err := time.Parse(time.DateOnly, day); err != nil || what == "" {
		return "", "", "", errors.New("write the day and what was done, such as 2025-11-03 new spindle nut, by Anna Brook")
	}
	return day, what, by, nil
}

// CheckHistory tells whether a text can be the history of an instrument.
func CheckHistory(text string) error { return new(entry).history(text) }

// CheckFactor tells whether a text can be the factor k of an expanded
// uncertainty.
func CheckFactor(text string) error {
	k, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", "."), 64)
	if err != nil || !(k >= 1 && k <= 10) || strings.ContainsAny(text, "xXpPeE_+") {
		return errors.New("the factor k is a number from 1 to 10, such as 2")
	}
	return nil
}

// CheckTakes tells whether a text can be the number of takes that a
// repeatability was found from.
func CheckTakes(text string) error {
	_, err := takes(text)
	return err
}

func takes(text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 2 || n > 1001 {
		return 0, errors.New("write how many takes there were, from 2 to 1001")
	}
	return n, nil
}

// CheckSpan tells whether a text says from where to where something reads.
func CheckSpan(text string) error {
	_, err := spanText(text)
	return err
}

var spanForm = regexp.MustCompile(`^(.*?\d[^\d]*?)\s*(?:\bto\b|\.\.+|–|\s-\s|-)\s*([-+−]?[\d.,].*)$`)

// spanText writes a typed span as a register has it. A unit behind the second
// number counts for the first too.
func spanText(typed string) (string, error) {
	m := spanForm.FindStringSubmatch(strings.TrimSpace(typed))
	if m == nil {
		return "", fmt.Errorf("%q does not say from where to where. Write it such as 0 to 25 mm", typed)
	}
	to, err := quantity.ParseOne(m[2], quantity.Context{Any: true})
	if err != nil {
		return "", err
	}
	from, err := quantity.ParseOne(strings.TrimSpace(m[1]), quantity.Context{Any: true})
	if err != nil {
		return "", err
	}
	if !to.HasUnit {
		return "", fmt.Errorf("%q has no unit. Write it with one, such as 0 to 25 mm", typed)
	}
	if !from.HasUnit {
		if from, err = quantity.ParseOne(strings.TrimSpace(m[1])+" "+to.Unit.Name, quantity.Context{Any: true}); err != nil {
			return "", err
		}
	}
	lo, okLo := written(from)
	hi, okHi := written(to)
	if !okLo || !okHi {
		return "", fmt.Errorf("the unit of %q cannot be written in a register. Use another, such as mm", typed)
	}
	return "[" + lo + ", " + hi + "]", nil
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
	bar      [][2]string   // test_bar
	more     [][][2]string // history
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
	for _, lines := range w.more {
		s.WriteString("\n  history {\n")
		table(&s, "    ", lines)
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
