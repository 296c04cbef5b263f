package reference

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Man returns the man pages of a command and of all below it that are shown,
// by the names of their files. They are the same for the same program, on
// whatever day they are made.
func Man(root *cobra.Command, version string) map[string][]byte {
	out := map[string][]byte{}
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		if c.Hidden || c.Name() == "help" {
			return
		}
		out[manName(c)+".1"] = []byte(manPage(c, version))
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk(root)
	return out
}

// manName is the name of a command's page: waywright-key-new.
func manName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

func manPage(c *cobra.Command, version string) string {
	var b strings.Builder
	name := manName(c)
	fmt.Fprintf(&b, ".TH %s 1 \"\" \"waywright %s\" \"waywright\"\n", strings.ToUpper(name), roff(version))
	fmt.Fprintf(&b, ".SH NAME\n%s \\- %s\n", roff(name), roff(c.Short))
	b.WriteString(".SH SYNOPSIS\n")
	if c.Runnable() {
		fmt.Fprintf(&b, ".B %s\n", roff(c.CommandPath()))
		if _, args, ok := strings.Cut(c.Use, " "); ok {
			fmt.Fprintf(&b, "%s\n", roff(args))
		}
		b.WriteString("[options]\n")
	} else {
		fmt.Fprintf(&b, ".B %s\ncommand\n", roff(c.CommandPath()))
	}
	b.WriteString(".SH DESCRIPTION\n")
	long := c.Long
	if long == "" {
		long = c.Short + "."
	}
	manText(&b, long)
	manCommands(&b, c)
	manFlags(&b, "OPTIONS", c.NonInheritedFlags())
	manFlags(&b, "OPTIONS OF ALL COMMANDS", c.InheritedFlags())
	if c.Example != "" {
		b.WriteString(".SH EXAMPLES\n.nf\n")
		for _, line := range strings.Split(c.Example, "\n") {
			b.WriteString(roff(strings.TrimPrefix(line, "  ")) + "\n")
		}
		b.WriteString(".fi\n")
	}
	b.WriteString(`.SH EXIT STATUS
.TP
.B 0
Done: accepted (with concessions too), valid, all hold.
.TP
.B 1
The answer is no: rejected, does not verify, errors were found, a rehearsal failed.
.TP
.B 2
The command cannot be carried out.
.TP
.B 3
Paused, or not decided: more is to be done.
.SH ENVIRONMENT
.TP
.B WAYWRIGHT_LOGBOOK
The folder of the logbook, where \-\-logbook is not given.
`)
	manAlso(&b, c)
	return b.String()
}

func manCommands(b *strings.Builder, c *cobra.Command) {
	first := true
	for _, sub := range c.Commands() {
		if sub.Hidden || sub.Name() == "help" {
			continue
		}
		if first {
			b.WriteString(".SH COMMANDS\n")
			first = false
		}
		fmt.Fprintf(b, ".TP\n.B %s\n%s\n", roff(sub.Name()), roff(sub.Short))
	}
}

func manFlags(b *strings.Builder, title string, flags *pflag.FlagSet) {
	if !flags.HasAvailableFlags() {
		return
	}
	fmt.Fprintf(b, ".SH %s\n", title)
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		names := "\\-\\-" + roff(f.Name)
		if f.Shorthand != "" {
			names = "\\-" + roff(f.Shorthand) + ", " + names
		}
		kind, usage := pflag.UnquoteUsage(f)
		if kind != "" {
			names += " " + roff(kind)
		}
		fmt.Fprintf(b, ".TP\n.B %s\n%s\n", names, roff(usage))
	})
}

func manAlso(b *strings.Builder, c *cobra.Command) {
	var also []string
	if c.HasParent() {
		also = append(also, manName(c.Parent()))
	}
	for _, sub := range c.Commands() {
		if !sub.Hidden && sub.Name() != "help" {
			also = append(also, manName(sub))
		}
	}
	if len(also) == 0 {
		return
	}
	b.WriteString(".SH SEE ALSO\n")
	for i, name := range also {
		end := ","
		if i == len(also)-1 {
			end = ""
		}
		fmt.Fprintf(b, ".BR %s (1)%s\n", roff(name), end)
	}
}

// manText writes a text of paragraphs. Lines that are indented stand as they
// are.
func manText(b *strings.Builder, s string) {
	for i, para := range strings.Split(strings.TrimSpace(s), "\n\n") {
		if i > 0 {
			b.WriteString(".PP\n")
		}
		if strings.HasPrefix(para, "  ") {
			b.WriteString(".nf\n" + roffLines(para) + ".fi\n")
			continue
		}
		b.WriteString(roffLines(para))
	}
}

func roffLines(s string) string {
	var b strings.Builder
	for _, line := range strings.Split(s, "\n") {
		b.WriteString(roff(strings.TrimPrefix(line, "  ")) + "\n")
	}
	return b.String()
}

// roff writes a text so that none of it is taken for a request.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "^", `\(ha`, "~", `\(ti`).Replace(s)
	if strings.HasPrefix(s, ".") {
		s = `\&` + s
	}
	var b strings.Builder
	for _, r := range s {
		if r < 0x80 {
			b.WriteRune(r)
		} else { // by its number, whatever the encoding is taken to be
			fmt.Fprintf(&b, `\[u%04X]`, r)
		}
	}
	return b.String()
}
