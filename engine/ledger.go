package engine

import (
	"math"
	"slices"
	"strings"
)

// Ledger returns the metal removed and added, and parts moved, by what was
// reported: what was moved, or done of it, else what was planned (semantics rule 40). It is
// worked out from the attempts, so that a movement whose sign was turned or
// amended stands in it as it is known now.
func (s *State) Ledger() []LedgerLine {
	var out []LedgerLine
	for i := range s.attempts {
		if a := &s.attempts[i]; a.reported != 0 && a.corr.Ledger != nil && a.corr.Unit != nil {
			out = append(out, a.ledger()...)
		}
	}
	slices.SortStableFunc(out, func(a, b LedgerLine) int { return a.N - b.N })
	total := map[[2]string]float64{}
	for i := range out {
		l := &out[i]
		key := [2]string{l.Place, l.Way}
		total[key] += l.Amount
		l.Total = total[key]
	}
	return out
}

// soFar returns what was done at a place of the ledger, and at its stations: the
// last line of each way, with its total.
func (s *State) soFar(place string) []LedgerLine {
	if place == "" {
		return nil
	}
	var out []LedgerLine
	for _, l := range s.Ledger() {
		if l.Place != place && !strings.HasPrefix(l.Place, place+" at ") {
			continue
		}
		i := slices.IndexFunc(out, func(o LedgerLine) bool { return o.Place == l.Place && o.Way == l.Way })
		if i < 0 {
			out = append(out, l)
		} else {
			out[i] = l
		}
	}
	return out
}

// ledger lists what one attempt did, without totals.
func (a *attempt) ledger() []LedgerLine {
	var out []LedgerLine
	add := func(l LedgerLine, amount float64) {
		if amount == 0 {
			return
		}
		l.Correction, l.Attempt, l.Unit = a.corr, a.number, *a.corr.Unit
		l.Amount, l.Way = math.Abs(amount), a.way(amount)
		out = append(out, l)
	}
	for _, m := range a.moves {
		add(LedgerLine{Place: a.place, At: m.at, N: m.n, By: m.by}, m.value)
	}
	if a.hasMoved {
		return out
	}
	for i, v := range a.done() {
		l := LedgerLine{Planned: a.share == 0, Place: a.place, At: a.reportedAt, N: a.reported, By: a.by}
		if i < len(a.stations) {
			l.Place += " at " + stationKey(a.stations[i])
		}
		add(l, v)
	}
	return out
}
