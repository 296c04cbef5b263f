package schema

// The words of the attributes that have few.
var (
	Decisions = []string{"simple", "guarded", "strict"}
	Spindles  = []string{"turning", "stopped"}
	Outcomes  = []string{"accepted", "conceded", "as_found", "rejected", "not_decided"}
	Responses = []string{"as_expected", "wrong_way", "wrong_sign", "reversed", "undone",
		"not_moved", "part", "too_far", "weak", "strong", "unclear"}
	// Objections are what is said of the values of a reading.
	Objections = []string{"turn", "range", "spread", "void"}
	Hazards    = []string{"rotating", "energy", "falling", "skin", "dust", "sharp", "fumes", "hot",
		"pressure", "eyes", "noise", "crushing", "fire", "chemical", "lifting"}
)

// ProcedureFile is the body of a file with a procedure.
var ProcedureFile = &Block{
	Type: "procedure file",
	Doc:  "One procedure: what is asked, done, read, worked out, judged and corrected, in the order of doing.",
	Blocks: []Use{
		{Block: Procedure, Required: true, Once: true},
		{Block: Given}, {Block: Instrument}, {Block: Step}, {Block: Correction},
		{Block: Signoff}, {Block: Rehearsal}, {Block: Caution}, {Block: Table},
	},
}

// SharedFile is the body of a shared.hcl.
var SharedFile = &Block{
	Type:   "shared file",
	Doc:    "shared.hcl: what the procedures of its folder and of the folders below have in common. The nearest definition wins. A given, step, correction or rehearsal here does nothing until a procedure has one that is like it.",
	Blocks: []Use{{Block: Caution}, {Block: Instrument}, {Block: Table}, {Block: Given}, {Block: Step}, {Block: Correction}, {Block: SharedRehearsal}},
}

// OverhaulFile is the body of a file with a plan.
var OverhaulFile = &Block{
	Type:   "overhaul file",
	Doc:    "A plan: procedures for one machine and their order. Its state is computed from the runs of the machine.",
	Blocks: []Use{{Block: Overhaul, Required: true, Once: true}, {Block: Task}, {Block: PlanRehearsal}},
}

// Procedure is the head of a procedure file.
var Procedure = &Block{
	Type: "procedure", Label: Hyphened,
	Doc: "What the procedure is for. Its label is its name, and the name of its file.",
	Attrs: []Attr{
		{Name: "title", Form: Word, Required: true, Doc: "What it is called, in one line.", Example: `"Tailstock in line: test cut between centres"`},
		{Name: "machine", Form: Word, Required: true, Doc: "The class of machine that it is for, or \"any\".", Example: `"centre lathe"`},
		{Name: "revision", Form: Word, Required: true, Doc: "Changed whenever the file is changed; the record names it.", Example: `"1"`},
		{Name: "purpose", Form: Word, Required: true, Doc: "What it brings about, in a sentence or two.", Example: `"Turn two collars at one setting and set the tailstock over until they agree."`},
		{Name: "decision", Form: OneOf, Words: Decisions, Means: DecisionMean, Default: "guarded", Doc: "How sure a verdict must be, for every gate that does not say otherwise.", Example: `"guarded"`},
		{Name: "if_failed", Form: References, To: []string{"concession", "reject", "noted"}, Doc: "The way on from every gate that does not say another: noted in a survey, concession in an acceptance.", Example: `[noted]`},
		{Name: "sources", Form: Words, Doc: "Where the method comes from.", Example: `["TM 9-867, test bar method"]`},
		{Name: "duration", Form: Quantity, Doc: "An estimate of the time that it takes.", Example: `minutes(90)`},
	},
}

// Each is a repetition.
var Each = &Block{
	Type: "each", Label: Name,
	Doc: "Asks once for each key; several make a table, the last varying fastest. each.NAME is the key now asked for.",
	Attrs: []Attr{
		{Name: "of", Form: Formula, Required: true, Doc: "The keys, in the order of asking: words, or numbered(n). It may depend on the keys of the each blocks above it, for the order only.", Example: `["near", "far"]`},
	},
}

