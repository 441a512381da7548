// SPDX-License-Identifier: MIT

//go:build linux

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jezek/xgb/xproto"

	"earline/app/document"
	"earline/project/file"
)

// running is a window of the real program.
type running struct {
	*desktop
	cmd   *exec.Cmd
	ended chan error
	said  bytes.Buffer
	id    xproto.Window
}

// start opens path in a window whose user's files are in home, and waits for it.
func (d *desktop) start(home, path string) *running {
	d.t.Helper()
	r := &running{desktop: d, cmd: exec.Command(os.Args[0], path), ended: make(chan error, 1)}
	r.cmd.Env = append(os.Environ(), asCommand+"=1", "LC_ALL=C", "HOME="+home, "XDG_CONFIG_HOME="+home)
	r.cmd.Stdout, r.cmd.Stderr = &r.said, &r.said
	before := d.windows(filepath.Base(path))
	if err := r.cmd.Start(); err != nil {
		d.t.Fatal(err)
	}
	go func() { r.ended <- r.cmd.Wait() }()
	d.t.Cleanup(func() { _ = r.cmd.Process.Kill() })
	r.wait("the window", func() bool {
		for w := range d.windows(filepath.Base(path)) {
			if _, old := before[w]; !old {
				r.id = w
				return true
			}
		}
		return false
	})
	return r
}

// windows returns the titles of the windows on the display that name something.
func (d *desktop) windows(name string) map[xproto.Window]string {
	d.t.Helper()
	tree, err := xproto.QueryTree(d.x, d.root).Reply()
	if err != nil {
		d.t.Fatal(err)
	}
	all := map[xproto.Window]string{}
	for _, w := range tree.Children {
		p, err := xproto.GetProperty(d.x, false, w, xproto.AtomWmName, xproto.GetPropertyTypeAny, 0, 1<<10).Reply()
		if err == nil && strings.Contains(string(p.Value), name) {
			all[w] = string(p.Value)
		}
	}
	return all
}

// wait waits until ok says yes.
func (r *running) wait(what string, ok func() bool) {
	r.t.Helper()
	for deadline := time.Now().Add(60 * time.Second); !ok(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(deadline) {
			savePNG(r.t, filepath.Join(os.TempDir(), "earline-windows.png"), r.shot())
			r.t.Fatalf("never came: %s; it said %q", what, r.said.String())
		}
	}
}

// edit changes the room by a command that is found by its letters.
func (r *running) edit() {
	r.t.Helper()
	const control, enter, escape = 0xffe3, 0xff0d, 0xff1b // keysyms
	var next time.Time                                    // to try, as a window that has only just come takes no keys yet
	r.wait("an edit", func() bool {
		if time.Now().After(next) {
			r.focusOn()
			r.press(escape)
			r.press('k', control)
			for _, c := range "set delays" {
				r.press(xproto.Keysym(c))
			}
			r.press(enter)
			next = time.Now().Add(5 * time.Second)
		}
		return strings.Contains(r.windows("")[r.id], "*")
	})
}

// save presses Ctrl+S.
func (r *running) save() {
	r.t.Helper()
	const control = 0xffe3
	r.focusOn()
	r.press('s', control)
}

func (r *running) focusOn() {
	xproto.SetInputFocus(r.x, xproto.InputFocusPointerRoot, r.id, xproto.TimeCurrentTime)
}

// hangUp ends it as a terminal does that is closed.
func (r *running) hangUp() {
	r.t.Helper()
	if err := r.cmd.Process.Signal(syscall.SIGHUP); err != nil {
		r.t.Fatal(err)
	}
	select {
	case err := <-r.ended:
		if err != nil {
			r.t.Errorf("ended with %v\n%s", err, &r.said)
		}
	case <-time.After(20 * time.Second):
		r.t.Errorf("did not end when the terminal closed\n%s", &r.said)
	}
}

// Two windows on one file used to replace each other's work without a word, and a
// terminal that was closed took the last edit along.
func TestTwoWindowsOnOneFileAndAClosedTerminal(t *testing.T) {
	d := openDesktop(t)
	home := t.TempDir()
	path := filepath.Join(home, "room.earline")
	design, ok := file.Demo("small")
	if !ok {
		t.Fatal("no such demo")
	}
	if err := file.Write(path, design); err != nil {
		t.Fatal(err)
	}
	holds := func() string {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	first := holds()

	a, b := d.start(home, path), d.start(home, path)
	a.edit()
	a.save()
	a.wait("the first window's save", func() bool { return holds() != first })
	saved := holds()

	b.edit()
	b.save() // which asks
	b.hangUp()
	if holds() != saved {
		t.Error("the second window replaced what the first had saved")
	}
	root := filepath.Join(home, "earline", "recovery")
	copies, faults := document.Copies(root, root+"/none")
	if len(copies) != 1 || len(faults) != 0 || copies[0].Path != path || copies[0].File != document.Changed {
		t.Errorf("kept of the second window: %+v, %v; want its edit, and that the file is newer", copies, faults)
	}
	a.hangUp()
	if copies, _ := document.Copies(root, root+"/none"); len(copies) != 1 {
		t.Errorf("%d copies: what was saved needs none", len(copies))
	}
}

// The class of a window was its first title, which names the room, so that no desktop
// knew which program it was of: no icon, and each room a program of its own.
func TestDesktopsKnowWhoseWindowItIs(t *testing.T) {
	d := openDesktop(t)
	home := t.TempDir()
	path := filepath.Join(home, "room.earline")
	design, ok := file.Demo("small")
	if !ok {
		t.Fatal("no such demo")
	}
	if err := file.Write(path, design); err != nil {
		t.Fatal(err)
	}
	entry, err := os.ReadFile("../../packaging/linux/io.earline.planner.desktop")
	if err != nil {
		t.Fatal(err)
	}
	_, class, _ := strings.Cut(string(entry), "\nStartupWMClass=")
	class, _, _ = strings.Cut(class, "\n")
	w := d.start(home, path)
	p, err := xproto.GetProperty(d.x, false, w.id, xproto.AtomWmClass, xproto.AtomString, 0, 1<<10).Reply()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := string(p.Value), class+"\x00"+class+"\x00"; class == "" || got != want {
		t.Errorf("the window's class is %q, the desktop entry's %q", got, class)
	}
}
