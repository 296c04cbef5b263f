package engine

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/procedures"
)

// A run is sealed by its first signature, when all is settled: every fact is
// there and fresh, every gate passed or its concession decided, nothing was
// left out. From then on its record has the bytes that it has, and the journal
// takes signatures and nothing that would change them. What is signed is those
// bytes, so a later signature does not break an earlier one.

// Sealed says that the record of a run has the bytes that it will have.
type Sealed struct {
	Digest  string `json:"digest,omitempty"`  // SHA-256 of record.json, made from the lines before this one
	Lines   int    `json:"lines,omitempty"`   // how many lines those are
	Program string `json:"program,omitempty"` // that made it
}

// Deciding names the person who decides on concessions in a role.
type Deciding struct {
	Role string `json:"role"`
	Name string `json:"name"`
}

// Issued says which printed forms were made of a sealed record, with their
// hashes. Each stands beside it until a newer one takes its place.
type Issued struct {
	Files []File `json:"files"`
}

// Superseding says that a run corrects the signed record of another one, which
// stays as it is.
type Superseding struct {
	Run     string `json:"run,omitempty"`
	Number  string `json:"number"` // of the record
	Digest  string `json:"digest"` // SHA-256 of its record.json
	Because string `json:"because"`
	Carried int    `json:"carried,omitempty"` // lines of its journal taken over, which stand before this one
	Name    string `json:"name,omitempty"`    // who corrects it
}

func (Sealed) Kind() string      { return "sealed" }
func (Deciding) Kind() string    { return "decides" }
func (Issued) Kind() string      { return "issued" }
func (Superseding) Kind() string { return "supersedes" }

// Seal is the seal of a run.
type Seal struct {
	Sealed
	N  int // its line
	At time.Time
	By string
}

// SupersedesRecord is the record that a run corrects.
type SupersedesRecord struct {
	Superseding
	Stamp
}

// Seal returns the seal of the run, or nil.
func (s *State) Seal() *Seal { return s.seal }

// Seated tells whether somebody is at the machine.
func (s *State) Seated() bool { return s.seated }

// Signatures returns the signatures, in the order of signing.
func (s *State) Signatures() []Signature { return slices.Clone(s.signed) }

// Unsigned returns the roles that have not signed, in the order of the file.
func (s *State) Unsigned() []*procedures.Signoff {
	var out []*procedures.Signoff
	for _, role := range s.plan.proc.Signoffs {
		if !s.hasSigned(role) {
			out = append(out, role)
		}
	}
	return out
}

// Issued returns every form that was made of the sealed record, the newest
// last.
func (s *State) Issued() []File { return slices.Clone(s.issued) }

// Supersedes returns the record that this run corrects, or nil.
func (s *State) Supersedes() *SupersedesRecord { return s.supersedes }

// OnceSigned returns what has become of the run as far as its tests and
// concessions go: the outcome that it has when every role has signed.
func (s *State) OnceSigned() Outcome {
	switch {
	case s.abandoned != nil:
		return Discontinued
	case s.rejected != nil:
		return Rejected
	case !s.settled() || len(s.undecided()) > 0 || len(s.obstacles()) > 0:
		return NotDecided
	}
	return s.conceding()
}

// conceding is the outcome of a run whose gates are settled.
func (s *State) conceding() Outcome {
	outcome := s.surveyed()
	for _, c := range s.liveConcessions() {
		if !c.Granted {
			return Rejected
		}
		outcome = Conceded
	}
	return outcome
}

// surveyed is the outcome of a run without concessions: where all the tests that
// apply are noted alone, nothing was accepted but what was found.
func (s *State) surveyed() Outcome {
	noted, agreed := 0, 0
	s.eachGate(func(g *procedures.Gate, round []string) {
		switch {
		case !s.applies(g, round):
		case g.Noted():
			noted++
		default:
			agreed++
		}
	})
	if noted > 0 && agreed == 0 {
		return AsFound
	}
	return Accepted
}

// undecided returns the judgements whose concession was asked for and is
// neither granted nor refused.
func (s *State) undecided() []Judgement {
	var out []Judgement
	for _, j := range s.concededGates() {
		if !j.Conceded.Decided {
			out = append(out, j)
		}
	}
	return out
}

// Unsealable returns, in sentences, why the run cannot be sealed yet; nothing
// where it can, or is.
func (s *State) Unsealable() []string {
	if s.seal != nil {
		return nil
	}
	if s.abandoned != nil {
		return []string{"the run is abandoned: " + strings.TrimRight(s.abandoned.Reason, ".")}
	}
	out := s.Open()
	if s.rejected == nil {
		for _, j := range s.undecided() {
			out = append(out, fmt.Sprintf("the concession for %q is neither granted nor refused", j.Title))
		}
	}
	return out
}

// BeforeSeal returns the state that was sealed; of a run that is not sealed, the
// state itself.
func (s *State) BeforeSeal() (*State, error) {
	if s.seal == nil {
		return s, nil
	}
	i := slices.IndexFunc(s.events, func(ev Event) bool { return ev.N == s.seal.N })
	return Fold(s.plan, s.events[:i])
}

