// SPDX-License-Identifier: MIT

package app

import (
	"bytes"
	"errors"
	"fmt"
	"log"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"syscall"
	"time"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/driver"

	"earline/app/document"
	_ "earline/app/locale" // before Fyne reads the environment
	"earline/app/repaint"
	"earline/app/view"
	"earline/project"
	"earline/project/practice"
	"earline/scene/gl"
)

// ID is the identifier under which preferences are kept.
const ID = "io.earline.planner"

// class is by what the desktop knows which program a window is of, as its entry says
// (StartupWMClass). The window system takes the title for it with which a window comes.
const class = "Earline"

// Config says what the window opens with. The zero value opens a new room.
type Config struct {
	// Path is the design to open; Demo the name of a demo, when Path is empty.
	Path, Demo string
	// Design is a room in no file to begin with, when Path and Demo are empty; may be nil.
	Design  *project.Design
	Version string
	// Dir is where recovery copies go, of this window alone; empty is a folder of its
	// own in the user's configuration folder.
	Dir string
	// Standard is the file that keeps the house standard of the rules of placement
	// from one start to the next; Run makes empty one in the user's configuration
	// folder.
	Standard string
	// FirstPicture is called when the first picture is on show; may be nil.
	FirstPicture func()
	// Mark is told of every step of showing a change once it is done: to measure. nil
	// is nobody.
	Mark func(step string)
	// Renderer starts the renderer; nil starts gl's. A test gives its own.
	Renderer func() (view.Renderer, error)
	// Post runs a function on the UI goroutine soon; nil is fyne.Do.
	Post func(func())
	// Autosave is how long after an edit the recovery copy is written; 0 is a
	// few seconds.
	Autosave time.Duration

	screen func() (width, height int, ok bool) // gl.WorkArea; nil knows no screen
	root   string                              // the folder that has the recovery folders of all windows; empty is Dir
}

// CanOpen returns nil where a window can be opened, else one line that says
// what is missing. It opens nothing.
func CanOpen() error {
	switch runtime.GOOS {
	case "windows", "darwin":
		return nil
	}
	if os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
		return errors.New("no window can be opened: neither DISPLAY nor WAYLAND_DISPLAY is set")
	}
	return nil
}

// enough is the memory, in bytes, that a window should do with.
const enough = 512 << 20

