package html

import "html/template"

// table is a table of the page. On a narrow screen each row becomes a card
// whose cells carry the heads of their columns.
type table struct {
	Caption string
	Head    []string
	Rows    []row
	Wide    bool // the test sheet: a page of its own, lying
	Plain   bool // few narrow columns: stays a table on narrow screens
}

type row struct {
	Group string // a heading over the rows that follow; then no cells
	Cells []cell
}

// cell is one cell; the first of a row heads it.
type cell struct {
	Text    string
	Notes   []string
	Strong  bool
	Number  bool
	Picture template.HTML
	Link    string // a place in the page
	Time    string // machine-readable, where Text is a time
}

func text(s string, notes ...string) cell { return cell{Text: s, Notes: present(notes)} }
func figure(s string) cell                { return cell{Text: s, Number: true} }
func times(s string) cell                 { return cell{Text: when(s), Time: s} }

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
func (t table) withoutEmptyColumns() table {
	out := table{Caption: t.Caption, Wide: t.Wide, Plain: t.Plain}
	used := make([]bool, len(t.Head))
	for _, r := range t.Rows {
		for i, c := range r.Cells {
			used[i] = used[i] || !c.Empty()
		}
	}
	for i, h := range t.Head {
		if used[i] {
			out.Head = append(out.Head, h)
		}
	}
	for _, r := range t.Rows {
		kept := row{Group: r.Group}
		for i, c := range r.Cells {
			if used[i] {
				kept.Cells = append(kept.Cells, c)
			}
		}
		out.Rows = append(out.Rows, kept)
	}
	return out
}

func (t *table) add(cells ...cell) { t.Rows = append(t.Rows, row{Cells: cells}) }

// Label is the head of a column, for the cards of narrow screens.
func (t table) Label(i int) string {
	if i < len(t.Head) {
		return t.Head[i]
	}
	return ""
}

// Scrolls tells whether the table may be wider than a narrow screen.
func (t table) Scrolls() bool { return t.Plain && len(t.Head) > 4 }

// Empty tells whether there is nothing in the cell.
func (c cell) Empty() bool { return c.Text == "" && c.Picture == "" && len(c.Notes) == 0 }

// Columns is the width of a group's heading.
func (t table) Columns() int { return len(t.Head) }