func (s *State) sealIt(ev Event, d Sealed) error {
	switch {
	case s.seal != nil:
		return errors.New("it seals the run a second time")
	case d.Lines != 0 && d.Lines != ev.N-1:
		return fmt.Errorf("it seals %d lines, and %d stand before it", d.Lines, ev.N-1)
	}
	s.seal = &Seal{d, ev.N, ev.Time, ev.By}
	return nil
}

// closed refuses an event that would change what was sealed.
func (s *State) closed(ev Event) error {
	if s.abandoned != nil {
		if _, printed := ev.Data.(Issued); printed {
			return nil
		}
		return fmt.Errorf("it stands after the run was abandoned, in line %d", s.abandoned.N)
	}
	if s.seal == nil {
		return nil
	}
	switch ev.Data.(type) {
	case Signed, Issued, Paused:
		return nil
	}
	return fmt.Errorf("it stands after the seal of line %d, where only signatures may stand", s.seal.N)
}

// sealedAgainst refuses what would change a sealed record, and names the way.
func (s *State) sealedAgainst(in Input) *Refusal {
	if s.seal == nil {
		return nil
	}
	switch in.Verb {
	case Answer, Omit, Pause:
		return nil
	}
	return refuse("sealed", "", "The record is sealed: what was signed stays as it is.", "A correction makes a new record that points to this one.")
}

func (s *State) supersede(ev Event, d Superseding) error {
	if s.supersedes != nil {
		return errors.New("it corrects a second record")
	}
	s.supersedes = &SupersedesRecord{d, stamp(ev, d.Because)}
	return nil
}

// decides keeps who decides on concessions, until the sitting ends.
func (s *State) decides(d Deciding) error {
	role := s.plan.signoffs[d.Role]
	if role == nil || !role.Concedes {
		return fmt.Errorf("it decides on concessions as %q, a role that does not", d.Role)
	}
	s.deciders = append(slices.Clip(s.deciders), decider{role, d.Name})
	return nil
}

// decider is who has decided on concessions, or is about to.
type decider struct {
	role *procedures.Signoff
	name string
}

// decidesNow returns the name of who decides in a role in this sitting.
func (s *State) decidesNow(role *procedures.Signoff) string {
	name := ""
	for _, d := range s.deciders[s.decidersBefore:] {
		if d.role == role {
			name = d.name
		}
	}
	return name
}

// nextConcession asks who decides, then about each concession that was asked
// for. It comes before all signatures: what is signed is what was decided.
func (s *State) nextConcession() (Question, bool) {
	i := slices.IndexFunc(s.plan.proc.Signoffs, func(r *procedures.Signoff) bool { return r.Concedes && !s.hasSigned(r) })
	open := s.undecided()
	if i < 0 || len(open) == 0 {
		return Question{}, false
	}
	role, j := s.plan.proc.Signoffs[i], open[0]
	if s.decidesNow(role) == "" {
		return Question{Kind: AskDecider, Name: role.Name + ".decides", Text: true, Role: role, Gate: &j,
			Ask: "Who decides on concessions, as " + role.Name + "?"}, true
	}
	return Question{
		Kind: AskConcession, Name: j.Name + ".concession", Gate: &j, Role: role,
		Ask: "Concession for this one?", Choices: []Choice{{"refuse", "refuse"}, {"grant", "grant, and say why"}},
	}, true
}

func (s *State) answerDecider(q Question, in Input) ([]Data, *Refusal) {
	if r := s.apart(q.Role, in.Text, "", "Nothing was decided.", "Let the other person decide."); r != nil {
		return nil, r
	}
	return []Data{Deciding{Role: q.Role.Name, Name: in.Text}}, nil
}

// Decision grants or refuses a concession by name, whatever is asked.
type Decision struct {
	Role, Name, Gate, Reason string
	Grant                    bool
}

// Decide judges a decision on a concession and returns the events to keep, or
// a refusal. It changes nothing.
func (s *State) Decide(d Decision) ([]Data, *Refusal) {
	role := s.plan.signoffs[d.Role]
	switch {
	case s.seal != nil:
		return nil, refuse("sealed", "", "The record is sealed: its concessions are decided.", "A correction makes a new record that points to this one.")
	case role == nil:
		return nil, s.noRole(d.Role)
	case !role.Concedes:
		return nil, refuse("role", "", fmt.Sprintf("The %s does not decide on concessions. Nothing was kept.", role.Name), s.whoConcedes())
	case strings.TrimSpace(d.Reason) == "":
		return nil, reasonWanted("Granting or refusing a concession")
	case strings.TrimSpace(d.Name) == "":
		return nil, refuse("name", "", "A concession is decided by somebody with a name.", "Say who decides.")
	}
	open := s.undecided()
	i := slices.IndexFunc(open, func(j Judgement) bool { return j.Name == d.Gate })
	if i < 0 {
		return nil, refuse("gate", "", fmt.Sprintf("No concession is to be decided at %q.", d.Gate), s.whatIsAsked(open))
	}
	if r := s.apart(role, d.Name, "", "Nothing was decided.", "Let the other person decide."); r != nil {
		return nil, r
	}
	var out []Data
	if s.decidesNow(role) != d.Name {
		out = append(out, Deciding{Role: role.Name, Name: d.Name})
	}
	return append(out, Decided{Role: role.Name, Gate: d.Gate, Granted: d.Grant, Reason: d.Reason, Name: d.Name}), nil
}

