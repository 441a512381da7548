// SPDX-License-Identifier: MIT

package app

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"earline/app/ask"
	"earline/app/document"
	"earline/app/export"
	"earline/project/disk"
)

// stillChoices are what was last chosen for a picture that is saved: indexes of what can be.
type stillChoices struct{ size, fine uint8 }

// stillSizes are the sizes that are offered besides that of the window, pixels.
var stillSizes = [...]struct{ w, h int }{{1920, 1080}, {3840, 2160}}

// savePicture asks for size, light and care, and saves what is on show.
func (w *Window) savePicture() {
	if w.ask.Busy() {
		return
	}
	if w.renderer == nil {
		w.ask.Report("There is no picture to save", errNoPicture)
		return
	}
	width, height := w.room.View.Pixels()
	if width < 1 || height < 1 {
		return
	}
	sizes := []string{fmt.Sprintf("As on the screen, %d × %d", width, height)}
	for _, s := range stillSizes {
		sizes = append(sizes, fmt.Sprintf("%d × %d", s.w, s.h))
	}
	var f ask.Options
	f.Choice("Size", sizes, &w.stills.size)
	s := w.still()
	text := "Saves what the picture shows, as PNG."
	lights, names := lightChoices()
	var chosen uint8
	if s.Options.Client {
		text += " Fine takes more time over the light and has smoother edges: up to a minute, and longer for a large picture."
		if _, _, none := w.room.Light(); none == nil {
			for i, l := range lights {
				if l == s.Light {
					chosen = uint8(i)
				}
			}
			f.Choice("Light", names, &chosen)
		}
		f.Choice("Quality", []string{"Plain", "Fine"}, &w.stills.fine)
	}
	w.ask.Options("Save picture", text, "Continue…", &f, func() {
		s.W, s.H = width, height
		if k := int(w.stills.size); k > 0 {
			s.W, s.H = stillSizes[k-1].w, stillSizes[k-1].h
		}
		s.Light, s.Fine = lights[chosen], s.Options.Client && w.stills.fine == 1
		w.ask.Save("Save the picture as", ask.FileName(strings.TrimSuffix(w.session.Doc.Title(), document.Ext))+".png", ".png", "", func(path string) { w.takeStill(s, path) })
	})
}

// still returns the picture on show as one to be kept.
func (w *Window) still() *export.Still {
	s := &export.Still{Design: w.session.Design(), Result: w.session.Tried(), Camera: w.room.View.Rig.Camera(), Options: w.room.Options(), Spare: 1}
	if s.Options.Client {
		s.Light, s.Stops, _ = w.room.Light()
	}
	var at float64
	s.Before, at = w.room.Curtain()
	s.Curtain = float32(at)
	return s
}

// takeStill takes a picture beside the window and writes it, whole or not at all.
func (w *Window) takeStill(s *export.Still, path string) {
	ctx, cancel := context.WithCancel(context.Background())
	tell, done := w.ask.Work("Save picture", "Taking "+filepath.Base(path)+"…", cancel)
	draw := w.renderer.Draw
	w.session.Background(func() {
		data, err := s.PNG(ctx, draw, func(share float64) {
			w.cfg.Post(func() {
				if ctx.Err() == nil && !w.closed {
					tell(share)
				}
			})
		})
		if err == nil && ctx.Err() == nil {
			err = disk.Replace(path, data)
		}
		w.cfg.Post(func() {
			defer cancel()
			switch {
			case w.closed:
			case ctx.Err() != nil:
				w.session.Say("Cancelled: nothing is written.")
			case err != nil:
				done()
				w.ask.Report("The picture is not saved", err)
			default:
				done()
				w.session.Say("Picture saved as " + path + ".")
			}
		})
	})
}
