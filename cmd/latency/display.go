// SPDX-License-Identifier: MIT

//go:build latency

package main

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/jezek/xgb"
	"github.com/jezek/xgb/damage"
	"github.com/jezek/xgb/xfixes"
	"github.com/jezek/xgb/xproto"
	"github.com/jezek/xgb/xtest"
)

type point struct{ x, y int16 }

type area struct {
	x, y int16
	w, h uint16
}

// display is an X server that keeps its pixels in memory, with keyboard and mouse in
// our hands.
type display struct {
	name   string
	server *exec.Cmd
	x      *xgb.Conn
	root   xproto.Window
	codes  map[xproto.Keysym]byte
	damage chan time.Time // when something was drawn
}

// newDisplay starts a server under the first free name.
func newDisplay() (d *display, err error) {
	r, w, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	d = &display{codes: map[xproto.Keysym]byte{}, damage: make(chan time.Time, 4096)}
	d.server = exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", size, "-nolisten", "tcp")
	d.server.ExtraFiles = []*os.File{w}
	err = d.server.Start()
	w.Close()
	if err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			d.close()
		}
	}()
	line, err := bufio.NewReader(r).ReadString('\n')
	if err != nil {
		return nil, fmt.Errorf("the display (Xvfb) did not start: %w", err)
	}
	d.name = ":" + strings.TrimSpace(line)
	if d.x, err = xgb.NewConnDisplay(d.name); err != nil {
		return nil, err
	}
	return d, d.listen()
}

// listen asks to be told of all that is drawn.
func (d *display) listen() error {
	for _, begin := range []func(*xgb.Conn) error{xtest.Init, xfixes.Init, damage.Init} {
		if err := begin(d.x); err != nil {
			return err
		}
	}
	d.root = xproto.Setup(d.x).DefaultScreen(d.x).Root
	if _, err := xfixes.QueryVersion(d.x, 5, 0).Reply(); err != nil {
		return err
	}
	if _, err := damage.QueryVersion(d.x, 1, 1).Reply(); err != nil {
		return err
	}
	id, err := damage.NewDamageId(d.x)
	if err != nil {
		return err
	}
	if err := damage.CreateChecked(d.x, id, xproto.Drawable(d.root), damage.ReportLevelRawRectangles).Check(); err != nil {
		return err
	}
	go func() {
		for {
			event, err := d.x.WaitForEvent()
			if event == nil && err == nil {
				return // closed
			}
			if _, ok := event.(damage.NotifyEvent); ok {
				select {
				case d.damage <- time.Now():
				default: // many wait already
				}
			}
		}
	}()
	return nil
}

func (d *display) close() {
	if d.x != nil {
		d.x.Close()
	}
	_ = d.server.Process.Signal(syscall.SIGTERM)
	_ = d.server.Wait()
}

// drain forgets what was drawn so far.
func (d *display) drain() {
	for {
		select {
		case <-d.damage:
		default:
			return
		}
	}
}

// grab returns the pixels of a; nil once the display is gone.
func (d *display) grab(a area) []byte {
	g, err := xproto.GetImage(d.x, xproto.ImageFormatZPixmap, xproto.Drawable(d.root), a.x, a.y, a.w, a.h, 1<<32-1).Reply()
	if err != nil {
		return nil
	}
	return g.Data
}

func (d *display) motion(p point) {
	xtest.FakeInput(d.x, xproto.MotionNotify, 0, 0, d.root, p.x, p.y, 0)
}

func (d *display) button(kind byte) { xtest.FakeInput(d.x, kind, 1, 0, d.root, 0, 0, 0) }

func (d *display) key(code byte) {
	xtest.FakeInput(d.x, xproto.KeyPress, code, 0, d.root, 0, 0, 0)
	xtest.FakeInput(d.x, xproto.KeyRelease, code, 0, d.root, 0, 0, 0)
}

// code returns the key that has sym; 0 when none has.
func (d *display) code(sym xproto.Keysym) byte {
	if c, ok := d.codes[sym]; ok {
		return c
	}
	s := xproto.Setup(d.x)
	m, err := xproto.GetKeyboardMapping(d.x, s.MinKeycode, byte(s.MaxKeycode-s.MinKeycode+1)).Reply()
	if err != nil {
		return 0
	}
	for i, k := range m.Keysyms {
		if k == sym {
			d.codes[sym] = byte(int(s.MinKeycode) + i/int(m.KeysymsPerKeycode))
			break
		}
	}
	return d.codes[sym]
}

// focus gives the keyboard to the one window there is, as a window manager would.
func (d *display) focus() error {
	t, err := xproto.QueryTree(d.x, d.root).Reply()
	if err != nil {
		return err
	}
	var best uint32
	var top xproto.Window
	for _, c := range t.Children { // toolkits have small hidden ones too
		g, err := xproto.GetGeometry(d.x, xproto.Drawable(c)).Reply()
		if err == nil && uint32(g.Width)*uint32(g.Height) > best {
			best, top = uint32(g.Width)*uint32(g.Height), c
		}
	}
	return xproto.SetInputFocusChecked(d.x, xproto.InputFocusPointerRoot, top, xproto.TimeCurrentTime).Check()
}

// program is one that runs on a display.
type program struct {
	d     *display
	cmd   *exec.Cmd
	home  string
	begun time.Time
}

// open starts the program on the large demo, with a home of its own.
func (d *display) open(name string) (*program, error) {
	home, err := os.MkdirTemp("", "latency")
	if err != nil {
		return nil, err
	}
	// The window as it is at work, once its first steps are over.
	kept := filepath.Join(home, "fyne", "io.earline.planner")
	if err := errors.Join(os.MkdirAll(kept, 0o700), os.WriteFile(filepath.Join(kept, "preferences.json"), []byte(`{"firststeps.seen":true}`), 0o600)); err != nil {
		return nil, err
	}
	p := &program{d: d, home: home, cmd: exec.Command(name, "--demo", "large")}
	p.cmd.Env = append(os.Environ(), "DISPLAY="+d.name, "WAYLAND_DISPLAY=", "LC_ALL=C", "HOME="+home, "XDG_CONFIG_HOME="+home,
		"EARLINE_MARKS="+filepath.Join(home, marksName))
	p.cmd.Stderr = os.Stderr
	p.begun = time.Now()
	if err := p.cmd.Start(); err != nil {
		os.RemoveAll(home)
		return nil, err
	}
	return p, nil
}

func (p *program) close() {
	_ = p.cmd.Process.Kill()
	_ = p.cmd.Wait()
	os.RemoveAll(p.home)
}

// untilRoom waits until the picture has as many colours as only the room has, and
// returns how long that took from the start.
func (p *program) untilRoom() (time.Duration, error) {
	const many = 60
	late := time.After(30 * time.Second)
	for {
		select {
		case at := <-p.d.damage:
			seen := map[[3]byte]bool{}
			g := p.d.grab(pictureArea)
			for i := 0; i+4 <= len(g); i += 12 {
				seen[[3]byte{g[i] >> 3, g[i+1] >> 3, g[i+2] >> 3}] = true
			}
			if len(seen) > many {
				return at.Sub(p.begun), p.d.focus()
			}
		case <-late:
			return 0, fmt.Errorf("no room on the display after 30 s")
		}
	}
}

// memory is what the program has resident.
func (p *program) memory() string {
	b, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	for line := range strings.Lines(string(b)) {
		var kb int
		if n, _ := fmt.Sscanf(line, "VmRSS: %d kB", &kb); n == 1 {
			return fmt.Sprintf("%d MB", kb/1024)
		}
	}
	return "unknown"
}
