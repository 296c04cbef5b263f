package formula

import "waywright/checks/value"

// mark sets seen for the names that count as inputs of n.
func mark(n Node, seen []bool, e Env, l *locals) {
	switch n := n.(type) {
	case *name:
		seen[n.idx] = true
	case *choice:
		n.mark(seen, e, l)
	case *ifNumber:
		n.mark(seen, e, l)
	case *ifTruth:
		n.mark(seen, e, l)
	case *junction:
		mark(n.a, seen, e, l)
		if a, g := n.a.truth(e, l); g == nil && a == n.and {
			mark(n.b, seen, e, l)
		}
	case *loop:
		mark(n.over, seen, e, l)
		n.mark(seen, e, l)
	default:
		for _, k := range n.kids() {
			mark(k, seen, e, l)
		}
	}
}

func (n *choice) mark(seen []bool, e Env, l *locals) {
	mark(n.c, seen, e, l)
	if branch, g := n.taken(e, l); g == nil {
		mark(branch, seen, e, l)
	}
}

func (n *loop) mark(seen []bool, e Env, l *locals) {
	whole := &loop{over: n.over, body: n.body, t: n.t} // conditions count for every element
	whole.each(e, l, func(_ *value.Value, _ int, in *locals) {
		if n.cond == nil {
			mark(n.body, seen, e, in)
			return
		}
		mark(n.cond, seen, e, in)
		if take, g := n.cond.truth(e, in); g == nil && take {
			mark(n.body, seen, e, in)
		}
	})
}
