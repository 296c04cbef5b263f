package cli

import (
	"bufio"
	"fmt"
	"os"
	"strconv"
	"strings"
	"time"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/procedures/diagnose"
)

// fewUnfinished is how many of the runs that are not ended are told.
const fewUnfinished = 3

// instead is what is done about runs of the same procedure that are not ended.
type instead struct {
	resume string // this one is gone on with, and none begun
	none   bool   // nothing is begun
}

// beside says that runs of the same procedure on the machine are not ended, and
// asks what to do where somebody sits at a terminal.
func (a *app) beside(b logbook.Book, procedure string, m engine.Machine, s *sitting) (instead, error) {
	open, err := unfinished(b, procedure, m.ID)
	if err != nil || len(open) == 0 || m.ID == notNamed {
		return instead{}, err
	}
	if out, ok := a.Out.(*os.File); !ok || s.protocol != "" || s.answers != "" || !isTerminal(a.In) || !isTerminal(out) {
		a.notEnded(open, m.ID)
		return instead{}, nil
	}
	return a.askBeside(b, open, m.ID)
}

// notEnded says it where nobody can be asked: the run begins all the same.
func (a *app) notEnded(open []logbook.Summary, machine string) {
	name := open[0].Name
	what := fmt.Sprintf("Run %s of this procedure on %s is not ended", name, machine)
	if n := len(open); n > 1 {
		what = fmt.Sprintf("%d runs of this procedure on %s are not ended, the last %s", n, machine, name)
	}
	a.note("%s. This begins another. Go on with it: %s. Close it: %s", what, a.withBook("waywright resume "+name),
		a.withBook(fmt.Sprintf("waywright abandon %s --because \"…\"", name)))
}

func (a *app) askBeside(b logbook.Book, open []logbook.Summary, machine string) (instead, error) {
	n := len(open)
	a.printf("%s", fill(fmt.Sprintf("%s of this procedure on %s %s not ended:", upFirst(plural(n, "run")), machine, isAre(n)), "", narrow))
	for i, o := range open {
		if i == fewUnfinished {
			a.printf("  and %d more\n", n-i)
			break
		}
		a.printf("%s", fill(diagnose.Plain(a.briefly(o)), "  ", narrow))
	}
	closing, last := "close it for good, and begin another", "it"
	if n > 1 {
		closing, last = fmt.Sprintf("close all %d for good, and begin another", n), "the first"
	}
	a.printf(" 1  go on with %s\n 2  begin another beside %s\n 3  %s\n 0  nothing now\n", last, map[bool]string{true: "it", false: "them"}[n == 1], closing)
	in := bufio.NewScanner(byByte{a.In})
	for {
		a.printf("> ")
		if !in.Scan() {
			return instead{none: true}, nil
		}
		switch text := strings.TrimSpace(in.Text()); text {
		case "0", "*":
			return instead{none: true}, nil
		case "1":
			return instead{resume: open[0].Name}, nil
		case "2":
			return instead{}, nil
		case "3":
			why, ok := a.askWhy(in)
			if !ok {
				continue
			}
			for _, o := range open {
				if err := a.abandon(b, o.Name, why, ""); err != nil {
					return instead{none: true}, err
				}
			}
			return instead{}, nil
		case "?", "/":
			a.printf("%s", fill("A run keeps where it stands, however long ago it was left. One that is closed for good accepts and rejects nothing; its journal stays.", "", narrow))
		default:
			a.printf("I read %s. Type 0, 1, 2 or 3.\n", diagnose.Plain(strconv.Quote(text)))
		}
	}
}

// askWhy asks why runs are closed: by number, or in words.
func (a *app) askWhy(in *bufio.Scanner) (string, bool) {
	a.printf("Why? By number, or in words. 0: leave it.\n")
	for i, r := range voice.AbandonReasons {
		a.printf(" %d  %s\n", i+1, r)
	}
	for {
		a.printf("> ")
		if !in.Scan() {
			return "", false
		}
		text := strings.TrimSpace(in.Text())
		n, err := strconv.Atoi(text)
		switch {
		case text == "0" || text == "*":
			a.printf("Nothing was closed. Which? 0, 1, 2 or 3.\n")
			return "", false
		case err == nil && n >= 1 && n <= len(voice.AbandonReasons):
			return voice.AbandonReasons[n-1], true
		case strings.Trim(text, "+-0123456789., ") == "" || !sound(text):
			a.printf("The reason is wanted in words, or by its number.\n")
			continue
		}
		return text, true
	}
}

// briefly says of a run when and by whom it was worked on, and what it waits for.
func (a *app) briefly(s logbook.Summary) string {
	st := s.Run.State
	out := fmt.Sprintf("%s, last worked on %s by %s", s.Name, minute(s.Last.UTC().Format(time.RFC3339)), byWhom(st.Operator()))
	if q := seated(st, a.Now()); q.Kind != engine.End {
		out += "; it waits for: " + waitsFor(q)
	}
	return out
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// upFirst gives a count its word where it begins a sentence: "One run".
func upFirst(s string) string {
	if rest, ok := strings.CutPrefix(s, "1 "); ok {
		return "One " + rest
	}
	return s
}
