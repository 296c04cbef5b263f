package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// completionCommand writes the completion of a shell.
func (a *app) completionCommand(root *cobra.Command) *cobra.Command {
	shells := map[string]func() error{
		"bash":       func() error { return root.GenBashCompletionV2(a.Out, true) },
		"zsh":        func() error { return root.GenZshCompletion(a.Out) },
		"fish":       func() error { return root.GenFishCompletion(a.Out, true) },
		"powershell": func() error { return root.GenPowerShellCompletionWithDesc(a.Out) },
	}
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "Completion for bash, zsh, fish or powershell",
		Long:  "Write the completion of a shell. Procedures, runs, machines and instruments complete by name.",
		Example: `  source <(waywright completion bash)
  waywright completion fish > ~/.config/fish/completions/waywright.fish`,
		Args:      takes(1, 1, "the name of a shell: bash, zsh, fish or powershell"),
		ValidArgs: []string{"bash", "zsh", "fish", "powershell"},
		RunE: func(c *cobra.Command, args []string) error {
			write, ok := shells[args[0]]
			if !ok {
				return cannot("there is no completion for %q. There is one for bash, zsh, fish and powershell", args[0])
			}
			return write()
		},
	}
}

// names completes from a list. What cannot be read completes to nothing.
func names(list []string, typed string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for _, n := range list {
		if strings.HasPrefix(n, typed) {
			out = append(out, n)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

func (a *app) completeProcedure(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	b := a.book()
	plans := b.Plans()
	all := slices.DeleteFunc(b.Procedures(), func(name string) bool { return slices.Contains(plans, name) })
	out, _ := names(all, typed)
	return out, cobra.ShellCompDirectiveDefault // a file will do as well
}

// completeProcedures completes the names of several procedures.
func (a *app) completeProcedures(c *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	return a.completeProcedure(c, nil, typed)
}

func (a *app) completeRun(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	runs, _ := a.book().Names()
	return names(runs, typed)
}

// completeRole completes the roles that have not signed the run that is named, or
// the last one.
func (a *app) completeRole(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	b := a.book()
	name, err := a.runName(b, args)
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	run, err := b.Read(name)
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for _, r := range run.State.Unsigned() {
		out = append(out, r.Name)
	}
	return names(out, typed)
}

// completeFlags completes the flags that name something of the logbook.
func (a *app) completeFlags(c *cobra.Command) {
	complete := func(flag string, list func() []string) {
		if c.Flags().Lookup(flag) == nil {
			return
		}
		err := c.RegisterFlagCompletionFunc(flag, func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
			return names(list(), typed)
		})
		if err != nil {
			panic("cli: " + err.Error())
		}
	}
	complete("machine", func() []string {
		ms, _ := a.book().Machines()
		return ids(ms)
	})
	complete("operator", func() []string {
		ps, _ := a.book().People()
		var out []string
		for _, p := range ps {
			out = append(out, p.Name)
		}
		return out
	})
	complete("protocol", func() []string { return []string{"json"} })
}
