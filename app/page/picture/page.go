// SPDX-License-Identifier: MIT

// Package picture is the page of the picture on the screen: how bright and how fine each
// shape of it is, how every seat sees it, what the lens has to do, and what the room's
// lamps leave of its contrast, with their levels to be set. UI goroutine only.
//
// page.go is the page and its commands; shapes.go, borders.go, seats.go, lens.go and light.go make its
// tables, a topic each; dimmers.go is the levels of the light groups.
package picture

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/ask"
	chartwidget "earline/app/chart"
	"earline/app/command"
	"earline/app/field"
	"earline/app/page"
	"earline/app/session"
	"earline/app/words"
	"earline/project/picture"
	"earline/project/viewing"
	"earline/scene"
	"earline/scene/figure"
)

// Screen is what the picture of the room shows of the projector's.
type Screen interface {
	// Shape returns which shape of picture is on the screen, an index in
	// picture.Result.Shapes.
	Shape() int
	ShowShape(int)
	// Beam reports whether the light on its way to the screen is drawn.
	Beam() bool
	ShowBeam(bool)
}

// topic is what is told.
type topic uint8

// The topics.
const (
	shapesTopic topic = iota
	bordersTopic
	seatsTopic
	lensTopic
	lightTopic
	topicCount
)

// String returns the name of t.
func (t topic) String() string {
	return [...]string{"Shapes", "Borders", "Seats", "Lens", "Room light"}[t]
}

// picturePage shows what is known of picture and light of the session's design.
type picturePage struct {
	session *session.Session
	frame   page.Frame
	screen  Screen

	head   *widget.Label
	body   fyne.CanvasObject
	topics [topicCount]*field.Button
	shape  *field.Choice
	beam   *field.Tick

	grid    *field.GridList
	scroll  *container.Scroll
	chart   *chartwidget.Chart
	dimmers *dimmers
	split   *container.Split // the table, and what belongs beside it
	beside  *fyne.Container

	topic  topic
	seen   *viewing.Result // nil before the first
	result *picture.Result // of seen
	key    listed          // what the table was made of
	rows   []row
}

// row is a line of the table, and what choosing it shows; -1 is nothing.
type row struct {
	field.GridRow
	shape, seat int
}

// title is the name on the tab.
const title = "Picture"

// New returns the page.
func New(s *session.Session, f page.Frame, screen Screen) page.Page { return newPage(s, f, screen) }

func newPage(s *session.Session, f page.Frame, screen Screen) *picturePage {
	p := &picturePage{session: s, frame: f, screen: screen, head: widget.NewLabel(""), grid: field.NewGridList(), chart: chartwidget.New()}
	p.head.Truncation = fyne.TextTruncateEllipsis
	p.grid.OnChoose, p.grid.OnMove = p.choose, p.move
	p.scroll = container.NewVScroll(p.grid)
	p.chart.OnExport = p.export
	p.dimmers = newDimmers(p)
	row := container.New(layout.NewCustomPaddedHBoxLayout(2))
	for t := range topicCount {
		p.topics[t] = field.NewButton(t.String(), func() { p.show(t) })
		row.Add(p.topics[t])
	}
	p.shape = field.NewChoice(p.shapeNames, p.shown, func(i int) error { p.showShape(i); return nil })
	p.shape.Tip = "The shape of picture that is on the screen, in the picture of the room and in the table of seats"
	p.beam = field.NewTick("Beam", func(on bool) { p.screen.ShowBeam(on) })
	p.beam.Tip = "Draw the light on its way to the screen, and where the shift of the lens can bring the picture"
	right := container.NewHBox(container.NewGridWrap(fyne.NewSize(190, p.shape.MinSize().Height), p.shape), p.beam)
	bar := container.New(layout.NewCustomPaddedLayout(4, 2, 8, 8), field.Bordered(nil, nil, nil, right, row))
	p.beside = container.NewStack()
	p.split = container.NewHSplit(p.scroll, p.beside)
	p.split.Offset = 0.62
	p.body = field.Bordered(bar, nil, nil, nil, p.split)
	return p
}

