// Package protocol lets another program drive a run: a gauge interface, another
// front end, a test. It speaks JSON, one object a line, UTF-8, on two streams.
// protocol.schema.json beside this file is the exact form.
//
// # What comes out
//
// Every object has "v", the version of the protocol (1), and "type":
//
//	question  what is to be answered next. There is one open question at a time.
//	advice    a correction that is offered: how much, which way, in which unit,
//	          what the machine answered in an earlier run, what was taken off
//	          there so far. It comes before the question that offers it.
//	notice    what happened after an answer: kept, void, again, response,
//	          suspicion: readings look like a common mistake …
//	settled   a gate got a verdict: value, expanded uncertainty, limits, unit, and
//	          by how much it differs from the judgement before.
//	refusal   an answer was not kept, and why. The question stays open.
//	end       the last line: what has become of the run, and where its record is.
//
// Numbers are in the unit that stands beside them. What is not there is left
// out: a limit that does not exist, a value that is not known. Nothing is ever
// infinite or "not a number". Texts are finished sentences in plain English;
// the words of "kind", "code", "verdict", "outcome" and "word" are fixed and
// are meant to be compared. Directions say "the operator" as the record does.
//
// # What goes in
//
//	{"type":"answer","id":"7","text":"31.847"}
//	{"type":"answer","name":"span","text":"250 mm"}
//	{"type":"answer","id":"8","text":"32.347","reason":"the collar is like that"}
//	{"type":"answer","verb":"amend","name":"span","text":"252","reason":"mistyped"}
//	{"type":"ask"}
//
// The text is what a person would type: any unit of the right dimension, a
// decimal comma, a row of values. The id is that of the open question; an
// answer with another id was meant for another question and is refused, so a
// gauge that sends twice cannot answer two questions. Without an id the name
// decides, and without a name the answer is for the open question. The verbs
// are those of package engine: back, amend, cannot, note, attach, pause,
// disturb, omit, leave_out, abandon; without one the question is answered. With
// leave_out the name is that of a test, one of "leaves_out" of the first question,
// the text is who agreed that it is not measured, and the reason why: before the
// operator is named, or not at all. Of a row with an odd value the refusal has
// the row's values and which one is odd; the others may be sent by themselves. A file is named by its
// path, in "file"; with "no_place":true what says where it was taken is not
// kept. "ask" has the open question said again: a wait changes with
// time.
//
// A line that is not such an object is refused with the code "json", one that
// has more than a mebibyte ends the session. The end of the input is a pause:
// everything that was told as kept is kept, and the run can be gone on with.
//
// # What will stay
//
// Within version 1 fields and kinds may be added, none is taken away or
// changes its meaning. A reader passes over what it does not know.
package protocol