// answer holds the attributes that say what may be answered.
var answer = []Attr{
	{Name: "unit", Form: Word, Doc: "The unit in which it is shown, and typed where no other is written. Any unit of the dimension may be typed.", Example: `"mm"`},
	{Name: "choose", Form: Words, Doc: "The words that may be answered.", Example: `["large", "small", "all"]`},
	{Name: "count", Form: Truth, Doc: "A whole number without a unit.", Example: `true`},
	{Name: "text", Form: Truth, Doc: "Any words may be answered.", Example: `true`},
	{Name: "evidence", Form: Truth, Doc: "A file, such as a photograph; it is kept by its hash.", Example: `true`},
	{Name: "range", Form: Interval, Doc: "Plausible values, the lower first. A value outside is asked again and kept only if insisted on.", Example: `[mm(50), given.centres]`},
}

var (
	whenAttr    = Attr{Name: "when", Form: Formula, Doc: "A condition. Where it is false this does not apply, and neither does what is made from it.", Example: `given.screws > 3`}
	withAttr    = Attr{Name: "with", Form: Reference, To: []string{"instrument"}, Doc: "What it is read with.", Example: `instrument.micrometer`}
	spindleAttr = Attr{Name: "spindle", Form: OneOf, Words: Spindles, Means: SpindleMean, Doc: "What the spindle does meanwhile. Going from one to the other is a question of its own.", Example: `"stopped"`}
	cautionAttr = Attr{Name: "caution", Form: References, To: []string{"caution"}, Doc: "Shown before the work, once a sitting.", Example: `[caution.rotating]`}
	doAttr      = Attr{Name: "do", Form: Sentences, Doc: "What to do, in order, a sentence or two each.", Example: `["Wipe bore and bar."]`}
)

// Given is a fact asked once.
var Given = &Block{
	Type: "given", Label: Name,
	Doc: "A fact that is asked once: a length of the machine, a choice, a count.",
	Attrs: append([]Attr{
		{Name: "like", Form: Reference, To: []string{"given"}, Doc: "Another given that it is like: one above, or one of the nearest shared.hcl. What is not written here is as it is there.", Example: `given.span`},
		{Name: "ask", Form: Sentence, Doc: "The question: the place first, then the quantity, in at most 48 characters. Without it the value cannot be typed.", Example: `"Bar: length between its centres"`},
		{Name: "title", Form: Sentence, Doc: "What it is called where it cannot be typed.", Example: `"Change of roll along the bed, in a metre"`},
		{Name: "from", Form: Formula, Doc: "Where it comes from: offered from the machine's entry, or taken from an accepted run of another procedure with its uncertainty.", Example: `machine.test_bar.length`},
		{Name: "fresh", Form: Quantity, Doc: "How old the accepted run may be.", Example: `days(30)`},
		withAttr, whenAttr,
	}, answer...),
	Blocks: []Use{{Block: Each}},
}

// Instrument is what a reading is taken with.
var Instrument = &Block{
	Type: "instrument", Label: Name,
	Doc: "What a reading is taken with. The run binds it to a real instrument of the shop.",
	Attrs: []Attr{
		{Name: "kind", Form: Word, Required: true, Doc: "What it is, in words.", Example: `"outside micrometer"`},
		{Name: "resolution", Form: Quantity, Required: true, Doc: "The smallest step that is read.", Example: `um(1)`},
		{Name: "error", Form: Quantity, Doc: "Limit of indication error.", Example: `um(4)`},
		{Name: "repeatability", Form: Quantity, Doc: "Standard deviation of one take.", Example: `um(1)`},
		{Name: "repeatability_dof", Form: Whole, Default: "8", Doc: "How well the repeatability is known, in degrees of freedom.", Example: `8`},
		{Name: "turn", Form: Quantity, Doc: "One turn of the screw or pointer: how far the error of two readings is alike, and the size of a misread turn.", Example: `mm(0.5)`},
		{Name: "zero", Form: Quantity, Default: "as the error", Doc: "Limit of the error of its zero.", Example: `um(2)`},
		{Name: "certificate", Form: Word, Doc: "The certificate that the real instrument must have, in words.", Example: `"calibrated within the year"`},
		{Name: "source", Form: Word, Doc: "Where these figures come from.", Example: `"DIN 863"`},
	},
}

