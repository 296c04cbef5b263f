package cli

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/procedures/diagnose"
	"waywright/report"
	"waywright/report/document"
	"waywright/report/html"
	"waywright/report/pdf"
)

func (a *app) reportCommand() *cobra.Command {
	var asJSON, asHTML, asPDF, asSchema, drawn bool
	var sheets tablesWanted
	var file, paper, machine string
	c := &cobra.Command{
		Use:   "report [RUN]",
		Short: "The acceptance record of a run, made again from its journal",
		Long: `Make the record of a run from its journal; that of a sealed run is its
record.json, as long as it has the bytes that were sealed. Without --json, --html, --pdf or
--csv it is written beside the journal as JSON, as a page and as a PDF to print. A run that is not decided gives a draft, which
says so on every page; one that was spoilt since by work in another run says by
what.

With --machine it makes one record of a machine: each test as the newest accepted
run left it, beside what the earliest found, with the run, the number and the
digest of the record that it is from. What is missing, rejected, disturbed since,
not signed or out of date stands first, tasks of its overhauls among it. It is no
new judgement and is not signed. Without a form it is listed here. --schema --machine ID describes its JSON.`,
		Example: `  waywright report tailstock-by-test-cut-lathe-2
  waywright report tailstock-by-test-cut-lathe-2 --html -o record.html
  waywright report tailstock-by-test-cut-lathe-2 --pdf --paper letter -o record.pdf
  waywright report --json | less
  waywright report tailstock-by-test-cut-lathe-2 --csv
  waywright report --machine lathe-2 --pdf -o lathe-2.pdf
  waywright report --machine lathe-2 --csv -o lathe-2.csv
  waywright report --schema`,
		Args:              takes(0, 1, "at most one name of a run"),
		ValidArgsFunction: a.completeRun,
		RunE: func(c *cobra.Command, args []string) error {
			if asSchema {
				if machine != "" {
					return a.put(file, report.WholeSchema())
				}
				return a.put(file, report.Schema())
			}
			forms := count(asJSON, asHTML, asPDF, drawn, sheets.which != "")
			switch {
			case forms > 1:
				return cannot("--json, --html, --pdf, --csv and --pictures are forms: choose one")
			case file != "" && forms == 0:
				return cannot("-o %s: which form? Write --json, --html, --pdf or --csv=tests", file)
			}
			if drawn && file != "" {
				return cannot("--pictures are shown here; the page and the sheets of --html and --pdf hold them too")
			}
			if err := a.noPDFHere(asPDF, file); err != nil {
				return err
			}
			on, err := a.paper(paper)
			if err != nil {
				return err
			}
			if machine != "" && sheets.which == "both" {
				sheets.which = "tests" // of a machine there is one table
			}
			if err := sheets.check(file); err != nil {
				return err
			}
			want := reportForm{asJSON, asHTML, asPDF, drawn, on, sheets}
			switch {
			case machine != "" && len(args) > 0:
				return cannot("%s or --machine %s: a run, or all accepted runs of a machine", args[0], machine)
			case machine != "":
				return a.reportMachine(machine, want, file)
			}
			return a.report(args, want, file)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON, to standard output or the file of -o")
	c.Flags().BoolVar(&asHTML, "html", false, "as one HTML page that needs nothing else")
	c.Flags().BoolVar(&asPDF, "pdf", false, "on sheets of paper, with record.json inside")
	c.Flags().StringVar(&paper, "paper", "", paperHelp)
	c.Flags().StringVar(&machine, "machine", "", "one record of a machine from all its accepted runs, with what is missing")
	c.Flags().StringVarP(&file, "output", "o", "", "the file to write")
	c.Flags().BoolVar(&drawn, "pictures", false, "its pictures, in letters and dots, and their numbers")
	c.Flags().BoolVar(&asSchema, "schema", false, "the JSON Schema that every record keeps to, and nothing of a run; with --machine that of a machine's record")
	tableFlags(c, &sheets)
	a.completeFlags(c)
	return c
}

// reportForm says which form of a record is asked for; without any, all are
// written into the run's folder.
type reportForm struct {
	json, html, pdf, pictures bool
	paper                     pdf.Paper
	sheets                    tablesWanted
}

// count returns how many of them are so.
func count(are ...bool) (n int) {
	for _, so := range are {
		if so {
			n++
		}
	}
	return n
}

func (a *app) report(args []string, want reportForm, file string) error {
	b := a.book()
	name, err := a.runName(b, args)
	if err != nil {
		return err
	}
	run, err := b.Read(name)
	if err != nil {
		return err
	}
	if text := run.Notice.String(); text != "" {
		a.note("%s", text)
	}
	if run.Since, err = a.since(b, run); err != nil {
		return err
	}
	if run.ReplacedBy, err = b.SupersededBy(run); err != nil {
		return err
	}
	if x := run.State.Supersedes(); x != nil {
		a.note("%s", strings.TrimSpace(fill(diagnose.Plain(fmt.Sprintf("%s corrects record %s of run %s: %s", name, x.Number, or(x.Run, "another logbook"), x.Because)), "", page)))
	}
	for _, x := range run.ReplacedBy {
		a.note("%s", strings.TrimSpace(fill(diagnose.Plain(fmt.Sprintf("%s is corrected by run %s%s: %s", name, x.Run, or(numbered(x.Number), ", which is not signed yet"), x.Because)), "", page)))
	}
	for _, x := range run.Since {
		a.note("%s", strings.TrimSpace(fill(diagnose.Plain(fmt.Sprintf("%s does not hold any more: %s.", name, x.Said)), "", page)))
	}
	run.Paper = want.paper
	if want.sheets.which != "" {
		return a.recordTables(run, want.sheets, file)
	}
	if want.pictures {
		a.recordPictures(run.Record())
		return nil
	}
	if !want.json && !want.html && !want.pdf {
		files, err := run.WriteRecord()
		for _, f := range files {
			a.printf("%s\n", f)
		}
		return err
	}
	i, err := run.Issue()
	if err != nil {
		return err
	}
	if want.json {
		return a.put(file, i.JSON)
	}
	d, err := document.OfIssue(i)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if want.pdf {
		err = pdf.Render(&out, d, want.paper)
	} else {
		err = html.Render(&out, d)
	}
	if err != nil {
		return err
	}
	return a.put(file, out.Bytes())
}

func numbered(number string) string {
	if number == "" {
		return ""
	}
	return ", record " + number
}

// since says what has spoilt an accepted run since, for its record.
func (a *app) since(b logbook.Book, run *logbook.Run) ([]report.Spoilt, error) {
	spoilt, _, err := b.Spoilt(run)
	if err != nil {
		return nil, err
	}
	var out []report.Spoilt
	for _, c := range spoilt {
		out = append(out, report.Spoilt{Said: c.Said(), Time: instant(c.At), Run: c.Run})
	}
	return out, nil
}
