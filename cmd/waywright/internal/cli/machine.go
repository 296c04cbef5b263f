package cli

import (
	"bufio"
	"fmt"
	"strconv"
	"strings"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/register"
)

// notNamed stands for the machine in a run that was begun without one.
const notNamed = logbook.NotNamed

// spoken is how a machine is named on a screen: one that is not named, not at
// all.
func spoken(id string) string {
	if id == notNamed {
		return ""
	}
	return id
}

// machine finds the machine that a run is begun on: the one named, or the only
// one of its class, or the one that the person names when asked.
func (a *app) machine(b logbook.Book, proc *procedures.Procedure, id string, s *sitting) (engine.Machine, error) {
	all, err := b.Machines()
	if err != nil {
		return engine.Machine{}, err
	}
	if id != "" {
		return a.machineNamed(b, proc, all, id)
	}
	fit := ofClass(all, proc.Machine)
	if len(fit) == 1 {
		a.note("Machine: %s, the only %s in %s", fit[0].ID, class(proc), b.Dir)
		return logbook.MachineOf(fit[0]), nil
	}
	if s.protocol == "" && s.answers == "" && isTerminal(a.In) {
		return a.askMachine(b, proc, all, fit)
	}
	if len(fit) == 0 {
		// What is typed in from paper is worth keeping even so; a record of a
		// machine that is not named says that it is not.
		a.note("No machine is named: the record says so. Name it with --machine, such as --machine lathe-1")
		return engine.Machine{ID: notNamed, Class: proc.Machine}, nil
	}
	return engine.Machine{}, cannot("which machine? The logbook %s has %s. Choose one with --machine", b.Dir, strings.Join(ids(fit), ", "))
}

// machineNamed finds a machine by its id. A shop that keeps no register may
// name its machine as it likes.
func (a *app) machineNamed(b logbook.Book, proc *procedures.Procedure, all []register.Machine, id string) (engine.Machine, error) {
	for _, m := range all {
		if m.ID != id {
			continue
		}
		if !suits(proc.Machine, m.Class) {
			return engine.Machine{}, cannot("%s is a %s, and %s is for a %s", id, m.Class, proc.Name, proc.Machine)
		}
		return logbook.MachineOf(m), nil
	}
	if len(all) > 0 {
		mend := "It has " + strings.Join(ids(all), ", ")
		if near := diagnose.Nearest(id, ids(all)); near != "" {
			mend = fmt.Sprintf("Did you mean %s? It has %s", near, strings.Join(ids(all), ", "))
		}
		return engine.Machine{}, cannot("the logbook %s has no machine %q. %s. A new one: waywright new machine %s", b.Dir, id, mend, id)
	}
	if err := logbook.CheckID(id); err != nil {
		return engine.Machine{}, cannot("--machine %q: %w", id, err)
	}
	a.note("%s is not in %s, so its sizes are asked. Enter it with: waywright new machine %s", id, b.Dir, id)
	m := engine.Machine{ID: id}
	if proc.Machine != anyMachine {
		m.Class = proc.Machine
	}
	return m, nil
}

// askMachine asks which machine it is, and enters one that is new.
func (a *app) askMachine(b logbook.Book, proc *procedures.Procedure, all, fit []register.Machine) (engine.Machine, error) {
	in := bufio.NewScanner(a.In)
	a.printf("Which machine?\n")
	for i, m := range fit {
		a.printf(" %d  %s\n", i+1, describe(m))
	}
	if len(fit) > 0 {
		a.printf("A number, or a name for another %s.\n", class(proc))
	} else {
		a.printf("The logbook has no %s yet. Give it a name, such as lathe-1.\n", class(proc))
	}
	for {
		a.printf("> ")
		if !in.Scan() {
			return engine.Machine{}, cannot("no machine was named. Nothing was begun")
		}
		text := strings.TrimSpace(in.Text())
		if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= len(fit) {
			return logbook.MachineOf(fit[n-1]), nil
		}
		for _, m := range fit {
			if m.ID == text {
				return logbook.MachineOf(m), nil
			}
		}
		if text == "?" || text == "/" {
			a.printf("%s", fill("The name stands in the logbook and on every record: short, and one word, such as lathe-1.", "", page))
			continue
		}
		if one := strings.Join(strings.Fields(text), "-"); one != text && logbook.CheckID(one) == nil {
			a.printf("%s", fill(diagnose.Plain(fmt.Sprintf("I read %s. A name is one word: type %s.", text, one)), "", page))
			continue
		}
		if err := logbook.CheckID(text); err != nil {
			a.printf("%s", fill(diagnose.Plain(fmt.Sprintf("I read %s. %s", text, voice.Sentence(err.Error()))), "", page))
			continue
		}
		m := logbook.NewMachine{ID: text, Class: class(proc)}
		if err := b.AddMachine(m); err != nil {
			a.printf("%s\n", diagnose.Plain(err.Error()))
			continue
		}
		a.printf("%s is entered in the logbook. Its sizes can be added in machines.hcl.\n", text)
		return logbook.MachineOf(register.Machine{ID: text, Class: m.Class}), nil
	}
}

func describe(m register.Machine) string {
	s := m.ID
	for _, p := range []string{m.Title, m.Maker, m.Stands} {
		if p != "" {
			s += ", " + p
		}
	}
	return s
}

// anyMachine is the class of procedures that are for machines of all classes.
const anyMachine = "any"

// suits tells whether a procedure for a class is for a machine of another.
func suits(wanted, have string) bool {
	return wanted == "" || wanted == anyMachine || wanted == have
}

func class(p *procedures.Procedure) string {
	if suits(p.Machine, "") {
		return "machine"
	}
	return p.Machine
}

func ofClass(all []register.Machine, class string) []register.Machine {
	var out []register.Machine
	for _, m := range all {
		if suits(class, m.Class) {
			out = append(out, m)
		}
	}
	return out
}

func ids(ms []register.Machine) []string {
	var out []string
	for _, m := range ms {
		out = append(out, m.ID)
	}
	return out
}
