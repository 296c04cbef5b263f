package protocol

import (
	"math"
	"time"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/procedures/direction"
)

func (s shape) question(q engine.Question, round bool) question {
	out := question{
		V: Version, Type: "question", Name: q.Name, Also: q.Also, Kind: string(q.Kind), Optional: q.Optional, Sheet: q.Sheet, Field: q.Field,
		Spindle: q.Spindle.String(), Do: q.Do, Tools: q.Tools, Text: q.Ask, Why: q.Why, Expired: q.Expired, Positive: q.Positive, Negative: q.Negative, Turning: q.Turning,
		Decimals: q.Decimals, Choices: choicesOf(q.Choices), Answer: answerKind(q), Instrument: s.instrument(q.Instrument),
		Take: q.Take, Takes: q.Takes, Station: q.Station, Stations: q.Stations, Again: q.Again, Back: q.Back, Remaining: q.Remaining,
		SpindleTo: q.SpindleTo.String(), Open: q.Open, Outcome: string(q.Outcome),
	}
	if out.Outcome == "" {
		out.Outcome = string(engine.NotDecided)
	}
	if q.Step.N > 0 {
		out.Step = &step{q.Step.N, q.Step.Of, q.Step.Name, q.Step.Title, q.Step.Keys}
	}
	u := quantity.Unit{}
	if q.Unit != nil {
		u = *q.Unit
		out.Unit = unitOf(u)
	}
	if q.Range != nil {
		out.Range = &span{in(q.Range.From, u), in(q.Range.To, u)}
	}
	s.places(&out, q, u, round)
	if q.Offer != nil {
		out.Offer = &offer{in(q.Offer.Value, u), q.Offer.Text, q.Offer.From}
	}
	cautions := q.Cautions
	if q.Clear != nil { // it may be acknowledged here, so it is shown here
		cautions, out.SpindleTo = q.Clear.Cautions, q.Clear.SpindleTo.String()
	}
	for _, c := range cautions {
		out.Cautions = append(out.Cautions, caution(c))
	}
	out.Wait = waitOf(q.Wait, u)
	s.judged(&out, q)
	return out
}

// places fills in the stations or angles, and what was read there.
func (s shape) places(out *question, q engine.Question, u quantity.Unit, round bool) {
	for _, at := range q.At {
		if round {
			at = at * 180 / math.Pi
		}
		out.At = append(out.At, at)
	}
	if len(q.At) > 0 {
		out.AtUnit = "mm"
		if round {
			out.AtUnit = "deg"
		}
	}
	for _, y := range q.So {
		out.So = append(out.So, in(y, u))
	}
}

// judged fills in what a question says of gates, corrections and roles.
func (s shape) judged(out *question, q engine.Question) {
	if q.Gate != nil {
		g := s.changed(s.gate(*q.Gate), *q.Gate, q.Change)
		out.Gate = &g
	}
	for _, w := range q.Ways {
		out.Ways = append(out.Ways, way{w.Name, string(w.Kind)})
	}
	out.Response = s.response(q.Response)
	out.Move = s.move(q.Move)
	for _, w := range q.Withheld {
		out.Withheld = append(out.Withheld, withheld(w))
	}
	for _, x := range q.Suspicions {
		out.Suspicions = append(out.Suspicions, suspicionOf(x))
	}
	if q.Role != nil {
		out.Role = q.Role.Name
		if q.Role.OtherThan != nil {
			out.OtherThan = q.Role.OtherThan.Name
		}
	}
}

// answerKind says what may be answered: a number, a whole number, one of the
// choices, words, yes or no, a file, a name, a wait's end.
func answerKind(q engine.Question) string {
	switch q.Kind {
	case engine.AskClear, engine.AskConfirm, engine.AskDone:
		return "yes_or_no"
	case engine.AskOperator, engine.AskRelease, engine.AskDecider, engine.AskSign:
		return "name"
	case engine.AskInstrument:
		return "instrument"
	case engine.AskWait:
		switch {
		case q.Wait != nil && q.Wait.Reading:
			return "number"
		case q.Sheet:
			return "yes_or_no"
		}
		return "wait"
	case engine.AskWay:
		return "way"
	case engine.Blocked:
		return "nothing"
	}
	switch {
	case q.File:
		return "file"
	case q.Count:
		return "count"
	case q.Kind == engine.AskMove && q.Unit != nil, q.Unit != nil && len(q.Choices) == 0:
		return "number"
	case len(q.Choices) > 0:
		return "choice"
	}
	return "words"
}

