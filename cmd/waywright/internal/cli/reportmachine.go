package cli

import (
	"bytes"

	"waywright/report"
	"waywright/report/document"
	"waywright/report/html"
	"waywright/report/pdf"
)

// reportMachine makes one record of a machine from its accepted runs. It
// belongs to no run, so a form must be asked for.
func (a *app) reportMachine(machine string, want reportForm, file string) error {
	switch {
	case want.sheets.which != "" || want.pictures:
		return cannot("--csv and --pictures are of a single run; of a machine there are --json, --html and --pdf")
	case !want.json && !want.html && !want.pdf:
		return cannot("--machine %s: which form? Write --json, --html or --pdf", machine)
	}
	w, err := a.book().Whole(machine, a.Now())
	if err != nil {
		return cannot("%w", err)
	}
	if want.json {
		b, err := report.MarshalWhole(w)
		if err != nil {
			return err
		}
		return a.put(file, b)
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
