// SPDX-License-Identifier: MIT

// Command earline-window is what one clicks on Windows: it starts bin\earline.exe beside
// it without the black window of a command line, and shows in a box why that failed.
//
// A program of Windows is made either for the command line or for a window. A command
// line does not wait for one that is made for a window, so that its exit status is lost
// and what it prints comes too late. So earline.exe is made for the command line, and this
// for those who click.
package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"

	"golang.org/x/sys/windows"
)

func main() {
	self, err := os.Executable()
	if err != nil {
		tell(err.Error())
		os.Exit(2)
	}
	said, status := run(exec.Command(filepath.Join(filepath.Dir(self), "bin", "earline.exe"), os.Args[1:]...))
	if status != 0 {
		tell(said)
	}
	os.Exit(status)
}

// run runs a program of the command line where nobody sees one, and returns the end of
// what it said and its exit status.
func run(c *exec.Cmd) (said string, status int) {
	var last tail
	c.Stderr = &last
	c.SysProcAttr = &syscall.SysProcAttr{CreationFlags: windows.CREATE_NO_WINDOW}
	err := c.Run()
	var ended *exec.ExitError
	switch {
	case err == nil:
		return last.String(), 0
	case errors.As(err, &ended):
		return last.String(), ended.ExitCode()
	}
	return err.Error(), 2
}

// tail keeps the end of what is written to it.
type tail []byte

func (t *tail) Write(p []byte) (int, error) {
	const most = 1 << 10 // bytes, what a box can show
	*t = append(*t, p...)
	*t = (*t)[max(0, len(*t)-most):]
	return len(p), nil
}

func (t *tail) String() string { return strings.ToValidUTF8(strings.TrimSpace(string(*t)), "") }

// tell shows text in a box.
func tell(text string) {
	if text == "" {
		text = "Earline ended without saying why."
	}
	words, err := windows.UTF16PtrFromString(strings.ReplaceAll(text, "\x00", ""))
	if err != nil {
		return // only for a NUL
	}
	title, _ := windows.UTF16PtrFromString("Earline")
	_, _ = windows.MessageBox(0, words, title, windows.MB_OK|windows.MB_ICONERROR)
}
