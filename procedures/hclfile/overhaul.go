package hclfile

import (
	"slices"

	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/hclfile/schema"
)

// overhaul reads a plan.
func (r *reader) overhaul() *procedures.Overhaul {
	own := r.tree(schema.OverhaulFile, r.own.body, r.own, nil)
	o := &procedures.Overhaul{}
	for _, n := range own.kids {
		switch n.kind {
		case schema.Overhaul:
			o.Name, o.At = n.label, n.at
			o.Title = r.word(n, "title")
			o.Machine = r.word(n, "machine")
			o.Revision = r.word(n, "revision")
			r.fileName(n)
		case schema.Task:
			r.name(n, nil, &procedures.Task{Name: n.label, At: n.at})
		}
	}
	for _, n := range own.all("task") {
		o.Tasks = append(o.Tasks, r.task(n))
	}
	if len(o.Tasks) == 0 {
		r.diags = append(r.diags, newAt("E104", o.At, "A plan has one task or more. Write, for example, task \"spindle\" { procedure = \"spindle-health\" }"))
	}
	r.circles(o)
	if !r.brief {
		r.planRehearsals(own, o)
	}
	o.Files = []procedures.File{{Name: r.own.name, Bytes: r.own.bytes}}
	return o
}

func (r *reader) task(n *node) *procedures.Task {
	t := n.decl.obj.(*procedures.Task)
	t.Procedure = r.word(n, "procedure")
	if e := n.attr("procedure"); t.Procedure != "" {
		r.peerAtHand(n, reference{word: "accepted", name: t.Procedure, at: rng(e.Range())})
	}
	for _, ref := range r.references(n, "after") {
		d := r.resolve(n, ref)
		if d == nil {
			continue
		}
		if d.node == n {
			r.say(n, "E208", ref.at, "A task cannot come after itself.")
			continue
		}
		t.After = append(t.After, d.obj.(*procedures.Task))
	}
	t.When = r.taskWhen(n)
	t.Delay = r.time(n, "delay", &scope{none: true})
	t.Renew = r.time(n, "renew", &scope{none: true})
	if n.has("delay") && !n.has("after") {
		r.say(n, "E110", rng(n.attrs["delay"].NameRange), "delay counts from the last task of after, but there is no after. Write after = [task.name], or leave delay out.")
	}
	return t
}

// taskWhen compiles the condition of a task. A result of a procedure that is
// not at hand is taken to be what its place asks for.
func (r *reader) taskWhen(n *node) *formula.Program {
	p := r.condition(n, "when", &scope{outside: true})
	r.outsideAtHand(n, p)
	return p
}

// circles tells of tasks that come after one another.
func (r *reader) circles(o *procedures.Overhaul) {
	const open, done = 1, 2
	state := map[*procedures.Task]int{}
	var walk func(t *procedures.Task, trail []*procedures.Task)
	walk = func(t *procedures.Task, trail []*procedures.Task) {
		state[t] = open
		trail = append(trail, t)
		for _, a := range t.After {
			switch state[a] {
			case open:
				i := slices.Index(trail, a)
				var names []string
				for _, x := range append(slices.Clone(trail[i:]), a) {
					names = append(names, x.Name)
				}
				r.say(r.names[t.Name].node, "E208", t.At, "These tasks wait for one another: %s. Take one of them out of an after.", join(names, " after "))
			case 0:
				walk(a, trail)
			}
		}
		state[t] = done
	}
	for _, t := range o.Tasks {
		if state[t] == 0 {
			walk(t, nil)
		}
	}
}
