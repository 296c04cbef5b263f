package compile

import (
	"bytes"
	"math"
	"slices"
	"strconv"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
)

// steps applies the keys that follow a value: .far, [2], ["180"], and .180
// as HCL has it from older days.
func (c *checker) steps(t term, steps hcl.Traversal) term {
	for i, s := range steps {
		if t.bad {
			return t
		}
		next := c.step(t, s, steps[i:].SourceRange())
		if !next.bad {
			next.rng = hcl.RangeOver(t.rng, s.SourceRange())
			next.unit = t.unit
		}
		t = next
	}
	return t
}

func (c *checker) step(t term, s hcl.Traverser, context hcl.Range) term {
	subject := wordOf(s)
	switch s := s.(type) {
	case hcl.TraverseAttr:
		return c.wordKey(t, s.Name, subject, context)
	case hcl.TraverseIndex:
		switch {
		case isString(s.Key):
			return c.wordKey(t, s.Key.AsString(), subject, context)
		case s.Key.IsKnown() && !s.Key.IsNull() && s.Key.Type() == cty.Number:
			x, _ := s.Key.AsBigFloat().Float64()
			dotted := bytes.HasPrefix(c.source(subject), []byte("."))
			return c.numberKey(t, x, dotted, subject, context)
		case !s.Key.IsKnown():
			return term{bad: true} // the parser has said what is wrong
		}
		return c.say(WrongKey, subject, context, "A key is a word or a whole number. Write .far, [\"far\"] or [2].")
	}
	return c.notUsed(subject, context, "A splat", "Write [for v in … : v] for a list.")
}

// keyed refuses keys for what has none (semantics rule 8).
func (c *checker) keyed(t term, key, subject, context hcl.Range) term {
	if t.open != nil {
		return c.unknownType(t)
	}
	if t.t.Kind == value.Keyed && t.t.Elem != nil {
		return t
	}
	q := c.quote(t.rng)
	mend := "It has no parts."
	switch t.t.Kind {
	case value.Object:
		mend = "Its parts are named " + keyWords(t.t.Key) + ": write ." + t.t.Key.Words[0] + "."
	case value.List:
		mend = "Write first(" + q + "), last(" + q + ") or at(" + q + ", …)."
	case value.Profile:
		mend = "Write at(" + q + ", mm(…)) for the value at a station, first(" + q + ") or last(" + q + ") for its ends."
	case value.Turn:
		mend = "Write at(" + q + ", deg(…)) for the value at an angle."
	case value.Takes:
		mend = "The takes stand for their mean; write mean(" + q + ")."
	}
	return c.say(NoPositions, subject, context, "An index is a key, and %s, which is %s, has none. %s", q, t.t, mend)
}

// wordKey applies a key that is written as a word.
func (c *checker) wordKey(t term, word string, subject, context hcl.Range) term {
	if t.open == nil && t.t.Kind == value.Object {
		return c.partOf(t, word, subject, context)
	}
	t = c.keyed(t, subject, subject, context)
	if t.bad {
		return t
	}
	k := t.t.Key
	switch {
	case k.Count:
		return c.say(WrongKey, subject, context, "%s is taken by number: its keys are 1, 2, 3 … Write [2] for the second.", c.quote(t.rng))
	case k.Words != nil && !slices.Contains(k.Words, word):
		if i := hyphenAt(word, k.Words); i {
			return c.blanks(subject, hcl.RangeOver(t.rng, subject))
		}
		return c.say(WrongKey, subject, context, "%s has no key %s; it has %s.%s",
			c.quote(t.rng), word, keyWords(k), meant(nearest(word, k.Words)))
	}
	return term{node: formula.Pick(t.node, word), t: *t.t.Elem}
}

// partOf picks the part of an object.
func (c *checker) partOf(t term, word string, subject, context hcl.Range) term {
	p, ok := t.t.Part(word)
	if !ok {
		if hyphenAt(word, t.t.Key.Words) {
			return c.blanks(subject, hcl.RangeOver(t.rng, subject))
		}
		return c.say(WrongKey, subject, context, "%s has no part %s; it has %s.%s",
			c.quote(t.rng), word, keyWords(t.t.Key), meant(nearest(word, t.t.Key.Words)))
	}
	return term{node: formula.Pick(t.node, word), t: p}
}

func meant(guess string) string {
	if guess == "" {
		return ""
	}
	return " Is " + guess + " meant?"
}

// hyphenAt tells whether a word is a known one with a minus behind it.
func hyphenAt(word string, known []string) bool {
	for _, k := range known {
		if len(word) > len(k) && word[:len(k)] == k && word[len(k)] == '-' {
			return true
		}
	}
	return false
}

// numberKey applies a key that is written as a number, which is a count. With
// a dot before it, it may also be a word made of figures.
func (c *checker) numberKey(t term, x float64, dotted bool, subject, context hcl.Range) term {
	t = c.keyed(t, subject, subject, context)
	if t.bad {
		return t
	}
	k := t.t.Key
	word := strconv.FormatFloat(x, 'f', -1, 64)
	switch {
	case !k.Count && dotted:
		return c.wordKey(t, word, subject, context)
	case !k.Count:
		return c.say(WrongKey, subject, context, "The keys of %s are words: %s. Write [%q].", c.quote(t.rng), keyWords(k), word)
	case x != math.Trunc(x) || x < 1 || x > 1<<53:
		return c.say(WrongKey, subject, context, "The keys of %s are 1, 2, 3 …; %s is none of them.", c.quote(t.rng), word)
	case k.Words != nil && !slices.Contains(k.Words, word):
		return c.say(WrongKey, subject, context, "%s has no key %s; it has %s.", c.quote(t.rng), word, keyWords(k))
	}
	return term{node: formula.Pick(t.node, word), t: *t.t.Elem}
}

// index applies a key that is worked out: reading.top[each.screw].
func (c *checker) index(e *hclsyntax.IndexExpr) term {
	t, key := c.expr(e.Collection), c.expr(e.Key)
	if t.bad || key.bad {
		return term{bad: true}
	}
	t = c.keyed(t, e.BracketRange, e.BracketRange, e.SrcRange)
	if t.bad {
		return t
	}
	k := t.t.Key
	want := value.TextType(k.Words...)
	if k.Count {
		want = value.CountType()
	}
	key = key.settle(want).withoutTakes()
	if bad := c.keyFits(t, key, e.SrcRange); bad.bad {
		return bad
	}
	return term{node: formula.PickBy(t.node, key.node), t: *t.t.Elem, unit: t.unit}
}

func (c *checker) keyFits(t, key term, context hcl.Range) term {
	k := t.t.Key
	switch {
	case k.Count && (key.t.Kind != value.Number || key.t.Dim != quantity.Ratio):
		return c.say(WrongKey, key.rng, context, "The keys of %s are whole numbers, but %s is %s.", c.quote(t.rng), c.quote(key.rng), key.t)
	case !k.Count && key.t.Kind != value.Text:
		return c.say(WrongKey, key.rng, context, "The keys of %s are words (%s), but %s is %s.", c.quote(t.rng), keyWords(k), c.quote(key.rng), key.t)
	case !k.Count && k.Words != nil && key.t.Words != nil:
		for _, w := range key.t.Words {
			if slices.Contains(k.Words, w) {
				return term{}
			}
		}
		return c.say(WrongKey, key.rng, context, "%s is %s, but %s has only the keys %s.",
			c.quote(key.rng), choices(key.t.Words), c.quote(t.rng), keyWords(k))
	}
	return term{}
}
