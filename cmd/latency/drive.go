// SPDX-License-Identifier: MIT

//go:build latency

package main

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"github.com/jezek/xgb/xproto"
)

const (
	// quiet is how long the picture must have stayed as it is to be at rest: longer
	// than the window waits before it draws the smooth still picture.
	quiet = 350 * time.Millisecond
	// patience is how long a change may take before it counts as never coming.
	patience = 10 * time.Second
)

var errNothing = errors.New("nothing changed on the display: is the window arranged otherwise?")

// settle waits until a stays as it is. Its end falls anywhere between two ticks of the
// window.
func (d *display) settle(a area) {
	last := d.grab(a)
	for {
		still := time.NewTimer(quiet + rand.N(33*time.Millisecond))
		for changed := false; !changed; {
			select {
			case <-d.damage:
				now := d.grab(a)
				changed = !bytes.Equal(last, now)
				last = now
			case <-still.C:
				return
			}
		}
	}
}

// answer does act and returns from when to when it takes until all of areas have
// changed.
func (d *display) answer(act func(), areas ...area) (span, error) {
	before := make([][]byte, len(areas))
	for i, a := range areas {
		before[i] = d.grab(a)
	}
	d.drain()
	late := time.After(patience)
	begin := time.Now()
	act()
	for {
		select {
		case at := <-d.damage:
			left := 0
			for i, a := range areas {
				if before[i] == nil {
					continue
				}
				if bytes.Equal(before[i], d.grab(a)) {
					left++
				} else {
					before[i] = nil
				}
			}
			if left == 0 {
				return span{begin, at}, nil
			}
		case <-late:
			return span{}, errNothing
		}
	}
}

// click clicks at p and waits until a has changed and come to rest. Without an area it
// waits for the picture to be at rest.
func (d *display) click(p point, a area) error {
	d.motion(p)
	d.settle(pictureArea)
	act := func() { d.button(xproto.ButtonPress); d.button(xproto.ButtonRelease) }
	if a == (area{}) {
		act()
	} else if _, err := d.answer(act, a); err != nil {
		return err
	}
	d.settle(pictureArea)
	return nil
}

// letGo ends a drag, and waits until what follows from it is on show.
func (d *display) letGo() {
	d.button(xproto.ButtonRelease)
	d.settle(pictureArea)
}

// upOrDown returns the keysym of the nth step: there and back.
func upOrDown(n int) xproto.Keysym {
	const up, down = 0xff52, 0xff54
	if n%4 >= 2 {
		return down
	}
	return up
}

// toField selects the loudspeaker and gives its height the keyboard.
func (d *display) toField() error {
	if err := d.click(columnHead, pictureArea); err != nil {
		return fmt.Errorf("select the loudspeaker: %w", err)
	}
	if err := d.click(heightField, area{}); err != nil {
		return fmt.Errorf("go to the field: %w", err)
	}
	return nil
}

// edit steps the value of the field that has the keyboard, n times.
func (d *display) edit(n int) (all []span, err error) {
	for i := range n {
		key := d.code(upOrDown(i))
		took, err := d.answer(func() { d.key(key) }, pictureArea, columnArea)
		if err != nil {
			return all, err
		}
		all = append(all, took)
		d.settle(pictureArea)
	}
	return all, nil
}

// drag takes hold of what is at p and moves it to and fro, one step at a time, n times.
func (d *display) drag(p point, n int) (all []span, err error) {
	d.motion(p)
	d.settle(pictureArea)
	d.button(xproto.ButtonPress)
	defer d.letGo()
	d.settle(pictureArea)
	const step = 9 // pixels, farther than a snap holds
	off := int16(0)
	for i := range n {
		if i/10%2 == 0 {
			off += step
		} else {
			off -= step
		}
		took, err := d.answer(func() { d.motion(point{p.x, p.y + off}) }, pictureArea)
		if err != nil {
			return all, err
		}
		all = append(all, took)
		d.settle(pictureArea)
	}
	return all, nil
}

// sweep takes hold of what is at p and moves it about, within reach, for so long, with
// as many moves a second as a mouse sends, and returns the times between two pictures.
func (d *display) sweep(p, reach point, long time.Duration) (g gaps, err error) {
	const hertz = 125
	d.motion(p)
	d.settle(pictureArea)
	d.button(xproto.ButtonPress)
	defer d.letGo()
	begin := time.Now()
	mouse := time.NewTicker(time.Second / hertz)
	defer mouse.Stop()
	last := d.grab(pictureArea)
	var shown time.Time
	for {
		select {
		case now := <-mouse.C:
			t := now.Sub(begin)
			if t > long {
				if len(g) == 0 {
					return g, errNothing
				}
				return g, nil
			}
			s := t.Seconds()
			d.motion(point{p.x + int16(float64(reach.x)*math.Sin(s*2*math.Pi/2.5)), p.y + int16(float64(reach.y)*math.Sin(s*2*math.Pi/1.7))})
		case at := <-d.damage:
			picture := d.grab(pictureArea)
			if bytes.Equal(last, picture) {
				continue
			}
			last = picture
			if !shown.IsZero() {
				g = append(g, at.Sub(shown))
			}
			shown = at
		}
	}
}
