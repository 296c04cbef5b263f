package engine_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
)

// fewTrials are enough where hundreds of runs are played and no figure is
// looked at closely.
const fewTrials = 2000

// shipped are the procedures of the library that were read.
var shipped sync.Map

// fromLibrary reads a procedure that ships with the program.
func fromLibrary(t testing.TB, name string) *engine.Plan {
	t.Helper()
	if p, ok := shipped.Load(name); ok {
		return p.(*engine.Plan)
	}
	src, ok := library.Source(name)
	if !ok {
		t.Fatalf("the library has no %s", name)
	}
	l, diags := hclfile.Parse(src)
	if diags.HasErrors() {
		t.Fatalf("%s: %v", name, diags)
	}
	p := engine.NewPlan(l.Procedure)
	shipped.Store(name, p)
	return p
}

// machine is a machine that somebody works on. Lengths in mm.
type machine interface {
	// value answers a given or a reading.
	value(name string) (text string)
	// correct carries a correction out by an amount, and tells what the
	// indicator shows.
	correct(name string, attempt int, amount float64) (shown string)
	// needle is what the indicator of a correction does when it is pushed the
	// positive way.
	needle(correction string) string
	// way checks what is advised at a gate.
	way(q engine.Question) error
}

// person works a run to its end by what the engine asks, the first way on at
// every gate.
type person struct {
	m         machine
	again     bool // goes on moving when told at once that a move was amiss
	questions int
	attempts  map[string]int
	said      map[string][]string // words of each correction
}

func (p *person) work(r *enginetest.Runner) error {
	p.attempts, p.said = map[string]int{}, map[string][]string{}
	for p.questions = 0; p.questions < 1000; p.questions++ {
		q := r.Next()
		if q.Kind == engine.End {
			return nil
		}
		in, err := p.answer(r, q)
		if err != nil {
			return err
		}
		notices, refusal, err := r.Say(in)
		if refusal != nil && refusal.Code == "copied" { // rare, but it happens
			in.Reason = "each was read afresh"
			notices, refusal, err = r.Say(in)
		}
		if err != nil || refusal != nil {
			return fmt.Errorf("at %s, %+v: %+v %v", q.Name, in, refusal, err)
		}
		for _, n := range notices {
			if n.Kind == engine.Answers {
				c := n.Response.Correction.Name
				p.said[c] = append(p.said[c], string(n.Response.Finding.Word))
			}
		}
	}
	return fmt.Errorf("no end after %d questions", p.questions)
}

func (p *person) answer(r *enginetest.Runner, q engine.Question) (engine.Input, error) {
	in := engine.Input{Name: q.Name, Text: "yes"}
	switch q.Kind {
	case engine.AskGrade:
		in.Text = "normal"
	case engine.AskInstrument:
		in.Text = "none"
	case engine.AskNudge:
		in.Text = "plus"
	case engine.AskGiven, engine.AskReading:
		in.Text = p.m.value(q.Name)
	case engine.AskWait:
		r.Clock = q.Wait.Over
		in.Text = "over"
	case engine.AskWay:
		in.Text, in.Reason = q.Ways[0].Name, "as advised"
		return in, p.m.way(q)
	case engine.AskDone:
		if len(q.Ways) > 0 {
			p.attempts[q.Name]++
			p.m.correct(q.Name, p.attempts[q.Name], q.Ways[0].Advice.Amount)
		}
	case engine.AskMoved:
		c := q.Ways[0].Advice.Correction.Name
		p.attempts[c]++
		in.Text = p.m.correct(c, p.attempts[c], q.Ways[0].Advice.Amount)
	case engine.AskMove:
		c := q.Move.Correction.Name
		switch {
		case q.Move.Nudge:
			in.Text = p.m.needle(c)
		case p.again:
			in.Text = p.m.correct(c, 0, q.Move.Left)
		default:
			in.Text = "carry_on"
		}
	case engine.AskSign:
		in.Text = "name of the " + q.Name
	}
	return in, nil
}

// lathe is a tailstock out of line: set over by the offset, towards the
// operator positive, the far collar comes out smaller by twice as much, from
// the collars to the centres (the geometry of two collars between centres).
type lathe struct {
	rng                   *rand.Rand
	offset, centres, span float64
	gain                  float64 // of what the barrel moved, what reaches the cut
	diameter              float64
	zero                  float64 // of the micrometer
	wrongFirst            bool    // moves the wrong way at the first attempt
	reversed              bool    // the needle goes minus for plus
	knows                 bool    // that it is reversed
}

