package checks

import "math"

// Margin says how well the distance of a value from a limit is known. A limit
// that is itself worked out from readings (a tolerance scaled by a measured
// length) carries their uncertainty too: then U is that of the difference
// limit − value, with the sources they share counted once. Against a fixed
// limit it is that of the value.
type Margin struct {
	U   float64 // standard uncertainty, in the unit of the value; 0 is exact
	DoF float64 // degrees of freedom; 0 stands for +Inf
}

// Request asks for a decision on one value.
type Request struct {
	Value  float64
	Lo, Hi float64 // limits, which themselves conform; −Inf and +Inf where there is none
	AtLo   Margin  // of Value − Lo
	AtHi   Margin  // of Hi − Value
	Rule   Rule    // NoRule is taken as Guarded

	// Drawn, where it is given, has the probabilities that drawing errors gave;
	// they stand in the place of Student's distribution. For a value that cannot
	// be negative they are not used, since they are about readings that are too
	// large already.
	Drawn *Drawn

	// NonNegative: the value cannot be below nought, and errors make it larger by
	// Bias on average (measure rule 15): a mean of drawn trials less Value. AtLo.U
	// and AtHi.U are then the larger of the linear one and that of the trials.
	// That such a value may be no more than noise is for the caller to say.
	NonNegative bool
	Bias        float64

	// Again: the readings are pooled with further ones that were taken because
	// the first could not tell (measure rule 16).
	Again bool
}

// Bound says from which side a probability is known.
type Bound int8

// The bounds.
const (
	Exact   Bound = iota
	AtLeast       // it may be more
	AtMost        // it may be less
)

// Drawn is how probable it is that the true value lies beyond each limit: the
// shares of trials there, those without a result among them.
type Drawn struct{ Below, Above float64 }

// Within returns the request for a value against fixed limits, where both
// margins are known as well as the value.
func Within(value, lo, hi, u, dof float64, rule Rule) Request {
	m := Margin{U: u, DoF: dof}
	return Request{Value: value, Lo: lo, Hi: hi, AtLo: m, AtHi: m, Rule: rule}
}

// Side names a limit.
type Side int8

// The sides.
const (
	Lower   Side = -1
	NoLimit Side = 0
	Upper   Side = 1
)

// Decision is the answer to a Request.
type Decision struct {
	Verdict Verdict // Pass, Fail or Undecided
	Rule    Rule    // the rule that was used

	P      float64 // probability that the true value conforms
	PBound Bound   // AtLeast or AtMost for a value that cannot be negative (measure rule 15)
	Risk   float64 // of the verdict being wrong, at most: 1 − P of a pass, P of a fail; 0 when undecided

	Side   Side    // the limit that is nearer, or further exceeded
	Margin float64 // distance from that limit, plus is inside; +Inf without limits

	// TooCoarse is true under Simple when the standard uncertainty is above an
	// eighth of the limit, or of half the zone between two: the verdict then
	// says little.
	TooCoarse bool
}

// Level returns the probability of conformity from which a rule passes a
// value, and that down to which it fails it. For Simple both are a half,
// which for one limit is what it does.
func Level(r Rule) (pass, fail float64) {
	switch r {
	case Simple:
		return 0.5, 0.5
	case Strict:
		// The older rule of a guard band of 2 u: Φ(2) = 0.977.
		return 0.977, 0.023
	}
	return 0.95, 0.05
}

// Guard returns the least distance from a single limit with which a value
// passes: 1.645 u under Guarded and 2.0 u under Strict when u is well known,
// more with few degrees of freedom, nothing under Simple.
//
// Source: JCGM 106:2012, 8.3.2, with Student's t in place of the normal
// distribution where u has few degrees of freedom.
func Guard(r Rule, u, dof float64) float64 {
	if r == Simple || u == 0 {
		return 0
	}
	pass, _ := Level(r)
	return guard(r, pass, Margin{U: u, DoF: dof})
}

func guard(r Rule, pass float64, m Margin) float64 {
	if r == Simple || m.U == 0 {
		return 0
	}
	return TQuantile(pass, m.DoF) * m.U
}

// Decide judges a value against its limits by the probability that the true
// value conforms.
//
// With one limit that is T(margin/u), T being Student's distribution; with
// two T((Hi − Value)/u) − T((Lo − Value)/u). With a u of 0 values are plainly
// compared and P is 1 or 0. Where the two margins have different u, each term
// has its own; the sum stays exact when they share sources, since no value
// lies beyond both limits.
//
// A value that cannot be negative reads too large. It passes as it was read,
// and fails only where it would without twice its bias; so its P is a bound,
// at least that for a value inside and at most that for one outside. Nought is
// no limit for it: it cannot be beyond. Simple judges it plainly as read.
//
// A value within its limits is never failed, however poorly it is known: it
// is undecided then. A request with a NaN in it is undecided with a P of NaN.
//
// Source: JCGM 106:2012, 7.3, 7.4 and 8.3.2 (measure rules 11 to 16).
func Decide(q Request) Decision {
	if q.Rule == NoRule {
		q.Rule = Guarded
	}
	read, worst, best := q.plain(), q.pessimistic(), q.optimistic()
	d := Decision{Verdict: Undecided, Rule: q.Rule, P: worst.conforming()}
	d.Side, d.Margin = read.nearest()
	if math.IsNaN(d.P) {
		return d
	}
	inside := read.inside()
	if q.bias() > 0 && d.Side != NoLimit {
		d.PBound = AtLeast
		if !inside {
			d.P, d.PBound = best.conforming(), AtMost
		}
	}
	pass, fail := q.level()
	switch {
	case q.Rule == Simple && inside, q.Rule != Simple && d.PBound != AtMost && d.P >= pass:
		d.Verdict, d.Risk = Pass, 1-d.P
	case q.Rule == Simple, d.PBound != AtLeast && !best.inside() && d.P <= fail:
		d.Verdict, d.Risk = Fail, d.P
	}
	d.TooCoarse = q.Rule == Simple && read.tooCoarse()
	return d
}

