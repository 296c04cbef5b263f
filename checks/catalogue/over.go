package catalogue

import (
	"math"
	"slices"

	"waywright/checks/form"
	"waywright/checks/plate"
	"waywright/checks/value"
	"waywright/checks/ways"
)

// Kernel is a function whose arguments stand but for their numbers: see
// [Func.Over]. It tells whether the result is there; where it is not, it leaves
// no number in out.
type Kernel func(x, out []float64) bool

// Numbers returns how many numbers there are in a value, at any depth, in the
// order in which a [Kernel] has them: a single number is one, of a collection
// those of its elements in turn, takes and heights each by themselves. The
// limits of a zone are two. What is not present has none.
func Numbers(v value.Value) int {
	if v.State != value.Present {
		return 0
	}
	switch v.Kind {
	case value.Number, value.Point:
		return 1
	case value.Takes:
		return len(v.Takes)
	case value.Net:
		return len(v.Z)
	case value.Zone:
		return 2
	}
	n := 0
	for i := range v.Elems {
		n += Numbers(v.Elems[i])
	}
	return n
}

// Place returns a copy of v with each of its numbers put to what f gives for
// it. They are asked for in the order of [Numbers].
func Place(v value.Value, f func(x float64) float64) value.Value {
	if v.State != value.Present {
		return v
	}
	switch v.Kind {
	case value.Number, value.Point:
		v.Num = f(v.Num)
	case value.Takes:
		v.Takes = each(v.Takes, f)
	case value.Net:
		v.Z = each(v.Z, f)
	case value.Zone:
		v.Lo = f(v.Lo)
		v.Hi = f(v.Hi)
	}
	if v.Elems != nil {
		elems := make([]value.Value, len(v.Elems))
		for i := range elems {
			elems[i] = Place(v.Elems[i], f)
		}
		v.Elems = elems
	}
	return v
}

func each(x []float64, f func(float64) float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = f(v)
	}
	return out
}

// numbered returns the arguments with a number in the place of each number: 0,
// 1, 2 … through all of them. What a function that only moves numbers makes of
// them says where each comes from.
func numbered(args []value.Value) []value.Value {
	n := -1.0
	out := make([]value.Value, len(args))
	for i, a := range args {
		out[i] = Place(a, func(float64) float64 { n++; return n })
	}
	return out
}

// still tells that none of the numbers of a value changes.
func still(v value.Value) bool {
	is := true
	Place(v, func(x float64) float64 { is = is && x == x; return x })
	return is
}

// none leaves no number in out.
func none(out []float64) bool {
	for i := range out {
		out[i] = math.NaN()
	}
	return false
}

// defined is x, or no number where it is not finite: what number makes of it.
func defined(x float64) float64 {
	if !isFinite(x) {
		return math.NaN()
	}
	return x
}

// alone is the kernel of a function that gives one number, not finite where it
// gives none.
func alone(f func(x []float64) float64) (value.Value, Kernel) {
	return value.Num(0), func(x, out []float64) bool {
		out[0] = defined(f(x))
		return out[0] == out[0]
	}
}

// all is the kernel of a function that gives as many numbers as out has, none of
// which is there where f gives nil or one of them is not finite.
func all(f func(x []float64) []float64) Kernel {
	return func(x, out []float64) bool { return finitely(out, f(x)) }
}

// finitely puts numbers into out, or none where there are none or one is not
// finite.
func finitely(out, y []float64) bool {
	if y == nil {
		return none(out)
	}
	for i, v := range y {
		if !isFinite(v) {
			return none(out)
		}
		out[i] = v
	}
	return true
}

// lifted is the kernel of a function of plain numbers that is taken element by
// element; nil where the arguments do not go together. Each row of numbers has
// room behind its end; in the place of a word it has nothing of use.
func lifted(args []value.Value, f func(x []float64) float64, room int) (gives value.Value, k Kernel) {
	var from [][]int
	gives = zip(func(v []value.Value) value.Value {
		at := make([]int, len(v))
		for i := range v {
			if at[i] = int(v[i].Num); v[i].Kind == value.Text {
				at[i] = -1
			}
		}
		from = append(from, at)
		return value.Num(0)
	}, numbered(args)...)
	if gives.State != value.Present {
		return gives, nil
	}
	row := make([]float64, len(args), max(room, len(args)))
	return gives, func(x, out []float64) bool {
		for j, at := range from {
			for i, k := range at {
				if k >= 0 {
					row[i] = x[k]
				}
			}
			out[j] = defined(f(row))
		}
		return gives.Kind != value.Number || out[0] == out[0]
	}
}

