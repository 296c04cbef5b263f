package compile_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"pgregory.net/rapid"

	"waywright/checks/quantity"
	"waywright/checks/stat"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

// places lists every slot that v has, below path.
func places(v value.Value, ref int, path []int) (out []formula.Slot) {
	if v.State != value.Present {
		return nil
	}
	below := func(i int) []int { return append(slices.Clone(path), i) }
	switch v.Kind {
	case value.Number, value.Point:
		out = append(out, formula.Slot{Ref: ref, Path: path})
	case value.Takes:
		out = append(out, formula.Slot{Ref: ref, Path: path})
		for i := range v.Takes {
			out = append(out, formula.Slot{Ref: ref, Path: below(i)})
		}
	}
	for i, e := range v.Elems {
		out = append(out, places(e, ref, below(i))...)
	}
	return out
}

// with returns v with x in the place that path leads to: the slow, obvious
// twin of what a batch does.
func with(v value.Value, path []int, x float64) value.Value {
	switch {
	case v.Kind == value.Takes && len(path) == 0:
		takes := slices.Clone(v.Takes)
		for i := range takes {
			takes[i] += x - stat.Mean(v.Takes)
		}
		v.Takes = takes
	case v.Kind == value.Takes:
		v.Takes = slices.Clone(v.Takes)
		v.Takes[path[0]] = x
	case len(path) > 0:
		v.Elems = slices.Clone(v.Elems)
		v.Elems[path[0]] = with(v.Elems[path[0]], path[1:], x)
	default:
		v.Num = x
	}
	return v
}

// overlap tells whether two slots lead to the same takes.
func overlap(a, b formula.Slot) bool {
	n := min(len(a.Path), len(b.Path))
	return a.Ref == b.Ref && slices.Equal(a.Path[:n], b.Path[:n])
}

// number returns what a batch gives for a value.
func number(v value.Value) float64 {
	v = v.Mean()
	switch {
	case v.State != value.Present:
		return math.NaN()
	case v.Kind == value.Truth && v.Truth:
		return 1
	case v.Kind == value.Truth:
		return 0
	}
	return v.Num
}

// A batch gives to the last bit what Eval gives trial by trial, whatever
// numbers change and whichever branches are taken.
func TestPropertyBatch(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sort := rapid.SampledFrom([]string{"$L", "$R", "$A", "$T", "$C"}).Draw(rt, "sort")
		src := draw(rt, sort, 4)
		e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
		if diags.HasErrors() {
			rt.Fatalf("%s: %v", src, diags)
		}
		p, _ := compile.Expr(e, []byte(src), bench(), compile.Any("the value"))
		if p == nil {
			return
		}
		env := shaken(rt)
		var slots []formula.Slot
		for i, r := range p.Refs() {
			for _, s := range places(env[r.String()], i, nil) {
				clash := slices.ContainsFunc(slots, func(o formula.Slot) bool { return overlap(s, o) })
				if !clash && rapid.IntRange(0, 2).Draw(rt, "vary") > 0 {
					slots = append(slots, s)
				}
			}
		}
		b, err := p.Batch(env, slots)
		if err != nil {
			rt.Fatalf("%s: %v", src, err)
		}
		for range 2 { // a batch may be run again, with another number of trials
			tryBatch(rt, src, p, env, slots, b)
		}
	})
}

func tryBatch(rt *rapid.T, src string, p *formula.Program, env values, slots []formula.Slot, b *formula.Batch) {
	n := rapid.IntRange(1, 5).Draw(rt, "trials")
	cols := make([][]float64, len(slots))
	for k := range cols {
		for i := range n {
			cols[k] = append(cols[k], awkward(rt, fmt.Sprintf("slot %d trial %d", k, i)))
		}
	}
	out := make([]float64, n)
	undefined := b.Run(cols, out)
	for i, got := range out {
		now := maps.Clone(env)
		for k, s := range slots {
			name := p.Refs()[s.Ref].String()
			now[name] = with(now[name], s.Path, cols[k][i])
		}
		want := number(p.Eval(now))
		if math.IsNaN(want) {
			undefined--
		}
		if math.Float64bits(got) != math.Float64bits(want) && !(math.IsNaN(got) && math.IsNaN(want)) {
			rt.Fatalf("%s, trial %d: batch gives %v, Eval %v", src, i, got, want)
		}
	}
	if undefined != 0 {
		rt.Fatalf("%s: undefined trials are counted wrongly, by %d", src, undefined)
	}
}

