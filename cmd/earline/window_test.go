// SPDX-License-Identifier: MIT

//go:build linux

package main

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jezek/xgb"
	"github.com/jezek/xgb/xproto"
	"github.com/jezek/xgb/xtest"

	"earline/app"
	"earline/project/sight"
	"earline/scene"
)

// asCommand turns the test binary into the command itself.
const asCommand = "EARLINE_TEST_COMMAND"

func TestMain(m *testing.M) {
	if os.Getenv(asCommand) != "" {
		os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// desktop is the display, seen and used as a person would: pixels, mouse, keys.
type desktop struct {
	t    *testing.T
	x    *xgb.Conn
	root xproto.Window
	w, h uint16
}

func openDesktop(t *testing.T) *desktop {
	t.Helper()
	if err := app.CanOpen(); err != nil {
		if os.Getenv("EARLINE_NO_SKIP") != "" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	if os.Getenv("EARLINE_NO_SKIP") == "" && os.Getenv("EARLINE_DRIVE") == "" {
		t.Skip("this test moves the mouse and types: set EARLINE_DRIVE=1 to let it, best under xvfb-run")
	}
	x, err := connect()
	for range 20 { // a display in memory begins anew when its last client has gone
		if err == nil {
			break
		}
		time.Sleep(100 * time.Millisecond)
		x, err = connect()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(x.Close)
	s := xproto.Setup(x).DefaultScreen(x)
	return &desktop{t, x, s.Root, s.WidthInPixels, s.HeightInPixels}
}

// connect returns a connection that works.
func connect() (*xgb.Conn, error) {
	x, err := xgb.NewConn()
	if err != nil {
		return nil, err
	}
	if err := xtest.Init(x); err != nil {
		x.Close()
		return nil, err
	}
	return x, nil
}

// shot returns what the display shows.
func (d *desktop) shot() *image.RGBA {
	d.t.Helper()
	r, err := xproto.GetImage(d.x, xproto.ImageFormatZPixmap, xproto.Drawable(d.root), 0, 0, d.w, d.h, 1<<32-1).Reply()
	if err != nil {
		d.t.Fatal(err)
	}
	img := image.NewRGBA(image.Rect(0, 0, int(d.w), int(d.h)))
	if len(r.Data) < len(img.Pix) {
		d.t.Skipf("the display is %d bits deep", r.Depth)
	}
	for i := 0; i < len(img.Pix); i += 4 {
		img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = r.Data[i+2], r.Data[i+1], r.Data[i], 255
	}
	return img
}

func (d *desktop) input(kind, detail byte, x, y int) {
	d.t.Helper()
	if err := xtest.FakeInputChecked(d.x, kind, detail, 0, d.root, int16(x), int16(y), 0).Check(); err != nil {
		d.t.Fatal(err)
	}
}

func (d *desktop) click(x, y int) {
	d.input(xproto.MotionNotify, 0, x, y)
	time.Sleep(100 * time.Millisecond)
	d.input(xproto.ButtonPress, 1, 0, 0)
	time.Sleep(50 * time.Millisecond)
	d.input(xproto.ButtonRelease, 1, 0, 0)
}

// press presses the key of a keysym while those of held are down.
func (d *desktop) press(sym xproto.Keysym, held ...xproto.Keysym) {
	d.t.Helper()
	for _, s := range held {
		d.input(xproto.KeyPress, d.code(s), 0, 0)
	}
	d.input(xproto.KeyPress, d.code(sym), 0, 0)
	time.Sleep(30 * time.Millisecond)
	d.input(xproto.KeyRelease, d.code(sym), 0, 0)
	for _, s := range held {
		d.input(xproto.KeyRelease, d.code(s), 0, 0)
	}
}

func (d *desktop) code(sym xproto.Keysym) byte {
	d.t.Helper()
	s := xproto.Setup(d.x)
	m, err := xproto.GetKeyboardMapping(d.x, s.MinKeycode, byte(s.MaxKeycode-s.MinKeycode+1)).Reply()
	if err != nil {
		d.t.Fatal(err)
	}
	for i, k := range m.Keysyms {
		if k == sym {
			return byte(int(s.MinKeycode) + i/int(m.KeysymsPerKeycode))
		}
	}
	d.t.Fatalf("no key for keysym %#x", sym)
	return 0
}

// focus gives the keyboard to the top window that the mouse is over, as a window
// manager would.
func (d *desktop) focus() {
	d.t.Helper()
	p, err := xproto.QueryPointer(d.x, d.root).Reply()
	if err != nil {
		d.t.Fatal(err)
	}
	if p.Child != 0 {
		xproto.SetInputFocus(d.x, xproto.InputFocusPointerRoot, p.Child, xproto.TimeCurrentTime)
	}
}

// until waits until ok says yes to what the display shows, and fails with a
// picture of it otherwise.
func (d *desktop) until(what string, ok func(*image.RGBA) bool) *image.RGBA {
	d.t.Helper()
	deadline := time.Now().Add(60 * time.Second)
	for {
		img := d.shot()
		if ok(img) {
			return img
		}
		if time.Now().After(deadline) {
			name := filepath.Join(os.TempDir(), "earline-"+strings.ReplaceAll(what, " ", "-")+".png")
			savePNG(d.t, name, img)
			d.t.Fatalf("never saw %s; the display is in %s", what, name)
		}
		time.Sleep(50 * time.Millisecond)
	}
}

func savePNG(t *testing.T, name string, img image.Image) {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// colours counts the different colours in the part of the window where the room
// is drawn, coarsely.
func colours(img *image.RGBA) int {
	seen := map[[3]uint8]bool{}
	eachInView(img, func(x, y int, c color.RGBA) { seen[[3]uint8{c.R >> 3, c.G >> 3, c.B >> 3}] = true })
	return len(seen)
}

// chartColours counts the different colours where the page of sound has its chart.
func chartColours(img *image.RGBA) int {
	seen := map[[3]uint8]bool{}
	b := img.Bounds()
	for y := b.Dy() * 66 / 100; y < b.Dy()*88/100; y++ {
		for x := b.Dx() * 30 / 100; x < b.Dx()*65/100; x++ {
			c := img.RGBAAt(x, y)
			seen[[3]uint8{c.R >> 3, c.G >> 3, c.B >> 3}] = true
		}
	}
	return len(seen)
}

// differ returns the share of the picture of the room that differs between two
// shots.
func differ(a, b *image.RGBA) float64 {
	n, d := 0, 0
	eachInView(a, func(x, y int, c color.RGBA) {
		n++
		if e := b.RGBAAt(x, y); max(c.R, e.R)-min(c.R, e.R) > 12 || max(c.G, e.G)-min(c.G, e.G) > 12 {
			d++
		}
	})
	return float64(d) / float64(n)
}

func eachInView(img *image.RGBA, f func(x, y int, c color.RGBA)) {
	b := img.Bounds()
	for y := b.Dy() / 8; y < b.Dy()/2; y += 3 {
		for x := b.Dx() * 3 / 10; x < b.Dx()*95/100; x += 3 {
			f(x, y, img.RGBAAt(x, y))
		}
	}
}

// blockedCell returns the middle of the first run of the colour of blocked pairs in
// the lower part of the window, where the matrix is.
func blockedCell(img *image.RGBA) (x, y int, ok bool) {
	want := scene.Lamplight().Verdicts[sight.Blocked].Plate
	is := func(x, y int) bool {
		c := img.RGBAAt(x, y)
		near := func(a uint8, b float32) bool { return math.Abs(float64(a)-255*float64(b)) < 4 }
		return near(c.R, want.R) && near(c.G, want.G) && near(c.B, want.B)
	}
	b := img.Bounds()
	for y := b.Dy() * 6 / 10; y < b.Dy()*92/100; y++ {
		for x := b.Dx() / 3; x < b.Dx()-40; x++ {
			if is(x, y) && is(x+5, y+3) && is(x+2, y+3) {
				return x + 20, y + 8, true
			}
		}
	}
	return 0, 0, false
}

// Where there was a display but no OpenGL the process stayed for ever, with no window
// and deaf to signals.
func TestADisplayWithoutOpenGLEndsWithOneLine(t *testing.T) {
	openDesktop(t)
	home := t.TempDir()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute) // should it stay
	defer cancel()
	cmd := exec.CommandContext(ctx, os.Args[0], "--demo", "small")
	cmd.Env = append(os.Environ(), asCommand+"=1", "LC_ALL=C", "HOME="+home, "XDG_CONFIG_HOME="+home, "MESA_GL_VERSION_OVERRIDE=1.1")
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	err := cmd.Run()
	if said := out.String(); cmd.ProcessState.ExitCode() != statusUnusable || strings.Count(said, "\n") != 1 ||
		!strings.HasPrefix(said, "earline: no window can be opened: OpenGL 2.1 is needed") {
		t.Errorf("%v; it says:\n%s", err, said)
	}
}

// The real window opens on the demo with the room drawn; choosing a blocked
// cell goes to that ear, Escape comes back; ending the process closes it in
// order.
func TestWindow(t *testing.T) {
	d := openDesktop(t)
	home := t.TempDir()
	seen := filepath.Join(home, "fyne", app.ID) // the first steps are over
	if err := os.MkdirAll(seen, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(seen, "preferences.json"), []byte(`{"firststeps.seen":true}`), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(os.Args[0], "--demo", "large")
	cmd.Env = append(os.Environ(), asCommand+"=1", "LC_ALL=C", "HOME="+home, "XDG_CONFIG_HOME="+home)
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	start := time.Now()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- cmd.Wait() }()
	defer func() { _ = cmd.Process.Kill() }()

	d.until("the room", func(img *image.RGBA) bool { return colours(img) > 60 })
	t.Logf("room on the display after %v", time.Since(start).Round(10*time.Millisecond))
	time.Sleep(time.Second) // the smooth still follows the first frame
	first := d.shot()
	x, y, ok := blockedCell(first)
	if !ok {
		t.Fatal("no blocked cell in the matrix")
	}

	d.click(x, y)
	d.focus()
	d.until("the view from the ear", func(img *image.RGBA) bool { return differ(first, img) > 0.5 })
	if dir := os.Getenv("EARLINE_PICTURES"); dir != "" { // make pictures
		time.Sleep(time.Second)
		savePNG(t, filepath.Join(dir, "window.png"), first)
		savePNG(t, filepath.Join(dir, "ear.png"), d.shot())
	}
	const escape = 0xff1b // keysym
	d.press(escape)
	d.until("the room again", func(img *image.RGBA) bool { return differ(first, img) < 0.1 })

	// The page of sound: the waves of the room come, and a chart with curves.
	const f4 = 0xffc1 // keysym
	before := chartColours(d.shot())
	d.press(f4)
	d.until("the response of the subwoofers", func(img *image.RGBA) bool { return chartColours(img) > before+40 })
	if dir := os.Getenv("EARLINE_PICTURES"); dir != "" {
		time.Sleep(time.Second)
		savePNG(t, filepath.Join(dir, "sound.png"), d.shot())
	}

	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	select {
	case err := <-done:
		if err != nil {
			t.Errorf("ended with %v\n%s", err, &out)
		}
	case <-time.After(20 * time.Second):
		t.Errorf("did not end when asked to\n%s", &out)
	}
	if s := out.String(); strings.Contains(s, "call thread") || strings.Contains(s, "panic") {
		t.Errorf("it said:\n%s", s)
	}
}
