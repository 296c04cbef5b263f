package formula

import "slices"

// Straight reports whether every name of the program counts in its value,
// whatever the facts are: no condition chooses between them, and no element is
// picked but from what whole says is there as a whole or not at all.
func (p *Program) Straight(whole func(Ref) bool) bool { return straight(p.root, whole) }

func straight(n Node, whole func(Ref) bool) bool {
	switch n := n.(type) {
	case *choice, *ifNumber, *ifTruth, *junction:
		return false
	case *loop:
		if n.cond != nil {
			return false
		}
	case *pick:
		return pickedFrom(n.coll, whole)
	case *pickBy:
		return pickedFrom(n.coll, whole) && straight(n.key, whole)
	}
	return !slices.ContainsFunc(n.kids(), func(k Node) bool { return !straight(k, whole) })
}

func pickedFrom(coll Node, whole func(Ref) bool) bool {
	if b, ok := coll.(boxed); ok {
		coll = b.Node
	}
	if p, ok := coll.(*pick); ok {
		return pickedFrom(p.coll, whole)
	}
	n, ok := coll.(*name)
	return ok && whole(n.ref)
}
