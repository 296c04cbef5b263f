package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/engine"
	"waywright/engine/overhaul"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

func (a *app) overhaulCommand() *cobra.Command {
	var o overhauling
	c := &cobra.Command{
		Use:   "overhaul NAME",
		Short: "Where a whole overhaul stands, what can be done next, what must be done again",
		Long: `Show where a plan stands on a machine: what is accepted, what must be done again
and which correction of which run spoilt it, what can be done next, what waits
for what. All of it comes from the runs of the logbook; a plan keeps nothing.

On a terminal it asks what to begin or to go on with; --do says so at once. What
waits for something else may be begun with a reason, which the record of its run
keeps; --leave-out leaves a test of it out by agreement, as with run.

A machine that comes back after years is gone through once more with --anew: all
tasks are to be done again, and the runs from before are history, shown and kept.
The new round begins with its first run; --since says from which day on runs
count that were begun already.`,
		Example: `  waywright overhaul both-heads --machine lathe-2
  waywright overhaul both-heads --machine lathe-2 --do headstock
  waywright overhaul both-heads --machine lathe-2 --do tailstock --because "the saddle is away for grinding"
  waywright overhaul both-heads --machine lathe-2 --anew --because "came back worn" --do headstock
  waywright overhaul both-heads --machine lathe-2 --svg plan.svg`,
		Args:              takes(1, 1, "the name of a plan, or a file"),
		ValidArgsFunction: a.completePlan,
		RunE: func(c *cobra.Command, args []string) error {
			return a.overhaul(args[0], o)
		},
	}
	o.flags(c)
	o.left.flags(c)
	f := c.Flags()
	f.StringVar(&o.machine, "machine", "", "the machine, by its id in the logbook")
	f.StringVar(&o.do, "do", "", "begin this task, or go on with it")
	f.StringVar(&o.because, "because", "", "why a task is begun out of order, or the plan anew")
	f.BoolVar(&o.anew, "anew", false, "begin the plan anew: what was accepted before is history")
	f.StringVar(&o.since, "since", "", "with --anew, the day from which on runs count, such as 2026-03-02")
	f.BoolVar(&o.inch, "inch", false, "bare numbers and displays are inch, in a run that is begun")
	f.BoolVar(&o.json, "json", false, "as JSON")
	f.StringVar(&o.svg, "svg", "", "write the plan as a picture to a file")
	a.completeFlags(c)
	if err := c.RegisterFlagCompletionFunc("do", a.completeTask); err != nil {
		panic("cli: " + err.Error())
	}
	return c
}

// overhauling is what was asked of overhaul.
type overhauling struct {
	sitting
	left leaving

	machine, do, because, svg, since string
	inch, json, anew                 bool
}

func (o *overhauling) check() error {
	if err := o.sitting.check(); err != nil {
		return err
	}
	switch {
	case o.since != "" && !o.anew:
		return cannot("--since says from which day on runs count in a round that is begun: write --anew too")
	case o.anew && strings.TrimSpace(o.because) == "":
		return cannot("why is it begun anew? The record keeps it: --because \"came back after five years\"")
	case o.because != "" && o.do == "" && !o.anew:
		return cannot("--because says why a task is begun out of order: name the task with --do")
	case o.do == "" && (len(o.left.tests) > 0 || o.left.agreed != "" || len(o.assuming.values) > 0):
		return cannot("--leave-out and --assume are said of the run of a task: name the task with --do")
	case !sound(o.because):
		return cannot("--because %q is not plain text", o.because)
	case o.do != "" && (o.json || o.svg != ""):
		return cannot("--do begins a task, --json and --svg show the plan: choose one")
	case o.do == "" && (o.answers != "" || o.protocol != ""):
		return cannot("which task? Name it with --do; without it the plan is shown, and a person is asked")
	}
	return nil
}

