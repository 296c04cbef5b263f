package main

import (
	"fmt"
	"os"
	"runtime"
	"syscall"

	"golang.org/x/sys/unix"
)

// becomeOrdinary starts this program again without the right to pass over
// permissions. A process cannot give the right up for all of its threads; one
// thread can, and what it starts in its place has it no more.
func becomeOrdinary() {
	runtime.LockOSThread()
	for _, right := range []uintptr{unix.CAP_DAC_OVERRIDE, unix.CAP_DAC_READ_SEARCH} {
		// Who is not the superuser may not give it up, and does not have it.
		if err := unix.Prctl(unix.PR_CAPBSET_DROP, right, 0, 0, 0); err != nil && os.Getuid() == 0 {
			fmt.Fprintln(os.Stderr, "becoming an ordinary user:", err)
			os.Exit(99)
		}
	}
	os.Unsetenv(ordinaryEnv)
	self, err := os.Executable()
	if err == nil {
		err = syscall.Exec(self, os.Args, os.Environ())
	}
	fmt.Fprintln(os.Stderr, "starting again as an ordinary user:", err)
	os.Exit(99)
}