// Run opens the window and returns when it is closed. Main goroutine only, once
// a process. The error is one line for people: no display, or a file that
// cannot be read is shown in the window and is no error here.
func Run(cfg Config) error {
	if err := CanOpen(); err != nil {
		return err
	}
	dir, homeless := os.UserConfigDir()
	if homeless == nil {
		if cfg.Dir == "" {
			var release func()
			cfg.root = filepath.Join(dir, "earline", "recovery")
			cfg.Dir, release = document.Claim(cfg.root)
			defer release()
		}
		if cfg.Standard == "" {
			cfg.Standard = filepath.Join(dir, "earline", "house"+practice.Extension)
		}
	}
	cfg.screen = gl.WorkArea
	// Beyond what any common room needs, garbage is collected as often as it takes;
	// until the room is on show, seldom.
	debug.SetMemoryLimit(enough)
	usual := debug.SetGCPercent(400)
	w, err := open(cfg)
	if err != nil {
		return err
	}
	if err := w.appear(); err != nil {
		return err
	}
	if cfg.Dir == "" {
		w.session.Say("No recovery copies are kept: " + homeless.Error())
	}
	leave := w.joinDesktop()
	defer leave()
	closing := make(chan os.Signal, 1)
	w.fyne.Lifecycle().SetOnStarted(func() {
		w.startRenderer()
		w.paintByParts() // while the renderer starts
		first := w.room.View.OnFirst
		w.room.View.OnFirst = func() {
			debug.SetGCPercent(usual)
			if first != nil {
				first()
			}
		}
		if w.cfg.Mark != nil {
			go w.watch()
		}
		w.offerFirstSteps()
		w.offerAtStart(3 * time.Second)
		// Fyne installs a handler of its own that ends the process without
		// closing the window, at a moment that cannot be known; a second later
		// it is surely there and can be replaced.
		time.AfterFunc(time.Second, func() {
			signal.Reset(os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
			signal.Notify(closing, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
			<-closing
			w.cfg.Post(w.win.Close) // unsaved work stays as the recovery copy
			// Whoever ends a program wants it ended, whatever holds the window up.
			time.AfterFunc(10*time.Second, func() { os.Exit(2) })
		})
	})
	w.guarded(w.fyne.Run)
	w.session.Doc.Wait()
	w.stopRenderer(time.Second)
	return nil
}

// paintByParts has the window painted by parts and at once. EARLINE_PAINT=whole leaves
// painting to the toolkit, should a driver not bear it.
func (w *Window) paintByParts() {
	if os.Getenv("EARLINE_PAINT") == "whole" || !repaint.Install(w.win, w.cfg.Mark) {
		return
	}
	w.prompt.Begin()
	w.room.View.Present = w.prompt.Now
}

// guarded calls loop, which is the window's life. Should it end in a panic unsaved
// work is kept first.
func (w *Window) guarded(loop func()) {
	ended := false
	defer func() {
		if !ended {
			w.session.Rescue()
			fmt.Fprintln(os.Stderr, "earline: a fault in the program ends it; unsaved work is kept and offered at the next start")
		}
	}()
	loop()
	ended = true
}

// open makes the window. Without a window system Fyne panics; that becomes the
// error.
func open(cfg Config) (w *Window, err error) {
	defer func() {
		if p := recover(); p != nil {
			w, err = nil, fmt.Errorf("no window can be opened: %v", p)
		}
	}()
	a := fyneapp.NewWithID(ID)
	speak(a.Preferences())
	return newWindow(a, cfg), nil
}

// appear shows the window. Where none can be made, as without OpenGL, Fyne says so
// in its log and would go on without one for ever; that becomes the error.
func (w *Window) appear() error {
	var said bytes.Buffer
	log.SetOutput(&said)
	w.win.SetTitle(class)
	w.win.Show()
	w.showTitle()
	log.SetOutput(&toolkitLog{to: os.Stderr})
	if exists(w.win) {
		w.fitScreen()
		_, _ = said.WriteTo(os.Stderr)
		return nil
	}
	why := "OpenGL 2.1 is needed"
	if _, cause, ok := strings.Cut(said.String(), "Cause: "); ok {
		cause, _, _ = strings.Cut(cause, "\n")
		why += "; the window system says " + strconv.Quote(strings.TrimSpace(cause))
	}
	return errors.New("no window can be opened: " + why)
}

// exists reports whether the window system knows the window.
func exists(win fyne.Window) bool {
	native, ok := win.(driver.NativeWindow)
	if !ok || runtime.GOOS == "windows" || runtime.GOOS == "darwin" { // whose RunNative takes it for granted
		return true
	}
	known := true
	native.RunNative(func(context any) {
		switch c := context.(type) {
		case driver.X11WindowContext:
			known = c.WindowHandle != 0
		case driver.WaylandWindowContext:
			known = c.WaylandSurface != 0
		}
	})
	return known
}

// startRenderer makes the context here, on the main thread, and all else of the
// renderer in the background, so that the window stands at once.
func (w *Window) startRenderer() {
	if w.cfg.Renderer != nil {
		r, err := w.cfg.Renderer()
		w.attach(r, err)
		return
	}
	c, err := gl.NewContext()
	if err != nil {
		w.attach(nil, err)
		return
	}
	go func() {
		r, err := gl.Start(c)
		w.cfg.Post(func() {
			if err != nil {
				w.attach(nil, err)
				return
			}
			w.attach(r, nil)
		})
	}()
}

func (w *Window) attach(r view.Renderer, err error) {
	switch {
	case err != nil:
		w.room.View.Fail(err.Error())
	case w.closed:
		r.Close()
	default:
		w.renderer = r
		w.room.View.Attach(r)
		w.showControls() // what needs a picture can be done now
	}
}

// stopRenderer ends the renderer, waiting for it no longer than limit. It must
// be done before the window system goes (see the context of a hidden window).
func (w *Window) stopRenderer(limit time.Duration) {
	w.room.View.Stop()
	r := w.renderer
	if r == nil {
		return
	}
	w.renderer = nil
	done := make(chan struct{})
	go func() {
		r.Close()
		close(done)
	}()
	select {
	case <-done:
	case <-time.After(limit):
	}
}
