package seal

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
)

// held is a sealed record held against the one that this version of the program
// makes of the same journal: where they differ, and whether what differs is a
// fact or the way it is put.
type held struct {
	agree int      // numbers, verdicts, names, times and answers that are the same
	facts []apart  // that are not
	words []apart  // sentences that are put in another way
	more  []string // places where only this version says something
}

// apart is one place in which they differ.
type apart struct{ path, sealed, again string }

func (a apart) String() string {
	sealed, again := around(a.sealed, a.again)
	return fmt.Sprintf("%s has %s, and this version %s", a.path, sealed, again)
}

// around cuts two long texts to where they differ first.
func around(a, b string) (string, string) {
	const before, most = 20, 72
	quote := ""
	if strings.HasPrefix(a, `"`) && strings.HasPrefix(b, `"`) {
		a, b, quote = strings.Trim(a, `"`), strings.Trim(b, `"`), `"`
	}
	x, y := []rune(a), []rune(b)
	n := 0
	for n < len(x) && n < len(y) && x[n] == y[n] {
		n++
	}
	cut := func(r []rune) string {
		if len(r) <= most {
			return quote + string(r) + quote
		}
		from := max(0, min(n-before, len(r)-most))
		s := string(r[from:min(len(r), from+most)])
		if from > 0 {
			s = "…" + s
		}
		if from+most < len(r) {
			s += "…"
		}
		return quote + s + quote
	}
	return cut(x), cut(y)
}

// wording names the properties that hold sentences and headings which the
// program makes, wherever they stand or with what they stand in. All others hold
// facts: what is not named here is never taken for words.
var wording = map[string]bool{
	"said": true, "told": true, "total_said": true, "from_to": true, "ended": true, "by_noise": true,
	"open": true, "disturbed": true, "odd": true, "conforming": true, "against": true,
	"readings.title": true, "places.ask": true, "amendments.title": true, "unmeasured.title": true, "withdrawals.what": true,
	"doubt.source": true, "notes.where": true, "change.where": true,
}

// valued names what has a value with its direction, or a limit, for its
// sentence: that is a fact however it is put.
var valued = map[string]bool{
	"found": true, "as_found": true, "as_left": true, "allowed": true, "asked": true, "amount": true, "moved": true, "elements": true,
}

// isWords tells whether a property holds words; in is what it stands in.
func isWords(in, name string) bool {
	return wording[in+"."+name] || wording[name] && !(name == "said" && valued[in])
}

// hold compares two records.
func hold(sealed, again []byte) (held, error) {
	var h held
	a, err := tree(sealed)
	if err != nil {
		return h, err
	}
	b, err := tree(again)
	if err != nil {
		return h, err
	}
	h.walk("", "", "", a, b)
	return h, nil
}

func tree(b []byte) (v any, err error) {
	d := json.NewDecoder(bytes.NewReader(b))
	d.UseNumber()
	return v, d.Decode(&v)
}

// walk compares what stands at one place of both; in is what it stands in.
func (h *held) walk(path, in, name string, a, b any) {
	switch a := a.(type) {
	case map[string]any:
		if b, ok := b.(map[string]any); ok {
			h.objects(path, name, a, b)
			return
		}
	case []any:
		if b, ok := b.([]any); ok && len(a) == len(b) {
			for i := range a {
				h.walk(fmt.Sprintf("%s[%d]", path, i), in, name, a[i], b[i])
			}
			return
		}
	case json.Number:
		if b, ok := b.(json.Number); ok && sameNumber(a, b) {
			h.agree++
			return
		}
	default:
		if a == b {
			h.agree++
			return
		}
	}
	x := apart{path, compact(a), compact(b)}
	if isWords(in, name) && sentences(a) && sentences(b) && sameTokens(x.sealed, x.again) {
		h.words = append(h.words, x)
		return
	}
	h.facts = append(h.facts, x)
}

// objects compares two objects by their properties. What only this version
// writes is no difference: the older one did not say it yet.
func (h *held) objects(path, name string, a, b map[string]any) {
	for _, k := range slices.Sorted(maps.Keys(a)) {
		at := strings.TrimPrefix(path+"."+k, ".")
		v, ok := b[k]
		if !ok {
			h.facts = append(h.facts, apart{at, compact(a[k]), "nothing"})
			continue
		}
		h.walk(at, name, k, a[k], v)
	}
	for _, k := range slices.Sorted(maps.Keys(b)) {
		if _, ok := a[k]; !ok {
			h.more = append(h.more, strings.TrimPrefix(path+"."+k, "."))
		}
	}
}

