package reference

// Render writes a text as HTML.
func Render(text string) string {
	out, _ := render(text, "t")
	return string(out)
}

// Language returns the parts of the texts beside the tutorial.
func Language() []Piece {
	return append(append(pieces(language), pieces(formulas)...), pieces(typing)...)
}

// WordsOf returns the words of a list as files have them, or as they are
// printed.
func WordsOf(id string) []string {
	var out []string
	for _, l := range words() {
		if l.ID != id {
			continue
		}
		for _, w := range l.Words {
			if w.Word == "" {
				w.Word = w.Printed
			}
			out = append(out, w.Word)
		}
	}
	return out
}
