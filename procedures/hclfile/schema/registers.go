package schema

// The files of a logbook that say what the shop has.
var (
	MachinesFile = &Block{
		Type: "machines file", Doc: "machines.hcl: the machines of the shop.",
		Blocks: []Use{{Block: Machine}},
	}
	InstrumentsFile = &Block{
		Type: "instruments file", Doc: "instruments.hcl: the real instruments of the shop.",
		Blocks: []Use{{Block: RealInstrument}},
	}
	PeopleFile = &Block{
		Type: "people file", Doc: "people.hcl: who signs.",
		Blocks: []Use{{Block: Person}},
	}
	ShopFile = &Block{
		Type: "shop file", Doc: "shop.hcl: what holds for the whole shop.",
		Attrs: []Attr{
			{Name: "decision", Form: OneOf, Words: Decisions[1:], Means: DecisionMean[1:], Default: "each procedure's", Doc: "How sure a verdict must be at least, whatever the procedure asks for.", Example: `"strict"`},
			{Name: "paper", Form: OneOf, Words: Papers, Means: PaperMean, Default: "a4", Doc: "The paper that records and work sheets are printed on.", Example: `"letter"`},
		},
	}
)

// Papers are the sizes of paper, and PaperMean what they are.
var (
	Papers    = []string{"a4", "letter"}
	PaperMean = []string{"Sheets of 210 by 297 mm.", "Sheets of 8.5 by 11 inches."}
)

// Machine is an entry of machines.hcl.
var Machine = &Block{
	Type: "machine", Label: Identity,
	Doc: "A machine of the shop.",
	Attrs: []Attr{
		{Name: "class", Form: Word, Required: true, Doc: "Its class, as procedures ask for it.", Example: `"centre lathe"`},
		{Name: "title", Form: Word, Doc: "What it is called in the shop.", Example: `"The small lathe by the window"`},
		{Name: "maker", Form: Word, Doc: "Who made it.", Example: `"Brook and Sons"`},
		{Name: "serial", Form: Word, Doc: "Its serial number.", Example: `"1180"`},
		{Name: "stands", Form: Word, Doc: "Where it stands.", Example: `"bay 3"`},
		{Name: "spindle_taper", Form: Word, Doc: "The taper of its spindle.", Example: `"MT3"`},
	},
	Free: true, FreeDoc: "a size of the machine, used as machine.NAME in the from of a given",
	Blocks: []Use{{Block: TestBar, Once: true}},
}

// TestBar holds the sizes of the bar that goes with a machine.
var TestBar = &Block{
	Type: "test_bar", Doc: "The test bar that goes with the machine.",
	Free: true, FreeDoc: "a size of the bar, used as machine.test_bar.NAME",
}

// RealInstrument is an entry of instruments.hcl.
var RealInstrument = &Block{
	Type: "instrument", Of: "the shop", Label: Identity,
	Doc: "A real instrument, to which a run binds an instrument of its procedure.",
	Attrs: append([]Attr{
		{Name: "range", Form: Span, Doc: "What it can read, from where to where on its own scale.", Example: `[mm(0), mm(25)]`},
		{Name: "division", Form: Quantity, Default: "the resolution", Doc: "One division of its scale.", Example: `um(10)`},
		{Name: "uncertainty", Form: Quantity, Doc: "Expanded uncertainty of its certificate.", Example: `um(1.5)`},
		{Name: "coverage", Form: Decimal, Default: "2", Doc: "The factor k that the expanded uncertainty was made with.", Example: `2`},
		{Name: "calibrated", Form: Word, Doc: "The day of its calibration.", Example: `"2026-03-02"`},
		{Name: "calibrated_by", Form: Word, Doc: "Who calibrated it.", Example: `"the county gauge room"`},
		{Name: "due", Form: Word, Doc: "The day on which the next is due.", Example: `"2027-03-02"`},
		{Name: "maker", Form: Word, Doc: "Who made it.", Example: `"Brook and Sons"`},
		{Name: "serial", Form: Word, Doc: "Its serial number.", Example: `"44120"`},
	}, withoutSource(Instrument.Attrs)...),
	Blocks: []Use{{Block: History}},
}

// History is a line in the life of an instrument.
var History = &Block{
	Type: "history", Doc: "Something that was done to the instrument, or befell it: a repair, a fall, an older calibration.",
	Attrs: []Attr{
		{Name: "day", Form: Word, Required: true, Doc: "The day on which it was.", Example: `"2025-11-03"`},
		{Name: "what", Form: Word, Required: true, Doc: "What was done, or what happened.", Example: `"new spindle nut"`},
		{Name: "by", Form: Word, Doc: "Who did it.", Example: `"Anna Brook"`},
	},
}

func withoutSource(in []Attr) []Attr {
	var out []Attr
	for _, a := range in {
		switch a.Name {
		case "source":
			continue
		case "certificate":
			a.Doc, a.Example = "The number of its certificate.", `"K-2026-118"`
		}
		out = append(out, a)
	}
	return out
}

// Person is an entry of people.hcl.
var Person = &Block{
	Type: "person", Label: Identity,
	Doc: "Someone who signs.",
	Attrs: []Attr{
		{Name: "name", Form: Word, Required: true, Doc: "The name as it stands under a record.", Example: `"Anna Brook"`},
		{Name: "roles", Form: Words, Doc: "The roles in which the person may sign.", Example: `["fitter"]`},
		{Name: "key", Form: Word, Doc: "The public key that the person signs with, as a file that ends in .pub has it.", Example: `"ssh-ed25519 AAAA…"`},
	},
}
