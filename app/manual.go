// SPDX-License-Identifier: MIT

package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"earline/app/command"
	"earline/app/field"
	"earline/app/words"
	"earline/assets"
)

// manualCommands open the manual, chapter by chapter: Find a command lists them too.
func (w *Window) manualCommands() []command.Command {
	var all []command.Command
	for _, t := range assets.Manual() {
		all = append(all, command.Command{ID: "help.manual." + t.Name, Name: t.Title, Says: t.Story,
			Do: func() { w.showManual(t) }})
	}
	return all
}

// showManual shows a chapter of the manual, with the others beside it and a field that
// finds those in which a word stands. While the keyboard is in the field, the arrows and
// Page Up and Page Down turn the page.
func (w *Window) showManual(first assets.Topic) {
	page := container.NewVScroll(nil)
	list := container.NewVBox()
	find := command.NewQuery("Word to find")
	var shown string // its name
	var show func(assets.Topic)
	fill := func(word string) {
		list.RemoveAll()
		for _, t := range topicsWith(word) {
			b := field.NewButton(t.Title, func() { show(t) })
			if t.Name == shown {
				b.Importance = widget.HighImportance
			}
			list.Add(b)
		}
		list.Refresh()
	}
	show = func(t assets.Topic) {
		shown = t.Name
		page.Content = readable(t.Text)
		page.ScrollToTop()
		page.Refresh()
		fill(find.Text)
	}
	show(first)
	find.OnChanged = fill
	turn := func(by float32) {
		page.ScrollToOffset(fyne.NewPos(0, page.Offset.Y+by))
	}
	chapters := container.NewBorder(find, nil, nil, nil, container.NewVScroll(list))
	d := dialog.NewCustomWithoutButtons(words.Of("Manual"), container.NewBorder(nil, nil, container.NewGridWrap(fyne.NewSize(150, 440), chapters), nil, page), w.win)
	find.OnKey = func(name fyne.KeyName) bool {
		switch name {
		case fyne.KeyEscape:
			d.Hide()
		case fyne.KeyDown:
			turn(lineStep)
		case fyne.KeyUp:
			turn(-lineStep)
		case fyne.KeyPageDown:
			turn(page.Size().Height - lineStep)
		case fyne.KeyPageUp:
			turn(lineStep - page.Size().Height)
		case fyne.KeyReturn, fyne.KeyEnter:
			if found := topicsWith(find.Text); len(found) > 0 {
				show(found[0])
			}
		default:
			return false
		}
		return true
	}
	d.SetButtons([]fyne.CanvasObject{field.NewButton("Close", d.Hide)})
	w.ask.Show(d, 940, 600)
	w.win.Canvas().Focus(find)
}

// lineStep is how far an arrow turns a page of the manual, in Fyne's units.
const lineStep = 36

// topicsWith returns the chapters in which a word stands, in any case.
func topicsWith(word string) []assets.Topic {
	word = strings.ToLower(strings.TrimSpace(word))
	var found []assets.Topic
	for _, t := range assets.Manual() {
		if strings.Contains(strings.ToLower(t.Text), word) {
			found = append(found, t)
		}
	}
	return found
}

// readable lays a chapter out for the window, whose rich text knows no tables: each row
// is a line that begins with its first cell. Comments are left out.
func readable(text string) fyne.CanvasObject { return markdown(boldCode(withoutTables(text))) }

// boldCode makes what is code within a line bold: the toolkit cuts the underscores off
// its monospaced letters.
func boldCode(text string) string {
	lines := strings.Split(text, "\n")
	fenced := false
	for i, line := range lines {
		if strings.HasPrefix(line, "```") {
			fenced = !fenced
		}
		parts := strings.Split(line, "`")
		if fenced || len(parts)%2 == 0 || strings.HasPrefix(line, "```") {
			continue
		}
		for k := 1; k < len(parts); k += 2 {
			mark := "**"
			if strings.Contains(parts[k], "*") {
				mark = "`"
			}
			parts[k] = mark + parts[k] + mark
		}
		lines[i] = strings.Join(parts, "")
	}
	return strings.Join(lines, "\n")
}

func withoutTables(text string) string {
	lines := strings.Split(text, "\n")
	var out []string
	for i, line := range lines {
		switch {
		case strings.HasPrefix(line, "<!--"), strings.HasPrefix(line, "|--"):
		case i+1 < len(lines) && strings.HasPrefix(lines[i+1], "|--"): // the heads of columns
		case strings.HasPrefix(line, "| "):
			cells := strings.Split(strings.TrimSuffix(strings.TrimPrefix(strings.ReplaceAll(line, `\|`, "\x00"), "| "), " |"), " | ")
			said := cells[:0]
			for _, c := range cells {
				if c = strings.TrimSpace(strings.ReplaceAll(c, "\x00", "|")); c != "" {
					said = append(said, c)
				}
			}
			if len(said) == 0 {
				continue
			}
			rest := strings.Join(said[1:], "; ")
			if rest != "" {
				rest = ": " + rest
			}
			out = append(out, "- "+said[0]+rest)
		default:
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}
