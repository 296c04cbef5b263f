package report

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"unicode"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
)

// readings are all readings ever taken. The rows of one reading that were read
// in one round and one working stand together.
func (b *builder) readings() []Reading {
	b.ids, b.asks = map[string]string{}, map[string]string{}
	var order []string
	groups := map[string][]engine.ReadingSet{}
	for _, set := range b.s.Readings() {
		if groups[set.Round] == nil {
			order = append(order, set.Round)
		}
		groups[set.Round] = append(groups[set.Round], set)
	}
	var out []Reading
	for _, round := range order {
		r := b.reading(groups[round])
		for _, set := range groups[round] {
			b.ids[set.ID] = r.ID
		}
		out = append(out, r)
	}
	return out
}

func (b *builder) reading(sets []engine.ReadingSet) Reading {
	first := sets[0]
	for _, set := range sets {
		if first.State == "unmeasured" && set.State != "unmeasured" {
			first = set // some of it was taken
		}
	}
	r := Reading{
		ID: first.ID, Name: join(first.Reading.Name, first.Step.Keys), Title: inRound(b.readingTitle(first), first.Reading.Step, first.Step.Keys), Step: first.Step.Title,
		Working: first.Working, Keys: keyNames(first), State: first.State, Why: quoted(first.Why), Nudge: first.Nudge, Turned: first.Turned, Sitting: first.Sitting,
		Positive: b.s.Words(first.Reading.Positive, first.Reading.Step, first.Step.Keys),
		Turning:  b.s.Words(first.Reading.Turning, first.Reading.Step, first.Step.Keys),
	}
	if u := first.Reading.Unit; u != nil {
		shown := b.unit(*u)
		r.Unit, r.Code = shown.Symbol, shown.UCUM
	}
	for _, set := range sets {
		r.Places = append(r.Places, b.setPlaces(set)...)
		for _, t := range set.Takes {
			if r.From.Entry == 0 || t.N < r.From.Entry {
				r.From = at(t.Stamp)
			}
			if t.N > r.To.Entry {
				r.To = at(t.Stamp)
			}
		}
		if set.Drift != nil {
			r.Drift = b.drift(set)
		}
	}
	sort.SliceStable(r.Places, func(i, k int) bool { return r.Places[i].first() < r.Places[k].first() })
	r.Circle = b.readRound(r, sets)
	if r.From.Entry == 0 { // nothing was taken
		ev := b.eventNumbered(first.SinceN)
		r.From, r.To = atEvent(ev), atEvent(ev)
	}
	r.Instrument = b.bindingOf(first, r.From.Entry)
	return r
}

// first is the entry of the first take at a place; a place without one comes
// last.
func (p Place) first() int {
	if len(p.Takes) == 0 {
		return math.MaxInt
	}
	return p.Takes[0].At.Entry
}

