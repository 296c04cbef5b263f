package hclfile

import (
	"maps"
	"slices"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures"
	"waywright/procedures/formula"
)

// planRehearsals reads the rehearsals of a plan. The procedures that they name
// are read whole for it, with their rehearsals.
func (r *reader) planRehearsals(own *node, o *procedures.Overhaul) {
	seen := map[string]*node{}
	whole := map[string]*procedures.Procedure{}
	for _, n := range own.all("rehearsal") {
		if first := seen[n.label]; first != nil && n.label != "" {
			r.say(n, "E203", n.name, "There is another rehearsal %q in line %d. Give one of them other words.", n.label, first.at.Start.Line)
		} else {
			seen[n.label] = n
		}
		o.Rehearsals = append(o.Rehearsals, r.planRehearsal(n, o, whole))
	}
}

func (r *reader) planRehearsal(n *node, o *procedures.Overhaul, whole map[string]*procedures.Procedure) *procedures.PlanRehearsal {
	x := &procedures.PlanRehearsal{Name: n.label, At: n.at}
	x.Seeds = r.whole(n, "seeds", 1, 100000, 1)
	x.Grade = r.word(n, "grade")
	sc := &scope{hidden: map[string]sym{}}
	hidden := n.child("hidden")
	if hidden != nil {
		x.Hidden = r.hidden(hidden, sc)
	}
	met := map[string]bool{}
	for _, k := range n.all("procedure") {
		if p := r.planPart(k, o, x, sc, whole, met); p != nil {
			x.Parts = append(x.Parts, p)
		}
	}
	if hidden != nil {
		r.neverMet(hidden, met)
	}
	if k := n.child("ends"); k != nil {
		r.planEnds(k, x)
	}
	return x
}

// neverMet warns of states of the machine that no procedure meets: a fault
// there would be found by nobody, and prove nothing.
func (r *reader) neverMet(hidden *node, met map[string]bool) {
	for _, a := range hidden.order {
		if !met[a.Name] {
			r.say(hidden, "W613", rng(a.NameRange), "No procedure of this rehearsal meets hidden.%s, so nothing is proved by it. Name it in the hidden block of a procedure, or leave it out.", a.Name)
		}
	}
}

// planPart reads how a procedure meets the machine. met collects the states of
// the plan that it uses.
func (r *reader) planPart(n *node, o *procedures.Overhaul, x *procedures.PlanRehearsal, sc *scope, whole map[string]*procedures.Procedure, met map[string]bool) *procedures.PlanPart {
	out := &procedures.PlanPart{Procedure: n.label, Like: r.word(n, "like"), At: n.at}
	var names []string
	for _, t := range o.Tasks {
		names = append(names, t.Procedure)
	}
	if !slices.Contains(names, n.label) {
		r.say(n, "E201", n.name, "No task of this plan has the procedure %q.%s", n.label, didYouMean(n.label, names))
		return nil
	}
	if x.Part(n.label) != nil {
		r.say(n, "E203", n.name, "How %q meets the machine is said already. One block a procedure.", n.label)
	}
	p, known := whole[n.label]
	if !known {
		p = r.readWhole(n.label)
		whole[n.label] = p
	}
	like := r.likeOf(n, p, out)
	if p != nil && x.Grade != "" && len(p.Grades) > 0 && !slices.Contains(p.Grades, x.Grade) {
		r.say(n.up, "E201", rng(n.up.attr("grade").Range()), "%s has no grade %q, only %s.%s", p.Name, x.Grade, quoted(p.Grades, "and"), didYouMean(x.Grade, p.Grades))
	}
	if k := n.child("hidden"); k != nil {
		for _, a := range k.order {
			out.Hidden = append(out.Hidden, r.bound(k, a, like, sc))
			uses(out.Hidden[len(out.Hidden)-1].Value, met)
		}
	}
	for _, k := range n.all("reacts") {
		out.Reacts = append(out.Reacts, r.planReacts(k, p, sc, out.Reacts))
	}
	return out
}

// uses notes which hidden states a program names.
func uses(p *formula.Program, met map[string]bool) {
	if p == nil {
		return
	}
	for _, ref := range p.Refs() {
		if ref.Space == formula.Hidden {
			met[ref.Name] = true
		}
	}
}

// likeOf finds the rehearsal that a part is like; nil where that is not known.
func (r *reader) likeOf(n *node, p *procedures.Procedure, part *procedures.PlanPart) *procedures.Rehearsal {
	if p == nil {
		return nil
	}
	var names []string
	for _, x := range p.Rehearsals {
		if x.Name == part.Like || part.Like == "" {
			return x
		}
		names = append(names, x.Name)
	}
	at := n.name
	if e := n.attr("like"); e != nil {
		at = rng(e.Range())
	}
	r.say(n, "E201", at, "%s has no rehearsal %q.%s Write the name of one that it has.", p.Name, part.Like, didYouMean(part.Like, names))
	return nil
}