// overEach is the Over of a function of plain numbers that is taken element by
// element.
func overEach(f func(x []float64) float64) func([]value.Value) (value.Value, Kernel) {
	return func(args []value.Value) (value.Value, Kernel) { return lifted(args, f, 0) }
}

// overZone is the Over of a function that makes a zone of plain numbers.
func overZone(f func(x []float64) (lo, hi float64)) func([]value.Value) (value.Value, Kernel) {
	return func([]value.Value) (value.Value, Kernel) {
		return value.ZoneOf(0, 0), func(x, out []float64) bool {
			out[0], out[1] = f(x)
			return true
		}
	}
}

// inTurn returns what puts the values of a profile in the rising order of its
// stations, in room of its own, and these.
func inTurn(p value.Value) (at []float64, order func(x []float64) []float64) {
	at, from := inOrder(numbered([]value.Value{p})[0])
	if slices.IsSorted(from) {
		return at, func(x []float64) []float64 { return x[:len(from)] }
	}
	y := make([]float64, len(from))
	return at, func(x []float64) []float64 {
		for i, k := range from {
			y[i] = x[int(k)]
		}
		return y
	}
}

// overProfile is the Over of a function of a profile that gives one number.
func overProfile(prepare func(at []float64) func(v []float64) float64) func([]value.Value) (value.Value, Kernel) {
	return func(args []value.Value) (value.Value, Kernel) {
		at, order := inTurn(args[0])
		f := prepare(at)
		if f == nil {
			return value.Value{}, nil
		}
		return alone(func(x []float64) float64 { return f(order(x)) })
	}
}

// rangeAlong returns what works the straightness of a profile out.
func rangeAlong(at []float64, m form.Method) func(v []float64) float64 {
	s, err := form.Along(at, m)
	if err != nil {
		return nil
	}
	return s.Range
}

// bowAlong returns what works the bow of a profile out.
func bowAlong(at []float64) func(v []float64) float64 {
	s, err := form.Along(at, form.EndPoints)
	if err != nil {
		return nil
	}
	middle := at[0] + (at[len(at)-1]-at[0])/2
	return func(v []float64) float64 {
		left := s.Left(v)
		if left == nil {
			return math.NaN()
		}
		return form.Interpolate(at, left, middle)
	}
}

// overShape is the Over of a function whose second argument says from what
// deviations are counted. shape returns the shape of its first.
func overShape(methods []string, shape func(value.Value, form.Method) (*form.Shape, error)) func([]value.Value) (value.Value, Kernel) {
	return func(args []value.Value) (value.Value, Kernel) {
		if !contains(methods, args[1].Text) {
			return value.Value{}, nil
		}
		s, err := shape(args[0], form.Method(args[1].Text))
		if err != nil {
			return value.Value{}, nil
		}
		order := func(x []float64) []float64 { return x }
		if args[0].Kind == value.Profile {
			_, order = inTurn(args[0])
		}
		n := Numbers(args[0])
		return alone(func(x []float64) float64 { return s.Range(order(x[:n])) })
	}
}

// overLevelled is the Over of a function that takes a line or plane off.
func overLevelled(method form.Method) func([]value.Value) (value.Value, Kernel) {
	return func(args []value.Value) (value.Value, Kernel) {
		p := args[0]
		if p.Kind == value.Net {
			s, err := form.Over(p.X, p.Y, method)
			if err != nil {
				return value.Value{}, nil
			}
			return p, all(s.Left)
		}
		_, from := inOrder(numbered(args)[0])
		at, order := inTurn(p)
		s, err := form.Along(at, method)
		if err != nil || len(unique(at)) < len(at) { // of equal stations another may be found
			return value.Value{}, nil
		}
		y := make([]float64, len(at))
		gives := Place(p, func(x float64) float64 { return x })
		for i := range gives.Elems {
			gives.Elems[i].Kind = value.Number
		}
		return gives, all(func(x []float64) []float64 {
			left := s.Left(order(x))
			if left == nil {
				return nil
			}
			for i, k := range from {
				y[int(k)] = left[i]
			}
			return y
		})
	}
}

// unique returns stations that are the same but for rounding once.
func unique(at []float64) []float64 {
	return slices.CompactFunc(slices.Clone(at), value.SamePlace)
}

// overChanges is the Over of changes.
func overChanges(args []value.Value) (value.Value, Kernel) {
	if Numbers(args[0]) != len(args[0].Elems) {
		return value.Value{}, nil
	}
	return args[0], func(x, out []float64) bool {
		for i := range out {
			out[i] = x[i]
			if i > 0 {
				out[i] = defined(x[i] - x[i-1])
			}
		}
		return true
	}
}

