package cli

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula"
	"waywright/procedures/proofread"
)

// unknown is an environment in which nothing has been answered yet: values in
// texts show as "…".
type unknown struct{}

func (unknown) Value(formula.Ref) value.Value { return value.NotYet() }

// text shows a text of a procedure before anything is known of the run.
func text(t procedures.Text) string {
	if t == nil {
		return ""
	}
	return diagnose.Plain(t.Words(unknown{}))
}

// keyed is an environment in which the keys of a repetition are known, and
// nothing else.
type keyed map[string]value.Value

func (k keyed) Value(r formula.Ref) value.Value {
	if v, ok := k[r.Name]; ok && r.Space == formula.Each {
		return v
	}
	return value.NotYet()
}

// asks returns a question as it is put for each key, where the keys are
// written in the procedure, and as it stands where they are not.
func asks(t procedures.Text, each []*procedures.Each) []string {
	if t == nil {
		return nil
	}
	envs := []keyed{{}}
	for _, e := range each {
		var next []keyed
		for _, key := range e.Key.Words {
			for _, env := range envs {
				with := maps.Clone(env)
				with[e.Name] = value.Str(key)
				next = append(next, with)
			}
		}
		if len(next) > 0 && !e.Key.Count {
			envs = next
		}
	}
	var out []string
	for _, env := range envs {
		if s := diagnose.Plain(t.Words(env)); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// minutes returns the estimate of how long a procedure takes, or 0.
func minutes(p *procedures.Procedure) float64 {
	if p.Duration == nil {
		return 0
	}
	v := p.Duration.Eval(unknown{})
	if v.State != value.Present {
		return 0
	}
	return v.Num / 60
}

// hours says a time: 45 minutes, 2 hours, 2.5 hours.
func hours(minutes float64) string {
	if minutes < 90 {
		return plural(int(math.Round(minutes)), "minute")
	}
	h := math.Round(minutes/30) / 2
	if h == math.Trunc(h) {
		return plural(int(h), "hour")
	}
	return fmt.Sprintf("%.1f hours", h)
}

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

func errorsOf(r proofread.Result) diagnose.List {
	var out diagnose.List
	for _, d := range r.Diagnostics {
		if d.Severity == diagnose.Error {
			out = append(out, d)
		}
	}
	return out
}

// fill breaks a text at blanks into lines of a width, with an indent.
func fill(s, indent string, width int) string {
	var b strings.Builder
	line := indent
	for _, w := range strings.Fields(s) {
		if utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > width && strings.TrimSpace(line) != "" {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line = indent
		}
		if strings.TrimSpace(line) != "" {
			line += " "
		}
		line += w
	}
	b.WriteString(line + "\n")
	return b.String()
}
