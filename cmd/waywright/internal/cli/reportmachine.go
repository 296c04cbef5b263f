package cli

import (
	"bytes"

	"waywright/report"
	"waywright/report/csv"
	"waywright/report/document"
	"waywright/report/html"
	"waywright/report/pdf"
)

// reportMachine makes one record of a machine from its accepted runs. It
// belongs to no run: where no form is asked for it is listed here.
func (a *app) reportMachine(machine string, want reportForm, file string) error {
	switch {
	case want.pictures:
		return cannot("--pictures are of a single run; of a machine there are --json, --html, --pdf and --csv")
	case want.sheets.which == "readings":
		return cannot("--csv=readings is of a single run; of a machine there is one table, of its tests: --csv")
	}
	w, err := a.book().Whole(machine, a.Now())
	if err != nil {
		return cannot("%w", err)
	}
	if !want.json && !want.html && !want.pdf && want.sheets.which == "" {
		a.listWhole(machine, w)
		return nil
	}
	if want.json {
		b, err := report.MarshalWhole(w)
		if err != nil {
			return err
		}
		return a.put(file, b)
	}
	if want.sheets.which != "" {
		var out bytes.Buffer
		if err := csv.Machine(&out, w, csv.Options{DecimalComma: want.sheets.comma}); err != nil {
			return err
		}
		return a.put(file, out.Bytes())
	}
	d, err := document.OfWhole(w)
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
