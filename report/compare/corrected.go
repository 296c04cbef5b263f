package compare

import "waywright/report"

// A record that corrects another one may take over what stands in its journal.
// The readings are then the same ones, and no difference of the machine.

// takesOver returns after which line of its journal a record goes on by itself,
// where it took over what stands in another one; 0 where it did not.
func takesOver(r, other report.Record) int {
	x := r.Supersedes
	if x == nil || x.Carried == 0 || r.Machine.ID != other.Machine.ID {
		return 0
	}
	// One that is corrected twice has begun when the first one did.
	again := r.Begun == other.Begun && r.Procedure.Name == other.Procedure.Name && r.Procedure.Digest == other.Procedure.Digest &&
		(other.Supersedes == nil || other.Supersedes.At.Entry < x.At.Entry)
	if x.Number == other.Number || again {
		return x.Carried
	}
	return 0
}

// over returns after which line two records of which one took over the other go
// different ways; 0 where neither did.
func (c *comparer) over(i, j int) int {
	a, b := c.records[i].Record, c.records[j].Record
	return max(takesOver(a, b), takesOver(b, a))
}

// told returns the last record before i that shares readings with it, or −1.
func (c *comparer) told(i int) int {
	for j := i - 1; j >= 0; j-- {
		if c.over(i, j) > 0 {
			return j
		}
	}
	return -1
}

// retold tells whether a record that corrects this one has the test too, which
// would count twice.
func (c *comparer) retold(i int, x row) bool {
	for j := range c.records {
		if j != i && takesOver(c.records[j].Record, c.records[i].Record) > 0 && c.entry(j, x[j], AsLeft) != nil {
			return true
		}
	}
	return false
}

// sameReadings tells whether a test of record i stands on readings that it
// shares with record j.
func (c *comparer) sameReadings(i, j int, t *report.Test) bool {
	n := c.over(i, j)
	for _, r := range c.records[i].Record.Readings {
		for _, id := range t.Readings {
			if r.ID == id && r.To.Entry > n {
				return false
			}
		}
	}
	return true
}

// taken says by how much a value was put right that stands on the same
// readings. Their doubt has no part in it, and it is no difference of the
// machine.
func (c *comparer) taken(a, b *entry, out *Test) (*Difference, string) {
	d, why := c.difference(a, b, out)
	if d == nil {
		return nil, why
	}
	by := "the same value"
	if d.By.Value != 0 {
		by = "put right by " + d.By.Without().WithUnit() + " (" + senseOf(b).way(d.By.Value) + ")"
		if d.Where != "" {
			by = "at " + d.Where + " " + by
		}
	}
	d.U, d.K, d.DoF, d.Shown, d.Shared, d.Taken = nil, 0, 0, false, nil, true
	d.Said = "the same readings, taken over: " + by
	return d, ""
}

// corrections says of each record which one it corrects, or is corrected by.
func (c *comparer) corrections() {
	for i := range c.records {
		for j := range c.records {
			r, other := c.records[i].Record, c.records[j].Record
			if i == j || r.Supersedes == nil || r.Supersedes.Number != other.Number || r.Machine.ID != other.Machine.ID {
				continue
			}
			said := "It corrects " + c.out.Runs[j].Letter
			if r.Supersedes.Carried > 0 {
				said += ", and has taken over the readings of it"
			}
			c.out.Runs[i].But = append(c.out.Runs[i].But, said+".")
			c.out.Runs[j].But = append(c.out.Runs[j].But, "It is corrected by "+c.out.Runs[i].Letter+".")
		}
	}
}
