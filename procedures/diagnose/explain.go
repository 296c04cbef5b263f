package diagnose

import (
	"slices"
	"strings"
)

// Entry explains a code. Package explain shows it in a procedure besides.
type Entry struct {
	Code    string
	Summary string // what the diagnostic says first
	Why     string // why it matters
	Mend    string // what to do
}

// Severity returns how bad the code's diagnostics are.
func (e Entry) Severity() Severity {
	if strings.HasPrefix(e.Code, "W") {
		return Warning
	}
	return Error
}

// Explain returns what a code stands for.
func Explain(code string) (e Entry, ok bool) {
	e, ok = byCode[code]
	return e, ok
}

// Codes returns all codes: the E codes, the F codes of formulas, the W codes.
func Codes() []string {
	var out []string
	for _, e := range table {
		out = append(out, e.Code)
	}
	slices.Sort(out)
	return out
}

var table = slices.Concat(fileCodes, nameCodes, typeCodes, wholeCodes, formulaCodes, warningCodes)

var byCode = func() map[string]Entry {
	m := map[string]Entry{}
	for _, e := range table {
		if _, twice := m[e.Code]; twice {
			panic("diagnose: code " + e.Code + " stands twice")
		}
		m[e.Code] = e
	}
	return m
}()