// Each gives all numbers of a value, as Eval does trial by trial.
func TestPropertyBatchEach(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sort := rapid.SampledFrom([]string{"$P", "$K", "$L", "$K"}).Draw(rt, "sort")
		src := draw(rt, sort, 3)
		e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
		if diags.HasErrors() {
			rt.Fatalf("%s: %v", src, diags)
		}
		p, _ := compile.Expr(e, []byte(src), bench(), compile.Any("the value"))
		if p == nil {
			return
		}
		env := shaken(rt)
		var slots []formula.Slot
		for i, r := range p.Refs() {
			for _, s := range places(env[r.String()], i, nil) {
				clash := slices.ContainsFunc(slots, func(o formula.Slot) bool { return overlap(s, o) })
				if !clash && rapid.IntRange(0, 2).Draw(rt, "vary") > 0 {
					slots = append(slots, s)
				}
			}
		}
		b, err := p.Each(env, slots)
		if err != nil {
			rt.Fatalf("%s: %v", src, err)
		}
		nominal := p.Eval(env)
		cols, out := make([][]float64, len(slots)), make([][]float64, len(b.Leaves()))
		for k := range cols {
			cols[k] = []float64{awkward(rt, "first"), awkward(rt, "second")}
		}
		for j := range out {
			out[j] = make([]float64, 2)
		}
		b.RunEach(cols, out)
		for i := range 2 {
			now := maps.Clone(env)
			for k, s := range slots {
				name := p.Refs()[s.Ref].String()
				now[name] = with(now[name], s.Path, cols[k][i])
			}
			v := p.Eval(now)
			same := v.State == nominal.State && slices.Equal(v.Keys, nominal.Keys) && slices.Equal(v.At, nominal.At)
			for j, path := range b.Leaves() {
				want := math.NaN()
				switch {
				case len(path) == 0:
					want = number(v)
				case same && v.State == value.Present:
					want = number(v.Elems[path[0]])
				}
				if got := out[j][i]; math.Float64bits(got) != math.Float64bits(want) && !(math.IsNaN(got) && math.IsNaN(want)) {
					rt.Fatalf("%s, trial %d, number %v: batch gives %v, Eval %v", src, i, path, got, want)
				}
			}
		}
	})
}

// The result is what Eval gives also where what changes lies deep, is not
// finite, or does not matter.
func TestBatch(t *testing.T) {
	slot := func(ref int, path ...int) formula.Slot { return formula.Slot{Ref: ref, Path: path} }
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		src   string
		slots []formula.Slot
		cols  [][]float64
		want  []float64
	}{
		{"given.span / 2", []formula.Slot{slot(0)}, [][]float64{{1, nan, inf}}, []float64{0.5, nan, nan}},
		{"mm(1) * (1 / (given.span / mm(1)))", []formula.Slot{slot(0)}, [][]float64{{2, inf, 0}}, []float64{0.5, nan, nan}},
		{"given.span > mm(2) ? mm(1) / (given.pads / mm(1)) : mm(7)", []formula.Slot{slot(0), slot(1)}, [][]float64{{1, 3, 3}, {0, 0, 4}}, []float64{7, nan, 0.25}},
		{"given.span > mm(2) && given.pads > mm(1)", []formula.Slot{slot(0), slot(1)}, [][]float64{{1, 3, 3, nan}, {nan, 0, 4, 4}}, []float64{0, 0, 1, nan}},
		{"given.span > mm(2) || given.pads > mm(1)", []formula.Slot{slot(0), slot(1)}, [][]float64{{1, 3, 1, nan}, {nan, nan, 4, 4}}, []float64{nan, 1, 1, nan}},
		{"spread(reading.takes)", []formula.Slot{slot(0, 0), slot(0, 1), slot(0, 2)}, [][]float64{{1, 2}, {5, nan}, {3, 3}}, []float64{4, nan}},
		{"spread(reading.takes)", []formula.Slot{slot(0)}, [][]float64{{24}}, []float64{25.000 - 24.998 + 24.998 - 24.996}},
		{"mean(reading.takes)", []formula.Slot{slot(0)}, [][]float64{{24, nan}}, []float64{24, nan}},
		{"runout(reading.round)", []formula.Slot{slot(0, 0), slot(0, 2)}, [][]float64{{1, 2}, {0.5, 7}}, []float64{1 - 0.002, 7 - 0.002}},
		{"reading.top[2].full - reading.top[1].half", []formula.Slot{slot(0, 2, 1), slot(0, 1, 0)}, [][]float64{{8}, {5}}, []float64{3}},
		{"result.moves[where_greatest(result.moves)]", []formula.Slot{slot(0, 0), slot(0, 1)}, [][]float64{{0, 9}, {6, 7}}, []float64{6, 9}},
		{"greatest(result.form - um(1))", []formula.Slot{slot(0, 1)}, [][]float64{{5, -9}}, []float64{4.999, -0.002}},
		{"abs(reading.takes)", []formula.Slot{slot(0)}, [][]float64{{-24}}, []float64{24}},
		{"reading.warm - reading.cold > kelvin(1)", []formula.Slot{slot(0)}, [][]float64{{21, 22}}, []float64{0, 1}},
		{"given.pads", nil, nil, []float64{220, 220}},
	}
	for _, tt := range tests {
		p := must(t, tt.src, bench(), compile.Any(""))
		b, err := p.Batch(measured(), tt.slots)
		if err != nil {
			t.Errorf("%s: %v", tt.src, err)
			continue
		}
		got := make([]float64, len(tt.want))
		lost := b.Run(tt.cols, got)
		for i, want := range tt.want {
			if math.IsNaN(want) {
				lost--
			}
			same := math.Abs(got[i]-want) <= 1e-12*math.Abs(want) || math.IsNaN(got[i]) && math.IsNaN(want)
			if !same {
				t.Errorf("%s, trial %d = %v, want %v", tt.src, i, got[i], want)
			}
		}
		if lost != 0 {
			t.Errorf("%s: undefined trials are counted wrongly, by %d", tt.src, lost)
		}
	}
}

