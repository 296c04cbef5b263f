package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/procedures/diagnose"
	"waywright/report"
	"waywright/report/compare"
	"waywright/report/compare/printed"
	"waywright/report/csv"
	"waywright/report/html"
	"waywright/report/pdf"
)

// mostRecord is how large a record from elsewhere may be.
const mostRecord = 256 << 20

func (a *app) compareCommand() *cobra.Command {
	var asJSON, asHTML, asCSV, asPDF, asSchema, comma, pictures bool
	var file, paper string
	c := &cobra.Command{
		Use:   "compare RUN RUN…",
		Short: "The same tests of several runs side by side: by how much they differ, whether that is real, and the drift",
		Long: `Hold two runs or more beside one another: before and after, year to year,
machine to machine. Each RUN is a run of the logbook, or a record.json or a folder
with one from elsewhere, which is read as it is: verify says whether it is whole.

A difference is told as real only where it is more than its own give or take.
What was worked out in another way, over another length or in another kind of
unit is not judged, and it is said why. With three runs of one machine or more it
tells the drift per year, what was corrected in the runs taken out.

It ends with 0 where something could be compared, whatever was found, and with 1
where nothing could.`,
		Example: `  waywright compare tailstock-by-test-cut-lathe-2 tailstock-by-test-cut-lathe-2.2
  waywright compare headstock-align-lathe-2 ../bought/record.json
  waywright compare survey-lathe-2 survey-lathe-2.2 --pictures
  waywright compare survey-lathe-2 survey-lathe-2.2 survey-lathe-2.3 --html -o years.html
  waywright compare survey-lathe-2 survey-lathe-2.2 survey-lathe-2.3 --pdf -o years.pdf`,
		ValidArgsFunction: a.completeRuns,
		RunE: func(c *cobra.Command, args []string) error {
			forms := count(asJSON, asHTML, asCSV, asPDF)
			switch {
			case asSchema:
				return a.put(file, compare.Schema())
			case forms > 1:
				return cannot("--json, --html, --pdf and --csv are forms: choose one")
			case pictures && forms > 0:
				return cannot("--pictures is for the terminal. The page and the sheets have them always, tables and JSON have figures")
			case comma && !asCSV:
				return cannot("--decimal-comma is for tables. Write --csv too")
			case paper != "" && !asPDF:
				return cannot("--paper is for sheets. Write --pdf too")
			}
			if err := takes(2, -1, "the names of two runs at least")(c, args); err != nil {
				return err
			}
			if err := a.noPDFHere(asPDF, file); err != nil {
				return err
			}
			on, err := a.paper(paper)
			if err != nil {
				return err
			}
			return a.compare(args, compareForm{json: asJSON, html: asHTML, csv: asCSV, pdf: asPDF, comma: comma, pictures: pictures, file: file, paper: on})
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON; --schema describes it")
	c.Flags().BoolVar(&asHTML, "html", false, "as one HTML page that needs nothing else, with a picture of each test")
	c.Flags().BoolVar(&asPDF, "pdf", false, "on sheets of paper, with a picture of each test")
	c.Flags().StringVar(&paper, "paper", "", paperHelp)
	c.Flags().BoolVar(&asCSV, "csv", false, "as a table for a spreadsheet: a row a value")
	c.Flags().BoolVar(&pictures, "pictures", false, "with the pictures, on a terminal; the page and the sheets have them always")
	c.Flags().BoolVar(&comma, "decimal-comma", false, "a table for a spreadsheet that is set to a decimal comma")
	c.Flags().BoolVar(&asSchema, "schema", false, "the JSON Schema of --json, and nothing of runs")
	c.Flags().StringVarP(&file, "output", "o", "", "the file to write")
	return c
}

// completeRuns completes the names of runs that are not named yet, and files.
func (a *app) completeRuns(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	runs, _ := a.book().Names()
	runs = slices.DeleteFunc(runs, func(name string) bool { return slices.Contains(args, name) })
	out, _ := names(runs, typed)
	return out, cobra.ShellCompDirectiveDefault // a record from elsewhere will do as well
}

// compareForm is how a comparison is wanted.
type compareForm struct {
	json, html, csv, pdf, comma, pictures bool
	file                                  string
	paper                                 pdf.Paper
}

func (a *app) compare(args []string, form compareForm) error {
	var in []compare.Input
	for _, arg := range args {
		r, err := a.recordOf(arg)
		if err != nil {
			return err
		}
		in = append(in, compare.Input{Name: calledBy(arg), Record: r})
	}
	c, err := compare.Of(in...)
	if errors.Is(err, compare.ErrSame) {
		return cannot("%s. Name another run: waywright logbook lists them", strings.TrimPrefix(err.Error(), "compare: "))
	} else if err != nil {
		return err
	}
	var out bytes.Buffer
	switch {
	case form.json:
		b, err := compare.Marshal(c)
		if err != nil {
			return err
		}
		out.Write(b)
	case form.html, form.pdf:
		d, err := printed.Of(c)
		if err != nil {
			return err
		}
		if form.pdf {
			err = pdf.Render(&out, d, form.paper)
		} else {
			err = html.Render(&out, d)
		}
		if err != nil {
			return err
		}
	case form.csv:
		if err := csv.Comparison(&out, c, csv.Options{DecimalComma: form.comma}); err != nil {
			return err
		}
	default:
		w := comparedText{width: a.columns()}
		if form.pictures {
			w.picture = min(w.width, mostPicture)
		}
		w.all(c)
		out.WriteString(w.b.String())
	}
	if err := a.put(form.file, out.Bytes()); err != nil {
		return err
	}
	if !slices.ContainsFunc(c.Tests, compare.Test.Compared) {
		a.note("Nothing could be compared.")
		return exit(no)
	}
	return nil
}

// calledBy is what a record is called in a comparison, which may be handed on:
// nothing of the folders that lead to it, only the last that means something.
func calledBy(arg string) string {
	arg = filepath.Clean(arg)
	base, dir := filepath.Base(arg), filepath.Base(filepath.Dir(arg))
	if base == "record.json" && dir != "." && dir != string(filepath.Separator) {
		return dir + "/" + base
	}
	return base
}

// recordOf returns the record of a run of the logbook, or of a file or a
// folder from elsewhere.
func (a *app) recordOf(arg string) (report.Record, error) {
	b := a.book()
	known, err := b.Names()
	if err != nil {
		return report.Record{}, cannot("%w", err)
	}
	if slices.Contains(known, arg) {
		return a.recordOfRun(b, arg)
	}
	path := arg
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		path = filepath.Join(path, "record.json")
	case errors.Is(err, fs.ErrNotExist) && !strings.ContainsAny(arg, `/\`) && filepath.Ext(arg) != ".json":
		mend := "Runs are listed by: waywright logbook"
		if near := diagnose.Nearest(arg, known); near != "" {
			mend = fmt.Sprintf("Did you mean %q?", near)
		}
		return report.Record{}, cannot("the logbook %s has no run %q, and there is no file or folder of that name. %s", b.Dir, arg, mend)
	}
	text, err := readAtMost(path, mostRecord)
	if errors.Is(err, fs.ErrNotExist) && path != arg {
		return report.Record{}, cannot("%s has no record.json. Where it is the folder of a run, waywright report makes one", arg)
	} else if err != nil {
		return report.Record{}, cannot("%w", err)
	}
	r, err := report.Parse(text)
	switch {
	case errors.Is(err, report.ErrFormat):
		return r, cannot("%s: this record is of a form that is not known here: %s. A newer version of the program may have written it", path, strings.TrimPrefix(err.Error(), report.ErrFormat.Error()+": "))
	case err != nil:
		return r, cannot("%s is no record: %s", path, strings.TrimPrefix(err.Error(), "report: not a record: "))
	}
	return r, nil
}

func (a *app) recordOfRun(b logbook.Book, name string) (report.Record, error) {
	run, err := b.Read(name)
	if err != nil {
		return report.Record{}, err
	}
	if text := run.Notice.String(); text != "" {
		a.note("%s", text)
	}
	if run.Since, err = a.since(b, run); err != nil {
		return report.Record{}, err
	}
	return run.Record(), nil
}

// readAtMost reads a file that may not be larger than that.
func readAtMost(path string, most int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(b)) > most {
		err = fmt.Errorf("%s is larger than %d MB, and no record", path, most>>20)
	}
	return b, err
}
