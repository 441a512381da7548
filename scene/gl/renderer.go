// SPDX-License-Identifier: MIT

package gl

import (
	"errors"
	"fmt"
	"image"
	"runtime"
	"sync"
	"time"

	"earline/scene"
)

// Job asks for one picture.
type Job struct {
	// W and H are the picture's size in pixels. Below 1, List is taken in and
	// nothing is drawn.
	W, H   int
	Camera scene.Camera
	// List is what to draw; nil keeps what is on show. It must not change
	// afterwards.
	List *scene.List
	// Samples is 4 in a picture at rest: it has smooth edges, and shows in its light what
	// things are made of. Anything less is 1.
	Samples int
	// Scale is the size of a label point in pixels; 0 is 1.
	Scale float32
	// Part is which part of the picture of W by H is drawn, and the size of what comes
	// back; empty for the whole. Labels, legend and curtain edge are left out of a part.
	Part image.Rectangle
	// Curtain has another list left of it; nil for none.
	Curtain *Curtain
	// Seq comes back in the Frame.
	Seq uint64
}

// whole returns which part of the picture is drawn.
func (j *Job) whole() image.Rectangle {
	if j.Part.Empty() {
		return image.Rect(0, 0, j.W, j.H)
	}
	return j.Part
}

// Frame is one finished picture, or the reason why there is none.
type Frame struct {
	// Img is opaque everywhere. Its memory is used again for the third frame
	// after it. nil when Err is not.
	Img  *image.RGBA
	Seq  uint64
	Cost time.Duration // from taking the job to the finished picture
	Err  error
}

var errClosed = errors.New("gl: the renderer is closed")

// rotation is the number of images a Renderer fills in turn: one is shown, one
// waits to be shown, one is drawn.
const rotation = 3

// Renderer draws pictures on a thread of its own. All methods are safe from any
// goroutine but the OnFrame callback, from which only Submit may be called.
type Renderer struct {
	mu     sync.Mutex
	wake   *sync.Cond
	job    *Job // the latest submitted, nil once taken
	list   *scene.List
	calls  []call
	sink   func(Frame)
	closed bool
	done   chan struct{}
}

// call is a Draw that waits for its answer.
type call struct {
	job   Job
	reply chan Frame // holds one, so that answering never waits
}

// Start takes c over and returns a Renderer drawing with it. The error is one
// line for people, naming what this machine lacks; c is released then.
func Start(c Context) (*Renderer, error) {
	r := &Renderer{done: make(chan struct{})}
	r.wake = sync.NewCond(&r.mu)
	started := make(chan error, 1)
	go r.run(c, started)
	if err := <-started; err != nil {
		<-r.done
		return nil, unavailable(err)
	}
	return r, nil
}

// OnFrame sets who receives the pictures of Submit, replacing who did before.
// f is called on the render thread and must return soon.
func (r *Renderer) OnFrame(f func(Frame)) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.sink = f
}

// Submit asks for a picture and returns at once. A job not yet begun is
// replaced, but its List is kept if j brings none. After Close it does nothing.
func (r *Renderer) Submit(j Job) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.closed {
		return
	}
	if j.List != nil {
		r.list = j.List
	}
	r.job = &j
	r.wake.Signal()
}

// Draw returns one picture, waiting for it. A List in j is drawn for this
// picture only: what Submit shows stays. The image is the caller's.
func (r *Renderer) Draw(j Job) (*image.RGBA, error) {
	c := call{j, make(chan Frame, 1)}
	r.mu.Lock()
	if r.closed {
		r.mu.Unlock()
		return nil, errClosed
	}
	r.calls = append(r.calls, c)
	r.wake.Signal()
	r.mu.Unlock()
	select {
	case f := <-c.reply:
		return f.Img, f.Err
	case <-r.done:
	}
	select { // the answer may have come just before the end
	case f := <-c.reply:
		return f.Img, f.Err
	default:
		return nil, errClosed
	}
}

// Close ends the render thread and waits for it; frames under way are finished
// first. Further calls return when the first has done its work.
func (r *Renderer) Close() {
	r.mu.Lock()
	r.closed = true
	r.wake.Signal()
	r.mu.Unlock()
	<-r.done
}

// take waits for work: a call, or a job with the list that goes with it. It
// returns false when the renderer is to end.
func (r *Renderer) take() (c *call, j Job, sink func(Frame), ok bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for r.job == nil && len(r.calls) == 0 && !r.closed {
		r.wake.Wait()
	}
	if r.closed {
		return nil, Job{}, nil, false
	}
	if len(r.calls) > 0 {
		c := r.calls[0]
		r.calls = r.calls[1:]
		return &c, c.job, nil, true
	}
	j, r.job = *r.job, nil
	j.List, r.list = r.list, nil
	return nil, j, r.sink, true
}

// run is the render thread. The thread is never unlocked, so it ends with the
// goroutine and no other ever inherits its OpenGL state.
func (r *Renderer) run(c Context, started chan<- error) {
	runtime.LockOSThread()
	defer close(r.done)
	if err := c.MakeCurrent(); err != nil {
		started <- err
		return
	}
	defer c.Release()
	var p *painter
	err := guard(func() (err error) { p, err = newPainter(c); return err })
	started <- err
	if err != nil {
		return
	}
	defer guard(func() error { p.dispose(); return nil })

	var images [rotation]*image.RGBA
	for turn := 0; ; {
		c, j, sink, ok := r.take()
		if !ok {
			return
		}
		begin := time.Now()
		f := Frame{Seq: j.Seq}
		if c != nil {
			f.Img = blank(nil, j.whole().Dx(), j.whole().Dy())
			if f.Err = guard(func() error { return p.drawOnce(j, f.Img) }); f.Err != nil {
				f.Img = nil
			}
			c.reply <- f
			continue
		}
		f.Err = guard(func() error { return errors.Join(p.show(j.List), p.hang(j.Curtain)) })
		if f.Err == nil {
			if j.W < 1 || j.H < 1 {
				continue
			}
			images[turn] = blank(images[turn], j.whole().Dx(), j.whole().Dy())
			if f.Err = guard(func() error { return p.draw(p.stage, p.left, j, images[turn]) }); f.Err == nil {
				f.Img = images[turn]
				turn = (turn + 1) % rotation
			}
		}
		f.Cost = time.Since(begin)
		if sink != nil {
			sink(f)
		}
	}
}

// guard runs f and turns a panic into an error: g3n has some hundred of them,
// and none may take the window down.
func guard(f func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("gl: drawing failed: %v", p)
		}
	}()
	return f()
}

// blank returns an image of w by h pixels, reusing m if it fits. Sizes that the
// painter will refuse give an empty one.
func blank(m *image.RGBA, w, h int) *image.RGBA {
	if w < 1 || h < 1 || w > maxSide || h > maxSide {
		return &image.RGBA{}
	}
	if m != nil && m.Rect.Dx() == w && m.Rect.Dy() == h {
		return m
	}
	return image.NewRGBA(image.Rect(0, 0, w, h))
}

// Still draws j with a context of its own and gives everything back: one
// picture for the command line. Main thread only, as NewContext.
func Still(j Job) (*image.RGBA, error) {
	c, err := NewContext()
	if err != nil {
		return nil, err
	}
	r, err := Start(c)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return r.Draw(j)
}