// Title implements page.Page, as do the methods below.
func (p *picturePage) Title() string { return title }

// Says says what the page shows.
func (p *picturePage) Says() string {
	return "Shows how bright each shape of picture is and how it is seen, and sets the room's light."
}

// Body returns the table, and what belongs beside it.
func (p *picturePage) Body() fyne.CanvasObject { return p.body }

// Head returns whether anything falls short.
func (p *picturePage) Head() fyne.CanvasObject { return p.head }

// First returns the topic that is on show. It implements page.Keyed.
func (p *picturePage) First() fyne.Focusable { return p.topics[p.topic] }

// PictureShare leaves more to the page than most do. It implements page.Sized.
func (p *picturePage) PictureShare() float64 { return 0.54 }

// Forget begins another document at the first topic. It implements page.Forgetful.
func (p *picturePage) Forget() {
	p.topic, p.seen, p.result, p.key, p.rows = shapesTopic, nil, nil, listed{}, nil
	p.dimmers.forget()
}

// Overlay adds nothing: shape and beam are drawn on every page.
func (p *picturePage) Overlay(*scene.Options) {}

// Update shows the picture of the design as it is now.
func (p *picturePage) Update() {
	p.seen, p.result = nil, nil
	if r, state := p.session.Known.Viewing.Get(); state == session.Fresh || state == session.Stale {
		p.seen, p.result = r, r.Picture
	}
	r := p.result
	p.head.SetText(words.Of(headWords(p.seen)))
	p.shape.Update()
	if on := p.screen.Beam(); on != p.beam.Checked {
		p.beam.SetChecked(on)
	}
	if r != nil && r.Projected {
		p.beam.Enable()
	} else {
		p.beam.Disable()
	}
	for t, b := range p.topics {
		importance := widget.LowImportance
		if topic(t) == p.topic {
			importance = widget.HighImportance
		}
		if b.Importance != importance {
			b.Importance = importance
			b.Refresh()
		}
	}
	p.relist()
}

// headWords says how much falls short.
func headWords(r *viewing.Result) string {
	if r == nil {
		return "Working it out…"
	}
	switch n := len(r.Picture.Short()) + len(r.Short()); {
	case n == 1:
		return "One thing falls short."
	case n > 1:
		return fmt.Sprintf("%d things fall short.", n)
	case !r.Picture.Projected:
		return "The plan has no projector."
	}
	return "Nothing falls short."
}

// show brings a topic up.
func (p *picturePage) show(t topic) {
	if t != p.topic {
		p.topic = t
		p.scroll.ScrollToTop()
	}
	p.Update()
}

// shapeNames are the shapes of picture that can be shown.
func (p *picturePage) shapeNames() []string {
	if p.result == nil {
		return nil
	}
	var names []string
	for i := range p.result.Shapes {
		names = append(names, p.result.Shapes[i].Called)
	}
	return names
}

// shown returns the shape on show.
func (p *picturePage) shown() int {
	if p.result == nil {
		return -1
	}
	if i := p.screen.Shape(); i >= 0 && i < len(p.result.Shapes) {
		return i
	}
	return 0
}

// showShape puts another shape on the screen.
func (p *picturePage) showShape(i int) {
	p.screen.ShowShape(i)
	p.Update()
}

// listed is what the table is made of; the zero value is nothing.
type listed struct {
	topic  topic
	result *picture.Result
	other  any // of the topic
	shape  int
	scene  string
}

