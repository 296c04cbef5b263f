package compile

import (
	"slices"

	"waywright/checks/quantity"
	"waywright/checks/value"
)

// fit holds a whole expression against what its place wants.
func (c *checker) fit(t term, w Want) term {
	t = t.settle(w.guess())
	if t.bad || t.t.Kind == 0 {
		return t
	}
	if !slices.Contains(w.Kinds, value.Takes) {
		t = t.withoutTakes() // semantics rule 7
	}
	what := w.What
	if what == "" {
		what = "this place"
	}
	if w.Kinds != nil && !slices.Contains(w.Kinds, t.t.Kind) {
		return c.wrongKind(t, w, what)
	}
	d, ok := w.dim()
	if !ok {
		return t
	}
	l := leaf(t.t).Scalar()
	point := w.Unit != nil && w.Unit.Point
	switch {
	case l.Kind == value.Point && point:
		return t
	case l.Kind != value.Number && l.Kind != value.Net || point:
		return c.wrongKind(t, w, what)
	case l.Dim != d:
		return c.wrongDim(t, w, d, what)
	case w.Count && !l.Count:
		return c.say(WrongKind, t.rng, t.rng, "%s need not be a whole number, but %s is one. Write a whole number without a unit.", c.quote(t.rng), what)
	}
	return t
}

// guess returns the type that an open term takes in this place.
func (w Want) guess() value.Type {
	d, ok := w.dim()
	switch {
	case w.Unit != nil && w.Unit.Point:
		return value.PointType()
	case len(w.Kinds) > 0:
		t := value.Type{Kind: w.Kinds[0], Count: w.Count}
		if t.Kind == value.Number || t.Kind == value.Zone {
			t.Dim = d
		}
		return t
	case ok:
		return value.Type{Kind: value.Number, Dim: d, Count: w.Count}
	}
	return value.Type{}
}

func (c *checker) wrongDim(t term, w Want, d quantity.Dim, what string) term {
	wanted := value.NumberType(d)
	wanted.Count = w.Count
	if isZero(t) {
		return c.say(ZeroUnit, t.rng, t.rng, "%s is %s, but 0 alone is a ratio. Write %s.", what, wanted, withNumber(wanted, w.Unit, "0"))
	}
	l := leaf(t.t).Scalar()
	mended := mend(l, wanted)
	if !(l.Dim == quantity.Ratio && d == quantity.Angle) && !(l.Dim == quantity.Angle && d == quantity.Ratio) {
		mended = "Write it as " + wanted.String() + ", such as " + withNumber(wanted, w.Unit, "20") + "."
	}
	return c.say(WrongDim, t.rng, t.rng, "%s is %s, but %s is %s. %s", c.quote(t.rng), t.t, what, wanted, mended)
}

func (c *checker) wrongKind(t term, w Want, what string) term {
	wanted := w.guess()
	d, _ := w.dim()
	mended := "Write " + wanted.String() + "."
	switch {
	case wanted.Kind == value.Truth:
		mended = "Write a condition, such as " + c.quote(t.rng) + " > " + example(t.t) + "."
	case wanted.Kind == value.Number && w.Count:
		mended = "Write a whole number without a unit."
	case wanted.Kind == value.Number && t.t.Collection():
		mended = "Write one number, such as mean(" + c.quote(t.rng) + ") or greatest(" + c.quote(t.rng) + ")."
	case wanted.Kind == value.Number || wanted.Kind == value.Point:
		mended = "Write " + withNumber(wanted, w.Unit, "20") + "."
	case wanted.Kind == value.Text:
		mended = "Write it between quotation marks."
	case wanted.Kind == value.Zone:
		ex := withNumber(value.NumberType(d), w.Unit, "20")
		mended = "Write plus_minus(" + ex + ") or between(" + withNumber(value.NumberType(d), w.Unit, "0") + ", " + ex + ")."
	case wanted.Kind == value.List:
		mended = "Write a list: [" + withNumber(value.NumberType(d), w.Unit, "0") + ", …]."
	}
	return c.say(WrongKind, t.rng, t.rng, "%s is %s, but %s is %s. %s", c.quote(t.rng), t.t, what, kindName(wanted, w), mended)
}

func kindName(t value.Type, w Want) string {
	if t.Kind == 0 {
		return "something else"
	}
	if t.Kind == value.Zone {
		d, _ := w.dim()
		return value.ZoneType(value.NumberType(d)).String()
	}
	return t.String()
}
