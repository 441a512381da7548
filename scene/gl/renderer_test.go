// SPDX-License-Identifier: MIT

package gl

import (
	"errors"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
	"unsafe"

	"github.com/g3n/engine/core"
	"github.com/g3n/engine/gls"
	"github.com/go-gl/gl/v3.3-core/gl"
	"github.com/go-gl/mathgl/mgl32"

	"earline/scene"
)

func plain(c scene.RGB) *scene.List {
	return &scene.List{Meshes: []scene.Mesh{quad(mgl32.Vec3{0, 0, -3}, 1, c)}}
}

// frames lets r answer into a channel.
func frames(r *Renderer) <-chan Frame {
	got := make(chan Frame, 16)
	r.OnFrame(func(f Frame) { got <- f })
	return got
}

func next(t *testing.T, got <-chan Frame) Frame {
	t.Helper()
	select {
	case f := <-got:
		if f.Err != nil {
			t.Fatal(f.Err)
		}
		return f
	case <-time.After(2 * time.Minute): // a hung driver, not a slow one, even under the race detector
		t.Fatal("no frame came")
	}
	return Frame{}
}

// A view is asked for pictures before it has a size; what it was to show must
// not be lost with that job.
func TestListGivenBeforeTheSizeIsKept(t *testing.T) {
	r := open(t)
	got := frames(r)
	r.Submit(Job{Camera: ahead(), List: plain(red), Seq: 1})
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), Seq: 2})
	f := next(t, got)
	if f.Seq != 2 || !isRed(f.Img.RGBAAt(10, 10)) {
		t.Fatalf("frame %d shows %v, want frame 2 with the list of job 1", f.Seq, f.Img.RGBAAt(10, 10))
	}
	// The same when the render thread has taken the empty job before.
	r.Submit(Job{Camera: ahead(), List: plain(green), Seq: 3})
	if _, err := r.Draw(Job{W: 1, H: 1, Camera: ahead()}); err != nil { // waits its turn
		t.Fatal(err)
	}
	time.Sleep(10 * time.Millisecond)
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), Seq: 4})
	if f := next(t, got); f.Seq != 4 || !isGreen(f.Img.RGBAAt(10, 10)) {
		t.Fatalf("frame %d shows %v, want frame 4 with the list of job 3", f.Seq, f.Img.RGBAAt(10, 10))
	}
}

// While a frame is drawn, later jobs replace each other, and the last wins with
// the newest list any of them brought.
func TestLatestJobWins(t *testing.T) {
	r := open(t)
	got := make(chan Frame)
	r.OnFrame(func(f Frame) { got <- f })
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), Seq: 1})
	time.Sleep(50 * time.Millisecond) // the render thread now waits in OnFrame
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), List: plain(red), Seq: 2})
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), List: plain(green), Seq: 3})
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), Seq: 4})
	f := next(t, got)
	for f.Seq < 4 { // a slow machine may have begun one of them
		f = next(t, got)
	}
	if !isGreen(f.Img.RGBAAt(10, 10)) {
		t.Fatalf("last frame shows %v, want the newest list", f.Img.RGBAAt(10, 10))
	}
}

func TestShownFrameIsNotDrawnOver(t *testing.T) {
	r := open(t)
	got := frames(r)
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), List: plain(red)})
	first := next(t, got)
	for _, c := range []scene.RGB{green, blue} {
		r.Submit(Job{W: 20, H: 20, Camera: ahead(), List: plain(c)})
		next(t, got)
		if !isRed(first.Img.RGBAAt(10, 10)) {
			t.Fatalf("the frame on show became %v", first.Img.RGBAAt(10, 10))
		}
	}
}

func TestDrawLeavesTheViewAlone(t *testing.T) {
	r := open(t)
	got := frames(r)
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), List: plain(red)})
	next(t, got)
	img, err := r.Draw(Job{W: 30, H: 30, Camera: ahead(), List: plain(green)})
	if err != nil || !isGreen(img.RGBAAt(15, 15)) {
		t.Fatalf("still of another list: %v", err)
	}
	if img, err = r.Draw(Job{W: 30, H: 30, Camera: ahead()}); err != nil || !isRed(img.RGBAAt(15, 15)) {
		t.Fatalf("still of the list on show: %v", err)
	}
	r.Submit(Job{W: 20, H: 20, Camera: ahead()})
	if f := next(t, got); !isRed(f.Img.RGBAAt(10, 10)) {
		t.Fatalf("the view shows %v after a still, want its own list", f.Img.RGBAAt(10, 10))
	}
}

