// Package table reads the tables of standard values that the program carries.
//
// A table is text: comment lines that begin with #, then comma-separated
// columns under a line of their names. A comment "# source NAME [EDITION]:
// WORDS" says where rows whose column source is NAME are from; the column
// status says whether the figures were "seen" there or are "from memory".
package table

import (
	"encoding/csv"
	"strings"
)

// Verify stands behind the source of figures that are from memory, wherever
// they are shown.
const Verify = "from memory: typical, verify against the text you hold"

// Row is a row, by the names of its columns.
type Row map[string]string

// Table is a table in the order of its rows.
type Table struct {
	Rows    []Row
	sources map[string]string
}

// Parse reads a table. The text is part of the program: what is wrong with it
// is a bug, and panics.
func Parse(text string) Table {
	t := Table{sources: map[string]string{}}
	for _, line := range strings.Split(text, "\n") {
		if rest, ok := strings.CutPrefix(line, "# source "); ok {
			name, rest, ok := strings.Cut(rest, " [")
			edition, words, ok2 := strings.Cut(rest, "]: ")
			if !ok || !ok2 || edition == "" || words == "" {
				panic("table: a source without its edition or words: " + line)
			}
			t.sources[name] = words + "; edition " + edition
		}
	}
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	records, err := r.ReadAll()
	if err != nil {
		panic("table: " + err.Error())
	}
	for _, rec := range records[1:] {
		row := Row{}
		for i, name := range records[0] {
			row[name] = rec[i]
		}
		if t.sources[row["source"]] == "" || (row["status"] != "seen" && row["status"] != "from memory") {
			panic("table: a row without a source or status: " + strings.Join(rec, ","))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// Source returns where a row is from, with a word about figures from memory.
func (t Table) Source(r Row) string {
	s := t.sources[r["source"]]
	if r["status"] == "from memory" {
		s += "; " + Verify
	}
	return s
}
