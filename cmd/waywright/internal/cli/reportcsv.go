package cli

import (
	"bytes"
	"io"

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/report"
	"waywright/report/csv"
)

// tablesWanted is what --csv and --decimal-comma ask for.
type tablesWanted struct {
	which string // both, tests, readings; "" for no table
	comma bool
}

// recordTables are the tables of a record, with the files that they stand in
// beside the journal.
var recordTables = []struct {
	name, file string
	write      func(io.Writer, report.Record, csv.Options) error
}{
	{"tests", "record-tests.csv", csv.Tests},
	{"readings", "record-readings.csv", csv.Readings},
}

// tableFlags adds the flags for tables to a command.
func tableFlags(c *cobra.Command, w *tablesWanted) {
	c.Flags().StringVar(&w.which, "csv", "", "as tables for a spreadsheet, in two files beside the journal; --csv=tests or --csv=readings: one of them, to standard output or the file of -o")
	c.Flags().Lookup("csv").NoOptDefVal = "both"
	c.Flags().BoolVar(&w.comma, "decimal-comma", false, "tables for a spreadsheet that is set to a decimal comma: 0,012, and semicolons between the columns")
	err := c.RegisterFlagCompletionFunc("csv", func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		return names([]string{"tests", "readings", "both"}, typed)
	})
	if err != nil {
		panic("cli: " + err.Error())
	}
}

// check refuses what cannot be meant.
func (w tablesWanted) check(file string) error {
	switch w.which {
	case "tests", "readings":
	case "":
		if w.comma {
			return cannot("--decimal-comma is for tables. Write --csv too")
		}
	case "both":
		if file != "" {
			return cannot("-o %s: one file, and there are two tables. Write --csv=tests or --csv=readings", file)
		}
	default:
		return cannot("there is no table %q. Write --csv for both, --csv=tests or --csv=readings", w.which)
	}
	return nil
}

// recordTables writes the tables of a run's record: both beside its journal, one
// where it was asked for.
func (a *app) recordTables(run *logbook.Run, w tablesWanted, file string) error {
	rec := run.Record()
	var forms []logbook.Form
	for _, t := range recordTables {
		if w.which != "both" && w.which != t.name {
			continue
		}
		var out bytes.Buffer
		if err := t.write(&out, rec, csv.Options{DecimalComma: w.comma}); err != nil {
			return err
		}
		if w.which != "both" {
			return a.put(file, out.Bytes())
		}
		forms = append(forms, logbook.Form{Name: t.file, Data: out.Bytes()})
	}
	files, err := run.WriteForms(forms...)
	for _, f := range files {
		a.printf("%s\n", f)
	}
	return err
}

// put writes to a file, or where it names none to standard output.
func (a *app) put(file string, b []byte) error {
	if file == "" || file == "-" {
		_, err := a.Out.Write(b)
		return err
	}
	if err := renameio.WriteFile(file, b, 0o666); err != nil {
		return cannot("%w", err)
	}
	return nil
}