func (s *State) whatIsAsked(open []Judgement) string {
	if len(open) == 0 {
		return "None was asked for, or all are decided."
	}
	var names []string
	for _, j := range open {
		names = append(names, j.Name)
	}
	return "Asked for: " + strings.Join(names, ", ") + "."
}

func (s *State) whoConcedes() string {
	var names []string
	for _, r := range s.plan.proc.Signoffs {
		if r.Concedes {
			names = append(names, r.Name)
		}
	}
	if len(names) == 0 {
		return "No role of this procedure does."
	}
	return "That is for: " + strings.Join(names, ", ") + "."
}

// Role returns the role of that name, or a refusal that lists those there are.
func (s *State) Role(name string) (*procedures.Signoff, *Refusal) {
	if r := s.plan.signoffs[name]; r != nil {
		return r, nil
	}
	return nil, s.noRole(name)
}

func (s *State) noRole(name string) *Refusal {
	var names []string
	for _, r := range s.plan.proc.Signoffs {
		names = append(names, r.Name)
	}
	if len(names) == 0 {
		return refuse("role", "", "Nobody signs by this procedure.", "Give it a signoff block.")
	}
	return refuse("role", "", fmt.Sprintf("This procedure has no role %q.", name), "Its roles: "+strings.Join(names, ", ")+".")
}

// Sign judges a signature in a role, whatever is asked, and returns the events
// to keep, or a refusal. It changes nothing.
func (s *State) Sign(d Signed) ([]Data, *Refusal) {
	role := s.plan.signoffs[d.Role]
	if role == nil {
		return nil, s.noRole(d.Role)
	}
	for _, g := range s.signed {
		if g.Role == role {
			return nil, refuse("sign", "", fmt.Sprintf("%s has signed as %s.", g.Name, role.Name), "A role signs once.")
		}
	}
	if why := s.Unsealable(); len(why) > 0 {
		return nil, refuse("sign", "", "This run cannot be signed: "+strings.Join(why, "; ")+".", s.sealMend())
	}
	if strings.TrimSpace(d.Name) == "" {
		return nil, refuse("name", "", "A signature has a name.", "Say who signs.")
	}
	if r := s.apart(role, d.Name, d.Key, "Nothing was signed.", "Let the other person sign."); r != nil {
		return nil, r
	}
	if d.Statement == "" {
		d.Statement = Statement(role)
	}
	if s.seal != nil {
		return []Data{d}, nil
	}
	return []Data{Sealed{}, d}, nil
}

// sealMend says what makes a run fit to be signed.
func (s *State) sealMend() string {
	switch {
	case len(s.obstacles()) > 0:
		return s.signMend()
	case s.settled() && len(s.undecided()) > 0:
		return "Let it be granted or refused first. " + s.whoConcedes()
	}
	return "Go on with the run first."
}

// Statement is what a role signs, where it says nothing else.
func Statement(role *procedures.Signoff) string {
	if role.Concedes || role.OtherThan != nil {
		return "I accept it as stated."
	}
	return "I measured, and it was as stated."
}

// apart refuses a person, or a key, in a role that must be somebody else than
// a role in which that person or key has acted: signed, released a hold point,
// or decided on a concession.
func (s *State) apart(role *procedures.Signoff, name, key, so, mend string) *Refusal {
	differ := func(o *procedures.Signoff) bool { return o == role.OtherThan || o.OtherThan == role }
	other := fmt.Sprintf("The %s must be somebody else. %s", role.Name, so)
	for _, g := range s.signed {
		switch {
		case !differ(g.Role):
		case sameName(g.Name, name):
			return refuse("sign", fmt.Sprintf("%s has signed as %s.", g.Name, g.Role.Name), other, mend)
		case key != "" && g.Key == key:
			return refuse("sign", fmt.Sprintf("This key has signed as %s, for %s.", g.Role.Name, g.Name),
				fmt.Sprintf("The %s must sign with another key. %s", role.Name, so), "Let the other person sign, with a key of their own.")
		}
	}
	for _, r := range s.Released() {
		if differ(r.As) && sameName(r.Name, name) {
			return refuse("sign", fmt.Sprintf("%s has released a hold point as %s: %s.", r.Name, r.As.Name, r.Step), other, mend)
		}
	}
	for _, d := range s.deciders {
		if differ(d.role) && sameName(d.name, name) {
			return refuse("sign", fmt.Sprintf("%s has decided on concessions as %s.", d.name, d.role.Name), other, mend)
		}
	}
	return nil
}