func (s shape) instrument(i *engine.InHand) *instrument {
	if i == nil {
		return nil
	}
	out := &instrument{Name: i.Name, Kind: i.Kind, ID: i.ID, Due: i.Due, Unit: unitOf(i.Unit)}
	if i.Resolution > 0 {
		out.Resolution = in(i.Resolution, i.Unit.Difference())
	}
	return out
}

func waitOf(w *engine.Waiting, u quantity.Unit) *wait {
	if w == nil {
		return nil
	}
	out := &wait{Reading: w.Reading, Takes: w.Takes, Since: stamp(w.Since), Over: stamp(w.Over)}
	for _, y := range w.Last {
		out.Last = append(out.Last, in(y, u))
	}
	if w.Agree > 0 {
		out.Agree = in(w.Agree, u.Difference())
	}
	if w.Every > 0 {
		out.Every = finite(w.Every.Seconds())
	}
	return out
}

func stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format(time.RFC3339)
}

func (s shape) gate(j engine.Judgement) gate {
	u := s.run(j.Unit)
	out := gate{
		Name: j.Name, Title: j.Title, Keys: j.Keys, Verdict: j.Verdict.String(), Why: j.Why, Holds: j.Holds,
		Rule: j.Rule.String(), Positive: j.Positive, Element: j.Element, Source: j.Source, Noted: j.Gate.Noted(),
	}
	out.Negative, _ = direction.Opposite(j.Positive)
	if c := j.Conceded; c != nil {
		out.Concession = &concession{c.Reason, c.By, c.Decided, c.Granted, c.Role, c.Because}
	}
	decided := j.Verdict == checks.Pass || j.Verdict == checks.Undecided || j.Verdict == checks.Fail
	if decided {
		out.P = finite(j.P)
	}
	if j.Holds {
		return out
	}
	out.Unit, out.Lo, out.Hi = unitOf(u), in(j.Lo, u), in(j.Hi, u)
	if !decided {
		return out
	}
	out.Value, out.U, out.K, out.DoF = in(j.Value, u), in(j.U, u.Difference()), finite(j.K), finite(j.Dof)
	for _, e := range j.Elements {
		out.Elements = append(out.Elements, element{e.Key, in(e.Value, u), in(e.U, u.Difference()), in(e.Lo, u), in(e.Hi, u), finite(e.P), e.Verdict.String()})
	}
	for _, l := range j.Budget {
		out.Budget = append(out.Budget, line{l.Source, finite(l.Share)})
	}
	return out
}

// changed adds by how much the gate's value differs from the one before.
func (s shape) changed(g gate, j engine.Judgement, c *engine.Change) gate {
	if c == nil {
		return g
	}
	u := s.run(j.Unit)
	d := u.Difference()
	g.Change = &change{
		Since: c.Since, Element: c.Element, From: in(c.From, u), By: in(c.By, d), U: in(c.U, d), K: finite(c.K), DoF: finite(c.DoF), Shown: c.Shown,
	}
	return g
}

