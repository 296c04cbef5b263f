package cli

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/engine"
	"waywright/engine/drive"
	"waywright/procedures/register"

	"waywright/cmd/waywright/internal/voice"
)

// bench is a session with what the shop knows of its instruments and people.
type bench struct {
	*drive.Session
	instruments []register.Instrument
	people      []logbook.Signatory
	peopleFile  string
	grade       string // said on the command line, for when it is asked
}

func newBench(b logbook.Book, s *drive.Session) (*bench, error) {
	instruments, err := b.Instruments()
	if err != nil {
		return nil, err
	}
	people, err := b.Signatories()
	if err != nil {
		return nil, err
	}
	return &bench{Session: s, instruments: instruments, people: people, peopleFile: b.PeopleFile()}, nil
}

// Say refuses what no journal can hold.
func (b *bench) Say(in engine.Input) ([]engine.Notice, *engine.Refusal, error) {
	for _, text := range []string{in.Text, in.Reason, in.Name} {
		if !sound(text) {
			return nil, &engine.Refusal{Code: "value", Understood: fmt.Sprintf("I read %q.", text), Wrong: "That is not plain text.", Mend: "Type it in letters and figures."}, nil
		}
	}
	if r := b.mayAct(in); r != nil {
		return nil, r, nil
	}
	if id := strings.TrimSpace(in.Text); in.Verb == engine.Answer && in.Known == nil && id != "" && !strings.EqualFold(id, "none") {
		in.Shop = b.has()
	}
	notices, refusal, err := b.Session.Say(in)
	if refusal != nil || err != nil {
		return notices, refusal, err
	}
	more, err := b.sayGrade()
	return append(notices, more...), nil, err
}

// sayGrade answers the question for the grade, where the command line has said it:
// it comes once somebody sits at the machine.
func (b *bench) sayGrade() ([]engine.Notice, error) {
	q := b.Next()
	if b.grade == "" || q.Kind != engine.AskGrade {
		return nil, nil
	}
	notices, _, err := b.Session.Say(engine.Input{Name: q.Name, Text: b.grade}) // it was looked at before the run began
	return notices, err
}

// mayAct refuses the name of somebody who has other roles in the shop than the
// one that is asked for. Who is not in the register of people may act: a buyer is
// not of the shop.
func (b *bench) mayAct(in engine.Input) *engine.Refusal {
	q := b.Next()
	if in.Verb != engine.Answer || q.Role == nil || in.Name != "" && in.Name != q.Name {
		return nil
	}
	switch q.Kind {
	case engine.AskSign, engine.AskDecider, engine.AskRelease:
	default:
		return nil
	}
	for _, p := range b.people {
		if sameWords(p.Name, in.Text) && len(p.Roles) > 0 && !slices.Contains(p.Roles, q.Role.Name) {
			return &engine.Refusal{Code: "value", Understood: "I read " + p.Name + ".",
				Wrong: fmt.Sprintf("By %s, %s acts as %s, and not as %s.", b.peopleFile, p.Name, strings.Join(p.Roles, ", "), q.Role.Name),
				Mend:  "Let another person do it, or enter the role in that file."}
		}
	}
	return nil
}

// has names the instruments of the shop, the first few.
func (b *bench) has() string {
	const most = 6
	var ids []string
	for i, in := range b.instruments {
		if i == most {
			return strings.Join(ids, ", ") + " …"
		}
		ids = append(ids, in.ID)
	}
	return strings.Join(ids, ", ")
}

// real returns the instrument of the shop with an id, whatever the case.
func (b *bench) real(id string) (register.Instrument, bool) {
	for _, in := range b.instruments {
		if strings.EqualFold(in.ID, strings.TrimSpace(id)) {
			return in, true
		}
	}
	return register.Instrument{}, false
}

// bound gives the figures of an instrument of the shop; ok is false where it
// is not in the register. Whether it suits is for the engine to say.
func (b *bench) bound(name, id string) (engine.Bound, bool) {
	real, ok := b.real(id)
	if !ok {
		return engine.Bound{}, false
	}
	return logbook.Bound(name, real), true
}

// choices lists the instruments of the shop that are of a kind.
func (b *bench) choices(kind string) []engine.Choice {
	var out []engine.Choice
	for _, in := range b.instruments {
		if register.SameKind(in.Kind, kind) {
			out = append(out, engine.Choice{Word: in.ID, Label: label(in, b.Now())})
		}
	}
	return out
}

func label(in register.Instrument, now time.Time) string {
	s := in.ID + ", " + in.Kind
	switch {
	case in.Due != "" && in.Due < now.Format(time.DateOnly):
		s += ", calibration ended " + in.Due
	case in.Due != "":
		s += ", calibrated until " + in.Due
	}
	return s
}

// sitDown makes a run ready for a new sitting, and returns what is to be said
// first.
func (a *app) sitDown(run *logbook.Run, session *drive.Session, resumed bool) ([]engine.Notice, error) {
	if !resumed {
		return nil, nil
	}
	v := voice.Voice{Title: run.Plan.Procedure().Title, Machine: spoken(run.State.Begun().Machine.ID)}
	q := session.Next()
	if q.Kind == engine.End {
		return nil, nil
	}
	out := welcome(v, session.State(), session.Now())
	if text := run.Notice.String(); text != "" {
		out = append(out, engine.Notice{Kind: engine.Recovered, Text: text})
	}
	if q.Kind == engine.AskOperator || session.State().Seal() != nil {
		return out, nil
	}
	// The last sitting was never ended: the power went, or the program.
	_, err := session.Record(engine.Paused{Reason: "the program stopped without a pause"})
	return out, err
}