func (a *app) overhaul(name string, o overhauling) error {
	if err := o.check(); err != nil {
		return err
	}
	b := a.book()
	p, err := a.plan(b, name)
	if err != nil {
		return err
	}
	m, err := a.planMachine(b, p.plan, o.machine)
	if err != nil {
		return err
	}
	h, err := b.History(m, p.plan)
	if err != nil {
		return err
	}
	a.brokenPlans(b)
	s := overview{planned: p}
	if o.anew {
		if s.anew, err = a.beginAnew(h, p.plan, o); err != nil {
			return err
		}
	}
	s.view = h.Look(p.plan, a.Now())
	switch {
	case o.json:
		return a.json(s.json())
	case o.svg != "":
		return a.picture(o.svg, s.picture())
	case o.do != "":
		return a.doNamed(b, m, s, o)
	}
	a.printf("%s", s.text())
	if out, ok := a.Out.(*os.File); !ok || !isTerminal(a.In) || !isTerminal(out) || s.view.Done() {
		if s.anew != nil {
			a.printf("\n%s", fill("Nothing is begun yet. The round begins with its first run: name its task with --do.", "", narrow))
		}
		return nil
	}
	return a.askTask(b, m, s, o)
}

// beginAnew shows the plan to itself as it stands when it is begun anew.
func (a *app) beginAnew(h *overhaul.History, plan *procedures.Overhaul, o overhauling) (*engine.Anew, error) {
	since := a.Now().UTC()
	if o.since != "" {
		day, err := time.Parse(time.DateOnly, o.since)
		switch {
		case err != nil:
			return nil, cannot("--since %q is no day. Write year, month and day, such as 2026-03-02", diagnose.Plain(o.since))
		case day.After(since):
			return nil, cannot("--since %s is still to come. Leave it out, and the round begins now", o.since)
		case h.Round(plan).N > 1 && !day.After(h.Round(plan).Since):
			return nil, cannot("--since %s lies before %s, when %s was begun anew last. Name a later day", o.since, h.Round(plan).Since.UTC().Format(time.DateOnly), plan.Name)
		}
		since = day
	}
	because := strings.TrimSpace(o.because)
	if h.Anew(plan, since, because) == 0 {
		return nil, cannot("nothing of %s was begun before that, so there is nothing to begin anew. Leave --anew out", plan.Name)
	}
	return &engine.Anew{Since: since, Because: because}, nil
}

// planned is a plan with where its procedures are.
type planned struct {
	plan   *procedures.Overhaul
	src    hclfile.Source
	titles map[string]string // of the procedures at hand
}

// plan finds a plan and proofreads it.
func (a *app) plan(b logbook.Book, name string) (*planned, error) {
	src, err := b.Find(name)
	if err != nil {
		if plans := b.Plans(); len(plans) > 0 {
			return nil, cannot("there is no plan %q. There is: %s", name, strings.Join(plans, ", "))
		}
		return nil, cannot("there is no plan %q, and none at all: not in the logbook %s and not in the library. A plan is a file with an overhaul and its tasks", name, b.Dir)
	}
	src.Brief = true
	r := proofread.File(src)
	switch {
	case r.Diagnostics.HasErrors():
		a.diagnostics(r.Diagnostics, r.Text)
		return nil, cannot("%s cannot be used: %s", name, counted(r.Diagnostics))
	case r.Overhaul == nil:
		return nil, cannot("%s is no plan of an overhaul. A single procedure is begun with: waywright run %s", name, name)
	}
	p := &planned{plan: r.Overhaul, src: src, titles: map[string]string{}}
	for _, t := range p.plan.Tasks {
		if peer, ok := hclfile.Peer(src, t.Procedure); ok && p.titles[t.Procedure] == "" {
			p.titles[t.Procedure] = t.Procedure
			peer.Brief = true
			if l, _ := hclfile.Parse(peer); l.Procedure != nil && l.Procedure.Title != "" {
				p.titles[t.Procedure] = diagnose.Plain(l.Procedure.Title)
			}
		}
	}
	return p, nil
}