// Step is a piece of work.
var Step = &Block{
	Type: "step", Label: Name,
	Doc: "A piece of work: cautions, instructions, then confirms, waits, readings, results and gates in the order of doing.",
	Attrs: []Attr{
		{Name: "like", Form: Reference, To: []string{"step"}, Doc: "A step of the nearest shared.hcl that it is like, with all that stands in it. What stands here under the same name is laid over it, attribute by attribute; what is new comes behind. What is not written here is as it is there.", Example: `step.nose`},
		{Name: "title", Form: Sentence, Required: true, Doc: "What is done, in one line.", Example: `"Measure both collars"`},
		whenAttr,
		{Name: "needs", Form: References, To: []string{"step"}, Doc: "Steps above that are worked again whenever this one is.", Example: `[step.cut]`},
		{Name: "lasting", Form: Truth, Default: "false", Doc: "What it establishes is spared by corrections.", Example: `true`},
		{Name: "hold_point", Form: Reference, To: []string{"signoff"}, Doc: "A role that must release the step before it is worked.", Example: `signoff.inspector`},
		spindleAttr, cautionAttr,
		{Name: "tools", Form: Sentences, Doc: "What has to lie ready.", Example: `["test bar", "lever indicator"]`},
		doAttr,
		{Name: "good_for", Form: Quantity, Doc: "How long what it establishes lasts: a warm spindle, a zero.", Example: `minutes(30)`},
	},
	Blocks: []Use{{Block: Each}, {Block: Confirm}, {Block: Wait}, {Block: Reading}, {Block: Result}, {Block: Gate}},
}

// Confirm is a question whose answer must be yes.
var Confirm = &Block{
	Type: "confirm", Label: Name,
	Doc:   "A question that must be answered yes. No: the step is worked again from its start.",
	Attrs: []Attr{{Name: "ask", Form: Sentence, Required: true, Doc: "The question.", Example: `"Were both collars cut without touching the cross slide?"`}},
}

// Wait is a time to let pass, or readings that must agree.
var Wait = &Block{
	Type: "wait", Label: Name,
	Doc: "A time to let pass, or readings that must agree, or both.",
	Attrs: []Attr{
		{Name: "why", Form: Sentence, Doc: "What is waited for.", Example: `"the bar is warm from the cut"`},
		{Name: "at_least", Form: Formula, Doc: "The time, counted from the answer before.", Example: `minutes(10)`},
	},
	Blocks: []Use{{Block: Until, Once: true}},
}

// Until asks a reading until two in a row agree.
var Until = &Block{
	Type: "until",
	Doc:  "Asks a reading every so often, until two in a row agree.",
	Attrs: []Attr{
		{Name: "ask", Form: Sentence, Required: true, Doc: "The question.", Example: `"Middle of the bar: diameter"`},
		{Name: "unit", Form: Word, Required: true, Doc: "The unit of the reading.", Example: `"mm"`},
		withAttr,
		{Name: "every", Form: Formula, Required: true, Doc: "The time between two readings.", Example: `minutes(5)`},
		{Name: "agree", Form: Formula, Required: true, Doc: "Two in a row may differ by so much.", Example: `um(0.5)`},
		{Name: "takes", Form: Whole, Required: true, Doc: "After so many readings the person goes on with a reason.", Example: `24`},
	},
}

