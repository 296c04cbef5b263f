package cli

import (
	"bufio"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/cmd/waywright/internal/logbook"
	"waywright/cmd/waywright/internal/voice"
	"waywright/procedures/diagnose"
	"waywright/procedures/register"
	"waywright/report/pdf"
)

func (a *app) newCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "new",
		Short: "A procedure, a logbook, a machine or an instrument, from questions",
		Long: `Write a procedure, make a logbook, or enter a machine or an instrument in it. What
the flags do not say is asked for on a terminal; Enter alone leaves it out.`,
		Example: `  waywright new procedure drill-table
  waywright new logbook
  waywright new machine lathe-2
  waywright new instrument M-3 --kind "outside micrometer" --resolution 1um --error 4um`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return cannot("there is no new %q: a procedure, a logbook, a machine or an instrument. See: waywright new --help", args[0])
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return c.Help() },
	}
	c.AddCommand(a.newProcedureCommand(), a.newLogbookCommand(), a.newMachineCommand(), a.newInstrumentCommand())
	return c
}

func (a *app) newLogbookCommand() *cobra.Command {
	var rule, paper string
	blanks := []blank{{
		"decision", "How sure must a verdict be here at least, guarded or strict? (Enter: as each procedure asks)",
		"the shop's own decision rule, guarded or strict, where a procedure asks for less", false, &rule, isRule, nil,
	}, {
		"paper", "On which paper are records printed, a4 or letter? (Enter: a4)",
		"the paper that records and work sheets are printed on, a4 or letter", false, &paper, isPaper, nil,
	}}
	c := &cobra.Command{
		Use:   "logbook [FOLDER]",
		Short: "Make a logbook",
		Long: `Make a logbook: a folder for the machines, instruments and people of a shop, and
for its runs. With --decision strict every run asks to be surer than a procedure
that is content with less, and with --paper letter records are printed on Letter
instead of A4; shop.hcl in the folder holds both.`,
		Example: `  waywright new logbook
  waywright new logbook ~/shop --decision strict`,
		Args: takes(0, 1, "at most one folder"),
		RunE: func(c *cobra.Command, args []string) error {
			b := a.book()
			if len(args) > 0 {
				b = logbook.Book{Dir: args[0], Program: version()}
			}
			if b.Exists() {
				return cannot("%s is there already. Nothing was changed", b.Dir)
			}
			if err := a.fillIn(c, "logbook", blanks); err != nil {
				return err
			}
			shop, ok := checks.ParseRule(rule)
			if err := isRule(rule); rule != "" && (err != nil || !ok) {
				return cannot("--decision %q: %w", rule, err)
			}
			if err := isPaper(paper); paper != "" && err != nil {
				return cannot("--paper %q: %w", paper, err)
			}
			if _, err := b.MakeWith(register.Shop{Decision: shop, Paper: strings.ToLower(paper)}); err != nil {
				return err
			}
			a.printf("Made a logbook: %s\n", b.Dir)
			if shop != checks.NoRule {
				a.printf("Every run asks for %s at least. It stands in %s\n", shop, filepath.Join(b.Dir, "shop.hcl"))
			}
			a.printf("Enter what the shop has: waywright new machine, waywright new instrument\n")
			return nil
		},
	}
	addBlanks(c, blanks)
	return c
}

// isPaper refuses what is no paper that is printed on.
func isPaper(s string) error {
	if _, err := pdf.ParsePaper(s); err != nil {
		return errors.New("write a4 or letter")
	}
	return nil
}

// isRule refuses what is no rule that a shop can ask for. Simple asks for
// nothing that a procedure does not.
func isRule(s string) error {
	if r, ok := checks.ParseRule(s); !ok || r == checks.Simple {
		return errors.New("write guarded (passes with 95 % probability) or strict (97.7 %). What procedures ask for stays the least")
	}
	return nil
}

