package report

import "time"

// WorkSheet is a work sheet that was filled in on paper at the machine and typed
// in afterwards. The times of what came from it are those of the typing.
type WorkSheet struct {
	Written     string   `json:"written"`               // the day that stands on it, 2026-03-02
	By          string   `json:"by"`                    // whose name stands on it
	Temperature string   `json:"temperature,omitempty"` // as it stands there
	From        Stamp    `json:"from"`                  // the first that was typed in
	To          Stamp    `json:"to"`                    // and the last
	Values      int      `json:"values"`                // that were typed in, single values and words
	Late        []string `json:"late,omitempty"`        // what was said not to have been read in time, with the reason
	Said        string   `json:"said"`                  // in a sentence
}

// workSheets lists the sheets of the run from which something was typed in.
func (b *builder) workSheets() []WorkSheet {
	var out []WorkSheet
	for _, x := range b.s.Sheets() {
		if x.Values == 0 {
			continue
		}
		w := WorkSheet{Written: x.Day, By: x.Name, Temperature: x.Temperature, From: at(x.From), To: at(x.To), Values: x.Values}
		for _, f := range b.s.InTime() {
			if x.Covers(f.N) && f.Value.Text == "no" {
				w.Late = append(w.Late, f.Step.Title+": "+f.Reason)
			}
		}
		w.Said = w.said()
		out = append(out, w)
	}
	return out
}

func (w WorkSheet) said() string {
	day := w.Written
	if t, err := time.Parse(time.DateOnly, day); err == nil {
		day = t.Format("2 January 2006")
	}
	s := "Written on paper on " + day + " by " + w.By
	if w.Temperature != "" {
		s += " (temperature there: " + w.Temperature + ")"
	}
	if t, err := time.Parse(time.RFC3339, w.From.Time); err == nil {
		s += ", typed in on " + t.Format("2 January 2006")
	}
	if w.From.By != "" {
		s += " by " + w.From.By
	}
	return s + "."
}

// OnSheet returns the work sheet from which an entry of the journal was typed
// in, or nil.
func (r Record) OnSheet(entry int) *WorkSheet {
	for i, w := range r.WorkSheets {
		if entry >= w.From.Entry && entry <= w.To.Entry {
			return &r.WorkSheets[i]
		}
	}
	return nil
}
