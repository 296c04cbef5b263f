package document

// Settled returns a document that was made elsewhere, ready to be printed:
// figures and units hold together, and columns of bare figures are marked. The
// blocks of d are changed.
func Settled(d Document) Document {
	d.settle()
	return d
}

// Clean replaces, in every text that v points to, what may not stand in a page
// or could rearrange it. v is a pointer to a struct without interfaces.
func Clean(v any) { clean(v) }

// Keep holds figures and their units together with no-break spaces.
func Keep(s string) string { return keep(s) }