func TestBadListIsReportedAndTheOldOneStays(t *testing.T) {
	r := open(t)
	got := frames(r)
	bad := plain(green)
	bad.Meshes[0].Index = []uint32{0, 1, 99}
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), List: plain(red)})
	next(t, got)
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), List: bad, Seq: 7})
	if f := <-got; f.Err == nil || f.Img != nil || f.Seq != 7 {
		t.Fatalf("bad list gave %+v, want an error", f)
	}
	r.Submit(Job{W: 20, H: 20, Camera: ahead()})
	if f := next(t, got); !isRed(f.Img.RGBAAt(10, 10)) {
		t.Fatalf("after a bad list the view shows %v, want the one before", f.Img.RGBAAt(10, 10))
	}
}

func TestCloseTwiceAndAfter(t *testing.T) {
	r := open(t)
	r.Submit(Job{W: 20, H: 20, Camera: ahead(), List: plain(red)})
	var both sync.WaitGroup
	for range 2 {
		both.Go(r.Close)
	}
	both.Wait()
	r.Close()
	r.Submit(Job{W: 20, H: 20, Camera: ahead()})
	if _, err := r.Draw(Job{W: 20, H: 20, Camera: ahead()}); !errors.Is(err, errClosed) {
		t.Fatalf("Draw after Close: %v, want %v", err, errClosed)
	}
}

// Calls that wait for a picture when the renderer ends must come back.
func TestCloseWhileDrawing(t *testing.T) {
	r := open(t)
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for {
				if _, err := r.Draw(Job{W: 64, H: 64, Camera: ahead(), List: plain(red)}); err != nil {
					return
				}
			}
		})
	}
	time.Sleep(20 * time.Millisecond)
	r.Close()
	all.Wait()
}

func TestTwoContextsAtOnceAndInSequence(t *testing.T) {
	for range 3 {
		a, b := open(t), open(t)
		var both sync.WaitGroup
		draw := func(r *Renderer, l *scene.List, pass func() bool) {
			for range 20 {
				img, err := r.Draw(Job{W: 60, H: 40, Camera: ahead(), List: l, Samples: 4})
				if err != nil {
					t.Error(err)
					return
				}
				if c := img.RGBAAt(30, 20); isRed(c) != pass() {
					t.Errorf("one context shows %v, the other's picture", c)
					return
				}
			}
		}
		both.Go(func() { draw(a, plain(red), func() bool { return true }) })
		both.Go(func() { draw(b, plain(green), func() bool { return false }) })
		both.Wait()
		a.Close() // and b goes on
		draw(b, plain(green), func() bool { return false })
		b.Close()
	}
}

// A context that waits to be used must outlive the end of another.
func TestContextSurvivesTheEndOfAnother(t *testing.T) {
	c, err := NewContext()
	if err != nil {
		skip(t, err)
	}
	open(t).Close()
	r, err := Start(c)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if img, err := r.Draw(Job{W: 20, H: 20, Camera: ahead(), List: plain(red)}); err != nil || !isRed(img.RGBAAt(10, 10)) {
		t.Fatalf("picture from a context made before another ended: %v", err)
	}
}

// inPainter runs f with a painter on a thread of its own.
func inPainter(t *testing.T, f func(p *painter) error) {
	t.Helper()
	c, err := NewContext()
	if err != nil {
		skip(t, err)
	}
	done := make(chan error)
	go func() {
		runtime.LockOSThread()
		done <- func() error {
			if err := c.MakeCurrent(); err != nil {
				return err
			}
			defer c.Release()
			p, err := newPainter(c)
			if err != nil {
				return err
			}
			defer p.dispose()
			return f(p)
		}()
	}()
	if err := <-done; err != nil {
		t.Fatal(err)
	}
}