// A batch that cannot be says why.
func TestBatchRefuses(t *testing.T) {
	tests := []struct {
		src  string
		slot formula.Slot
		says string
	}{
		{"given.span", formula.Slot{Ref: 1}, "no input 1"},
		{"given.span", formula.Slot{Ref: 0, Path: []int{0}}, "given.span has no number at [0]"},
		{"spread(reading.takes)", formula.Slot{Ref: 0, Path: []int{3}}, "no number at [3]"},
		{"spread(reading.takes)", formula.Slot{Ref: 0, Path: []int{-1}}, "no number"},
		{"least(result.moves)", formula.Slot{Ref: 0}, "no number"},
		{`given.place == "bay 2" ? mm(1) : mm(2)`, formula.Slot{Ref: 0}, "no number"},
		{"given.place", formula.Slot{}, "gives numbers or truths"},
		{"result.form", formula.Slot{Ref: 0, Path: []int{0}}, "gives numbers or truths"},
	}
	for _, tt := range tests {
		p := must(t, tt.src, bench(), compile.Any(""))
		slots := []formula.Slot{tt.slot}
		if tt.src == "given.place" {
			slots = nil
		}
		if _, err := p.Batch(measured(), slots); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s with %v: error %v, want … %s …", tt.src, tt.slot, err, tt.says)
		}
	}
}

// BenchmarkBatch evaluates formulas for a thousand trials; the time is that of
// all of them.
func BenchmarkBatch(b *testing.B) {
	plain := compile.Symbol{Type: ratio}
	scope := &compile.Scope{Names: map[formula.Space]map[string]compile.Symbol{
		formula.Result: {"taper": plain}, formula.Given: {"centres": plain, "span": plain},
		formula.Reading: {"round": {Type: value.TurnType(ratio)}, "bar": {Type: value.ProfileType(ratio)}},
	}}
	for _, src := range []string{
		"result.taper / 2 * given.centres / given.span",
		"result.taper > 1 ? abs(result.taper) : given.centres / given.span",
		"least([result.taper, given.centres, given.span])",
		"runout(reading.round)",
		`straightness(reading.bar, "end_points")`,
	} {
		e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
		if diags.HasErrors() {
			b.Fatal(diags)
		}
		p, diags := compile.Expr(e, []byte(src), scope, compile.Number(quantity.Ratio, ""))
		if p == nil {
			b.Fatal(diags)
		}
		b.Run(strings.ReplaceAll(src, " ", ""), func(b *testing.B) { benchBatch(b, p) })
	}
}

// octet is an environment with eight readings round a turn and along a bar.
type octet struct{ trio }

func (o octet) Value(r formula.Ref) value.Value {
	at := []float64{0, 1, 2, 3, 4, 5, 6, 7}
	switch r.Name {
	case "round":
		return value.TurnOf(at, value.Nums(at...))
	case "bar":
		return value.ProfileOf(at, value.Nums(at...))
	}
	return o.trio.Value(r)
}

func benchBatch(b *testing.B, p *formula.Program) {
	var slots []formula.Slot
	for i, r := range p.Refs() {
		slots = append(slots, places(octet{}.Value(r), i, nil)...)
	}
	batch, err := p.Batch(octet{}, slots)
	if err != nil {
		b.Fatal(err)
	}
	cols := make([][]float64, len(slots))
	for k := range cols {
		for i := range 1000 {
			cols[k] = append(cols[k], 0.5+float64((i*7919+k*104729)%1000)/1000)
		}
	}
	out := make([]float64, 1000)
	b.ReportAllocs()
	for b.Loop() {
		if batch.Run(cols, out) > 0 {
			b.Fatal("undefined")
		}
	}
}
