package cli

import (
	"os"

	"waywright/report/pdf"
)

// paperHelp is what the flag of the size of paper is for.
const paperHelp = "the size of the sheets, a4 or letter (without it what the shop prints on, by shop.hcl)"

// paper is the size of paper that was asked for, or that the shop prints on.
func (a *app) paper(asked string) (pdf.Paper, error) {
	if asked == "" {
		return a.book().Paper(), nil
	}
	p, err := pdf.ParsePaper(asked)
	if err != nil {
		return "", cannot("--paper %s: there are a4 and letter", asked)
	}
	return p, nil
}

// noPDFHere refuses to write a PDF to a terminal.
func (a *app) noPDFHere(asPDF bool, file string) error {
	if out, ok := a.Out.(*os.File); ok && asPDF && (file == "" || file == "-") && isTerminal(out) {
		return cannot("a PDF is not for a terminal: write it to a file with -o FILE.pdf")
	}
	return nil
}
