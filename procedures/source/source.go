// Package source names places in procedure files.
package source

import "fmt"

// Pos is a place in a file. Line and Column count from 1, columns in
// characters as a reader sees them; Byte counts from 0.
type Pos struct {
	Line, Column, Byte int
}

// Range is a piece of a file.
type Range struct {
	File       string
	Start, End Pos
}

func (r Range) String() string {
	return fmt.Sprintf("%s:%d:%d", r.File, r.Start.Line, r.Start.Column)
}
