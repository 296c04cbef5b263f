package rehearse

import (
	"fmt"
	"slices"
	"strings"

	"waywright/checks"
	"waywright/checks/response"
	"waywright/procedures"
	"waywright/procedures/source"
)

// Look is what an author would look at where a rehearsal failed, in a sentence,
// and where it stands.
type Look struct {
	Said string
	At   []source.Range
}

// looks lists what may have led to a failure, by what was said on the way: the
// model of the machine and what the procedure expects of it do not agree. What
// came of a mistake made on purpose is meant.
func (p *play) looks() []Look {
	var out []Look
	for _, c := range p.plan.Procedure().Corrections {
		if !p.erredAt(c, nil) {
			out = append(out, p.atCorrection(c)...)
		}
	}
	for _, st := range p.plan.Procedure().Steps {
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok && !p.erredAt(nil, r) {
				out = append(out, p.atReading(r)...)
			}
		}
	}
	return out
}

func (p *play) erredAt(c *procedures.Correction, r *procedures.Reading) bool {
	return slices.ContainsFunc(p.r.Mistakes, func(m procedures.Mistake) bool { return c != nil && m.Correction == c || r != nil && m.Reading == r })
}

// atCorrection looks at what a correction did to the machine.
func (p *play) atCorrection(c *procedures.Correction) []Look {
	if p.rounds[c.Name] == 0 {
		return nil
	}
	reacts := p.reactsAt(c)
	if reacts == nil {
		return []Look{{fmt.Sprintf("Nothing happens to the machine after %s: there is no reacts %q.", c.Name, c.Name), []source.Range{c.At}}}
	}
	if c.Should == nil {
		return nil
	}
	both := []source.Range{*reacts, c.Should.At}
	said := p.said[c.Name]
	some := func(words ...response.Word) bool {
		return slices.ContainsFunc(words, func(w response.Word) bool { return slices.Contains(said, string(w)) })
	}
	switch {
	case some(response.WrongSign, response.WrongWay, response.Reversed):
		return []Look{{fmt.Sprintf("After %s the machine went the other way than should_change says: a sign in reacts or in by is turned.", c.Name), both}}
	case some(response.Strong):
		return []Look{{fmt.Sprintf("After %s the machine changed by more than should_change says: a length or a factor is missing in one of the two, unless it is meant to be so.", c.Name), both}}
	case some(response.Weak):
		return []Look{{fmt.Sprintf("After %s the machine changed by less than should_change says: a length or a factor is too many in one of the two, unless it is meant to be so.", c.Name), both}}
	case some(response.Undone, response.NotMoved):
		return []Look{{fmt.Sprintf("After %s nothing changed that is read: the answers do not use the state that reacts changes, or it is left as it was.", c.Name), both}}
	}
	return nil
}

func (p *play) reactsAt(c *procedures.Correction) *source.Range {
	for i := range p.r.Reacts {
		if p.r.Reacts[i].Correction == c {
			return &p.r.Reacts[i].At
		}
	}
	return nil
}

// atReading looks at what was objected to the answers to a reading.
func (p *play) atReading(r *procedures.Reading) []Look {
	said := p.said[r.Name]
	answered := p.stated(r.Name)
	noise := func() []source.Range {
		for _, a := range p.r.Noise {
			if a.Name == r.Name {
				return []source.Range{a.At, r.At}
			}
		}
		return []source.Range{answered, r.At}
	}
	var out []Look
	if slices.Contains(said, "void") || slices.Contains(said, "closure") {
		out = append(out, Look{fmt.Sprintf("The first place of %s, read once more, had moved by more than its closure allows: its noise is large for that, or its answer changes meanwhile.", r.Name), noise()})
	}
	if slices.Contains(said, "range") {
		out = append(out, Look{fmt.Sprintf("Answers to %s lie beyond its range, and were kept with a reason: the machine is further out than the range lets in, or the answer has another unit than is meant.", r.Name), []source.Range{answered, r.At}})
	}
	if slices.Contains(said, "spread") {
		out = append(out, Look{fmt.Sprintf("Takes of %s lie further apart than its instrument scatters: its noise is larger than the instrument's repeatability.", r.Name), noise()})
	}
	return out
}

// notPassed lists the gates that do not pass, each with why it was not judged
// where it was not.
func (p *play) notPassed() map[string]string {
	out := map[string]string{}
	for _, j := range p.s.Judgements() {
		switch j.Verdict {
		case checks.Pass:
		case checks.NotApplied, checks.NotMeasured, checks.Open:
			out[j.Gate.Name] = "it was not judged"
			if j.Why != "" {
				out[j.Gate.Name] += ": " + j.Why
			}
		default:
			out[j.Gate.Name] = ""
		}
	}
	return out
}

// counted puts words that follow one another into one: void 3 times.
func counted(words []string) string {
	var out []string
	for i := 0; i < len(words); {
		n := i + 1
		for n < len(words) && words[n] == words[i] {
			n++
		}
		w := words[i]
		if n-i > 1 {
			w += " " + timesWord(n-i)
		}
		out = append(out, w)
		i = n
	}
	return strings.Join(out, ", ")
}