// Reading is what is observed.
var Reading = &Block{
	Type: "reading", Label: Name,
	Doc: "What is observed: a number with a unit, a choice, a count, words or a file.",
	Attrs: append([]Attr{
		{Name: "like", Form: Reference, To: []string{"reading"}, Doc: "A reading above that it is like. What is not written here is as it is there.", Example: `reading.front`},
		{Name: "ask", Form: Sentence, Required: true, Doc: "The question: the place first, then the quantity, in at most 48 characters.", Example: `"Tailstock-end collar: diameter"`},
		whenAttr, withAttr,
		{Name: "positive", Form: Sentence, Doc: "What plus means, in words.", Example: `"towards the operator"`},
		{Name: "repeat", Form: Whole, Default: "1", Doc: "So many independent takes.", Example: `3`},
		{Name: "along", Form: Formula, Doc: "Stations: a profile over positions.", Example: `stations(mm(0), given.length, 5)`},
		{Name: "around", Form: Formula, Doc: "Readings round a turn: a count of even steps, or a list of angles.", Example: `8`},
		{Name: "turning", Form: Sentence, Doc: "How the angles of around run, clockwise or anticlockwise, and seen from where.", Example: `"clockwise, seen from the tailstock"`},
		{Name: "closure", Form: Formula, Doc: "The first is read again at the end; more drift than this voids the set.", Example: `um(2)`},
		{Name: "both_ways", Form: Truth, Default: "false", Doc: "Go along and return.", Example: `true`},
		{Name: "push", Form: Sentence, Doc: "What is done to make the needle go the way of nudge, where that is not pushing the part by hand.", Example: `"Slip a feeler under the tip"`},
		{Name: "nudge", Form: Sentence, Doc: "Before the first value the person pushes the part this way and says which way the needle went.", Example: `"towards the operator"`},
		{Name: "tested", Form: Reference, To: []string{"reading"}, Doc: "A reading with nudge, whose needle stands as it does here: its test holds, and nudge is only asked where it does not hold any more. One above; or, in a step with each, the reading itself, whose needle is then tested in the first round for all.", Example: `reading.front`},
		{Name: "turned", Form: Truth, Default: "false", Doc: "The instrument stands turned round against the direction in which the reading is recorded.", Example: `true`},
	}, answer...),
	Blocks: []Use{{Block: Each}},
}

// Result is a value that is worked out.
var Result = &Block{
	Type: "result", Label: Name,
	Doc: "A value worked out from readings, givens and results above.",
	Attrs: []Attr{
		{Name: "like", Form: Reference, To: []string{"result"}, Doc: "A result above that it is like. What is not written here is as it is there.", Example: `result.near_run`},
		{Name: "title", Form: Sentence, Required: true, Doc: "What it is called.", Example: `"Taper over the span"`},
		{Name: "value", Form: Formula, Required: true, Doc: "How it is worked out.", Example: `mean(reading.far) - mean(reading.near)`},
		{Name: "unit", Form: Word, Doc: "The unit in which it is shown.", Example: `"um"`},
		{Name: "positive", Form: Sentence, Doc: "What plus means, in words.", Example: `"larger at the tailstock end"`},
		{Name: "kept", Form: Truth, Default: "false", Doc: "Kept for the record, or for what other procedures take: nothing in this file need use it.", Example: `true`},
	},
}

// Gate is a limit to be met.
var Gate = &Block{
	Type: "gate", Label: Name,
	Doc: "A result held against limits, and what to do when it is not within them.",
	Attrs: []Attr{
		{Name: "like", Form: Reference, To: []string{"gate"}, Doc: "A gate above that it is like. What is not written here is as it is there. One kind of limit stands instead of another.", Example: `gate.near_true`},
		{Name: "title", Form: Sentence, Required: true, Doc: "What holds when it passes.", Example: `"The bar turns parallel"`},
		{Name: "of", Form: Formula, Doc: "What is judged.", Example: `result.taper`},
		{Name: "within", Form: Formula, Doc: "A zone that it must lie in.", Example: `plus_minus(um(20))`},
		{Name: "at_most", Form: Formula, Doc: "An upper limit.", Example: `um(3)`},
		{Name: "at_least", Form: Formula, Doc: "A lower limit.", Example: `percent(80)`},
		{Name: "holds", Form: Formula, Doc: "A condition that must be true, instead of a limit.", Example: `reading.end["0"] == reading.end["120"]`},
		{Name: "source", Form: Word, Default: "the source of the table's row", Doc: "Where the limit comes from.", Example: `"common practice: 0.02 on the diameter in 300"`},
		{Name: "decision", Form: OneOf, Words: Decisions, Means: DecisionMean, Default: "the procedure's", Doc: "How sure the verdict must be, where the gate checks the set-up and not the machine.", Example: `"simple"`},
		{Name: "if_failed", Form: References, To: []string{"correction", "concession", "reject", "noted"}, Default: "the procedure's", Doc: "The ways on, from the left. The last is reject, or concession where one may be granted. They are taken where the gate fails, and where it cannot tell. Alone, noted keeps the verdict as found and goes on.", Example: `[correction.set_over, concession]`},
		{Name: "upstream", Form: References, To: []string{"gate", "accepted"}, Doc: "What is named when the attempts are spent.", Example: `[gate.seats_alike]`},
		{Name: "test", Form: Word, Doc: "The lasting test that it decides, so that other years' runs can be put beside it.", Example: `"spindle_axis_level"`},
	},
}