// level is that of the rule. Readings that were taken again because the first
// could not tell are judged like strict ones: each look more is another chance
// to pass what should not (measure rule 16).
func (q Request) level() (pass, fail float64) {
	if q.Again && q.Rule == Guarded {
		return Level(Strict)
	}
	return Level(q.Rule)
}

// Guard is the least margin that passes at one limit, when only that one
// matters.
func (q Request) Guard(s Side) float64 {
	if q.Rule == NoRule {
		q.Rule = Guarded
	}
	return q.guard(s)
}

func (q Request) guard(s Side) float64 {
	pass, _ := q.level()
	g := guard(q.Rule, pass, q.at(s))
	if s == Lower && q.Rule != Simple {
		g += q.bias() * 2
	}
	return g
}

// plain returns the request with the limits that count for a value as it was
// read: nought is none for one that cannot be negative.
func (q Request) plain() Request {
	if q.NonNegative {
		q.Drawn = nil
		if q.Lo <= 0 {
			q.Lo = math.Inf(-1)
		}
	}
	return q
}

// pessimistic returns the plain request whose P is the least that it may be:
// towards an upper limit a value counts as it was read, towards a lower one
// without twice its bias, which is as if the limit lay higher.
func (q Request) pessimistic() Request {
	p := q.plain()
	p.Lo += 2 * q.bias()
	return p
}

// optimistic returns the plain request whose P is the greatest that it may be.
func (q Request) optimistic() Request {
	p := q.plain()
	p.Hi += 2 * q.bias()
	return p
}

func (q Request) bias() float64 {
	if !q.NonNegative || q.Bias < 0 {
		return 0
	}
	return q.Bias
}

func (q Request) inside() bool { return q.Lo <= q.Value && q.Value <= q.Hi }

// conforming returns P(Lo ≤ true value ≤ Hi).
func (q Request) conforming() float64 {
	if q.Drawn != nil {
		return q.drawn()
	}
	above := q.beyond(q.Hi-q.Value, q.AtHi)
	below := q.beyond(q.Value-q.Lo, q.AtLo)
	if above > 0.5 || below > 0.5 {
		// 1 − above − below would lose the digits of a small p.
		if above > below {
			return math.Max(0, q.within(q.Hi-q.Value, q.AtHi)-below)
		}
		return math.Max(0, q.within(q.Value-q.Lo, q.AtLo)-above)
	}
	return math.Max(0, 1-above-below)
}

// drawn returns P by the trials. What they have beyond a limit that is not
// there counts for nothing.
func (q Request) drawn() float64 {
	if math.IsNaN(q.Value) || math.IsNaN(q.Lo) || math.IsNaN(q.Hi) {
		return math.NaN()
	}
	p := 1.0
	if !math.IsInf(q.Lo, -1) {
		p -= q.Drawn.Below
	}
	if !math.IsInf(q.Hi, 1) {
		p -= q.Drawn.Above
	}
	return math.Min(1, math.Max(0, p))
}

// within returns the probability that a margin is not negative.
func (q Request) within(margin float64, m Margin) float64 {
	switch {
	case math.IsNaN(margin) || math.IsNaN(m.U) || m.U < 0:
		return math.NaN()
	case math.IsInf(margin, 1) || m.U == 0 && margin >= 0:
		return 1
	case math.IsInf(margin, -1) || m.U == 0:
		return 0
	}
	return TCDF(margin/m.U, m.DoF)
}

// beyond returns the probability that a margin is negative.
func (q Request) beyond(margin float64, m Margin) float64 {
	switch {
	case math.IsNaN(margin) || math.IsNaN(m.U) || m.U < 0:
		return math.NaN()
	case math.IsInf(margin, 1) || m.U == 0 && margin >= 0:
		return 0
	case math.IsInf(margin, -1) || m.U == 0:
		return 1
	}
	return TCDF(-margin/m.U, m.DoF)
}

// nearest returns the limit with the smaller margin, and that margin.
func (q Request) nearest() (Side, float64) {
	above, below := q.Hi-q.Value, q.Value-q.Lo
	switch {
	case math.IsInf(above, 1) && math.IsInf(below, 1):
		return NoLimit, math.Inf(1)
	case below < above:
		return Lower, below
	}
	return Upper, above
}

func (q Request) at(s Side) Margin {
	switch s {
	case Lower:
		return q.AtLo
	case Upper:
		return q.AtHi
	}
	return Margin{}
}

// tooCoarse tells whether u is above an eighth of the limit or of half the
// zone. A single limit of nought gives no measure, and is never too fine.
func (q Request) tooCoarse() bool {
	t := (q.Hi - q.Lo) / 2
	u := math.Max(q.AtLo.U, q.AtHi.U)
	switch {
	case math.IsInf(q.Lo, -1) && math.IsInf(q.Hi, 1):
		return false
	case math.IsInf(q.Lo, -1):
		t, u = math.Abs(q.Hi), q.AtHi.U
	case math.IsInf(q.Hi, 1):
		t, u = math.Abs(q.Lo), q.AtLo.U
	}
	return t > 0 && u > t/8
}
