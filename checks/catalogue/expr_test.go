package catalogue

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
	"text/scanner"

	"waywright/checks/quantity"
	"waywright/checks/value"
)

// typed is a value with its type, as the small evaluator below passes them.
type typed struct {
	t value.Type
	v value.Value
}

// evaluate works out an expression of the procedure language as far as the
// examples of this package need it: calls, numbers, texts, lists, objects,
// x.key, minus, and the products of numbers. It knows no names.
func evaluate(src string) (out typed, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%s: %v", src, r)
		}
	}()
	p := &parser{}
	p.s.Init(strings.NewReader(src))
	p.s.Mode = scanner.ScanIdents | scanner.ScanFloats | scanner.ScanInts | scanner.ScanStrings
	p.next()
	out = p.sum()
	if p.tok != scanner.EOF {
		panic("expected the end, found " + p.s.TokenText())
	}
	return out, nil
}

type parser struct {
	s   scanner.Scanner
	tok rune
}

func (p *parser) next() { p.tok = p.s.Scan() }

func (p *parser) expect(r rune) {
	if p.tok != r {
		panic(fmt.Sprintf("expected %q, found %s", r, p.s.TokenText()))
	}
	p.next()
}

func (p *parser) sum() typed {
	x := p.product()
	for p.tok == '+' || p.tok == '-' {
		sign := 1.0
		if p.tok == '-' {
			sign = -1
		}
		p.next()
		y := p.product()
		if !x.t.Equal(y.t) {
			panic(fmt.Sprintf("%s and %s are not added", x.t, y.t))
		}
		x.v.Num += sign * y.v.Num
	}
	return x
}

func (p *parser) product() typed {
	x := p.unary()
	for p.tok == '*' || p.tok == '/' {
		over := p.tok == '/'
		p.next()
		y := p.unary()
		if over {
			x = typed{value.NumberType(x.t.Dim.Div(y.t.Dim)), value.Num(x.v.Num / y.v.Num)}
		} else {
			x = typed{value.NumberType(x.t.Dim.Mul(y.t.Dim)), value.Num(x.v.Num * y.v.Num)}
		}
	}
	return x
}

func (p *parser) unary() typed {
	if p.tok == '-' {
		p.next()
		x := p.unary()
		x.v.Num = -x.v.Num
		return x
	}
	x := p.primary()
	for p.tok == '.' {
		p.next()
		name := p.s.TokenText()
		t, ok := x.t.Part(name)
		if !ok {
			t = *x.t.Elem
		}
		x = typed{t, x.v.Index(name)}
		p.next()
	}
	return x
}

func (p *parser) primary() typed {
	text := p.s.TokenText()
	switch tok := p.tok; tok {
	case scanner.Int, scanner.Float:
		p.next()
		n, err := strconv.ParseFloat(text, 64)
		if err != nil {
			panic(err)
		}
		return typed{value.Type{Kind: value.Number, Count: tok == scanner.Int}, value.Num(n)}
	case scanner.String:
		p.next()
		w, err := strconv.Unquote(text)
		if err != nil {
			panic(err)
		}
		return typed{value.TextType(w), value.Str(w)}
	case '(':
		p.next()
		x := p.sum()
		p.expect(')')
		return x
	case '[':
		p.next()
		return listOf(p.elements(']'))
	case '{':
		p.next()
		return p.object()
	case scanner.Ident:
		p.next()
		p.expect('(')
		return call(text, p.elements(')'))
	}
	panic("did not expect " + text)
}

func (p *parser) elements(end rune) (out []typed) {
	for p.tok != end {
		out = append(out, p.sum())
		if p.tok == ',' {
			p.next()
		}
	}
	p.expect(end)
	return out
}

func (p *parser) object() typed {
	var keys []string
	var elems []typed
	for p.tok != '}' {
		keys = append(keys, p.s.TokenText())
		p.next()
		p.expect('=')
		elems = append(elems, p.sum())
		if p.tok == ',' {
			p.next()
		}
	}
	p.expect('}')
	l := listOf(elems)
	return typed{value.KeyedType(value.Key{Words: keys}, *l.t.Elem), value.KeyedOf(keys, l.v.Elems)}
}

func listOf(elems []typed) typed {
	t, vs := elems[0].t, []value.Value(nil)
	for _, e := range elems {
		j, ok := t.Join(e.t)
		if !ok {
			panic(fmt.Sprintf("%s and %s in one list", t, e.t))
		}
		t, vs = j, append(vs, e.v)
	}
	return typed{value.ListType(t), value.ListOf(vs...)}
}

func call(name string, args []typed) typed {
	f, ok := Lookup(name)
	if !ok {
		panic("no function " + name)
	}
	var ts []value.Type
	var vs []value.Value
	for _, a := range args {
		ts, vs = append(ts, a.t), append(vs, a.v)
	}
	t, err := f.Check(ts)
	if err != nil {
		panic(fmt.Sprintf("%s, argument %d: %s", name, err.Arg, err.What))
	}
	return typed{t, f.Eval(vs)}
}

// readWant reads what an example says it gives: "0.018 mm", "5", "20 °C", or a
// zone "-0.020 mm to 0.020 mm". The tolerance is half of the last figure.
func readWant(t *testing.T, want string) (x []float64, tol float64, u quantity.Unit) {
	t.Helper()
	for _, part := range strings.Split(want, " to ") {
		if part == "∞" {
			continue
		}
		figures, unit, _ := strings.Cut(part, " ")
		if unit == "" {
			unit = "1"
		}
		var err error
		if u, err = quantity.Lookup(unit); err != nil {
			t.Fatalf("example gives %q: %v", want, err)
		}
		n, err := strconv.ParseFloat(strings.Replace(figures, "−", "-", 1), 64)
		if err != nil {
			t.Fatalf("example gives %q: %v", want, err)
		}
		half := 0.5
		if _, after, ok := strings.Cut(figures, "."); ok {
			for range after {
				half /= 10
			}
		}
		x, tol = append(x, u.Base(n)), half*u.Factor
	}
	return x, tol, u
}
