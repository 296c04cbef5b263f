package uncert

// Steps returns the errors of the model one by one: for each source that is
// independent of the others, by how much every input is off when the source is
// off by its standard uncertainty. Indication errors that are alike by their
// distance on the scale are taken apart into independent ones; whose likeness
// is not known is taken as the same.
func (m *Model) Steps() [][]float64 {
	d := m.Draws(true)
	out := make([][]float64, len(d.Sources))
	for j := range out {
		out[j] = make([]float64, m.Len())
	}
	for i, in := range d.Inputs {
		for _, t := range in.Terms {
			out[t.Source][i] += t.Coefficient
		}
	}
	j := 0
	for _, l := range m.lines {
		for range l.parts {
			for i := range out[j] {
				out[j][i] *= l.u
			}
			j++
		}
	}
	return out
}
