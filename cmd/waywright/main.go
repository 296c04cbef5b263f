// Command waywright leads through the overhaul of a machine tool: a written
// procedure asks, works out what was read, sends the person to the correction
// that is due, and ends in a record of acceptance.
//
// It ends with 0 when what was asked is done: accepted, valid, all hold; with
// 1 when the answer is no; with 2 when it cannot be carried out; with 3 when
// there is more to do.
package main

import (
	"os"

	"waywright/cmd/waywright/internal/cli"
)

func main() { os.Exit(cli.Main(os.Args[1:], cli.Process())) }
