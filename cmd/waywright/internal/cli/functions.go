package cli

import (
	"slices"

	"waywright/cmd/waywright/internal/reference"
)

// referencePage prints the page.
func (a *app) referencePage(list, asJSON bool) error {
	switch {
	case !list:
		return cannot("--html goes with --list: waywright calc --list --html > functions.html")
	case asJSON:
		return cannot("--html and --json are two forms of one list: leave one out")
	}
	return reference.WriteFunctions(a.Out, version())
}

// tables says where values come from that were looked up.
func (a *app) tables(sources []string) {
	for _, s := range sources {
		a.printf("%s", fill("Values from "+s, "", 78))
	}
}

// cites are the sources of all that the formulas of a sheet look up.
func (s *sheet) cites() []string {
	var out []string
	for _, c := range s.cells {
		for _, source := range c.prog.Cites() {
			if !slices.Contains(out, source) {
				out = append(out, source)
			}
		}
	}
	return out
}
