// SPDX-License-Identifier: MIT

// Package compare is the page of what was and what will be: the designs that a file
// keeps beside its plan, one of them and the plan side by side, and a fade from one to
// the other in the picture. UI goroutine only.
package compare

import (
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/command"
	"earline/app/field"
	"earline/app/page"
	"earline/app/session"
	"earline/app/words"
	"earline/project"
	"earline/project/compare"
	"earline/project/place"
	"earline/scene"
)

// comparePage shows the session's design beside one that is kept with it.
type comparePage struct {
	session *session.Session
	frame   page.Frame

	head  *widget.Label
	body  *fyne.Container
	bar   *bar
	empty fyne.CanvasObject // in the place of all else while nothing is kept
	split *container.Split
	list  *list
	side  *side

	with  string          // the name of the design that the plan is compared with
	share float64         // of the plan in the picture
	glide *fyne.Animation // of share; nil while it stands
	stays bool            // whether what stays is listed too

	design *project.Design
	result *compare.Result // fresh or of the design before; nil for none
	fresh  bool
	lines  []line
	chosen string // the key of the line that is chosen
}

// title is the name on the tab.
const title = "Compare"

// New returns the page.
func New(s *session.Session, f page.Frame) page.Page { return newPage(s, f) }

func newPage(s *session.Session, f page.Frame) *comparePage {
	p := &comparePage{session: s, frame: f, head: widget.NewLabel(""), share: 1}
	p.head.Truncation = fyne.TextTruncateEllipsis
	p.bar, p.list, p.side = newBar(p), newList(p), newSide()
	says := widget.NewLabel(words.Of("Only the plan is in this file. Keep the plan as it is now before you change it, or bring in the room as it was found from a file of its own: then this page says what becomes of each thing, and the picture fades from one room to the other."))
	says.Wrapping = fyne.TextWrapWord
	p.empty = container.New(layout.NewCustomPaddedLayout(8, 8, 8, 8), container.NewVBox(says))
	p.split = container.NewHSplit(p.list, p.side.object)
	p.split.Offset = 0.5
	p.body = field.Bordered(p.bar.object, nil, nil, nil, container.NewStack(p.split, p.empty))
	return p
}

// Title implements page.Page, as do the methods below.
func (p *comparePage) Title() string { return title }

// Says says what the page shows.
func (p *comparePage) Says() string {
	return "Sets the plan beside the room as found, or beside an option, and fades from one to the other."
}

// Body returns the choice of a design, the lists of what becomes of each thing, and the
// figures of both.
func (p *comparePage) Body() fyne.CanvasObject { return p.body }

// Head returns how many things meet each fate.
func (p *comparePage) Head() fyne.CanvasObject { return p.head }

// First returns the list, or what begins one. It implements page.Keyed.
func (p *comparePage) First() fyne.Focusable {
	if p.index() < 0 {
		return p.bar.keep
	}
	return p.list
}

// PictureShare leaves more to the page than most do. It implements page.Sized.
func (p *comparePage) PictureShare() float64 { return 0.56 }

// Forget begins another document at the plan. It implements page.Forgetful.
func (p *comparePage) Forget() {
	p.stand()
	p.with, p.share, p.stays, p.chosen, p.result = "", 1, false, "", nil
}

// Update shows the plan beside the design that is chosen.
func (p *comparePage) Update() {
	p.design = p.session.Design()
	i := p.index()
	p.bar.update()
	if i < 0 {
		p.result, p.fresh, p.lines = nil, false, nil
		p.head.SetText("")
		p.split.Hide()
		p.empty.Show()
		return
	}
	p.empty.Hide()
	p.split.Show()
	was := p.result
	r, state := p.session.Compare(i)
	p.fresh = state == session.Fresh
	p.result = r
	switch {
	case p.fresh:
		p.head.SetText(words.Of(countWords(r.Count())))
	case state == session.Failed:
		p.head.SetText(words.Of("This comparison cannot be made."))
	default:
		p.head.SetText(words.Of("Comparing…"))
	}
	if r != was || r == nil {
		p.relist()
		return
	}
	p.side.update(p)
}

// relist lists what is known again.
func (p *comparePage) relist() {
	p.lines = nil
	if p.result != nil {
		p.lines = linesOf(p.result, p.stays)
	}
	p.list.update()
	p.side.update(p)
}

// index returns which of the designs beside the plan is compared with it; -1 when there
// is none.
func (p *comparePage) index() int {
	d := p.session.Design()
	if i := d.VariantNamed(p.with); i >= 0 && p.with != "" {
		return i
	}
	if i := d.AsFound(); i >= 0 {
		return i
	}
	return min(len(d.Variants), 1) - 1
}

// other returns the design that the plan is compared with; nil for none.
func (p *comparePage) other() *project.Design {
	if i := p.index(); i >= 0 {
		return &p.session.Design().Variants[i]
	}
	return nil
}

// Overlay fades from one design to the other, and outlines what is chosen in both.
func (p *comparePage) Overlay(o *scene.Options) {
	other := p.other()
	if other == nil || p.session.Dragging() { // what is dragged is of the plan
		return
	}
	f := &scene.Fade{Was: other, Share: p.share}
	if l := p.line(); l != nil && p.fresh {
		f.From, f.To = l.from, l.to
	}
	if p.share < 1 || f.From != (place.Item{}) || f.To != (place.Item{}) {
		o.Fade = f
	}
}

// fade shows that share of the plan at once.
func (p *comparePage) fade(share float64) {
	p.stand()
	p.put(share)
}

