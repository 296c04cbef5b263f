package catalogue

import (
	"errors"
	"fmt"

	"waywright/checks/align"
	"waywright/checks/quantity"
	"waywright/checks/value"
)

// examplePads is a head on four flat pads, 220 mm apart along the bed.
const examplePads = "{ nose_front = [mm(-40), mm(80)], nose_rear = [mm(-40), mm(-80)], tail_front = [mm(-260), mm(80)], tail_rear = [mm(-260), mm(-80)] }"

var padWays = []string{"remove", "shim"}

// fitPads is the function of package align that works out pads.
func fitPads() *Func {
	return generic(Func{
		Name: "pads", Doc: "what to take off each of three or more pads, or what to put under it, so that the slopes of the spindle's axis come to nothing, with the least in all; and how the axis moves",
		Params: []Param{
			{Name: "slope_vertical", Doc: "slope of the axis now less the one wanted, plus when the free end rises"},
			{Name: "slope_horizontal", Doc: "the same in the level plane, plus when the free end points towards the operator"},
			{Name: "layout", Doc: "where each pad lies, by its name, counted from the spindle's axis at the nose: [z, x] along the bed, plus towards the tailstock, and across, plus towards the operator; [z, x, y] with its height, plus up, for the sideways movement too; [z, x, y, across, up] with the way that it faces where that is not up"},
			{Name: "way", Doc: `"remove": metal is only taken off; "shim": shims are only added`},
		},
		Signs:  "posts: plus is put under, minus is taken off; up, across: plus is the axis going up, towards the operator, at the nose; roll: plus is the front going up",
		Source: "rigid body on its pads, by linear programming: the sum of the amounts is least, then the roll; derived here",
		Example: Example{`pads(um(100)/m(1), 0, ` + examplePads + `, "shim").total`, "0.044 mm",
			"derived here: both pads away from the nose by 220 mm · 0.1 mm/m"},
		Check: checkPads, Eval: evalPads,
	}, false)
}

var padParts = []string{"posts", "total", "up", "across", "roll"}

func checkPads(ts []value.Type) (value.Type, *ArgError) {
	gives := value.ObjectType(
		value.Part{Name: "posts", Type: value.KeyedType(ts[2].Key, value.NumberType(quantity.Length))},
		value.Part{Name: "total", Type: value.NumberType(quantity.Length)},
		value.Part{Name: "up", Type: value.NumberType(quantity.Length)},
		value.Part{Name: "across", Type: value.NumberType(quantity.Length)},
		value.Part{Name: "roll", Type: value.NumberType(quantity.Angle)},
	)
	for i := range 2 {
		if err := ratio("", "").check(i, ts[i]); err != nil {
			return gives, err
		}
	}
	t := ts[2]
	if t.Kind != value.Keyed || t.Elem.Kind != value.List || t.Elem.Elem.Kind != value.Number || t.Elem.Elem.Dim != quantity.Length {
		return gives, wantedWords(2, t, "the place of each pad is wanted by its name, as { nose = [mm(0), mm(80)], … }")
	}
	return gives, oneOf(3, ts[3], padWays)
}

func evalPads(a []value.Value) value.Value {
	if !contains(padWays, a[3].Text) {
		return absent("%q is not one of %s", a[3].Text, list(padWays))
	}
	layout := a[2]
	ps := make([]align.Pad, len(layout.Elems))
	heights := true
	for i, e := range layout.Elems {
		x := numbersOf(e)
		p := align.Pad{Up: 1}
		switch len(x) {
		case 5:
			p.Across, p.Up = x[3], x[4]
			fallthrough
		case 3:
			p.Y = x[2]
			fallthrough
		case 2:
			p.Z, p.X = x[0], x[1]
		default:
			return absent("the place of the pad %s has %d figures; 2, 3 or 5 are wanted: along, across, height, and the way it faces", layout.Keys[i], len(x))
		}
		heights = heights && len(x) > 2
		ps[i] = p
	}
	post, err := align.FitPads(ps, -a[0].Num, -a[1].Num, a[3].Text == "shim")
	if err != nil {
		return value.AbsentFor(padsWhy(err))
	}
	across := number(post.Across)
	if !heights {
		across = absent("the heights of the pads are not given, so that what a roll does sideways cannot be told")
	}
	return value.ObjectOf(padParts, []value.Value{
		value.KeyedOf(layout.Keys, value.Nums(post.Change...)), number(post.Total), number(post.Up), across, number(post.Roll),
	})
}

// padsWhy is the reason of an error in words of its own.
func padsWhy(err error) string {
	if errors.Is(err, align.ErrNoPost) {
		return align.ErrNoPost.Error()
	}
	return fmt.Sprint(err)
}