// planMachine finds the machine of an overhaul: the one named, or the only one
// of its class.
func (a *app) planMachine(b logbook.Book, plan *procedures.Overhaul, id string) (engine.Machine, error) {
	as := &procedures.Procedure{Name: plan.Name, Machine: plan.Machine}
	all, err := b.Machines()
	if err != nil {
		return engine.Machine{}, err
	}
	if id != "" {
		if len(all) == 0 {
			if err := logbook.CheckID(id); err != nil {
				return engine.Machine{}, cannot("--machine %q: %w", id, err)
			}
			m := engine.Machine{ID: id}
			if plan.Machine != anyMachine {
				m.Class = plan.Machine
			}
			return m, nil
		}
		return a.machineNamed(b, as, all, id)
	}
	switch fit := ofClass(all, plan.Machine); len(fit) {
	case 1:
		return logbook.MachineOf(fit[0]), nil
	case 0:
		return engine.Machine{}, cannot("which machine? The logbook %s has no %s yet. Name one: --machine lathe-1", b.Dir, class(as))
	default:
		return engine.Machine{}, cannot("which machine? The logbook %s has %s. Choose one with --machine", b.Dir, strings.Join(ids(fit), ", "))
	}
}

// doNamed begins the task that --do names, or goes on with it.
func (a *app) doNamed(b logbook.Book, m engine.Machine, s overview, o overhauling) error {
	t, ok := s.view.Task(o.do)
	if !ok {
		var all []string
		for _, t := range s.view.Tasks {
			all = append(all, t.Name)
		}
		mend := ""
		if near := diagnose.Nearest(o.do, all); near != "" {
			mend = fmt.Sprintf(" Did you mean %q?", near)
		}
		return cannot("the plan %s has no task %q.%s It has: %s", s.plan.Name, o.do, mend, strings.Join(all, ", "))
	}
	against := s.against(t)
	if len(against) > 0 && strings.TrimSpace(o.because) == "" {
		return cannot("%s is not due now: %s. Nothing was begun. To begin it all the same, say why: --because \"…\"", t.Name, strings.Join(against, "; "))
	}
	if len(against) == 0 && o.because != "" && !o.anew {
		a.note("Nothing stands against %s, so no reason is kept.", t.Name)
	}
	return a.do(b, m, s, t, o)
}

// do begins a task or goes on with its run.
func (a *app) do(b logbook.Book, m engine.Machine, s overview, t overhaul.Task, o overhauling) error {
	if t.State == overhaul.UnderWay && s.anew != nil {
		return cannot("%s is under way in run %s, begun on that day or later. A round begins with a new run: choose another task, or a later day with --since", t.Name, t.Run)
	}
	if t.State == overhaul.UnderWay {
		if len(o.left.tests) > 0 {
			return cannot("%s is under way in run %s, and a test is left out when a run is begun, or not at all", t.Name, t.Run)
		}
		o.assuming.agreed = o.left.agreed
		answers, err := o.open(a.In)
		if err != nil {
			return err
		}
		return a.resume(b, t.Run, &o.sitting, answers)
	}
	peer, ok := hclfile.Peer(s.src, t.Procedure)
	if !ok {
		return cannot("the procedure %s is not at hand, so %s cannot be begun. Put %s.hcl beside the plan, or into the procedures of the logbook", t.Procedure, t.Name, t.Procedure)
	}
	proc, err := a.usable(t.Procedure, peer, ". Nothing was begun")
	if err != nil {
		return err
	}
	if err := gradeOf(proc, o.grade); err != nil {
		return err
	}
	if !suits(proc.Machine, m.Class) && m.Class != "" {
		return cannot("%s is for a %s, and %s is a %s. Nothing was begun", proc.Name, proc.Machine, m.ID, m.Class)
	}
	out, err := o.left.of(proc, len(o.assuming.values) > 0)
	if err != nil {
		return err
	}
	o.assuming.agreed = o.left.agreed
	if o.assumed, err = o.assuming.of(proc, o.inch); err != nil {
		return fmt.Errorf("%w. Nothing was begun", err)
	}
	answers, err := o.open(a.In)
	if err != nil {
		return err
	}
	if _, err := b.Make(); err != nil {
		return err
	}
	task := logbook.Task{Plan: s.plan, Name: t.Name, Anew: s.anew}
	if against := s.against(t); len(against) > 0 {
		task.Waits, task.Because = against, strings.TrimSpace(o.because)
	}
	return a.begin(b, begin{proc, m, o.inch, task, nil, out}, &o.sitting, answers)
}

