package value

import (
	"strings"

	"waywright/checks/quantity"
)

// plural names many values of a dimension: "lengths", "angles per length".
func plural(d quantity.Dim) string {
	name := d.Name()
	head, rest, _ := strings.Cut(name, " per ")
	if strings.ContainsAny(head, "·/²³⁴⁵⁶⁷⁸⁹") {
		return "values of " + name // a dimension without a name of its own
	}
	switch {
	case strings.HasSuffix(head, "y"):
		head = strings.TrimSuffix(head, "y") + "ies"
	case strings.HasSuffix(head, "s"):
		head += "es"
	default:
		head += "s"
	}
	if rest != "" {
		head += " per " + rest
	}
	return head
}