// sameNumber compares numbers as computers make them: sums in another order
// differ in the last of sixteen figures.
func sameNumber(a, b json.Number) bool {
	x, err1 := a.Float64()
	y, err2 := b.Float64()
	return a == b || err1 == nil && err2 == nil && math.Abs(x-y) <= 1e-9*math.Max(math.Abs(x), math.Abs(y))
}

// sentences tells whether a value is text, or a list of texts.
func sentences(v any) bool {
	switch v := v.(type) {
	case string:
		return true
	case []any:
		return !slices.ContainsFunc(v, func(x any) bool { _, ok := x.(string); return !ok })
	}
	return false
}

// tokens are what a sentence states whatever its words: figures, and words in
// capitals such as PASS.
var tokens = regexp.MustCompile(`[-−+]?\d+(?:[.,]\d+)*|\b[A-Z]{3,}\b`)

// sameTokens tells whether the sealed sentence states nothing that the other one
// does not, or the other way round: a version may say more, or leave some out.
func sameTokens(sealed, again string) bool {
	a, b := tokens.FindAllString(sealed, -1), tokens.FindAllString(again, -1)
	return within(a, b) || within(b, a)
}

// within tells whether all of a stand in b, as often as in a.
func within(a, b []string) bool {
	b = slices.Clone(b)
	for _, s := range a {
		i := slices.Index(b, s)
		if i < 0 {
			return false
		}
		b = slices.Delete(b, i, i+1)
	}
	return true
}

func compact(v any) string {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return fmt.Sprint(v)
	}
	return strings.TrimSpace(b.String())
}

// first names the first few places.
func first(all []string) string {
	if n := len(all) - shown; n > 0 {
		return strings.Join(all[:shown], ", ") + fmt.Sprintf(" and %d more", n)
	}
	return strings.Join(all, ", ")
}

// shown is how many differences are told one by one.
const shown = 8

// list tells the first differences, each once with how often it is there, and
// how many there are besides.
func list(all []apart) string {
	type pair struct{ sealed, again string }
	var first []apart
	times := map[pair]int{}
	for _, a := range all {
		p := pair{a.sealed, a.again}
		if times[p]++; times[p] == 1 {
			first = append(first, a)
		}
	}
	var said []string
	for _, a := range first[:min(len(first), shown)] {
		s := a.String()
		if n := times[pair{a.sealed, a.again}]; n > 1 {
			s += fmt.Sprintf(" (%d times)", n)
		}
		said = append(said, s)
	}
	if n := len(first) - shown; n > 0 {
		said = append(said, fmt.Sprintf("and %d more", n))
	}
	return strings.Join(said, "; ")
}

// reworded says of a record that another build sealed, and whose bytes are those
// of its seal, what this one makes of its journal.
func (v *verifier) reworded(sealed []byte) {
	const part = "record"
	h, err := hold(sealed, v.rebuilt.Issue.JSON)
	if err != nil {
		v.say(part, Fails, RecordName, "It is no record: %v.", err)
		return
	}
	v.say(part, Holds, RecordName, "Its bytes are those that were sealed on %s: SHA-256 %s.", day(v.seal.Time), v.out.Digest)
	if len(h.facts) > 0 {
		v.say("facts", Open, RecordName, "The journal gives something else in %s: %s. %s Either it works this out otherwise, or the record was not what its journal gave when it was sealed: %s tells which.",
			count(len(h.facts), "place"), list(h.facts), v.twoBuilds(), v.sealedWith())
		return
	}
	said := fmt.Sprintf("Made again from the journal, all %d numbers, verdicts, names and times are the same.", h.agree)
	if n := len(h.words); n > 0 {
		said += fmt.Sprintf(" In other words, with the same figures, %s: %s.", count(n, "sentence"), list(h.words))
	}
	if n := len(h.more); n > 0 {
		said += fmt.Sprintf(" This version says something more in %s: %s.", count(n, "place"), first(h.more))
	}
	v.say("facts", Holds, RecordName, "%s %s", said, v.twoBuilds())
}
