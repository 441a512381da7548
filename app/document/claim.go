// SPDX-License-Identifier: MIT

package document

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
)

// inUse is the name of the file that says which process has a folder.
const inUse = "in-use"

// Claim returns a folder under root for the recovery copies of this process
// alone, so that two windows do not write over each other's, and what gives it
// up. A folder that a process left behind with copies in it comes first: they are
// to be offered. Should nothing work it is root, shared.
func Claim(root string) (dir string, release func()) {
	const most = 32 // windows at once
	var free []string
	for n := 1; n <= most; n++ {
		d := root
		if n > 1 {
			d = filepath.Join(root, strconv.Itoa(n))
		}
		if !taken(d) {
			free = append(free, d)
		}
		if _, err := os.Stat(d); err != nil && n > 1 {
			break // beyond it there was never one
		}
	}
	for i, d := range free {
		if left, _ := filepath.Glob(filepath.Join(d, "*.recovery.earline")); len(left) > 0 {
			free[0], free[i] = free[i], free[0]
			break
		}
	}
	for _, d := range free {
		if mine(d) {
			return d, func() { _ = os.Remove(filepath.Join(d, inUse)) }
		}
	}
	return root, func() {}
}

// taken reports whether another process that runs has the folder.
func taken(dir string) bool {
	text, err := os.ReadFile(filepath.Join(dir, inUse))
	if err != nil {
		return false
	}
	pid, err := strconv.Atoi(strings.TrimSpace(string(text)))
	return err == nil && pid != os.Getpid() && running(pid)
}

// running reports whether there is a process of that number. Elsewhere than on
// Unix finding it tells; there a signal of 0, which does nothing, does.
func running(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	err = p.Signal(syscall.Signal(0))
	return err == nil || os.IsPermission(err)
}

// mine takes the folder; false when another process was quicker.
func mine(dir string) bool {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return false
	}
	name := filepath.Join(dir, inUse)
	_ = os.Remove(name) // of a process that is gone
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return false
	}
	_, err = f.WriteString(strconv.Itoa(os.Getpid()) + "\n")
	return f.Close() == nil && err == nil
}