// relist makes the table again where it would not be the same.
func (p *picturePage) relist() {
	key := listed{p.topic, p.result, nil, p.shown(), string(p.dimmers.scene)}
	if p.topic == lightTopic {
		r, state := p.session.Known.Light.Get()
		key.other = [2]any{r, state}
		p.dimmers.update()
	}
	if key == p.key {
		return
	}
	p.key = key
	switch {
	case p.topic == lightTopic:
		p.rows = p.lightRows()
	case p.result == nil:
		p.rows = []row{whole(field.Body, "Working it out…")}
	case p.topic == shapesTopic:
		p.rows = shapeRows(p.seen)
	case p.topic == bordersTopic:
		p.rows = borderRows(p.result)
	case p.topic == seatsTopic:
		p.rows = seatRows(p.seen, p.shown())
	default:
		p.rows = lensRows(p.result)
	}
	p.mark()
	var beside fyne.CanvasObject
	switch {
	case p.topic == shapesTopic && p.result != nil:
		c := figure.Luminance(p.result)
		p.chart.Set(&c)
		beside = p.chart
	case p.topic == lightTopic:
		beside = p.dimmers.object
	}
	if beside == nil {
		p.beside.Objects = nil
		p.beside.Hide()
	} else {
		p.beside.Objects = []fyne.CanvasObject{beside}
		p.beside.Show()
	}
	p.beside.Refresh()
	p.split.Refresh()
	p.scroll.Refresh()
}

// mark shows the rows, with what is on show in the picture marked among them.
func (p *picturePage) mark() {
	rows := make([]field.GridRow, len(p.rows))
	chosen := -1
	for i, r := range p.rows {
		rows[i] = r.GridRow
		if chosen < 0 && (p.topic == seatsTopic && r.seat >= 0 && r.seat == p.session.Chosen.Seat) {
			chosen = i
		}
	}
	p.grid.Set(rows, chosen)
}

// whole returns a row that takes the whole width.
func whole(look field.Look, text string) row {
	return row{field.GridRow{Cells: []string{text}, Look: look}, -1, -1}
}

// cells returns a row of the table that shows nothing when it is chosen.
func cells(look field.Look, c ...string) row { return row{field.GridRow{Cells: c, Look: look}, -1, -1} }

// choose shows what a row is of: its shape on the screen, or its seat.
func (p *picturePage) choose(i int) {
	if i < 0 || i >= len(p.rows) {
		return
	}
	switch r := p.rows[i]; {
	case r.shape >= 0:
		p.showShape(r.shape)
	case r.seat >= 0:
		p.session.ChooseSeat(r.seat)
	}
}

// move scrolls by so many rows.
func (p *picturePage) move(by int) {
	const line = 22 // of the table's height
	last := max(p.grid.MinSize().Height-p.scroll.Size().Height, 0)
	p.scroll.ScrollToOffset(fyne.NewPos(0, min(max(p.scroll.Offset.Y+float32(by)*line, 0), last)))
}

// export keeps the chart in a file.
func (p *picturePage) export(kind string) {
	if p.frame.Busy() {
		return
	}
	name := ask.FileName(p.session.Doc.Title() + " luminance")
	p.frame.Ask.Save("Save the chart as", name+"."+kind, "."+kind, "", func(path string) {
		if err := p.chart.Save(kind, path); err != nil {
			p.frame.Ask.Report("The chart is not saved", err)
			return
		}
		p.session.Say("Chart saved as " + path)
	})
}

// open brings the page up at a topic.
func (p *picturePage) open(t topic) {
	p.topic = t
	if !p.body.Visible() {
		p.frame.Raise(p)
		return
	}
	p.show(t)
}

// Commands returns the topics.
func (p *picturePage) Commands() []command.Command {
	topic := func(id string, t topic, says string) command.Command {
		return command.Command{ID: "picture." + id, Name: t.String(), Menu: title, Says: says,
			Do: func() { p.open(t) },
			On: func() bool { return p.body.Visible() && p.topic == t }}
	}
	return []command.Command{
		topic("shapes", shapesTopic, "Shows how bright and how fine each shape of picture is by zoom, by an anamorphic lens and by scaling."),
		topic("borders", bordersTopic, "Shows how large each shape of picture is, and where the borders of the screen fall beside it."),
		topic("seats", seatsTopic, "Shows how every seat sees the shape of picture that is on the screen."),
		topic("lens", lensTopic, "Shows what zoom and shift each shape asks for, where the lens may stand, and who is in its beam."),
		topic("light", lightTopic, "Shows what the room's lamps leave of the picture's contrast, scene by scene, with their levels to be set."),
	}
}

var _ interface {
	page.Keyed
	page.Sized
	page.Forgetful
} = (*picturePage)(nil)