// ensure makes the logbook on first use.
func (a *app) ensure() (logbook.Book, error) {
	b := a.book()
	made, err := b.Make()
	if made {
		a.note("Made a logbook: %s", b.Dir)
	}
	return b, err
}

// blank is a line of a form: a flag, and the question in its place.
type blank struct {
	flag, ask, help string
	need            bool
	into            *string
	check           func(string) error // nil: any words will do
	after           *string            // asked only where this was filled in; nil: always
}

// refuse says why what was typed cannot stand; it is empty where it can.
func (f blank) refuse(text string) string {
	switch {
	case text == "":
		return "I read nothing, and this is needed."
	case !sound(text):
		return fmt.Sprintf("I read %q. That is not plain text.", text)
	case f.check == nil:
		return ""
	}
	err := f.check(text)
	if err == nil {
		return ""
	}
	why := voice.Sentence(err.Error())
	if p := new(quantity.ParseError); errors.As(err, &p) {
		why = strings.Join(p.Sentences(), " ")
	}
	return fmt.Sprintf("I read %s. %s", text, why)
}

// fillIn asks for what the flags did not say. Where nobody can be asked, what
// is needed must be there.
func (a *app) fillIn(c *cobra.Command, what string, blanks []blank) error {
	asking := isTerminal(a.In)
	in := bufio.NewScanner(a.In)
	for _, f := range blanks {
		given := f.flag == "" && *f.into != "" || f.flag != "" && c.Flags().Changed(f.flag)
		if given || f.after != nil && *f.after == "" && f.flag != "" {
			continue
		}
		if !asking {
			if f.need && f.flag == "" {
				return cannot("%s needs an id. Example:\n%s", name(c), c.Example)
			} else if f.need {
				return cannot("%s needs --%s: %s. Example:\n%s", name(c), f.flag, f.help, c.Example)
			}
			continue
		}
		for *f.into == "" {
			a.printf("%s\n> ", f.ask)
			if !in.Scan() {
				return cannot("the questions were not answered to the end. No %s was entered", what)
			}
			text := strings.TrimSpace(in.Text())
			if !f.need && (text == "" || notKnown(text)) {
				break
			}
			if why := f.refuse(text); why != "" {
				a.printf("%s", fill(diagnose.Plain(why), "", page))
				continue
			}
			*f.into = text
		}
	}
	for _, f := range blanks {
		if !sound(*f.into) {
			return cannot("%s: %q is not plain text", or(f.flag, "id"), *f.into)
		}
	}
	return nil
}

// notKnown tells whether a person says so in words.
func notKnown(text string) bool {
	switch strings.ToLower(strings.Trim(text, ".?")) {
	case "not known", "unknown", "none", "no", "":
		return true
	}
	return false
}