// Correction is work that should bring a result inside its limits.
var Correction = &Block{
	Type: "correction", Label: Name,
	Doc: "Work that should bring a result inside its limits: how much, which way, and what else it disturbs.",
	Attrs: []Attr{
		{Name: "like", Form: Reference, To: []string{"correction"}, Doc: "A correction above, or of the nearest shared.hcl, that it is like. What is not written here is as it is there.", Example: `correction.clean`},
		{Name: "title", Form: Sentence, Required: true, Doc: "What is done, in one line.", Example: `"Set the tailstock over"`},
		{Name: "when", Form: Formula, Doc: "A condition: the correction is offered only where it holds.", Example: `abs(result.left) > um(10)`},
		{Name: "amount", Form: Formula, Doc: "How far to move or how much to take off. Without it: clean and try again. A profile: one amount a station.", Example: `result.taper / 2`},
		{Name: "unit", Form: Word, Doc: "The unit of the amount.", Example: `"mm"`},
		{Name: "positive", Form: Sentence, Doc: "The way to go for an amount above nothing, in words.", Example: `"towards the operator"`},
		{Name: "negative", Form: Sentence, Doc: "The way to go for an amount below nothing. Left out where nothing can be put back.", Example: `"away from the operator"`},
		doAttr, cautionAttr, spindleAttr,
		{Name: "attempts", Form: Whole, Default: "6", Doc: "How often it may be tried in a run.", Example: `6`},
		{Name: "disturbs", Form: References, To: []string{"gate", "accepted"}, Doc: "What else it changes: other gates, accepted runs of other procedures.", Example: `[gate.upright_plane]`},
		{Name: "ledger", Form: Sentence, Doc: "The place where metal goes or comes.", Example: `"nose-end pads"`},
	},
	Blocks: []Use{{Block: Moved, Once: true}, {Block: ShouldChange, Once: true}},
}

// Moved asks how far a correction went.
var Moved = &Block{
	Type: "moved",
	Doc:  "Asked after locking: how far it truly moved. Without it the answer is yes, or how much was done, without a sign.",
	Attrs: []Attr{
		{Name: "ask", Form: Sentence, Required: true, Doc: "The question, in at most 48 characters; say what plus means.", Example: `"Moved after locking, plus towards the operator"`},
		{Name: "unit", Form: Word, Default: "the correction's", Doc: "The unit of what is read.", Example: `"mm"`},
		withAttr,
	},
}

// ShouldChange is what a correction should do to a result.
var ShouldChange = &Block{
	Type: "should_change",
	Doc:  "The result that the correction should change, and by how much.",
	Attrs: []Attr{
		{Name: "result", Form: Reference, To: []string{"result"}, Required: true, Doc: "The result.", Example: `result.taper`},
		{Name: "by", Form: Formula, Required: true, Doc: "The change expected of it, in terms of amount.", Example: `-2 * amount * given.span / given.centres`},
	},
}