func newLathe(rng *rand.Rand) *lathe {
	l := &lathe{rng: rng, offset: 0.6*rng.Float64() - 0.3, gain: 0.4 + 1.2*rng.Float64(), centres: 200 + 400*rng.Float64(), diameter: 18 + 10*rng.Float64(),
		zero: 0.004 * (2*rng.Float64() - 1)}
	l.span = l.centres * (0.5 + 0.4*rng.Float64())
	return l
}

func (l *lathe) taper() float64 { return -2 * l.offset * l.span / l.centres }

func (l *lathe) value(name string) string {
	switch {
	case name == "centres":
		return fmt.Sprintf("%.6f", l.centres)
	case name == "span":
		return fmt.Sprintf("%.6f", l.span)
	}
	d := l.diameter + l.zero + 0.0005*l.rng.NormFloat64()
	if strings.HasPrefix(name, "diameter.tailstock_end") {
		d += l.taper()
	}
	return fmt.Sprintf("%.3f", d)
}

func (l *lathe) correct(_ string, attempt int, amount float64) string {
	l.diameter -= 0.1
	moved := amount + 0.002*l.rng.NormFloat64()
	switch {
	case l.wrongFirst && attempt == 1:
		moved = -moved
	case l.reversed && !l.knows:
		moved = -moved // until the needle shows what was asked for
	}
	l.offset += moved * l.gain
	if l.reversed {
		moved = -moved
	}
	return fmt.Sprintf("%+.2f", math.Round(moved*100)/100)
}

func (l *lathe) needle(string) string {
	if l.reversed {
		l.knows = true
		return "minus"
	}
	return "plus"
}

func (l *lathe) way(q engine.Question) error {
	ad := q.Ways[0].Advice
	if ad != nil && ad.Amount*q.Gate.Value <= 0 {
		return fmt.Errorf("the bar is %+.4f larger at the tailstock end, and %.4f %s is advised", q.Gate.Value, ad.Amount, ad.Direction)
	}
	if ad != nil && math.Abs(q.Gate.Value) > q.Gate.U && q.Gate.Value*l.taper() < 0 {
		return fmt.Errorf("the taper is %+.4f, but %+.4f was found", l.taper(), q.Gate.Value)
	}
	return nil
}

func TestTailstockComesIntoLine(t *testing.T) {
	plan := fromLibrary(t, "lathe/tailstock-by-test-cut").WithTrials(fewTrials)
	for _, tt := range []struct {
		name  string
		set   func(*lathe)
		again bool
		first string // what is said first, where the first taper is far beyond the limit
	}{
		{"as it should", func(*lathe) {}, false, ""},
		{"the wrong way first, and cut", func(l *lathe) { l.wrongFirst = true }, false, "wrong_way"},
		{"the wrong way first, put right at once", func(l *lathe) { l.wrongFirst = true }, true, ""},
		{"the needle reversed", func(l *lathe) { l.reversed = true }, false, "wrong_sign"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rounds := map[int]int{}
			for seed := range uint64(100) {
				l := newLathe(rand.New(rand.NewPCG(seed, 1)))
				tt.set(l)
				start := l.taper()
				p := &person{m: l, again: tt.again}
				r, err := enginetest.Begin(plan, engine.Begun{})
				if err == nil {
					err = p.work(r)
				}
				if err != nil {
					t.Fatalf("seed %d, gain %.2f: %v (said %v)", seed, l.gain, err, p.said)
				}
				if o := r.State().Outcome(); o != engine.Accepted {
					t.Errorf("seed %d, gain %.2f, taper %.3f: %s, with %v", seed, l.gain, start, o, p.said)
				}
				limit := 0.020 * l.span / 300
				if math.Abs(l.taper()) > 1.2*limit {
					t.Errorf("seed %d: accepted with a taper of %.4f where %.4f is allowed", seed, l.taper(), limit)
				}
				if words := p.said["set_over"]; tt.first != "" && math.Abs(start) > 0.1 && (len(words) == 0 || words[0] != tt.first) {
					t.Errorf("seed %d, gain %.2f, taper %.3f: said %v, want %s first", seed, l.gain, start, words, tt.first)
				}
				rounds[p.attempts["set_over"]]++
			}
			t.Logf("attempts: %v", rounds)
		})
	}
}

// head is a headstock out of line in both planes: what its axis rises and
// points to the operator in 300 mm. Turning it on the bed drops it a little,
// and packing it turns it a little. Lengths in µm.
type head struct {
	rng            *rand.Rand
	level, upright float64
	bar            float64 // run-out of the bar
	gain           float64
	near, span     float64 // mm
	pads           float64 // mm
	wrongFirst     bool
	reversed       bool // the needle that shows how far the nose end is turned
	knows          bool
	sag            func() float64
}