func TestRebuildsDoNotLeak(t *testing.T) {
	inPainter(t, func(p *painter) error {
		l := cinema()
		l.Meshes = l.Meshes[:20]
		round := func(w int) error {
			j := Job{W: w, H: 20, Camera: corner(), Samples: 1 + 3*(w%2)}
			if err := p.show(l); err != nil {
				return err
			}
			return p.draw(p.stage, nil, j, blank(nil, j.W, j.H))
		}
		objects := func() (n int) {
			for id := uint32(1); id < 50000; id++ { // names are not used again at once
				for _, is := range [4]func(uint32) bool{gl.IsBuffer, gl.IsVertexArray, gl.IsRenderbuffer, gl.IsFramebuffer} {
					if is(id) {
						n++
					}
				}
			}
			return n
		}
		if err := errors.Join(round(20), round(21)); err != nil {
			return err
		}
		before := objects()
		for i := range 200 {
			if err := round(20 + i%3); err != nil {
				return err
			}
		}
		if err := errors.Join(round(20), round(21)); err != nil {
			return err
		}
		if after := objects(); before != after || before < 60 {
			t.Errorf("%d OpenGL objects before 200 rebuilds, %d after", before, after)
		}
		var s gls.Stats
		p.stage.dispose(nil)
		p.stage = nil
		if p.gs.Stats(&s); s.Vaos != 0 || s.Buffers != 0 {
			t.Errorf("%d vertex arrays and %d buffers left when all is disposed of", s.Vaos, s.Buffers)
		}
		return nil
	})
}

// broken panics where g3n does, while a picture is drawn.
type broken struct{ core.Node }

func (*broken) Render(*gls.GLS) { panic("g3n: all wrong") }

func TestPanicWhileDrawingIsAnErrorAndDoesNoHarm(t *testing.T) {
	inPainter(t, func(p *painter) error {
		img, j := blank(nil, 20, 20), Job{W: 20, H: 20, Camera: ahead()}
		// Glass leaves the writing of depths off, and the mesh behind it a depth
		// that the next picture must not see.
		l := &scene.List{Meshes: []scene.Mesh{quad(mgl32.Vec3{0, 0, -2}, 1, green), quad(mgl32.Vec3{0, 0, -1}, 1, blue)}}
		l.Meshes[1].Alpha = 0.5
		if err := p.show(l); err != nil {
			return err
		}
		bad := new(broken)
		bad.Init(bad)
		p.stage.rest.root.Add(bad)
		if err := guard(func() error { return p.draw(p.stage, nil, j, img) }); err == nil || !strings.Contains(err.Error(), "all wrong") {
			t.Errorf("panic became %v", err)
		}
		if err := p.show(plain(red)); err != nil {
			return err
		}
		if err := p.draw(p.stage, nil, j, img); err != nil {
			return err
		}
		if !isRed(img.RGBAAt(10, 10)) || img.RGBAAt(10, 10).A != 255 {
			t.Errorf("next picture shows %v, want opaque red", img.RGBAAt(10, 10))
		}
		return nil
	})
}

// noGL is a context that cannot be had, or has no OpenGL behind it.
type noGL struct {
	err      error
	released *bool
}

func (c noGL) MakeCurrent() error         { return c.err }
func (c noGL) Proc(string) unsafe.Pointer { return nil }
func (c noGL) Release()                   { *c.released = true }

func TestMissingOpenGLIsOneClearLine(t *testing.T) {
	var released bool
	_, err := Start(noGL{errors.New("EGL has no driver"), &released})
	if err == nil || strings.Contains(err.Error(), "\n") ||
		!strings.Contains(err.Error(), "EGL has no driver") || !strings.Contains(err.Error(), "audits") {
		t.Errorf("error is %q, want one line with the cause and what still works", err)
	}
}

// The portable context draws the same. It needs a display.
func TestHiddenWindow(t *testing.T) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	c, err := NewWindow()
	if err != nil {
		skip(t, err)
	}
	r, err := Start(c)
	if err != nil {
		skip(t, err)
	}
	defer r.Close()
	img, err := r.Draw(Job{W: 60, H: 40, Camera: ahead(), List: plain(red), Samples: 4})
	if err != nil || !isRed(img.RGBAAt(30, 20)) {
		t.Fatalf("hidden window: %v", err)
	}
}
