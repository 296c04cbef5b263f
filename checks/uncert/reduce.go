package uncert

import (
	"math"
	"slices"
	"strings"
)

// Way is a way to make an uncertainty smaller.
type Way uint8

// The ways. From and To of a [Remedy] say how far: takes of a reading, a
// standard deviation, a step, a limit of error, a standard uncertainty.
const (
	MoreTakes     Way = iota + 1 // To takes of each reading in the place of From
	Steadier                     // takes that scatter by To in the place of From, where how they scatter is itself looked at
	FinerStep                    // a smallest step of To
	OneSetting                   // all readings of the instrument under one zero; From is how many zeros there are
	TurnedRound                  // read both ways round, so that the zero drops out of the mean
	BetterZero                   // a zero that is right to To
	SmallerError                 // an instrument right to To, or a certificate that says as much
	StatedError                  // the limit of indication error stated, To at the most: its step stands for it now
	CloserReading                // readings at one place of the scale; From is how far they lie apart
	LessDrift                    // nothing that moves between the first reading and the last
	BetterKnown                  // a given or a temperature with a standard uncertainty of To
)

func (w Way) String() string {
	return [...]string{"", "more takes", "steadier takes", "finer step", "one setting", "turned round", "better zero", "smaller error",
		"stated error", "closer readings", "less drift", "better known"}[w]
}

// Counts tells whether From and To of such a remedy are counts.
func (w Way) Counts() bool { return w == MoreTakes || w == OneSetting }

// Outcome is what a result would be worth.
type Outcome struct {
	U       float64 // expanded uncertainty
	Decided bool    // it passes or fails with it
}

// Remedy is one way to make the uncertainty of a result smaller, and what
// would come of it.
type Remedy struct {
	Way
	Outcome
	Line       Line // what it is against
	Instrument int  // the index of the instrument; −1 where there is none
	From, To   float64
}

// Reduction is what would make the uncertainty of a result smaller.
type Reduction struct {
	Now     Outcome
	Largest Line    // the greatest part of the budget
	Halved  Outcome // with half of the largest
	// Without is with nothing of the largest. Its U may be more than now: what
	// remains may be known so much worse that Student's factor outweighs it.
	Without Outcome
	// TakesHelp: any number of takes makes U smaller by more than a tenth.
	TakesHelp bool
	Remedies  []Remedy // against the greatest parts first
	// Needed is the largest U at which the result as it stands would be decided,
	// if all parts became smaller alike: nought where it is decided, or where
	// none would do.
	Needed float64
}

const (
	worthSaying = 0.97 // of U: a remedy that leaves more is not told
	worthALine  = 0.05 // of the variance: smaller parts are not looked at
	mostLines   = 4
	manyTakes   = 32 // times as many as there are stand for any number
)

// Reduce finds what would make the uncertainty of a result smaller, from its
// instruments, observations, sources and its sensitivities to the inputs of
// their model. Each remedy is a model of its own that try is asked about, after
// the present one, so that every number told is worked out the way the result's own was: a finer
// instrument's smaller zero, steps that more takes do not average away, and
// what still cancels are all counted.
//
// A remedy of degrees (a limit of error, a step) is told by the mildest of a
// half, a fifth and a tenth that decides the result; by a half where the result
// is decided already or none would do. Takes are told doubled, else four times
// as many. Further takes are supposed to scatter as those so far.
//
// The error is that of [New].
func Reduce(instruments []Instrument, observations []Observation, sources []Source, c []float64, try func(*Model) Outcome) (Reduction, error) {
	m, err := New(instruments, observations, sources)
	if err != nil {
		return Reduction{}, err
	}
	r := reducer{ins: instruments, obs: observations, srcs: sources, m: m, try: try}
	out := Reduction{Now: try(m)}
	budget := r.ranked(c)
	if len(budget) == 0 {
		return out, nil
	}
	r.now, r.budget = out.Now, budget
	first := budget[0]
	out.Largest = first.Line
	out.Halved, out.Without = try(m.scaled(0.5, first.at)), try(m.scaled(0, first.at))
	out.TakesHelp = r.takesHelp()
	for i, l := range budget {
		if i < mostLines && l.Share >= worthALine {
			r.against(l)
		}
	}
	out.Remedies = r.out
	if !out.Now.Decided && !slices.ContainsFunc(r.out, func(x Remedy) bool { return x.Decided }) {
		out.Needed = r.needed(out.Now.U)
	}
	return out, nil
}

// reducer is the search for remedies.
type reducer struct {
	ins    []Instrument
	obs    []Observation
	srcs   []Source
	m      *Model
	try    func(*Model) Outcome
	now    Outcome
	budget []ranked
	out    []Remedy
}

// ranked is a line of the budget, and where the model has it.
type ranked struct {
	Line
	at int
}