// Signoff is a role that signs.
var Signoff = &Block{
	Type: "signoff", Label: Name,
	Doc: "A role that signs the record.",
	Attrs: []Attr{
		{Name: "title", Form: Sentence, Required: true, Doc: "What stands before the name.", Example: `"Accepted by"`},
		{Name: "other_than", Form: Reference, To: []string{"signoff"}, Doc: "Not the person of that role.", Example: `signoff.fitter`},
		{Name: "concedes", Form: Truth, Default: "false", Doc: "Grants or refuses concessions when signing.", Example: `true`},
	},
}

// Caution is a warning.
var Caution = &Block{
	Type: "caution", Label: Name,
	Doc: "A warning, shown alone and first.",
	Attrs: []Attr{
		{Name: "text", Form: Sentence, Required: true, Doc: "What to see to, in one or two short sentences.", Example: `"Isolate, lock and try to start before hands go in."`},
		{Name: "hazard", Form: OneOf, Words: Hazards, Means: HazardMean, Required: true, Doc: "What can hurt.", Example: `"rotating"`},
		{Name: "source", Form: Word, Doc: "Where the rule comes from.", Example: `"29 CFR 1910.147"`},
	},
}

// Table holds limits by grade.
var Table = &Block{
	Type: "table", Label: Name,
	Doc: "Limits by grade. A run is begun with one of the grades.",
	Attrs: []Attr{
		{Name: "title", Form: Word, Doc: "What it holds.", Example: `"Geometric tests of a centre lathe"`},
		{Name: "grades", Form: Words, Required: true, Doc: "The grades; every row has a value for each.", Example: `["normal", "precision", "home"]`},
	},
	Blocks: []Use{{Block: Row, Required: true}},
}

// Row is one limit of a table.
var Row = &Block{
	Type: "row", Label: Name,
	Doc: "One limit, with a value for each grade. table.TABLE.ROW is the value under the run's grade.",
	Attrs: []Attr{
		{Name: "title", Form: Word, Doc: "What it limits.", Example: `"Spindle axis to carriage travel, upright plane, in 300 mm"`},
		{Name: "values", Form: Object, Required: true, Doc: "The value for each grade.", Example: `{ normal = um(20), precision = um(10) }`},
		{Name: "source", Form: Word, Doc: "Where the values come from.", Example: `"typical of ISO 1708:1989 G7, verify"`},
	},
}

// Rehearsal is a small model of the machine.
var Rehearsal = &Block{
	Type: "rehearsal", Label: FreeWords,
	Doc: "A small model of the machine that answers the questions and reacts to the corrections: how an author proves that the procedure converges.",
	Attrs: []Attr{
		{Name: "seeds", Form: Whole, Default: "1", Doc: "So many runs with different noise.", Example: `50`},
		{Name: "grade", Form: Word, Default: "the first", Doc: "The grade that the run is begun with.", Example: `"normal"`},
		{Name: "like", Form: Word, Doc: "A rehearsal above, or of the nearest shared.hcl, whose grade, hidden, noise, answer and reacts hold here too. What is written here stands instead, name by name; a reacts block instead of the whole block for its correction. Of one in shared.hcl what this procedure does not ask is left out.", Example: `"a good machine"`},
	},
	Blocks: []Use{
		{Block: Hidden, Once: true}, {Block: Spread, Once: true}, {Block: Noise, Once: true}, {Block: Answer, Once: true},
		{Block: Reacts}, {Block: Mistake}, {Block: Ends, Once: true, Required: true},
	},
}

// SharedRehearsal is the machine that rehearsals of several procedures meet.
var SharedRehearsal = &Block{
	Type: "rehearsal", Of: "a shared file", Label: FreeWords,
	Doc:    "The machine that rehearsals of several procedures are like. How it is met, and how that ends, each of them says by itself.",
	Attrs:  []Attr{*Rehearsal.Attr("grade")},
	Blocks: []Use{{Block: Hidden, Once: true}, {Block: Noise, Once: true}, {Block: Answer, Once: true, Required: true}, {Block: Reacts}},
}