// against says, in sentences without their points, what stands against
// beginning a task now. A run that was begun is gone on with.
func (s overview) against(t overhaul.Task) []string {
	var out []string
	if len(t.Waits) > 0 {
		out = append(out, "it waits for "+taskNames(t.Waits))
	}
	if !t.From.IsZero() {
		out = append(out, "it waits until "+t.From.UTC().Format(time.DateOnly))
	}
	for _, u := range t.Unknown {
		out = append(out, "whether it is needed is not known: "+u)
	}
	switch t.State {
	case overhaul.UnderWay:
		return nil
	case overhaul.Accepted:
		out = append(out, "it is accepted, and nothing has spoilt that")
	case overhaul.Settled:
		out = append(out, s.whyNot(t))
	}
	return out
}

// whyNot says why a task is not needed.
func (s overview) whyNot(t overhaul.Task) string {
	why := "it is needed only if " + t.When.Source()
	if len(t.Facts) > 0 {
		why += ", and " + strings.Join(t.Facts, ", ")
	}
	return why
}

func taskNames(ts []*procedures.Task) string {
	var out []string
	for _, t := range ts {
		out = append(out, t.Name)
	}
	return strings.Join(out, ", ")
}

// askTask asks by number what to begin or to go on with.
func (a *app) askTask(b logbook.Book, m engine.Machine, s overview, o overhauling) error {
	in := bufio.NewScanner(byByte{a.In})
	a.printf("\nWhich now? Its number, or 0 for none.\n")
	for {
		a.printf("> ")
		if !in.Scan() {
			return nil
		}
		text := strings.TrimSpace(in.Text())
		n, err := strconv.Atoi(text)
		i := slices.IndexFunc(s.view.Tasks, func(t overhaul.Task) bool { return t.Name == text })
		switch {
		case err == nil && n == 0:
			return nil
		case err == nil && n >= 1 && n <= len(s.view.Tasks):
			i = n - 1
		case i < 0:
			a.printf("I read %s. Type a number from 0 to %d.\n", diagnose.Plain(text), len(s.view.Tasks))
			continue
		}
		t := s.view.Tasks[i]
		if against := s.against(t); len(against) > 0 {
			a.printf("%s", fill(fmt.Sprintf("Not due now: %s.", diagnose.Plain(strings.Join(against, "; "))), "", page))
			a.printf("Why all the same? The record keeps it. 0: leave it.\n> ")
			if !in.Scan() || strings.Trim(in.Text(), " 0") == "" || !sound(in.Text()) {
				a.printf("Nothing was begun. Which now? 0 for none.\n")
				continue
			}
			o.because = strings.TrimSpace(in.Text())
		}
		return a.do(b, m, s, t, o)
	}
}

// byByte reads no further than it is asked to, so that what is typed ahead
// stays for the questions of the run.
type byByte struct{ r io.Reader }

func (b byByte) Read(p []byte) (int, error) {
	if len(p) == 0 {
		return 0, errors.New("cli: nothing to read into")
	}
	return b.r.Read(p[:1])
}

func (a *app) completePlan(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	out, _ := names(a.book().Plans(), typed)
	return out, cobra.ShellCompDirectiveDefault // a file will do as well
}

func (a *app) completeTask(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) != 1 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	src, err := a.book().Find(args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	if l, _ := hclfile.Parse(src); l.Overhaul != nil {
		for _, t := range l.Overhaul.Tasks {
			out = append(out, t.Name)
		}
	}
	return names(out, typed)
}
