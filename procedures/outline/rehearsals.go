package outline

import "waywright/checks/quantity"

// The rehearsals: a machine in order, one that is out, and where something is
// moved to put it right, one that is moved the wrong way first.

func (d *draft) rehearsals(w *writer) {
	w.line("# A small model of the machine: off is what it is truly out by.")
	w.line("rehearsal \"in order\" {")
	w.line("seeds = 10")
	w.line("hidden { off = %s }", lit(d.inOrder(), d.unit))
	w.line("noise { found = %s }", d.written("repeatability"))
	w.line("answer {")
	switch {
	case d.is("shape", Profile):
		w.line("length = %s", lit(d.length, mm()))
	case spanned(d.Answers):
		w.line("span = %s", lit(d.span, mm()))
	}
	w.line("found = %s", d.answer())
	w.line("}")
	if corrected(d.Answers) {
		w.line("reacts \"mend\" { off = %s }", d.reacts())
	}
	w.line("ends {")
	w.line("outcome = \"accepted\"")
	if corrected(d.Answers) {
		w.line("rounds = { mend = 0 }")
	}
	w.line("}\n}\n")
	d.isOut(w)
	if moved(d.Answers) && d.has("move_minus") {
		d.wrongWay(w)
	}
}

// inOrder is what a machine in order is out by: where what is allowed has its
// middle.
func (d *draft) inOrder() float64 {
	if d.is("shape", Size) {
		return 0
	}
	return d.target
}

// outBy is by how much a machine is out that a correction can put right.
func (d *draft) outBy() float64 {
	far := d.far
	if moved(d.Answers) && !d.has("move_minus") && d.ratio > 0 {
		far = -far // the only way that it can be moved makes it more
	}
	return d.inOrder() + far
}

// base is what is read at the first place, to be added to; "" for a needle that
// stands at nothing there.
func (d *draft) base() string {
	if d.least < 0 && d.most > 0 {
		return ""
	}
	return lit((d.least+d.most)/2, d.unit) + " + "
}

func (d *draft) answer() string {
	switch d.Answers["shape"] {
	case Difference, Square:
		return d.base() + "(each.place == \"" + key(d.Answers["second"]) + "\" ? hidden.off : " + lit(0, d.unit) + ")"
	case Profile: // a bow that is nothing at both ends
		return d.base() + "4 * hidden.off * each.station / given.length * (1 - each.station / given.length)"
	case Turn: // from nothing to the whole of it and back
		return d.base() + "hidden.off * abs(each.angle - deg(180)) / deg(180)"
	}
	return lit(d.target, d.unit) + " + hidden.off"
}

func (d *draft) reacts() string {
	if !moved(d.Answers) {
		return "hidden.off / 10"
	}
	if d.ratio < 0 {
		return "hidden.off - " + (&draft{Answers: d.Answers, ratio: -d.ratio}).times("moved")
	}
	return "hidden.off + " + d.times("moved")
}

func (d *draft) isOut(w *writer) {
	outcome, rounds := "accepted", "at_most(3)"
	if !corrected(d.Answers) {
		outcome = "rejected"
		if d.is("second_person", "yes") {
			outcome = "conceded"
		}
	}
	w.line("rehearsal \"out\" {")
	w.line("like = \"in order\"")
	w.line("seeds = 10")
	w.line("hidden { off = %s }", lit(d.outBy(), d.unit))
	w.line("ends {")
	w.line("outcome = %q", outcome)
	if corrected(d.Answers) {
		w.line("rounds = { mend = %s }", rounds)
	}
	w.line("}\n}\n")
}

func (d *draft) wrongWay(w *writer) {
	w.line("rehearsal \"moved the wrong way first\" {")
	w.line("like = \"in order\"")
	w.line("seeds = 10")
	w.line("hidden { off = %s }", lit(d.outBy(), d.unit))
	w.line("mistake \"wrong_way\" { of = correction.mend }")
	w.line("ends {")
	w.line("outcome = \"accepted\"")
	w.line("rounds = { mend = at_most(4) }")
	w.line("said = { mend = [\"wrong_way\"] }")
	w.line("}\n}\n")
}

func mm() quantity.Unit { return quantity.Length.Default() }