func (s shape) advice(w engine.Offered) advice {
	ad := w.Advice
	out := advice{
		Name: w.Name, Title: ad.Title, Report: ad.Report, Do: ad.Do, Direction: ad.Direction, Instrument: s.instrument(ad.Instrument),
		Spoils: ad.Spoils, Disturbs: ad.Disturbs, Left: ad.Left, NoReturn: ad.NoReturn, Ledger: ad.Ledger,
	}
	if !ad.HasAmount {
		return out
	}
	u := s.run(ad.Unit)
	out.Unit, out.Gain = unitOf(u), finite(ad.Gain)
	if ad.Remembered != 0 {
		out.Remembered, out.FromRun = finite(ad.Remembered), ad.FromRun
	}
	for _, l := range ad.SoFar {
		out.SoFar = append(out.SoFar, ledgerTotal{l.Place, l.Way, in(l.Total, s.run(l.Unit)), unitOf(s.run(l.Unit))})
	}
	if len(ad.At) == 0 {
		out.Amount = in(ad.Amount, u)
	}
	for i, at := range ad.At {
		if i < len(ad.Amounts) {
			out.Stations = append(out.Stations, stationAmount{finite(at), in(ad.Amounts[i], u)})
		}
	}
	if ad.Divisions != 0 {
		out.Divisions = finite(ad.Divisions)
	}
	if ad.Expects != nil {
		e := s.run(ad.ExpectUnit)
		out.Expects, out.ExpectUnit = in(*ad.Expects, e.Difference()), unitOf(e.Difference())
	}
	return out
}

func (s shape) response(r *engine.Response) *response {
	if r == nil {
		return nil
	}
	u, a := s.run(r.Unit), s.run(r.AmountUnit)
	out := &response{
		Correction: r.Correction.Name, Attempt: r.Attempt, Cannot: r.Cannot, Unit: unitOf(u), Before: in(r.Before, u), After: in(r.After, u),
		UChange: in(r.UDelta, u.Difference()), Shown: r.Shown, Expected: in(r.Expected, u.Difference()), Direction: r.Direction, MovedWay: r.MovedWay,
	}
	if r.AmountUnit.Name != "" {
		out.AmountUnit, out.Amount = unitOf(a), in(r.Amount, a)
	}
	if r.HasMoved {
		out.Moved = in(r.Moved, a)
	}
	if r.Cannot != "" {
		return out
	}
	f := r.Finding
	out.Word, out.Neighbour, out.Rho = string(f.Word), string(f.Neighbour), finite(f.Rho)
	if f.HasMoved {
		out.Kappa = finite(f.Kappa)
	}
	if f.GainKnown {
		out.Gain = finite(f.Gain)
	}
	return out
}

func suspicionOf(x engine.Suspicion) suspicion {
	return suspicion{string(x.Kind), x.Name, x.Said, x.Mend, x.ByNoise, x.First}
}

func (s shape) move(m *engine.MoveAdvice) *move {
	if m == nil {
		return nil
	}
	u := s.run(m.Unit)
	out := &move{
		Correction: m.Correction.Name, Band: m.Band.String(), Asked: in(m.Asked, u), AskedWay: m.AskedWay, Moved: in(m.Moved, u), MovedWay: m.MovedWay,
		Unit: unitOf(u), Nudge: m.Nudge, NudgeWay: m.NudgeWay, Instrument: s.instrument(m.Instrument),
	}
	if !m.Nudge {
		out.Left, out.LeftWay = in(m.Left, u), m.LeftWay
	}
	if m.Divisions != 0 {
		out.Divisions = finite(m.Divisions)
	}
	return out
}

func (s shape) notice(n engine.Notice) notice {
	out := notice{V: Version, Type: "notice", Kind: string(n.Kind), Name: n.Name, Text: n.Text, Titles: n.Titles, Response: s.response(n.Response), Outcome: string(n.Outcome)}
	if n.Suspicion != nil {
		x := suspicionOf(*n.Suspicion)
		out.Suspicion = &x
	}
	if d := n.Drift; d != nil {
		out.Drift = &drift{Voids: d.Voids}
		if d.Reading != nil && d.Reading.Unit != nil {
			u := s.run(*d.Reading.Unit).Difference()
			out.Drift.Unit, out.Drift.Reading = unitOf(u), d.Reading.Name
			out.Drift.Moved, out.Drift.Allowed = in(d.Moved, u), in(d.Allowed, u)
		}
	}
	return out
}

func refusalOf(r engine.Refusal, id string) refusal {
	return refusal{V: Version, Type: "refusal", ID: id, Code: r.Code, Understood: r.Understood, Wrong: r.Wrong, Mend: r.Mend, Keep: r.Keep, Suggest: choicesOf(r.Suggest), Row: r.Row, At: r.At}
}
