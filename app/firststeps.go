// SPDX-License-Identifier: MIT

package app

import (
	"earline/app/guide"
	"earline/assets"
	"earline/project/settle"
	"earline/project/sight"
)

// firstStepsKey is the preference that the first steps were refused or gone through.
const firstStepsKey = "firststeps.seen"

// firstStepsDemo is the room that the first steps lead through: one whose surrounds are
// blocked, which Lift mends.
const firstStepsDemo = "large"

// offerFirstSteps asks a newcomer whether to be led through the window.
func (w *Window) offerFirstSteps() {
	if w.fyne.Preferences().Bool(firstStepsKey) {
		return
	}
	w.guide.Offer("New here?", "Eight short steps in a demo room show what Earline is for: who is blocked and why, the cure, the walk, the list for the site. About five minutes.", w.firstSteps)
}

// firstSteps opens the demo room and leads through it.
func (w *Window) firstSteps() {
	for _, d := range assets.Demos() {
		if d.Name == firstStepsDemo {
			w.afterDemo(d, func() {
				w.guide.Start()
				w.showControls()
			})
		}
	}
}

// newGuide returns the first steps, not yet on show.
func (w *Window) newGuide() *guide.Guide {
	on := func(id string) bool {
		c, ok := w.commands.Command(id)
		return ok && c.On != nil && c.On()
	}
	pageStep := func(title string) (func(), func() func() bool) {
		return func() {
				for _, t := range w.drawer.tabs {
					if t.Title() == title {
						w.goToPage(t.Page)
					}
				}
			}, func() func() bool {
				return func() bool { return w.drawer.top.Title() == title }
			}
	}
	showRules, rules := pageStep("Rules")
	showSetOut, setOut := pageStep("Set-out")
	blocked := func() int {
		if r := w.session.Result(); r != nil {
			return r.Count[sight.Blocked]
		}
		return -1
	}
	g := guide.New([]guide.Step{
		{Title: "Look round the room", Text: "Drag in the picture to turn the room, with the right button to move it; the wheel brings it nearer. The arrow keys, + and - do the same, F fits the room in again. F6 comes to these buttons without a mouse.",
			Begin: func() func() bool {
				was := w.room.View.Rig
				return func() bool { return w.room.View.Rig != was }
			}},
		{Title: "Find who is blocked", Text: "The table has a line for every seat and a column for every loudspeaker: C is clear, T tight, B blocked. Click a B, or go to it with the arrows, and the picture looks from that ear.",
			Word: "Show the worst", Do: func() { w.runNamed("view.sight-page"); w.leadToPath(settle.Deepest) },
			Begin: func() func() bool { return func() bool { return w.session.Chosen.Path } }},
		{Title: "See what is in the way", Text: "The line runs from the ear to the driver. The head or chair in its way is marked, and the status line below says how deep it stands in it. Esc goes back to the room.",
			Word: "Back to the room", Do: func() { w.runNamed("view.back") },
			Begin: func() func() bool { return func() bool { return !w.session.Chosen.Path } }},
		{Title: "Read what falls short", Text: "Rules gathers everything into causes, the worst first, left and right together. Each says its limit, where that comes from, why it matters, and what would cure it.",
			Word: "Show the rules", Do: showRules, Begin: rules},
		{Title: "Mend it", Text: "Lift seeks the least heights with which every path is clear. Its proposal stands in green beside the room, with what it changes; Accept takes it, and one Undo takes it back.",
			Word: "Lift…", Do: func() { w.runNamed("solve.lift") },
			Begin: func() func() bool {
				was := blocked()
				return func() bool { now := blocked(); return now >= 0 && now < was && w.session.Offer == nil }
			}},
		{Title: "Walk a client through", Text: "Show around takes the whole screen, without lines and tables. Walk with W A S D, sit down and get up with Enter, and read what each seat gets. Esc comes back here.",
			Word: "Show around", Do: func() { w.runNamed("view.around") },
			Begin: func() func() bool {
				been := false
				return func() bool {
					now := on("view.around")
					been = been || now
					return been && !now
				}
			}},
		{Title: "Take it to the site", Text: "Set-out lists every height from the laser line, offsets, aims, holes and how far each may be off; File > Export draws it to scale. As built judges the room again as measured.",
			Word: "Show the list", Do: showSetOut, Begin: setOut},
		{Title: "Learn, then begin your own", Text: "File > New lesson makes rooms with faults to find, marks them and explains each rule. New room (Ctrl+N) plans yours from size, seats and system. Help has the manual and these steps.",
			Word: "New room…", Do: func() { w.runNamed("file.new") }},
	})
	g.Ended = func() {
		w.fyne.Preferences().SetBool(firstStepsKey, true)
		w.win.Canvas().Focus(w.room.View)
	}
	return g
}
