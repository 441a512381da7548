// SPDX-License-Identifier: MIT

package app

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"earline/app/ask"
	"earline/app/command"
	"earline/app/document"
	"earline/app/export"
	"earline/project/place"
	"earline/scene/tour"
)

// filmCommands record what is shown to a client.
func (w *Window) filmCommands() command.Table {
	can := func() error {
		if w.renderer == nil {
			return errNoPicture
		}
		return nil
	}
	var kinds []command.Command
	for _, k := range []struct{ id, name, ext, says string }{
		{"png", "Tour as animated PNG…", ".png", "Records the tour in full colour as one animated picture."},
		{"gif", "Tour as GIF…", ".gif", "Records the tour with 256 colours a picture, for what shows nothing else."},
		{"frames", "Tour as numbered pictures…", "", "Records the tour as a folder of pictures, for programs that cut films."},
	} {
		kinds = append(kinds, command.Command{ID: "view.record." + k.id, Name: k.name, Says: k.says, Can: can,
			Do: func() { w.chooseFilm("tour", k.ext, tourOf) }})
	}
	kinds = append(kinds, command.Command{ID: "view.record.entrance", Name: "Entrance as animated PNG…",
		Says: "Records how the lights receive people, from the main seat.", Can: can,
		Do: func() { w.chooseFilm("entrance", ".png", entranceOf) }})
	return command.Table{{ID: "view.record", Name: "Record", Menu: "Show", Says: "Records the tour or the entrance as a film.",
		Items: func() []command.Command { return kinds }}}
}

func tourOf(r *place.Room) (tour.Sequence, error) {
	t := tour.Plan(r)
	if len(t.Stops) == 0 {
		return nil, errors.New("nobody can stand in the room, and there is no seat")
	}
	return t, nil
}

func entranceOf(r *place.Room) (tour.Sequence, error) {
	from, ok := tour.MainSeat(r)
	if !ok {
		return nil, errors.New("there is no seat")
	}
	return tour.EntranceOf(r, from)
}

// chooseFilm asks where to, and records.
func (w *Window) chooseFilm(what, ext string, plan func(*place.Room) (tour.Sequence, error)) {
	if w.ask.Busy() {
		return
	}
	w.commit()
	name := ask.FileName(strings.TrimSuffix(w.session.Doc.Title(), document.Ext)+" "+what) + ext
	w.ask.Save("Record as", name, ext, "", func(path string) { w.record(path, plan) })
}

// record records in the background. What is given up keeps the pictures made so far.
func (w *Window) record(path string, plan func(*place.Room) (tour.Sequence, error)) {
	ctx, cancel := context.WithCancel(context.Background())
	tell, done := w.ask.Work("Record", "Recording "+filepath.Base(path)+"…", cancel)
	d := w.session.Doc.Design()
	w.session.Background(func() {
		made, of := 0, 0
		r := place.Of(d)
		s, err := plan(r)
		if err == nil {
			made, of, err = export.Film(ctx, r, s, export.Filming{W: 1280, H: 720, FPS: 20}, path, func(share float64) {
				w.cfg.Post(func() {
					if ctx.Err() == nil && !w.closed {
						tell(share)
					}
				})
			})
		}
		w.cfg.Post(func() {
			defer cancel()
			switch {
			case w.closed:
			case ctx.Err() != nil && made == 0:
				w.session.Say("Cancelled: nothing is recorded.")
			case ctx.Err() != nil:
				w.session.Say("Cancelled: " + export.Kept(path, made, of) + ".")
			case err != nil && made > 0:
				done()
				w.ask.Report("The recording ends early", fmt.Errorf("%s: %w", export.Kept(path, made, of), err))
			case err != nil:
				done()
				w.ask.Report("Nothing is recorded", err)
			default:
				done()
				w.session.Say(fmt.Sprintf("Recorded as %s: %d pictures.", path, made))
			}
		})
	})
}