func (a *app) newMachineCommand() *cobra.Command {
	var m logbook.NewMachine
	var height, swing, between, bar string
	var sizes []string
	blanks := []blank{
		{"", "What is it called, such as lathe-2?", "", true, &m.ID, logbook.CheckID, nil},
		{"class", "What is it, such as centre lathe?", "what it is, such as \"centre lathe\"", true, &m.Class, nil, nil},
		{"title", "What is it called in the shop? (Enter: leave out)", "what it is called in the shop", false, &m.Title, nil, nil},
		{"maker", "Who made it?", "who made it", false, &m.Maker, nil, nil},
		{"serial", "Its serial number?", "its serial number", false, &m.Serial, nil, nil},
		{"stands", "Where does it stand?", "where it stands", false, &m.Stands, nil, nil},
		{"spindle-taper", "Taper of its spindle, such as MT3?", "taper of its spindle, such as MT3", false, &m.Taper, nil, nil},
		{"centre-height", "Height of the centres above the ways, with its unit?", "height of the centres above the ways, such as 125mm", false, &height, logbook.CheckSize, nil},
		{"swing", "Largest diameter that turns over the bed?", "largest diameter that turns over the bed", false, &swing, logbook.CheckSize, nil},
		{"between-centres", "Longest work between centres?", "longest work between centres", false, &between, logbook.CheckSize, nil},
		{"test-bar", "Length of its test bar?", "length of the test bar that goes with it", false, &bar, logbook.CheckSize, nil},
	}
	c := &cobra.Command{
		Use:   "machine [ID]",
		Short: "Enter a machine in the logbook",
		Example: `  waywright new machine lathe-2
  waywright new machine lathe-2 --class "centre lathe" --centre-height 125mm --test-bar 310mm`,
		Args: takes(0, 1, "at most one id"),
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				m.ID = args[0]
			}
			if err := a.fillIn(c, "machine", blanks); err != nil {
				return err
			}
			m.Sizes = []logbook.NewSize{{Name: "centre_height", Text: height}, {Name: "swing", Text: swing}, {Name: "between_centres", Text: between}, {Name: "test_bar.length", Text: bar}}
			more, err := sizesOf(sizes)
			if err != nil {
				return err
			}
			m.Sizes = append(m.Sizes, more...)
			b, err := a.ensure()
			if err != nil {
				return err
			}
			return a.entered(b.AddMachine(m), m.ID, filepath.Join(b.Dir, "machines.hcl"))
		},
	}
	addBlanks(c, blanks)
	c.Flags().StringArrayVar(&sizes, "size", nil, "any other size, NAME=VALUE with its unit; may be given several times")
	return c
}

func addBlanks(c *cobra.Command, blanks []blank) {
	for _, f := range blanks {
		if f.flag != "" {
			c.Flags().StringVar(f.into, f.flag, "", f.help)
		}
	}
}

// sizesOf reads NAME=VALUE.
func sizesOf(flags []string) ([]logbook.NewSize, error) {
	var out []logbook.NewSize
	for _, s := range flags {
		name, text, ok := strings.Cut(s, "=")
		if !ok || !sound(s) {
			return nil, cannot("--size %q: write NAME=VALUE, such as spindle_bore=36mm", s)
		}
		out = append(out, logbook.NewSize{Name: strings.TrimSpace(name), Text: strings.TrimSpace(text)})
	}
	return out, nil
}

func (a *app) entered(err error, id, path string) error {
	if err != nil {
		return cannot("%s was not entered: %w", diagnose.Plain(id), err)
	}
	a.printf("%s is entered in %s\n", id, path)
	return nil
}