// The blocks of a rehearsal.
var (
	Hidden = &Block{
		Type: "hidden", Doc: "The true state of the machine, at the start.",
		Free: true, FreeDoc: "a name of your own, used as hidden.NAME",
	}
	Spread = &Block{
		Type: "spread", Doc: "Standard deviation of a hidden state from machine to machine, about its value in hidden. rehearse --risk draws it; every number of a profile or of keyed values by itself.",
		Free: true, FreeDoc: "a name of the hidden state",
	}
	Noise = &Block{
		Type: "noise", Doc: "Standard deviation of one take.",
		Free: true, FreeDoc: "the name of a reading",
	}
	Answer = &Block{
		Type: "answer", Doc: "What is answered, evaluated when asked.",
		Free: true, FreeDoc: "the name of a given, reading, confirm or wait",
	}
	Reacts = &Block{
		Type: "reacts", Label: Existing,
		Doc:  "What a correction does to the hidden state: first moved, then every state from those before.",
		Free: true, FreeDoc: "a name of the hidden state, or moved",
	}
	Mistake = &Block{
		Type: "mistake", Label: Name,
		Doc: "A mistake made on purpose. At a correction: wrong_way (as far, the other way), half (half of it), undone (taken back by clamping), reversed (its indicator reads the other way round, from then on). At a reading: swapped (the last place is taken for the first), turn (the first value is read a whole turn too large), reversed. The person mends what is said of it.",
		Attrs: []Attr{
			{Name: "of", Form: Reference, Required: true, To: []string{"correction", "reading"}, Doc: "The correction or reading at which it is made.", Example: `correction.set_over`},
			{Name: "nth", Form: Whole, Default: "1", Doc: "At which attempt of the correction, or in which working of the reading's step.", Example: `2`},
		},
	}
	Ends = &Block{
		Type: "ends", Doc: "How the rehearsal must end, whatever the noise.",
		Attrs: []Attr{
			{Name: "outcome", Form: OneOf, Words: Outcomes, Means: OutcomeMean, Required: true, Doc: "What becomes of the run.", Example: `"accepted"`},
			{Name: "rounds", Form: Object, Doc: "How often each correction was reported: a number, at_most(n) or at_least(n).", Example: `{ set_over = at_most(2) }`},
			{Name: "said", Form: Object, Doc: "Words that came, in this order, others between them: about the machine's answer to a correction, or about the values of a reading (turn, range, spread, void).", Example: `{ set_over = ["wrong_way"] }`},
			{Name: "out", Form: References, To: []string{"gate"}, Doc: "All gates that do not pass at the end, and no others; where the run was given up, those that were not yet judged among them.", Example: `[gate.upright_plane]`},
		},
	}
)

// Overhaul is the head of a plan.
var Overhaul = &Block{
	Type: "overhaul", Label: Hyphened,
	Doc: "What the plan is for.",
	Attrs: []Attr{
		{Name: "title", Form: Word, Required: true, Doc: "What it is called, in one line.", Example: `"Bench lathe, from arrival to acceptance"`},
		{Name: "machine", Form: Word, Required: true, Doc: "The class of machine that it is for.", Example: `"centre lathe"`},
		{Name: "revision", Form: Word, Required: true, Doc: "Changed whenever the file is changed.", Example: `"1"`},
	},
}

// Task is one procedure of a plan.
var Task = &Block{
	Type: "task", Label: Name,
	Doc: "One procedure of the plan. The same procedure may stand twice: a run belongs to a task.",
	Attrs: []Attr{
		{Name: "procedure", Form: Word, Required: true, Doc: "The procedure.", Example: `"headstock-align"`},
		{Name: "after", Form: References, To: []string{"task"}, Doc: "Tasks that come before it.", Example: `[task.saddle]`},
		{Name: "when", Form: Formula, Doc: "A condition. Unknown, it holds the task back; false, it settles it.", Example: `accepted["lathe-bed-wear"].result.loss > um(20)`},
		{Name: "delay", Form: Quantity, Doc: "The time to let pass, counted from the last of after.", Example: `days(30)`},
		{Name: "renew", Form: Quantity, Doc: "Due again after this time.", Example: `days(365)`},
	},
}
