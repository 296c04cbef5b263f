package cli

import (
	"encoding/json"
	"fmt"

	"waywright/cmd/waywright/internal/logbook"
)

// plural says how many there are.
func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// runName returns the run that is named, or the last one.
func (a *app) runName(b logbook.Book, args []string) (string, error) {
	if len(args) > 0 {
		return args[0], nil
	}
	return b.Last()
}

// json prints a value for other programs.
func (a *app) json(v any) error {
	enc := json.NewEncoder(a.Out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