func (a *app) newInstrumentCommand() *cobra.Command {
	var in logbook.NewInstrument
	var resolution, limit, zero, repeat, turn, uncertainty string
	blanks := []blank{
		{"", "What is marked on it, such as M-3?", "", true, &in.ID, logbook.CheckID, nil},
		{"kind", "What is it, such as outside micrometer?", "what it is, such as \"outside micrometer\"", true, &in.Kind, nil, nil},
		{"range", "From where to where does it read, such as 0 to 25 mm? (Enter: not known)", "what it can read, such as \"0 to 25 mm\"", false, &in.Range, logbook.CheckSpan, nil},
		{"resolution", "The smallest step that is read, with its unit, such as 1 um?", "smallest step read, such as 1um", true, &resolution, logbook.CheckSize, nil},
		{"error", "Limit of its error, such as 4 um? (Enter: not known)", "limit of indication error, such as 4um", false, &limit, logbook.CheckSize, nil},
		{"zero", "Limit of the error of its zero? (Enter: not known, as the error)", "limit of the error of its zero, such as 2um", false, &zero, logbook.CheckSize, nil},
		{"repeatability", "Standard deviation of one take? (Enter: not known)", "standard deviation of one take, such as 1um", false, &repeat, logbook.CheckSize, nil},
		{"takes", "How many takes was that found from? (Enter: not known)", "how many takes the repeatability was found from", false, &in.Takes, logbook.CheckTakes, &repeat},
		{"turn", "One turn of its screw or pointer? (Enter: not known)", "one turn of screw or pointer, such as 0.5mm", false, &turn, logbook.CheckSize, nil},
		{"certificate", "Number of its certificate? (Enter: none)", "number of its certificate", false, &in.Certificate, nil, nil},
		{"calibrated", "Day of its calibration, such as 2026-03-02? (Enter: not known)", "day of its calibration, such as 2026-03-02", false, &in.Calibrated, isDay, nil},
		{"calibrated-by", "Who calibrated it? (Enter: not known)", "who calibrated it", false, &in.CalibratedBy, nil, nil},
		{"uncertainty", "Expanded uncertainty of its certificate, U? (Enter: not known)", "expanded uncertainty of its certificate, such as 1.5um", false, &uncertainty, logbook.CheckSize, nil},
		{"coverage", "With which factor k? (Enter: 2)", "factor k of that uncertainty; 2 where nothing is said", false, &in.Coverage, logbook.CheckFactor, &uncertainty},
		{"due", "Day on which the next calibration is due? (Enter: not known)", "day on which the next calibration is due", false, &in.Due, isDay, nil},
		{"maker", "Who made it? (Enter: not known)", "who made it", false, &in.Maker, nil, nil},
		{"serial", "Its serial number? (Enter: not known)", "its serial number", false, &in.Serial, nil, nil},
		{"history", "What has become of it, such as 2025-11-03 new spindle nut? (Enter: nothing)", "what has become of it, a day and what was done; several parted by semicolons", false, &in.History, logbook.CheckHistory, nil},
	}
	c := &cobra.Command{
		Use:   "instrument [ID]",
		Short: "Enter an instrument in the logbook",
		Example: `  waywright new instrument M-3
  waywright new instrument M-3 --kind "outside micrometer" --range '0 to 25 mm' \
    --resolution 1um --error 4um --turn 0.5mm --calibrated 2026-03-02 --due 2027-03-02`,
		Args: takes(0, 1, "at most one id"),
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				in.ID = args[0]
			}
			if err := a.fillIn(c, "instrument", blanks); err != nil {
				return err
			}
			if err := days(a.Now(), in.Calibrated, in.Due); err != nil {
				return err
			}
			in.Sizes = []logbook.NewSize{{Name: "resolution", Text: resolution}, {Name: "error", Text: limit}, {Name: "zero", Text: zero}, {Name: "repeatability", Text: repeat}, {Name: "turn", Text: turn}, {Name: "uncertainty", Text: uncertainty}}
			b, err := a.ensure()
			if err != nil {
				return err
			}
			return a.entered(b.AddInstrument(in), in.ID, filepath.Join(b.Dir, "instruments.hcl"))
		},
	}
	addBlanks(c, blanks)
	return c
}

// isDay refuses what is no day.
func isDay(s string) error {
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		return errors.New("that is no day. Write year, month and day, such as 2026-03-02")
	}
	return nil
}

// days refuses a calibration that has not been yet, and one that ended before
// it began.
func days(now time.Time, calibrated, due string) error {
	day := func(flag, s string) (time.Time, error) {
		t, err := time.Parse(time.DateOnly, s)
		if s != "" && err != nil {
			return t, cannot("--%s %q is no day. Write year, month and day, such as 2026-03-02", flag, s)
		}
		return t, nil
	}
	from, err := day("calibrated", calibrated)
	if err != nil {
		return err
	}
	until, err := day("due", due)
	switch {
	case err != nil:
		return err
	case calibrated != "" && from.After(now.Add(24*time.Hour)): // it may be tomorrow elsewhere
		return cannot("--calibrated %s: I read a day that is still to come, and today is %s. Write the day on which it was calibrated", calibrated, now.Format(time.DateOnly))
	case calibrated != "" && due != "" && !until.After(from):
		return cannot("--due %s: that is not after the calibration of %s", due, calibrated)
	}
	return nil
}
