// SPDX-License-Identifier: MIT

package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"earline/app/command"
	"earline/app/words"
)

func (w *Window) showKeys() {
	w.ask.Text("Keys and mouse", 760, 580, command.NewKeySheet(w.commands), markdown(words.Of(mouseText)))
}

func (w *Window) showAbout() {
	version := w.cfg.Version
	if version == "" {
		version = "development version"
	}
	w.ask.Text("About Earline", 560, 400, markdown("## Earline "+words.Of(version)+"\n\n"+words.Of(aboutText)))
}

func markdown(text string) fyne.CanvasObject {
	t := widget.NewRichTextFromMarkdown(text)
	t.Wrapping = fyne.TextWrapWord
	return t
}

// mouseText follows the sheet of keys: the mouse, and keys that are not commands.
const mouseText = `
**Picture**

- Drag: turn the room; in the drawings move them; from inside look about
- Right, middle or Shift with drag: move sideways. Wheel: nearer or farther
- Click a loudspeaker or a seat: select it and open it in the inspector
- Arrows turn the room, move a drawing, look about from a seat; with Shift they move sideways. + and - bring it nearer and farther
- Walking: W A S D or arrows, E and Q up and down, Shift faster
- Showing around: W A S D or arrows, Enter to sit down and get up
- Tour and entrance: Space pauses and goes on, the right arrow goes to the next part, the left one to the beginning, Esc ends
- Curtain: drag it, or Ctrl with the left and right arrows
- Plan and sections: drag a loudspeaker (or its name), a chair or the screen to move it. It goes by 10 mm (1/2 inch) and snaps to the mirror image of its partner and to the places of others. Ctrl: by 50 mm (2 inches), or a row up and down. Esc takes it back

**Without a mouse**

- Tab and Shift+Tab go from control to control: a white ring shows where the keyboard is. Enter or Space presses, opens, ticks
- F10 or Alt opens the menus, F2 to F4, F7, F9 and F12 the pages, F5 the inspector, F6 the next part of the window: inspector, picture, page, first steps, and in the client view the bar with light and exposure
- Ctrl+K finds any command, also those without a key: first steps, record, entrance, viewpoints, finishes and every other part of the inspector
- Loudspeakers, rows and other plates: arrows move, Enter chooses
- Esc gives up one thing: what is typed, a menu, a dialog, a drag, a walk, a seat. Enter in a dialog does what the dialog is for

**Sight page**

- Click a cell, or move with the arrows: look from that ear along that path; Esc returns. Ctrl+C copies the cell
- Click a loudspeaker's name to edit it, a seat's number to sit there
- C is clear, T is tight, B is blocked; the number is the clearance in mm (or inches), below zero how deep something stands in the way

**Rules page**

- M must, S should, N note. Choose a line, or move with the arrows: it is drawn in the picture; Esc takes it out
- Any rule can be switched off or given other limits, with a reason: the house standard

**Sound page**

- Point at a curve to read it. The map lays the level over the room. Drag a subwoofer in the plan: its response follows

**Proposal page**

- A proposal stands in green beside what is there, with what it changes and what stands against it. Accept is one step of undo

**Inspector**

- Type lengths either way: 2.4 m, 240 cm, 2400 mm, 7' 10 1/2", 94.5 in
- Enter takes the text in, Esc takes it back. Up, Down and the wheel step it, Shift ten times as far
`

const aboutText = `
Plans private cinema rooms so that every ear sees every loudspeaker and every
eye the whole picture, and proves it.

**Caution.** Answers hold for the sizes, people and positions entered, and for
straight lines of sight; they promise no particular sound. What hangs overhead,
steps and ways out, electrical work, fabrics and fire, loudness and bright
projector light are matters of local code and of licensed people: ask them
before anything is built. Measure again on site.

Demo rooms and their equipment are invented.

Released under the MIT licence.
`
