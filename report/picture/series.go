package picture

import (
	"slices"
	"strings"

	"waywright/report"
)

// run is a row of numbers at stations or angles: what a reading read, or what a
// result is, under one key.
type run struct {
	name string // the key, of several rows; else the title
	unit string
	at   []report.Number
	y    []report.Number
	u    []*report.Number // doubt of each of y, or nil
}

// placeValue is what a place reads: the mean of its takes, or the last one.
func placeValue(p report.Place) *report.Number {
	if p.Mean != nil || len(p.Takes) == 0 {
		return p.Mean
	}
	return p.Takes[len(p.Takes)-1].Number
}

// runsOf are the rows of a reading, without what was read on the way back or
// once more at the end.
func runsOf(rd report.Reading) []run {
	var out []run
	for _, p := range rd.Places {
		y := placeValue(p)
		if p.At == nil || p.Pass != "" || y == nil || len(p.Keys) == 0 {
			continue
		}
		out = add(out, strings.Join(p.Keys[:len(p.Keys)-1], ", "), *p.At, *y, nil)
	}
	return titled(out, rd.Title)
}

// runsIn are the rows of a result.
func runsIn(x report.Result) []run {
	var out []run
	for _, p := range x.Profile {
		if p.At != nil {
			key := strings.TrimSuffix(strings.TrimSuffix(p.Key, p.At.WithUnit()), ", ")
			out = add(out, key, *p.At, p.Value, p.U)
		}
	}
	return titled(out, x.Title)
}

func add(rows []run, name string, at, y report.Number, u *report.Number) []run {
	i := slices.IndexFunc(rows, func(r run) bool { return r.name == name })
	if i < 0 {
		i = len(rows)
		rows = append(rows, run{name: name, unit: y.Unit})
	}
	rows[i].at, rows[i].y, rows[i].u = append(rows[i].at, at), append(rows[i].y, y), append(rows[i].u, u)
	return rows
}

func titled(rows []run, title string) []run {
	for i := range rows {
		if rows[i].name == "" {
			rows[i].name = title
		}
	}
	return rows
}

// doubted tells whether something is known of the row's doubt.
func (r run) doubted() bool {
	return slices.ContainsFunc(r.u, func(u *report.Number) bool { return u != nil })
}

// round tells whether a row stands at angles.
func (r run) round() bool { return len(r.at) > 0 && inclined(r.at[0].Unit) }
