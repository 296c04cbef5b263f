package logbook

import (
	"cmp"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/register"
	"waywright/report/pdf"
)

// BadRegister is the error for a register with mistakes in it.
type BadRegister struct {
	Path        string
	Diagnostics diagnose.List
	Text        []byte // of the file, for showing its lines
}

func (e *BadRegister) Error() string {
	for _, d := range e.Diagnostics {
		if d.Severity == diagnose.Error {
			return fmt.Sprintf("%s line %d: %s: %s", e.Path, d.Subject.Start.Line, d.Summary, d.Detail)
		}
	}
	return e.Path + " has mistakes"
}

// Machines reads the machines. A register that is not there is empty.
func (b Book) Machines() ([]register.Machine, error) {
	return read(b, machinesName, hclfile.Machines)
}

// Instruments reads the instruments.
func (b Book) Instruments() ([]register.Instrument, error) {
	return read(b, instrumentsName, hclfile.Instruments)
}

// People reads the people.
func (b Book) People() ([]register.Person, error) {
	return read(b, peopleName, hclfile.People)
}

// Shop reads what holds for the whole shop.
func (b Book) Shop() (register.Shop, error) {
	return read(b, shopName, hclfile.Shop)
}

// Paper is what the shop prints on: A4, where it says nothing, or nothing that
// is understood.
func (b Book) Paper() pdf.Paper {
	shop, err := b.Shop()
	if err != nil {
		return pdf.A4
	}
	p, err := pdf.ParsePaper(shop.Paper)
	if err != nil {
		return pdf.A4
	}
	return p
}

func read[T any](b Book, name string, parse func(fs.FS, string) (T, diagnose.List)) (T, error) {
	path := filepath.Join(b.Dir, name)
	var none T
	if _, err := os.Stat(path); err != nil {
		if os.IsNotExist(err) {
			return none, nil
		}
		return none, err
	}
	list, ds := parse(os.DirFS(b.Dir), name)
	if ds.HasErrors() {
		text, _ := readSmall(path) // without it the lines are not shown
		return list, &BadRegister{Path: path, Diagnostics: ds, Text: text}
	}
	return list, nil
}

// MachineOf returns a machine as a run keeps it: its words and its sizes, in
// the units that they were written in.
func MachineOf(m register.Machine) engine.Machine {
	out := engine.Machine{ID: m.ID, Class: m.Class, Serial: m.Serial, Text: map[string]string{}, Numbers: map[string]engine.Stored{}}
	for path, word := range map[string]string{
		"id": m.ID, "class": m.Class, "title": m.Title, "maker": m.Maker, "serial": m.Serial, "stands": m.Stands, "spindle_taper": m.Taper,
	} {
		if word != "" {
			out.Text[path] = word
		}
	}
	for path, s := range m.Sizes {
		if s.Value.State == value.Present && s.Value.Kind == value.Number {
			out.Numbers[path] = engine.Stored{Value: s.Unit.Of(s.Value.Num), Unit: s.Unit.Name}
		}
	}
	return out
}

// Bound returns an instrument of the shop in the place of one of a procedure's,
// with the figures of the register, in the unit of its resolution.
func Bound(name string, in register.Instrument) engine.Bound {
	u := in.Unit.Difference()
	if in.Unit.Name == "" {
		u = in.Dim.Default()
	}
	b := engine.Bound{
		Name: name, ID: in.ID, What: in.Kind, Unit: u.Name,
		Resolution: size(in.Resolution, u), Error: size(in.Error, u), Zero: size(in.Zero, u), HasZero: in.HasZero,
		Repeatability: size(in.Repeatability, u), Turn: size(in.Turn, u), CertU: size(in.Uncertainty, u),
		Certificate: in.Certificate, Calibrated: in.Calibrated, CalibratedBy: in.CalibratedBy, Due: in.Due,
		Maker: in.Maker, Serial: in.Serial,
	}
	if in.HasRange {
		b.Reads = []float64{size(in.From, u), size(in.To, u)}
	}
	if in.Repeatability > 0 {
		b.RepeatabilityDoF = cmp.Or(in.RepeatabilityDoF, usualDoF)
	}
	if in.Uncertainty > 0 {
		b.CertK = in.Coverage
	}
	return b
}

// usualDoF is how well a repeatability is known, in degrees of freedom, where
// that is not stated: to about a quarter (measure rule 2).
const usualDoF = 8

// size gives a size in base units in the unit u, without the digits that the
// change of unit leaves at its end.
func size(x float64, u quantity.Unit) float64 {
	if x == 0 {
		return 0
	}
	y := u.Of(x)
	if short, err := strconv.ParseFloat(strconv.FormatFloat(y, 'g', 12, 64), 64); err == nil {
		return short
	}
	return y
}