// glideTo goes to that share of the plan as fast as the eye can follow.
func (p *comparePage) glideTo(share float64) {
	p.stand()
	from := p.share
	a := fyne.NewAnimation(glideTime, nil)
	a.Tick = func(done float32) {
		if p.glide == a {
			p.put(from + (share-from)*float64(done))
		}
	}
	p.glide = a
	a.Start()
}

// glideTime is how long the picture takes from one room to the other.
const glideTime = 900 * time.Millisecond

// stand ends a glide where it is.
func (p *comparePage) stand() {
	if p.glide != nil {
		p.glide.Stop()
		p.glide = nil
	}
}

func (p *comparePage) put(share float64) {
	if share = min(max(share, 0), 1); share != p.share {
		p.share = share
		p.bar.update()
		p.frame.Redraw()
	}
}

// line returns the line that is chosen; nil for none.
func (p *comparePage) line() *line {
	for i := range p.lines {
		if p.lines[i].key == p.chosen && p.chosen != "" {
			return &p.lines[i]
		}
	}
	return nil
}

// choose takes line i: it is shown in the picture, and selected there where the plan
// has it.
func (p *comparePage) choose(i int) {
	if i < 0 || i >= len(p.lines) || p.lines[i].heading {
		return
	}
	if p.lines[i].fold {
		p.stays = !p.stays
		p.chosen = p.lines[i].key
		p.relist()
		return
	}
	p.point(i)
}

// point takes line i, and unfolds nothing.
func (p *comparePage) point(i int) {
	l := &p.lines[i]
	p.chosen = l.key
	c := session.Nothing()
	if c.Item = l.to; l.to.Kind == place.SpeakerItem {
		c.Speaker = l.to.Index
	}
	p.list.update()
	p.side.update(p)
	p.session.Choose(c) // which draws it
}

// countWords says how many things meet each fate: "2 new, 1 goes, 5 move".
func countWords(n [compare.Stays + 1]int) string {
	var out []string
	for f := compare.New; f <= compare.Stays; f++ {
		if n[f] > 0 {
			out = append(out, fmt.Sprintf("%d %s", n[f], plural(f, n[f])))
		}
	}
	return strings.Join(out, ", ")
}

// plural returns the word for a fate of n things.
func plural(f compare.Fate, n int) string {
	if f == compare.Goes && n > 1 {
		return "go"
	}
	if word := f.String(); n > 1 && f != compare.New {
		return strings.TrimSuffix(word, "s")
	}
	return f.String()
}

// Commands returns what can be done with the designs of a file.
func (p *comparePage) Commands() []command.Command {
	end := func(id, name, says string, share float64) command.Command {
		return command.Command{ID: "compare." + id, Name: name, Menu: title, Says: says,
			Can: p.needOther,
			Do: func() {
				p.raise()
				p.glideTo(share)
			},
			On: func() bool { return p.body.Visible() && p.other() != nil && p.share == share }}
	}
	return []command.Command{
		{ID: "compare.keep", Name: "Keep the plan as…", Menu: title,
			Says: "Keeps a copy of the plan, as it is now, beside it in the file.",
			Can:  p.needRoom, Do: p.keep},
		{ID: "compare.bring", Name: "Bring in a room…", Menu: title,
			Says: "Keeps a room from another file beside the plan, such as the room as it was found.",
			Can:  p.needRoom, Do: p.bring},
		{ID: "compare.with", Name: "Compare with", Menu: title, LineAbove: true,
			Says: "Chooses the design that the plan is compared with.",
			Can:  p.needOther, Items: p.choices},
		{ID: "compare.swap", Name: "Swap with the plan…", Menu: title,
			Says: "Makes the design that is compared the plan, and keeps the plan of now in its place.",
			Can:  p.needOther, Do: p.swap},
		{ID: "compare.rename", Name: "Rename…", Menu: title,
			Says: "Gives the design that is compared another name or role.",
			Can:  p.needOther, Do: p.rename},
		{ID: "compare.drop", Name: "Drop…", Menu: title,
			Says: "Takes the design that is compared out of the file.",
			Can:  p.needOther, Do: p.drop},
		{ID: "compare.fade", Name: "Fade to before or after", Menu: title, LineAbove: true, Key: command.Key{Name: "B"},
			Says: "Fades in the picture from the plan to the room before, or back.",
			Can:  p.needOther,
			Do: func() {
				p.raise()
				if p.share > 0.5 {
					p.glideTo(0)
				} else {
					p.glideTo(1)
				}
			}},
		end("before", "Show the room before", "Shows in the picture only the design that the plan is compared with.", 0),
		end("half", "Show half of both", "Shows both designs in the picture, each by half.", 0.5),
		end("after", "Show the plan", "Shows only the plan in the picture.", 1),
	}
}

func (p *comparePage) choices() []command.Command {
	var out []command.Command
	for i, v := range p.session.Design().Variants {
		out = append(out, command.Command{ID: fmt.Sprintf("compare.with.%d", i+1), Name: called(v.Variant),
			Says: "Compares the plan with this design.",
			Do:   func() { p.raise(); p.compareWith(i) },
			On:   func() bool { return p.index() == i }})
	}
	return out
}

// raise brings the page to the top.
func (p *comparePage) raise() {
	if !p.body.Visible() {
		p.frame.Raise(p)
	}
}

// compareWith compares the plan with the ith design beside it.
func (p *comparePage) compareWith(i int) {
	if d := p.session.Design(); i >= 0 && i < len(d.Variants) && p.with != d.Variants[i].Variant.Name {
		p.with, p.chosen = d.Variants[i].Variant.Name, ""
		p.Update()
		p.frame.Redraw()
	}
}

var _ interface {
	page.Keyed
	page.Sized
	page.Forgetful
} = (*comparePage)(nil)
