package schema

// Root is the first word of a name in a formula: given in given.span.
type Root struct {
	Name    string
	Value   bool   // it can be computed with; the others are pointed at
	Doc     string // what stands for
	Where   string // where it may stand
	Example string
}

// Roots returns the first words of names, those with values first.
func Roots() []Root {
	return []Root{
		{"given", true, "A fact that was asked once.", "Everywhere below it.", "given.span"},
		{"reading", true, "What was observed: one number, takes, a profile, a turn, or a value for each key.", "Everywhere below it, once the steps have begun.", "reading.top[2].full"},
		{"result", true, "A value that was worked out.", "Everywhere below it.", "result.taper"},
		{"table", true, "A row of a table of limits: the value under the run's grade.", "Everywhere.", "table.lathe.spindle_parallel"},
		{"each", true, "The key, station, angle or take that is now asked for: each.NAME of an each block; each.station with along, each.angle with around, each.take with repeat or until.", "In the block that has the repetition.", "\"Screw ${each.screw}: pull\""},
		{"hidden", true, "The true state of the machine in a rehearsal.", "In a rehearsal.", "hidden.offset"},
		{"machine", true, "A size from the machine's entry in machines.hcl.", "In the from of a given, and in the when of a task.", "machine.test_bar.length"},
		{"accepted", true, "The machine's newest accepted run of another procedure that nothing has spoilt: a value of it, or the run itself.", "A value: in the from of a given, and in the when of a task. The run: in disturbs and upstream.", `accepted["lathe-level-twist"].result.twist`},
		{"amount", true, "How far the correction is to go.", "In should_change, and in reacts.", "-2 * amount"},
		{"moved", true, "How far it truly went; where the correction has no moved block, as much of the amount as was done.", "In reacts.", "hidden.offset + moved"},
		{"attempt", true, "Which attempt of the correction it is, counted from 1.", "In reacts.", "attempt == 1 ? um(0) : moved"},
		{"step", false, "A step.", "In needs.", "[step.cut]"},
		{"gate", false, "A gate.", "In disturbs, upstream, like, and in the out of a rehearsal.", "[gate.upright_plane]"},
		{"correction", false, "A correction.", "In if_failed, like, and in the of of a mistake.", "[correction.set_over, reject]"},
		{"signoff", false, "A role that signs.", "In other_than and hold_point.", "signoff.fitter"},
		{"instrument", false, "What a reading is taken with.", "In with.", "instrument.micrometer"},
		{"caution", false, "A warning.", "In caution.", "[caution.rotating]"},
		{"task", false, "A task of a plan.", "In after.", "[task.saddle]"},
	}
}

// WayOut is a word that stands in if_failed for a way on that is no correction.
type WayOut struct{ Name, Doc string }

// WaysOut returns the words that end if_failed.
func WaysOut() []WayOut {
	return []WayOut{
		{"reject", "The machine is not accepted; the run ends there, and says by which gate."},
		{"concession", "The walk goes on, and a role with concedes grants or refuses it by name before anybody signs."},
		{"noted", "Alone: the verdict is kept as found, for a survey. It asks for no way on and hinders no signature."},
	}
}