// bound reads what a hidden state of a procedure's rehearsal is in the plan.
func (r *reader) bound(n *node, a *hclsyntax.Attribute, like *procedures.Rehearsal, sc *scope) procedures.Bound {
	out := procedures.Bound{Assign: procedures.Assign{Name: a.Name, At: rng(a.SrcRange)}}
	w := want{any: true, what: "hidden." + a.Name}
	if like != nil {
		i := slices.IndexFunc(like.Hidden, func(h procedures.Assign) bool { return h.Name == a.Name })
		if i < 0 {
			var names []string
			for _, h := range like.Hidden {
				names = append(names, h.Name)
			}
			r.say(n, "E201", rng(a.NameRange), "The rehearsal %q has no hidden state %q.%s", like.Name, a.Name, didYouMean(a.Name, names))
		} else if v := like.Hidden[i].Value; v != nil {
			t := v.Type()
			w = want{typ: &t, what: w.what}
		}
	}
	out.Value = r.expr(n, a.Expr, sc, w)
	if out.Same = sameState(a.Expr); out.Same == "" && like != nil {
		r.changedThere(n, a, like)
	}
	return out
}

// sameState returns the state that an expression is nothing but the name of.
func sameState(e hclsyntax.Expression) string {
	t, ok := bare(e).(*hclsyntax.ScopeTraversalExpr)
	if !ok || len(t.Traversal) != 2 || t.Traversal.RootName() != "hidden" {
		return ""
	}
	at, ok := t.Traversal[1].(hcl.TraverseAttr)
	if !ok {
		return ""
	}
	return at.Name
}

// changedThere tells of a state that is worked out here, and changed by a
// correction of its own rehearsal: what that leaves would be lost.
// Where the plan says what the correction does to its own states, that is it.
func (r *reader) changedThere(n *node, a *hclsyntax.Attribute, like *procedures.Rehearsal) {
	for _, re := range like.Reacts {
		said := func(k *node) bool { return re.Correction != nil && k.label == re.Correction.Name }
		for _, h := range re.Hidden {
			if h.Name == a.Name && re.Correction != nil && !slices.ContainsFunc(n.up.all("reacts"), said) {
				r.say(n, "E109", rng(a.Expr.Range()), "%s is worked out here, and correction %q of the rehearsal %q changes it: what it leaves would be lost. Let it be one state of the plan, %s = hidden.NAME, or say in reacts %q what the correction does.",
					a.Name, re.Correction.Name, like.Name, a.Name, re.Correction.Name)
				return
			}
		}
	}
}

func (r *reader) planReacts(n *node, p *procedures.Procedure, sc *scope, before []procedures.Reacts) procedures.Reacts {
	out := procedures.Reacts{At: n.at}
	inner := sc.with()
	inner.own = map[string]sym{"amount": {}, "moved": {}, "attempt": {}}
	if p != nil {
		var names []string
		for _, c := range p.Corrections {
			names = append(names, c.Name)
			if c.Name == n.label {
				out.Correction = c
			}
		}
		switch c := out.Correction; {
		case c == nil:
			r.say(n, "E201", n.name, "%s has no correction %q.%s", p.Name, n.label, didYouMean(n.label, names))
		case c.Amount == nil:
			delete(inner.own, "amount")
			delete(inner.own, "moved")
		default:
			inner.own["amount"], inner.own["moved"] = amountSym(c), amountSym(c)
		}
		if out.Correction != nil && slices.ContainsFunc(before, func(o procedures.Reacts) bool { return o.Correction == out.Correction }) {
			r.say(n, "E203", n.name, "What happens on %q is said already. One block a correction.", n.label)
		}
	}
	for _, a := range n.order {
		w := want{any: true, what: "hidden." + a.Name}
		if s, ok := sc.hidden[a.Name]; !ok {
			r.say(n, "E201", rng(a.NameRange), "There is no hidden state %q in this rehearsal.%s", a.Name, didYouMean(a.Name, slices.Sorted(maps.Keys(sc.hidden))))
		} else if s.ready {
			w = want{typ: &s.typ, what: "hidden." + a.Name}
		}
		out.Hidden = append(out.Hidden, procedures.Assign{Name: a.Name, Value: r.expr(n, a.Expr, inner, w), At: rng(a.SrcRange)})
	}
	return out
}

func (r *reader) planEnds(n *node, x *procedures.PlanRehearsal) {
	x.Outcome, x.EndsAt = r.oneOf(n, "outcome"), n.at
	if a := n.attrs["outcome"]; a != nil {
		x.EndsAt = rng(a.SrcRange)
	}
	for _, p := range r.object(n, "runs") {
		d := r.resolve(n, reference{word: "task", name: p.key, at: p.at})
		least, most, ok := rounds(p.value)
		if !ok {
			r.say(n, "E112", rng(p.value.Range()), "The runs of a task are a whole number, at_most(n) or at_least(n). Write, for example, %s = 2", p.key)
			continue
		}
		if d != nil {
			x.Runs = append(x.Runs, procedures.Runs{Task: d.obj.(*procedures.Task), Least: least, Most: most, At: p.at})
		}
	}
}

// readWhole reads another procedure with its rehearsals; nil where it is not at
// hand or has mistakes of its own.
func (r *reader) readWhole(name string) *procedures.Procedure {
	p := r.find(name)
	if p.path == "" || p.broken || len(r.peers.known) > maxPeers {
		return nil
	}
	other := newReader(Source{FS: p.fsys, Path: p.path, Also: r.src.Also}, r.peers)
	loaded, ds := other.parse()
	if loaded.Procedure == nil || ds.HasErrors() {
		return nil
	}
	return loaded.Procedure
}