// ranked returns the budget, the greatest part first.
func (r *reducer) ranked(c []float64) []ranked {
	var out []ranked
	var all float64
	for i, l := range r.m.lines {
		v, _ := l.variance(c)
		if v > 0 {
			out = append(out, ranked{Line{Kind: l.kind, Source: l.name, U: l.u, Sensitivity: math.Sqrt(v) / l.u, DoF: l.dof, Share: v, On: l.through(c)}, i})
		}
		all += v
	}
	for i := range out {
		out[i].Share /= all
	}
	slices.SortStableFunc(out, func(a, b ranked) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return 0
	})
	return out
}

// scaled returns the model with some of its lines made smaller, or all where
// none is named.
func (m *Model) scaled(by float64, at ...int) *Model {
	out := *m
	out.lines = slices.Clone(m.lines)
	for i := range out.lines {
		if len(at) == 0 || slices.Contains(at, i) {
			out.lines[i].u *= by
		}
	}
	out.measure()
	return &out
}

// needed looks for the largest U that decides the result as it stands.
func (r *reducer) needed(u float64) float64 {
	if !r.try(r.m.scaled(1.0 / 64)).Decided {
		return 0
	}
	yes, no, found := 1.0/64, 1.0, 0.0
	for range 6 { // to a fifteenth
		by := math.Sqrt(yes * no)
		if o := r.try(r.m.scaled(by)); o.Decided {
			yes, found = by, o.U
		} else {
			no = by
		}
	}
	if found == 0 {
		found = u * yes
	}
	return found
}

// takesHelp tells whether any number of takes makes U smaller by more than a
// tenth.
func (r *reducer) takesHelp() bool {
	obs := slices.Clone(r.obs)
	some := false
	for _, l := range r.budget {
		if l.Kind == Takes && r.repeatable(l.On) {
			some = true
			r.moreTakes(obs, l.Line, manyTakes)
		}
	}
	if !some {
		return false
	}
	m, err := New(r.ins, obs, r.srcs)
	return err == nil && r.try(m).U < 0.9*r.now.U
}

// repeatable tells whether readings may be taken more often: not where their
// takes stand apart already, because a formula looks at them one by one.
func (r *reducer) repeatable(on []int) bool {
	return !slices.ContainsFunc(on, func(i int) bool {
		return i >= len(r.obs) || r.obs[i].Moved || r.obs[i].Apart
	})
}

// moreTakes gives readings so many times their takes. The further ones scatter
// as the line says that all do, so that its standard deviation stays.
func (r *reducer) moreTakes(obs []Observation, l Line, times int) {
	for _, i := range l.On {
		o := r.obs[i]
		n := max(1, len(o.Takes))
		var squares, mean float64
		for _, t := range o.Takes {
			mean += t / float64(n)
		}
		for _, t := range o.Takes {
			squares += (t - mean) * (t - mean)
		}
		further := n * (times - 1)
		squares += float64(further) * l.U * l.U
		obs[i].Takes = scattered(o.Value, n*times, squares)
	}
}

// scattered returns n takes with that mean and sum of squares about it.
func scattered(mean float64, n int, squares float64) []float64 {
	out := make([]float64, n)
	d := math.Sqrt(squares / float64(n-n%2))
	for i := range out {
		out[i] = mean
		if i < n-n%2 {
			out[i] += d * float64(1-2*(i%2))
		}
	}
	return out
}

// instrument is that of a line, or −1.
func (r *reducer) instrument(l Line) int {
	if len(l.On) == 0 || l.On[0] >= len(r.obs) {
		return -1
	}
	switch l.Kind {
	case Takes, Resolution, Zero, Indication:
		return r.obs[l.On[0]].Instrument
	}
	return -1
}

// against looks for remedies against a line.
func (r *reducer) against(l ranked) {
	k := r.instrument(l.Line)
	switch {
	case l.Kind == Drift:
		r.add(Remedy{Way: LessDrift, Line: l.Line, Instrument: -1, From: l.U}, r.m.scaled(0, l.at))
	case k < 0:
		r.degrees(Remedy{Way: BetterKnown, Line: l.Line, Instrument: -1, From: l.U}, func(to float64) *Model { return r.m.scaled(to/l.U, l.at) })
	case l.Kind == Takes:
		r.againstScatter(l, k)
	case l.Kind == Resolution:
		in := r.ins[k]
		r.degrees(Remedy{Way: FinerStep, Line: l.Line, Instrument: k, From: in.Resolution}, func(to float64) *Model {
			in.Resolution = to
			return r.with(k, in)
		})
	case l.Kind == Zero:
		r.againstZero(l, k)
	case l.Kind == Indication:
		r.againstError(l, k)
		if lie := r.apart(l); lie > 0 {
			m := *r.m
			m.lines = slices.Clone(m.lines)
			m.lines[l.at].reach = math.Inf(1)
			m.measure()
			r.add(Remedy{Way: CloserReading, Line: l.Line, Instrument: k, From: lie}, &m)
		}
	}
}