// inRound adds the keys of a step's round to a title, but words that stand in it
// already.
func inRound(title string, st *procedures.Step, keys []string) string {
	var parts []string
	said := strings.FieldsFunc(title, func(r rune) bool { return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for i, k := range keys {
		if k == "" || slices.Contains(said, k) && !unicode.IsDigit(rune(k[0])) {
			continue
		}
		if i < len(st.Each) {
			k = strings.ReplaceAll(st.Each[i].Name, "_", " ") + " " + k
		}
		parts = append(parts, k)
	}
	if len(parts) == 0 {
		return title
	}
	return title + " (" + strings.Join(parts, ", ") + ")"
}

// quoted marks the title in what the engine gives as a reason.
func quoted(why string) string {
	if title, ok := strings.CutPrefix(why, "after: "); ok {
		return "after “" + title + "”"
	}
	return why
}

func (b *builder) eventNumbered(n int) engine.Event {
	for _, ev := range b.s.Events() {
		if ev.N == n {
			return ev
		}
	}
	return engine.Event{N: n, Time: b.s.BeganAt().Time}
}

func join(name string, keys []string) string {
	return strings.Join(append([]string{name}, keys...), ".")
}

// keyNames are the labels of a set's own keys, without those of its step.
func keyNames(set engine.ReadingSet) []string {
	names := slices.Clone(set.KeyNames[min(len(set.Reading.Step.Each), len(set.KeyNames)):])
	switch {
	case set.Reading.Along != nil:
		names = append(names, "station")
	case set.Reading.Around != nil:
		names = append(names, "angle")
	}
	return names
}

// readingTitle is what was asked in this round; where the question changes from
// place to place, the part before the change.
func (b *builder) readingTitle(set engine.ReadingSet) string {
	r := set.Reading
	if len(keyNames(set)) == 0 || r.Ask == nil {
		return set.Ask
	}
	text, _, changes := strings.Cut(b.s.Words(r.Ask, r.Step, set.Step.Keys), "…")
	if !changes {
		return text
	}
	words := strings.Fields(text)
	for len(words) > 0 && slices.Contains([]string{"at", "the", "of", "in", "on", "for", "a", "an", "station", "screw", "from", "to", "and"}, strings.Trim(words[len(words)-1], ",:;")) {
		words = words[:len(words)-1]
	}
	if title := strings.TrimRight(strings.Join(words, " "), ",:; "); title != "" {
		return title
	}
	return capital(strings.ReplaceAll(r.Name, "_", " "))
}

// setPlaces are the places of one row, in the order of reading.
func (b *builder) setPlaces(set engine.ReadingSet) []Place {
	own := set.Keys[min(len(set.Step.Keys), len(set.Keys)):]
	var out []Place
	find := func(t engine.TakeRecord) *Place {
		p := Place{Name: set.Name, Ask: set.Ask, Keys: own}
		if k := kindOf(set.Reading); k != 0 {
			p.At = b.positionIn(k, t.At)
			p.Keys = append(slices.Clone(own), p.At.Text)
			p.Name += "." + p.At.Text
		}
		switch {
		case t.Closure:
			p.Pass = "again"
		case t.Back:
			p.Pass = "back"
		}
		if p.Pass != "" {
			p.Name += "." + p.Pass
		}
		for i := range out {
			if out[i].Name == p.Name {
				return &out[i]
			}
		}
		out = append(out, p)
		return &out[len(out)-1]
	}
	for _, t := range set.Takes {
		p := find(t)
		p.Takes = append(p.Takes, b.take(t, set))
	}
	if set.State == "unmeasured" {
		if len(out) == 0 {
			out = append(out, Place{Name: set.Name, Ask: set.Ask, Keys: own})
		}
		out[len(out)-1].Why = set.Why
	}
	for i := range out {
		b.mean(&out[i], set)
		b.asks[out[i].Name] = out[i].Ask
	}
	return out
}

func kindOf(r *procedures.Reading) value.Kind {
	switch {
	case r.Along != nil:
		return value.Profile
	case r.Around != nil:
		return value.Turn
	}
	return 0
}

func (b *builder) take(t engine.TakeRecord, set engine.ReadingSet) Take {
	out := Take{Typed: t.Typed, Text: t.Word, File: file(t.File), Odd: t.Odd, Reason: t.Reason, From: t.From, At: at(t.Stamp)}
	if t.Word == "" && t.File == nil {
		u := quantity.Unit{UCUM: "1", Factor: 1}
		places := asItIs
		if set.Reading.Unit != nil {
			u = b.unit(*set.Reading.Unit)
			places = b.places(t.Value, u, set.Reading.With)
		}
		if out.Number = number(t.Value, u, places); out.Number != nil {
			out.Text = out.Number.Text
		}
	}
	for _, a := range t.Amended {
		out.Amended = append(out.Amended, Amendment{Name: set.Name, Take: a.Take, From: a.WasTyped, To: t.Typed + t.Word, Reason: a.Reason, At: at(a.Stamp)})
	}
	if t.Withdrawn {
		w := at(t.WithdrawnAt)
		out.Withdrawn = &w
	}
	return out
}

func file(f *engine.File) *File {
	if f == nil {
		return nil
	}
	out := &File{Name: baseName(f.Name), SHA256: f.SHA256, Size: f.Size, Type: f.Type, Place: f.Place, Removed: f.Removed}
	if o := f.Original; o != nil {
		out.Original = &WasFile{SHA256: o.SHA256, Size: o.Size}
	}
	return out
}

// mean is what several takes of one place stand for.
func (b *builder) mean(p *Place, set engine.ReadingSet) {
	if set.Reading.Unit == nil || len(p.Takes) < 2 {
		return
	}
	u := b.unit(*set.Reading.Unit)
	sum, n, places := 0.0, 0, 0
	for _, t := range p.Takes {
		if t.Number == nil || t.Withdrawn != nil {
			continue
		}
		sum += u.Base(t.Number.Value)
		n++
		places = max(places, decimalsOf(t.Number.Text))
	}
	if n > 1 {
		p.Mean = number(sum/float64(n), u, places+1)
	}
}

func decimalsOf(text string) int {
	_, after, ok := strings.Cut(text, ".")
	if !ok {
		return 0
	}
	return len(after)
}

func (b *builder) drift(set engine.ReadingSet) *Drift {
	if set.Reading.Unit == nil {
		return nil
	}
	u := b.unit(*set.Reading.Unit).Difference()
	places := b.places(set.Drift.Moved, u, set.Reading.With)
	moved, allowed := number(set.Drift.Moved, u, places), number(set.Drift.Allowed, u, asItIs)
	if moved == nil || allowed == nil {
		return nil
	}
	return &Drift{Moved: *moved, Allowed: *allowed, Said: fmt.Sprintf("it had moved %s; %s is allowed", moved.abs().WithUnit(), allowed.WithUnit())}
}

// bindingOf is the instrument that was in the hand for a set.
func (b *builder) bindingOf(set engine.ReadingSet, entry int) string {
	if set.Reading.With == nil {
		return ""
	}
	return b.bindingAt(set.Reading.With, entry)
}
