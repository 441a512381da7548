// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"earline/app"
)

// pictureTo names the environment variable that turns the test binary into a
// window on the large demo: it waits for the first picture, writes what the
// window shows to the file named, and closes.
const pictureTo = "EARLINE_TEST_PICTURE"

func TestMain(m *testing.M) {
	if name := os.Getenv(pictureTo); name != "" {
		if err := showWindow(name); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func showWindow(name string) error {
	start := time.Now()
	var failed error
	err := app.Run(app.Config{Demo: "large", Version: "test", Dir: filepath.Dir(name), FirstPicture: func() {
		fmt.Printf("first picture after %v\n", time.Since(start).Round(time.Millisecond))
		time.AfterFunc(500*time.Millisecond, func() {
			fyne.Do(func() {
				w := fyne.CurrentApp().Driver().AllWindows()[0]
				failed = writePNG(name, w.Canvas().Capture())
				w.Close()
			})
		})
	}})
	if err != nil {
		return err
	}
	return failed
}

func writePNG(name string, img image.Image) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	if err := png.Encode(f, img); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// The real window opens on the demo, draws the room, and closes by itself.
func TestWindowOpens(t *testing.T) {
	if err := app.CanOpen(); err != nil {
		if os.Getenv("EARLINE_NO_SKIP") != "" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	name := filepath.Join(t.TempDir(), "window.png")
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), pictureTo+"="+name, "XDG_CONFIG_HOME="+t.TempDir(), "HOME="+t.TempDir())
	done := make(chan error, 1)
	var out strings.Builder
	cmd.Stdout, cmd.Stderr = &out, &out
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { done <- cmd.Wait() }()
	select {
	case err := <-done:
		if err != nil {
			t.Fatalf("%v\n%s", err, &out)
		}
	case <-time.After(2 * time.Minute):
		_ = cmd.Process.Kill()
		t.Fatalf("the window did not close:\n%s", &out)
	}
	t.Log(strings.TrimSpace(out.String()))
	if strings.Contains(out.String(), "call thread") {
		t.Errorf("a widget was called from a wrong goroutine:\n%s", &out)
	}
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	b := img.Bounds()
	if b.Dx() < 1000 || b.Dy() < 600 {
		t.Errorf("the window is %v", b)
	}
	// The room fills the middle of the right half: many colours there.
	colours := map[[3]uint32]bool{}
	for y := b.Dy() / 5; y < b.Dy()/2; y += 4 {
		for x := b.Dx() / 2; x < b.Dx(); x += 4 {
			r, g, bl, _ := img.At(x, y).RGBA()
			colours[[3]uint32{r >> 11, g >> 11, bl >> 11}] = true
		}
	}
	if len(colours) < 40 {
		t.Errorf("%d colours where the room should be: no picture", len(colours))
	}
}
