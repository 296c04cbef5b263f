package schema

// What the words of attributes mean, in the order of the words.
var (
	DecisionMean = []string{
		"A value inside the limit passes, however poorly it is known. For what checks the set-up, and where the limit has room for the doubt already.",
		"A value passes where 95 of 100 such values would truly lie inside the limit.",
		"A value passes where 977 of 1000 such values would truly lie inside the limit.",
	}
	SpindleMean = []string{
		"It turns under power while the step is worked.",
		"It stands, isolated where hands go in.",
	}
	OutcomeMean = []string{
		"Every gate passed, and the record can be signed.",
		"Every gate passed, but for those that a concession was granted for.",
		"Every gate only notes what was found: nothing was to be accepted.",
		"A gate was given up.",
		"Something is left that was not measured, or that the readings could not decide.",
	}
	PlanOutcomeMean = []string{
		"Every task was accepted, with nothing against any of them.",
		"So, but for concessions that were granted.",
		"A task was rejected.",
		"It goes round and round: what one task mends another spoils.",
	}
	ResponseMean = []string{
		"The result changed as it should.",
		"It was moved the wrong way.",
		"It was moved as asked, and the result went the other way: readings taken for one another, or an indicator's sign.",
		"It was moved right, and the indicator showed the other way: the indicator reads the other way round.",
		"It was moved as asked, and nothing came of it: taken back in clamping, or not the cause.",
		"Nothing moved.",
		"It was moved less than asked, and as much came of it.",
		"It was moved further than asked, and as much came of it.",
		"It was moved as asked, and less came of it: the machine answers weakly, and the next amount is larger.",
		"It was moved as asked, and more came of it: the next amount is smaller.",
		"What came of it fits none of these; it is measured again.",
	}
	ObjectionMean = []string{
		"A value looks a whole turn of the screw or pointer out.",
		"A value lies outside its plausible range.",
		"A take lies further from the others than the instrument scatters.",
		"The first place, read again at the end, has moved by more than the closure allows, so the set is taken again.",
	}
	HazardMean = []string{
		"Something turns.", "Stored energy: mains, springs, raised weights, air under pressure.", "Something can fall or tip.",
		"Solvents, oils, compounds on the skin.", "Dust of grinding or of castings.", "Swarf, edges, scrapers.", "Vapours that must not be breathed.",
		"Parts are hot.", "Oil or air under pressure.", "Something can get into the eyes.", "Loud for long.", "Fingers between two parts.",
		"Something can catch fire.", "A chemical that harms beyond the skin.", "Too heavy for one person.",
	}
)
