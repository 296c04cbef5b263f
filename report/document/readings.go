package document

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"waywright/report"
)

// readingTables shows readings. Those of one value in one place share a table
// with their neighbours of the same unit.
func readingTables(r report.Record, ids []string) []Table {
	var out []Table
	for i := 0; i < len(ids); i++ {
		rd, ok := r.Reading(ids[i])
		if !ok {
			continue
		}
		if !single(rd) {
			out = append(out, readingTable(rd))
			continue
		}
		together := []report.Reading{rd}
		for i+1 < len(ids) {
			next, ok := r.Reading(ids[i+1])
			if !ok || !single(next) || next.Unit != rd.Unit {
				break
			}
			together = append(together, next)
			i++
		}
		out = append(out, singlesTable(together))
	}
	return out
}

func single(rd report.Reading) bool {
	return len(rd.Places) == 1 && len(rd.Keys) == 0 && rd.Positive == ""
}

func singlesTable(rds []report.Reading) Table {
	t := newTable(strings.TrimSuffix("Values as read, "+rds[0].Unit, ", "), Narrow)
	most := 1
	for _, rd := range rds {
		most = max(most, len(rd.Places[0].Takes))
	}
	shown := min(most, mostTakes)
	t.heads(takeHeads("Reading", most, shown)...)
	if most > shown {
		t.Caption += fmt.Sprintf(". The first %d takes; all are in record.json", shown)
	}
	for _, rd := range rds {
		cs := placeRow(rd.Places[0], shown, most > 1)
		cs[0] = words(rd.Title)
		t.add(cs...)
	}
	return t
}

func takeHeads(first string, most, shown int) []string {
	head := []string{first}
	if most == 1 {
		return append(head, "Value")
	}
	for i := range shown {
		head = append(head, fmt.Sprintf("Take %d", i+1))
	}
	return append(head, "Mean")
}

// readingTable shows the values of one reading: places down, takes across. A
// reading of one take over two keys has the last key across, as a test sheet
// has mark up and mark down.
func readingTable(rd report.Reading) Table {
	t := newTable(caption(rd), Narrow)
	switch {
	case crossed(rd):
		crossTable(&t, rd)
	default:
		listTable(&t, rd)
	}
	if d := rd.Drift; d != nil && d.Said != "" {
		t.Caption += " Read again at the end: " + d.Said + "."
	}
	return t
}

func caption(rd report.Reading) string {
	s := rd.Title
	if rd.Unit != "" {
		s += ", " + rd.Unit
	}
	if rd.Positive != "" {
		s += "; plus: " + rd.Positive
	}
	if rd.Turning != "" {
		s += "; angles: " + rd.Turning
	}
	s = strings.TrimRight(s, ".") + "."
	switch {
	case rd.Turned:
		s += " The indicator read reversed: its signs are turned."
	case rd.Nudge == "plus":
		s += " Pushed that way, the needle went plus."
	}
	return s
}

func crossed(rd report.Reading) bool {
	if len(rd.Keys) < 2 {
		return false
	}
	for _, p := range rd.Places {
		if len(p.Takes) > 1 || len(p.Keys) != len(rd.Keys) {
			return false
		}
	}
	return true
}

func crossTable(t *Table, rd report.Reading) {
	last := len(rd.Keys) - 1
	var across []string
	var down []string
	cells := map[string]Cell{}
	rowOf := func(p report.Place) string { return keyWords(p.Keys[:last]) + passSaid(p.Pass) }
	for _, p := range rd.Places {
		if !slices.Contains(across, p.Keys[last]) {
			across = append(across, p.Keys[last])
		}
		if !slices.Contains(down, rowOf(p)) {
			down = append(down, rowOf(p))
		}
		cells[rowOf(p)+"\x00"+p.Keys[last]] = placeCell(p)
	}
	heads := []string{upper(keyWords(rd.Keys[:last]))}
	for _, k := range across {
		heads = append(heads, keyWords([]string{rd.Keys[last]})+" "+keyWords([]string{k}))
	}
	t.heads(heads...)
	for _, d := range down {
		cs := []Cell{words(d)}
		for _, k := range across {
			cs = append(cs, cells[d+"\x00"+k])
		}
		t.add(cs...)
	}
}

func passSaid(pass string) string {
	switch pass {
	case "back":
		return ", on the way back"
	case "again":
		return ", again"
	}
	return ""
}

func placeCell(p report.Place) Cell {
	switch {
	case len(p.Takes) > 0:
		return takeCell(p.Takes[0])
	case p.Why != "":
		return words("not taken", p.Why)
	}
	return words("not read")
}

func listTable(t *Table, rd report.Reading) {
	most := 1
	for _, p := range rd.Places {
		most = max(most, len(p.Takes))
	}
	shown := min(most, mostTakes)
	head := upper(keyWords(rd.Keys))
	if head == "" {
		head = "Read"
	}
	t.heads(takeHeads(head, most, shown)...)
	if most > shown {
		t.Caption += fmt.Sprintf(" The first %d takes; all %d are in record.json.", shown, most)
	}
	for _, p := range rd.Places {
		t.add(placeRow(p, shown, most > 1)...)
	}
}

func placeRow(p report.Place, shown int, mean bool) []Cell {
	cs := []Cell{words(placeName(p) + passSaid(p.Pass))}
	for i := range shown {
		switch {
		case i < len(p.Takes):
			cs = append(cs, takeCell(p.Takes[i]))
		case i == 0 && p.Why != "":
			cs = append(cs, words("not taken", p.Why))
		default:
			cs = append(cs, Cell{})
		}
	}
	if mean {
		m := Cell{}
		if p.Mean != nil {
			m = figure(p.Mean.Text)
		}
		cs = append(cs, m)
	}
	return cs
}

// keyWords are the names of places as they are said: "headstock end".
func keyWords(keys []string) string {
	return strings.ReplaceAll(strings.Join(keys, ", "), "_", " ")
}

func placeName(p report.Place) string {
	switch {
	case p.At != nil && len(p.Keys) <= 1:
		return p.At.WithUnit()
	case len(p.Keys) > 0:
		return keyWords(p.Keys)
	}
	return "value"
}

// takeCell shows a value, and beside it what is to be known of it.
func takeCell(t report.Take) Cell {
	c := figure(t.Text)
	for _, a := range t.Amended {
		c.Notes = append(c.Notes, "was "+a.From+": "+a.Reason)
	}
	if t.Withdrawn != nil {
		c.Notes = append(c.Notes, "taken back")
	}
	if len(t.Amended) == 0 && t.Number != nil && t.Typed != "" && typedOtherwise(t.Typed, *t.Number) {
		c.Notes = append(c.Notes, "typed "+trueMinus(t.Typed))
	}
	if t.Odd != "" || t.Reason != "" {
		c.Notes = append(c.Notes, strings.TrimPrefix(t.Odd+prefixed("; kept because ", t.Reason), "; "))
	}
	if t.From != "" {
		c.Notes = append(c.Notes, "from "+t.From)
	}
	if t.File != nil {
		c.Notes = append(c.Notes, t.File.Name)
	}
	return c
}

// typedOtherwise tells whether what was typed does not show in the value.
func typedOtherwise(typed string, n report.Number) bool {
	s := strings.TrimSpace(strings.NewReplacer(",", ".", "−", "-").Replace(typed))
	for _, unit := range []string{n.Unit, n.Code} {
		s = strings.TrimSpace(strings.TrimSuffix(s, unit))
	}
	x, err := strconv.ParseFloat(s, 64)
	return err != nil || x != n.Value
}