func (r *reducer) againstScatter(l ranked, k int) {
	if !r.repeatable(l.On) {
		r.degrees(Remedy{Way: Steadier, Line: l.Line, Instrument: k, From: l.U}, func(to float64) *Model { return r.m.scaled(to/l.U, l.at) })
		return
	}
	best := Remedy{Way: MoreTakes, Line: l.Line, Instrument: k, From: float64(max(1, len(r.obs[l.On[0]].Takes)))}
	for _, times := range []int{2, 4} {
		obs := slices.Clone(r.obs)
		r.moreTakes(obs, l.Line, times)
		m, err := New(r.ins, obs, r.srcs)
		if err != nil {
			return
		}
		x := best
		x.To, x.Outcome = float64(times)*x.From, r.try(m)
		if best.To == 0 || x.Decided && !best.Decided && !r.now.Decided {
			best = x
		}
	}
	r.keep(best)
}

func (r *reducer) againstZero(l ranked, k int) {
	in := r.ins[k]
	zeros := 0
	for _, b := range r.budget {
		if b.Kind == Zero && r.instrument(b.Line) == k {
			zeros++
		}
	}
	if zeros > 1 {
		obs := slices.Clone(r.obs)
		for i := range obs {
			if obs[i].Instrument == k {
				obs[i].Setting = obs[l.On[0]].Setting
			}
		}
		if m, err := New(r.ins, obs, r.srcs); err == nil {
			r.add(Remedy{Way: OneSetting, Line: l.Line, Instrument: k, From: float64(zeros)}, m)
		}
	}
	if strings.Contains(strings.ToLower(in.Kind), "level") {
		still := in
		still.Zero, still.HasZero = 0, true
		r.add(Remedy{Way: TurnedRound, Line: l.Line, Instrument: k}, r.with(k, still))
		return
	}
	if !in.HasZero && in.Zero == 0 {
		r.againstError(l, k) // the zero is as doubtful as any place of the scale
		return
	}
	r.degrees(Remedy{Way: BetterZero, Line: l.Line, Instrument: k, From: in.Zero}, func(to float64) *Model {
		in.Zero = to
		return r.with(k, in)
	})
}

func (r *reducer) againstError(l ranked, k int) {
	in := r.ins[k]
	x := Remedy{Way: SmallerError, Line: l.Line, Instrument: k, From: in.Error}
	switch {
	case in.certified():
		x.From = in.CertU
	case !in.HasError && in.Error == 0:
		x.Way, x.From = StatedError, in.Resolution
	}
	r.degrees(x, func(to float64) *Model {
		if in.certified() {
			in.CertU = to
		} else {
			in.Error, in.HasError = to, true
		}
		return r.with(k, in)
	})
}

// apart is how far the readings of a scale lie apart.
func (r *reducer) apart(l ranked) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range r.m.lines[l.at].parts {
		if slices.ContainsFunc(p.on, func(e coef) bool { return slices.Contains(l.On, e.input) }) {
			lo, hi = math.Min(lo, p.at), math.Max(hi, p.at)
		}
	}
	return hi - lo
}

// with returns the model with another instrument in the place of number k; nil
// where there is none.
func (r *reducer) with(k int, in Instrument) *Model {
	ins := slices.Clone(r.ins)
	ins[k] = in
	m, err := New(ins, r.obs, r.srcs)
	if err != nil {
		return nil
	}
	return m
}

// degrees adds the mildest degree of a remedy that decides, or a half.
func (r *reducer) degrees(x Remedy, model func(to float64) *Model) {
	if !(x.From > 0) || r.has(x) {
		return
	}
	best := x
	for _, part := range []float64{2, 5, 10} {
		m := model(x.From / part)
		if m == nil {
			return
		}
		y := x
		y.To, y.Outcome = x.From/part, r.try(m)
		if best.To == 0 || y.Decided && !best.Decided {
			best = y
		}
		if r.now.Decided || best.Decided {
			break
		}
	}
	r.keep(best)
}

func (r *reducer) add(x Remedy, m *Model) {
	if m == nil || r.has(x) {
		return
	}
	x.Outcome = r.try(m)
	r.keep(x)
}

// has tells whether that was found already, against a greater line.
func (r *reducer) has(x Remedy) bool {
	return slices.ContainsFunc(r.out, func(o Remedy) bool {
		return o.Way == x.Way && o.Instrument == x.Instrument && (x.Instrument >= 0 || o.Line.Source == x.Line.Source)
	})
}

// keep keeps what is worth saying.
func (r *reducer) keep(x Remedy) {
	if x.U < worthSaying*r.now.U {
		r.out = append(r.out, x)
	}
}