// overLine is the Over of what is read off the least-squares line of a profile;
// kept: it is of the kind of the values.
func overLine(read func(l form.Line, rest []float64) float64, kept bool) func([]value.Value) (value.Value, Kernel) {
	return func(args []value.Value) (value.Value, Kernel) {
		at, order := inTurn(args[0])
		gives, k := alone(func(x []float64) float64 {
			l, err := form.FitLine(at, order(x))
			if err != nil {
				return math.NaN()
			}
			return read(l, x[len(at):])
		})
		if kept {
			gives.Kind = kindOf(args[0]).Kind
		}
		return gives, k
	}
}

// overThree is the Over of three_way.
func overThree(args []value.Value) (gives value.Value, k Kernel) {
	each, _ := lifted(args, func(x []float64) float64 { return x[0] }, 0)
	if each.State != value.Present {
		return gives, nil
	}
	n := Numbers(each)
	var parts [3]Kernel
	for i := range parts {
		_, parts[i] = lifted(args, func(x []float64) float64 {
			a, b, c := ways.ThreeWay(x[0], x[1], x[2])
			return [3]float64{a, b, c}[i]
		}, 0)
	}
	return value.KeyedOf(threeKeys, []value.Value{each, each, each}), func(x, out []float64) bool {
		for i, part := range parts {
			if !part(x, out[i*n:(i+1)*n]) {
				return none(out)
			}
		}
		return true
	}
}

// overFlipped is the Over of a function of two profiles.
func overFlipped(f func(at, p, q []float64) ([]float64, error)) func([]value.Value) (value.Value, Kernel) {
	return func(args []value.Value) (gives value.Value, k Kernel) {
		n := numbered(args)
		at, fromP, fromQ, why := together(n[0], n[1])
		if why != "" {
			return gives, nil
		}
		p, q := make([]float64, len(at)), make([]float64, len(at))
		return value.ProfileOf(at, value.Nums(p...)), all(func(x []float64) []float64 {
			for i := range p {
				p[i], q[i] = x[int(fromP[i])], x[int(fromQ[i])]
			}
			d, err := f(at, p, q)
			if err != nil {
				return nil
			}
			return d
		})
	}
}

// overLevelProfile is the Over of level_profile, where the base does not change.
func overLevelProfile(args []value.Value) (gives value.Value, k Kernel) {
	base, n := args[1].Num, len(args[0].Elems)
	like := args[0]
	like.Elems = value.Nums(make([]float64, n)...)
	gives = evalLevelProfile([]value.Value{like, args[1]})
	if base != base || gives.State != value.Present {
		return gives, nil
	}
	order := func(x []float64) []float64 { return x[:n] }
	if like.Kind == value.Profile {
		_, order = inTurn(args[0])
	}
	h := make([]float64, n+1)
	return gives, all(func(x []float64) []float64 {
		for i, slope := range order(x) {
			h[i+1] = h[i] + slope*base
		}
		return h
	})
}

// overPlate is the Over of a function of a survey along eight lines, where the
// sizes of the field do not change. read puts the numbers of gives into out.
func overPlate(gives func(f *plate.Field) value.Value, read func(z []float64, we, ns float64, out []float64) bool) func([]value.Value) (value.Value, Kernel) {
	return func(args []value.Value) (none value.Value, k Kernel) {
		for _, a := range args[1:] {
			if !still(a) {
				return none, nil
			}
		}
		like := slices.Clone(args)
		like[0] = Place(args[0], func(float64) float64 { return 0 })
		if _, err := surveyOf(like); err != nil {
			return none, nil
		}
		var steps [8]int
		var line [8]func(x []float64) []float64
		var begin [8]int
		for i, name := range plate.Lines {
			j := slices.Index(args[0].Keys, name)
			for _, before := range args[0].Elems[:j] {
				begin[i] += Numbers(before)
			}
			_, line[i] = inTurn(args[0].Elems[j])
			steps[i] = Numbers(args[0].Elems[j])
		}
		f, err := plate.NewField(steps, args[1].Num, args[2].Num)
		if err != nil {
			return none, nil
		}
		return gives(f), func(x, out []float64) bool {
			var slopes [8][]float64
			for i := range slopes {
				slopes[i] = line[i](x[begin[i]:])
			}
			z, we, ns := f.Heights(slopes)
			return read(z, we, ns, out)
		}
	}
}
