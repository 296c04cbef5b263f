package schema

// PlanRehearsal takes one machine through a whole plan.
var PlanRehearsal = &Block{
	Type: "rehearsal", Of: "a plan", Label: FreeWords,
	Doc: "One machine with its faults, taken through the whole plan: tasks are begun in the order in which they can be done, spoilt ones are worked again, until all are accepted.",
	Attrs: []Attr{
		{Name: "seeds", Form: Whole, Default: "1", Doc: "So many runs with different noise.", Example: `5`},
		{Name: "grade", Form: Word, Default: "the first", Doc: "The grade that the runs are begun with.", Example: `"normal"`},
	},
	Blocks: []Use{{Block: PlanHidden, Once: true}, {Block: PlanPart}, {Block: PlanEnds, Once: true, Required: true}},
}

// The blocks of a plan's rehearsal.
var (
	PlanHidden = &Block{
		Type: "hidden", Of: "a plan's rehearsal", Doc: "The true state of the one machine, at the start. What a correction leaves is what the next task meets.",
		Free: true, FreeDoc: "a name of your own, used as hidden.NAME",
	}
	PlanPart = &Block{
		Type: "procedure", Of: "a plan's rehearsal", Label: Hyphened,
		Doc:    "How a procedure of the plan meets the machine. Without one it meets that of its first rehearsal.",
		Attrs:  []Attr{{Name: "like", Form: Word, Default: "its first", Doc: "The rehearsal of the procedure that answers and reacts.", Example: `"a good machine"`}},
		Blocks: []Use{{Block: PlanBound, Once: true}, {Block: PlanReacts}},
	}
	PlanBound = &Block{
		Type: "hidden", Of: "a procedure in a plan's rehearsal", Doc: "Which state of the plan's machine a hidden state of that rehearsal is: twist = hidden.bed_twist, and a correction changes both. A formula is worked out anew whenever the plan's states change. A state that is not named is the procedure's own, and is kept from run to run.",
		Free: true, FreeDoc: "a name of the hidden state of the procedure's rehearsal",
	}
	PlanReacts = &Block{
		Type: "reacts", Of: "a procedure in a plan's rehearsal", Label: Existing,
		Doc:  "What a correction of that procedure does to the plan's machine besides: what it spoils of other procedures.",
		Free: true, FreeDoc: "a name of the plan's hidden state",
	}
	PlanEnds = &Block{
		Type: "ends", Of: "a plan's rehearsal", Doc: "How the plan must end, whatever the noise.",
		Attrs: []Attr{
			{Name: "outcome", Form: OneOf, Words: PlanOutcomes, Means: PlanOutcomeMean, Required: true, Doc: "What becomes of the plan.", Example: `"accepted"`},
			{Name: "runs", Form: Object, Doc: "How often each task was worked: a number, at_most(n) or at_least(n).", Example: `{ saddle = 2 }`},
		},
	}
)

// PlanOutcomes are the ends of a plan's rehearsal.
var PlanOutcomes = []string{"accepted", "conceded", "rejected", "not_decided"}
