package catalogue

import (
	"math"

	"pgregory.net/rapid"

	"waywright/checks/plate"
	"waywright/checks/quantity"
	"waywright/checks/value"
)

// argsOf draws arguments that a function takes, with their types. For
// functions that whatever fits seldom has an answer of, it draws arguments
// that make sense: turns all round, profiles at the same stations.
func argsOf(t *rapid.T, f *Func) (ts []value.Type, args []value.Value) {
	ts, args = sensible(t, f)
	if ts == nil || rapid.IntRange(0, 4).Draw(t, "whatever") == 0 {
		ts = typesOf(t, f)
		args = make([]value.Value, len(ts))
		for i := range ts {
			args[i] = valueOf(t, ts[i], f.Params[i].Name)
		}
	}
	return ts, args
}

func sensible(t *rapid.T, f *Func) (ts []value.Type, args []value.Value) {
	length := value.NumberType(quantity.Length)
	add := func(ty value.Type, v value.Value) { ts, args = append(ts, ty), append(args, v) }
	several := func(n int) []float64 {
		x := make([]float64, n)
		alike := rapid.IntRange(0, 3).Draw(t, "all alike") == 0
		for i := range x {
			if alike && i > 0 {
				x[i] = x[0]
				continue
			}
			x[i] = numbers.Draw(t, "value")
		}
		return x
	}
	even := func(n int, whole float64) []float64 {
		x := make([]float64, n)
		for i := range x {
			x[i] = whole * float64(i) / float64(n)
		}
		return x
	}
	word := func(words ...string) {
		add(value.TextType(words...), value.Str(rapid.SampledFrom(words).Draw(t, "word")))
	}
	n := rapid.IntRange(3, 9).Draw(t, "n")
	switch f.Name {
	case "eccentricity", "high_spot", "lobes", "roundness", "runout", "bar_runout", "socket_runout":
		at, r := even(n, 2*math.Pi), several(n)
		if rapid.IntRange(0, 3).Draw(t, "out towards nought degrees") == 0 {
			for i := range r {
				r[i] = 3 * math.Cos(at[i])
			}
		}
		add(value.TurnType(length), value.TurnOf(at, value.Nums(r...)))
		switch f.Name {
		case "lobes":
			add(value.CountType(), value.Num(1))
		case "roundness":
			word("least_squares", "minimum_zone", "circumscribed", "inscribed")
		case "bar_runout", "socket_runout":
			add(value.TurnType(length), value.TurnOf(even(n, 2*math.Pi), value.Nums(several(n)...)))
			if rapid.Bool().Draw(t, "alike") { // out by nothing, in one of the two
				sign := rapid.SampledFrom([]float64{1, -1}).Draw(t, "sign")
				args[1] = value.Map(func(v value.Value) value.Value { return value.Num(sign * v.Num) }, args[0])
			}
		}
	case "edge_error", "slide_error", "scrape_stripes", "straightness", "cyclic", "correlation", "bow", "slope", "detrended", "from_zone":
		v := several(n)
		if rapid.IntRange(0, 3).Draw(t, "up and down") == 0 { // more readings touch a zone than settle it
			for i := range v {
				v[i] = float64(i % 2)
			}
		}
		add(value.ProfileType(length), value.ProfileOf(even(n, float64(n)), value.Nums(v...)))
		switch f.Name {
		case "straightness":
			word("least_squares", "minimum_zone", "end_points")
		case "edge_error", "slide_error", "correlation", "scrape_stripes":
			add(value.ProfileType(length), value.ProfileOf(even(n, float64(n)), value.Nums(several(n)...)))
		}
		if f.Name == "scrape_stripes" {
			add(length, value.Num(lengths.Draw(t, "bite")))
		}
	case "flatness":
		add(value.NetType(quantity.Length), value.NetOf(even(9, 3), []float64{0, 1, 2, 0, 1, 2, 0, 1, 2}, several(9)))
		word("least_squares", "minimum_zone")
	case "pads":
		for _, x := range several(2) {
			add(value.NumberType(quantity.Ratio), value.Num(x))
		}
		if rapid.IntRange(0, 3).Draw(t, "level plane wrong") > 0 {
			args[1] = value.Num(0)
		}
		if rapid.IntRange(0, 3).Draw(t, "upright plane right") == 0 {
			args[0] = value.Num(0)
		}
		places := []value.Value{listed(0, 2), listed(0, -2), listed(-5, 2), listed(-5, -2)}
		add(value.KeyedType(value.Key{Words: []string{"a", "b", "c", "d"}}, value.ListType(length)), value.KeyedOf([]string{"a", "b", "c", "d"}, places))
		word("remove", "shim")
	case "plate", "plate_closure":
		var lines []value.Value
		long, wide := lengths.Draw(t, "length"), lengths.Draw(t, "width")
		for _, l := range plate.Lines {
			whole := math.Hypot(long, wide)
			switch l {
			case "nw_ne", "sw_se", "w_e":
				whole = long
			case "nw_sw", "ne_se", "n_s":
				whole = wide
			}
			lines = append(lines, value.ProfileOf([]float64{0, whole / 2}, value.Nums(several(2)...)))
		}
		add(value.KeyedType(value.Key{Words: plate.Lines[:]}, value.ProfileType(value.NumberType(quantity.Ratio))), value.KeyedOf(plate.Lines[:], lines))
		add(length, value.Num(long))
		add(length, value.Num(wide))
	case "repeatability":
		var people []value.Value
		for range 2 {
			var parts []value.Value
			for range 2 {
				parts = append(parts, listed(several(2)...))
			}
			people = append(people, value.KeyedOf([]string{"p", "q"}, parts))
		}
		key := func(elem value.Type) value.Type { return value.KeyedType(value.Key{}, elem) }
		add(key(key(value.ListType(length))), value.KeyedOf([]string{"ann", "bob"}, people))
	case "at":
		add(value.ProfileType(length), value.ProfileOf(even(n, float64(n)), value.Nums(several(n)...)))
		add(length, value.Num(float64(rapid.IntRange(0, 4*(n-1)).Draw(t, "where"))/4))
	case "stdev", "standard_error", "spread", "least", "greatest":
		add(value.TakesType(length), value.TakesOf(several(n)...))
	case "hypot":
		for range 2 {
			add(length, value.Num(numbers.Draw(t, "value")*float64(rapid.IntRange(0, 1).Draw(t, "there"))))
		}
	case "differs":
		for range 2 {
			add(value.TakesType(length), value.TakesOf(several(n)...))
		}
		add(length, value.Num(lengths.Draw(t, "step")))
	case "spots":
		add(value.ListType(value.NumberType(quantity.Ratio)), listed(several(n)...))
	}
	return ts, args
}
