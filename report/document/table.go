package document

import "regexp"

func newTable(caption string, kind Kind, heads ...string) Table {
	t := Table{Caption: caption, Kind: kind}
	t.heads(heads...)
	return t
}

func (t *Table) heads(heads ...string) {
	t.Columns = nil
	for _, h := range heads {
		t.Columns = append(t.Columns, Column{Head: h})
	}
}

func (t *Table) add(cells ...Cell) { t.Rows = append(t.Rows, Row{Cells: cells}) }

func words(s string, notes ...string) Cell { return Cell{Text: s, Notes: present(notes)} }
func figure(s string) Cell                 { return Cell{Text: s, Figure: true} }
func times(s string) Cell                  { return Cell{Text: when(s), Time: s} }

// present leaves out empty texts.
func present(ss []string) []string {
	var out []string
	for _, s := range ss {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// withoutEmptyColumns leaves out the columns that have nothing in any row.
func (t Table) withoutEmptyColumns() Table {
	out := Table{Caption: t.Caption, Kind: t.Kind}
	used := make([]bool, len(t.Columns))
	for _, r := range t.Rows {
		for i, c := range r.Cells {
			used[i] = used[i] || !c.Empty()
		}
	}
	for i, c := range t.Columns {
		if used[i] {
			out.Columns = append(out.Columns, c)
		}
	}
	for _, r := range t.Rows {
		kept := Row{Group: r.Group}
		for i, c := range r.Cells {
			if used[i] {
				kept.Cells = append(kept.Cells, c)
			}
		}
		out.Rows = append(out.Rows, kept)
	}
	return out
}

var bareFigure = regexp.MustCompile(`^[−]?[0-9]+([.,][0-9]+)?( %)?$`)

// markFigures finds the columns that hold nothing but bare figures, which
// stand one under the other.
func (t *Table) markFigures() {
	for i := range t.Columns {
		some, all := false, i > 0
		for _, r := range t.Rows {
			if i >= len(r.Cells) || r.Cells[i].Empty() {
				continue
			}
			some = true
			all = all && r.Cells[i].Figure && bareFigure.MatchString(r.Cells[i].Text)
		}
		t.Columns[i].Figures = some && all
	}
}