func newHead(rng *rand.Rand) *head {
	return &head{rng: rng, level: 120*rng.Float64() - 60, upright: 120*rng.Float64() - 60, bar: 20*rng.Float64() - 10,
		gain: 0.6 + 0.8*rng.Float64(), near: 25, span: 250, pads: 220}
}

func (h *head) value(name string) string {
	switch name {
	case "near":
		return "25"
	case "span":
		return "250"
	case "bar_diameter":
		return "30"
	case "pads":
		return "220"
	case "radius", "twist", "pull":
		return "offered"
	case "axis_height":
		return "125"
	}
	v := 0.3 * h.rng.NormFloat64()
	front := strings.HasPrefix(name, "front")
	if strings.Contains(name, ".far.") {
		if front {
			v += h.level * h.span / 300
		} else {
			v += h.upright*h.span/300 - h.sag()
		}
	}
	sign := 1.0
	if strings.Contains(name, ".180") {
		sign = -sign
	}
	if strings.Contains(name, ".turned.") {
		sign = -sign
	}
	return fmt.Sprintf("%.1f um", v+sign*h.bar)
}

func (h *head) correct(name string, attempt int, amount float64) string {
	amount *= 1000
	moved := amount
	switch {
	case name == "clean":
		return ""
	case name == "tilt":
		h.upright += moved * h.gain * 300 / h.pads
		h.level += 2*h.rng.Float64() - 1
		return ""
	case h.wrongFirst && attempt == 1, h.reversed && !h.knows:
		moved = -moved
	}
	h.level += moved * h.gain * 300 / h.pads
	h.upright -= 4 * h.rng.Float64()
	if h.reversed {
		moved = -moved
	}
	return fmt.Sprintf("%+.0f um", moved)
}

func (h *head) needle(string) string {
	if h.reversed {
		h.knows = true
		return "minus"
	}
	return "plus"
}

func (h *head) way(q engine.Question) error {
	ad := q.Ways[0].Advice
	if ad == nil || !ad.HasAmount {
		return nil
	}
	want := 1.0
	if (q.Gate.Lo+q.Gate.Hi)/2 < q.Gate.Value {
		want = -1
	}
	if ad.Amount*want <= 0 {
		return fmt.Errorf("%s stands at %.4f, and %.4f %s is advised", q.Gate.Name, q.Gate.Value, ad.Amount, ad.Direction)
	}
	return nil
}

func TestHeadstockComesIntoLine(t *testing.T) {
	plan := fromLibrary(t, "lathe/headstock-align").WithTrials(fewTrials)
	for _, tt := range []struct {
		name  string
		set   func(*head)
		again bool
	}{
		{"as it should", func(*head) {}, false},
		{"the wrong way first", func(h *head) { h.wrongFirst = true }, false},
		{"the wrong way first, put right at once", func(h *head) { h.wrongFirst = true }, true},
		{"the needle reversed", func(h *head) { h.reversed = true }, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			turns, tilts := map[int]int{}, map[int]int{}
			for seed := range uint64(12) {
				h := newHead(rand.New(rand.NewPCG(seed, 2)))
				tt.set(h)
				start := *h
				p := &person{m: h, again: tt.again}
				r, err := enginetest.Begin(plan, engine.Begun{Accepted: beforeHeadstock})
				if err != nil {
					t.Fatal(err)
				}
				h.sag = func() float64 {
					for _, res := range r.State().Results() {
						if res.Name == "sag" {
							return res.Value.Num * 1000
						}
					}
					return 0
				}
				if err := p.work(r); err != nil {
					t.Fatalf("seed %d, gain %.2f: %v (said %v)", seed, h.gain, err, p.said)
				}
				if o := r.State().Outcome(); o != engine.Accepted {
					t.Errorf("seed %d, gain %.2f, level %.1f, upright %.1f: %s, with %v", seed, h.gain, start.level, start.upright, o, p.said)
					continue
				}
				if h.level < -1 || h.level > 16 || h.upright < -1 || h.upright > 21 {
					t.Errorf("seed %d: accepted with %.1f in the level plane, where 0 to 15 is allowed, and %.1f in the upright, where 0 to 20 is", seed, h.level, h.upright)
				}
				turns[p.attempts["turn"]]++
				tilts[p.attempts["tilt"]]++
			}
			t.Logf("turned: %v, tilted: %v", turns, tilts)
		})
	}
}
