// Package csv writes an acceptance record as two tables for a spreadsheet: one
// with a row for each take of each reading, one with a row for each test.
//
// They are two files, because they are two tables: a sheet sorts and filters
// columns that mean one thing all the way down. The first columns name the
// record, the machine and the procedure, so that tables of several runs can be
// put below one another.
//
// The form is that of RFC 4180: commas, CR LF, quotes doubled; in front stands
// the mark of UTF-8 (U+FEFF), without which some spreadsheets read µ as two
// letters. A number is digits with a point and the minus that a keyboard has,
// its unit stands in a column of its own, and a cell without a value is empty.
// [Options] has the form for spreadsheets that are set to a decimal comma. A
// time is UTC, written as 2026-11-03 08:00:00.
//
// What people typed is kept as text. Where it would be taken for a formula (it
// begins with =, +, - or @ and is no plain number) an apostrophe is put before
// it, and stands there to be seen. Characters that have no place in a line of
// text become U+FFFD.
//
// The columns have their names in the first row. New ones are added at the
// end; none is renamed or taken away.
package csv

import (
	"encoding/csv"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"waywright/checks/quantity"
	"waywright/procedures/diagnose"
	"waywright/report"
)

// Options says for which spreadsheet a table is written.
type Options struct {
	// DecimalComma writes numbers with a comma and parts columns by semicolons,
	// as spreadsheets in much of Europe expect.
	DecimalComma bool
}

// Mark is written before the first row.
const Mark = "\uFEFF"

// column is a column of a table over T.
type column[T any] struct {
	name string
	cell func(T) cell
}

// cell is what stands in one field: text, a number or nothing.
type cell struct {
	text   string
	number string // digits with a point; where it is not empty there is no text
}

func text(s string) cell { return cell{text: s} }

func whole(n int) cell { return cell{number: strconv.Itoa(n)} }

// digits is a number as every form of the record prints it.
func digits(n *report.Number) cell {
	if n == nil {
		return cell{}
	}
	s := strings.ReplaceAll(n.Text, quantity.TrueMinus, "-")
	if !plain.MatchString(s) {
		return full(n.Value) // a record from elsewhere, with digits that are none
	}
	return cell{number: s}
}

// full is a number with all the figures that the record keeps.
func full(x float64) cell { return cell{number: strconv.FormatFloat(x, 'f', -1, 64)} }

// unitOf is the unit as it is printed.
func unitOf(ns ...*report.Number) cell {
	for _, n := range ns {
		if n != nil {
			return text(n.Unit)
		}
	}
	return cell{}
}

// base returns the number in the one unit that all numbers of its kind have:
// mm for a length, °C for a temperature. A unit that is not known stays.
func base(n *report.Number) (x, unit cell) {
	if n == nil {
		return cell{}, cell{}
	}
	u, ok := report.UnitOf(*n)
	if !ok {
		return full(n.Value), text(n.Unit)
	}
	to := u.Dim.Default()
	if u.Point {
		to = celsius
	}
	return full(to.Of(u.Base(n.Value))), text(to.Symbol)
}

var celsius = func() quantity.Unit {
	u, err := quantity.Lookup("celsius")
	if err != nil {
		panic("csv: " + err.Error())
	}
	return u
}()

func yes(b bool) cell {
	if b {
		return text("yes")
	}
	return cell{}
}

func moment(s report.Stamp) cell {
	return text(strings.Replace(strings.TrimSuffix(s.Time, "Z"), "T", " ", 1))
}

func list(parts []string) cell { return text(strings.Join(parts, "; ")) }

// plain is a number that a spreadsheet takes as one, whichever way it is set.
var plain = regexp.MustCompile(`^[+-]?[0-9]+([.,][0-9]+)?$`)

// write writes the rows of list under the names of the columns.
func write[T any](w io.Writer, o Options, cs []column[T], rows []T) error {
	if _, err := io.WriteString(w, Mark); err != nil {
		return fmt.Errorf("csv: %w", err)
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if o.DecimalComma {
		out.Comma = ';'
	}
	line := make([]string, len(cs))
	for i, c := range cs {
		line[i] = c.name
	}
	_ = out.Write(line) // what goes wrong is told by Error, once for all rows
	for _, r := range rows {
		for i, c := range cs {
			line[i] = o.field(c.cell(r))
		}
		_ = out.Write(line)
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("csv: %w", err)
	}
	return nil
}

func (o Options) field(c cell) string {
	if c.number != "" {
		if o.DecimalComma {
			return strings.Replace(c.number, ".", ",", 1)
		}
		return c.number
	}
	return guarded(oneLine(c.text))
}

// oneLine keeps a text on its line, and puts U+FFFD for what could rearrange
// the sheet or the screen it is read on.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\r' || r == '\t':
			return ' '
		case diagnose.Control(r):
			return unicode.ReplacementChar
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

// starts are the characters, the wide ones too, with which spreadsheets begin
// a formula.
const starts = "=+-@＝＋－＠"

// guarded keeps a text from being worked out.
func guarded(s string) string {
	first := strings.TrimLeftFunc(s, unicode.IsSpace)
	if first == "" || !strings.ContainsRune(starts, []rune(first)[0]) || plain.MatchString(s) {
		return s
	}
	return "'" + s
}
