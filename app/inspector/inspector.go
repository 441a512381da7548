// SPDX-License-Identifier: MIT

// Package inspector is the panel in which a design is read and edited, in the
// order of the job: room, built in, backdrops, surfaces, measured decay, screen, shapes of
// picture, projector, rows, sitters, main position, loudspeakers, sub zones, playback,
// equalisation, light, viewpoints, criteria. UI goroutine only.
package inspector

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"earline/app/field"
	"earline/project"
	"earline/project/pair"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// Host is what the inspector works on.
type Host interface {
	// Design returns the present design, which must not be changed.
	Design() *project.Design
	// Result returns its audit; nil until there is one.
	Result() *sight.Result
	// Everyone returns for whom the design holds; nil while that is worked out.
	Everyone() *sight.RangeResult
	// Limits returns how far a loudspeaker may be off; ok is false while that is
	// worked out: Update is called once it is known.
	Limits(speaker int) (t sight.Tolerances, ok bool)
	// Standard returns the house standard in force.
	Standard() practice.Standard
	// Links returns which pairs are edited as pairs.
	Links() *pair.Links
	// Do edits the design, as of project.History.Do, and calls Update.
	Do(label, merge string, edit func(*project.Design)) error
}

// Inspector is the panel.
type Inspector struct {
	// OnSpeaker and OnRow are told when another loudspeaker or row is shown.
	OnSpeaker, OnRow func(int)
	// OnWidth is told that the panel needs more width than before, or less.
	OnWidth func()
	// OnOpened is told when something else is open to be edited; see Opened.
	OnOpened func()
	// OnKeepView keeps what the picture shows as a viewpoint, and OnLookFrom shows the view
	// from one.
	OnKeepView func()
	OnLookFrom func(i int)
	// OnRefusal is told in one line why a button could not do what it says, and OnSaid
	// what an edit took along.
	OnRefusal, OnSaid func(string)

	host         *editor
	least        float32 // width it needed last
	scroll       *container.Scroll
	groups       []*group
	row          int                // index of the row that is shown
	speaker      int                // index of the loudspeaker that is shown
	feature      int                // index of the feature that is shown
	outline      bool               // the corners are listed though it is a rectangle
	corners      []*field.Form      // one a corner that is listed
	planes       []*field.Form      // one a plane of the ceiling
	customAspect bool               // any aspect ratio may be typed
	known        []project.Material // those that Earline knows, once asked for
	materials    palette            // those of the present design

	// open is which sections within the groups are.
	open struct{ eachWall, treatments, panels, air, looks, tuning, model, chair, steps, projector bool }

	// sections are the headings of those sections that were made, by what opens them.
	sections map[*bool]*heading

	panel     int // index of the treatment that is shown
	look      int // index of the place of a finish that is shown
	run       int // index of the run of panels that is shown
	zone      int // index of the sub zone that is shown
	backdrop  int // index of the backdrop that is shown
	filter    int // index of the filter that is shown
	lights    int // index of the light group that is shown, and of the lamp of it
	lamp      int
	viewpoint int // index of the viewpoint that is shown
	aspect    int // index of the shape of picture that is shown
	clashes   clashes
	flight    int   // index of the flight of steps that is shown
	walls     *many // a form a wall
	drivers   *many // a form a driver of the model
}

// The groups, in order.
const (
	roomGroup = iota
	builtGroup
	backdropsGroup
	surfacesGroup
	measuredGroup
	screenGroup
	shapesGroup
	projectorGroup
	rowsGroup
	sittersGroup
	mainGroup
	speakersGroup
	zonesGroup
	playbackGroup
	equalisationGroup
	lightGroups
	viewpointsGroup
	criteriaGroup
)

// New returns an inspector of host's design. What a group holds is made when it
// is first opened.
func New(host Host) *Inspector {
	in := &Inspector{sections: map[*bool]*heading{}}
	in.host = &editor{Host: host, said: in.say}
	in.open.treatments = true
	in.groups = []*group{
		newGroup("Room", in.roomSummary, in.buildRoom),
		newGroup("Built in", in.builtSummary, in.buildBuilt),
		newGroup("Backdrops", in.backdropsSummary, in.buildBackdrops),
		newGroup("Surfaces", in.surfacesSummary, in.buildSurfaces),
		newGroup("Measured decay", in.measuredSummary, in.buildMeasured),
		newGroup("Screen", in.screenSummary, in.buildScreen),
		newGroup("Shapes of picture", in.shapesSummary, in.buildShapes),
		newGroup("Projector", in.projectorSummary, in.buildProjector),
		newGroup("Rows", in.rowsSummary, in.buildRows),
		newGroup("Sitters", in.sittersSummary, in.buildSitters),
		newGroup("Main position", in.mainSummary, in.buildMain),
		newGroup("Loudspeakers", in.speakersSummary, in.buildSpeakers),
		newGroup("Subwoofer zones", in.zonesSummary, in.buildZones),
		newGroup("Playback", in.playbackSummary, in.buildPlayback),
		newGroup("Equalisation", in.equalisationSummary, in.buildEqualisation),
		newGroup("Light", in.lightSummary, in.buildLight),
		newGroup("Viewpoints", in.viewpointsSummary, in.buildViewpoints),
		newGroup("Criteria", in.criteriaSummary, in.buildCriteria),
	}
	box := container.New(layout.NewCustomPaddedVBoxLayout(1))
	in.scroll = container.NewVScroll(box)
	for _, g := range in.groups {
		g.form = field.NewForm(in.scroll)
		g.form.Resized = in.relayout
		g.resized = in.relayout
		g.turned = func() {
			in.bringIn(g)
			if in.OnOpened != nil {
				in.OnOpened()
			}
		}
		box.Add(g.object())
	}
	return in
}

// Object returns what is to be placed in the window.
func (in *Inspector) Object() fyne.CanvasObject { return in.scroll }

// Update shows the present design.
func (in *Inspector) Update() {
	d := in.host.Design()
	in.row = max(min(in.row, len(d.Seating.Rows)-1), 0)
	in.speaker = max(min(in.speaker, len(d.Speakers)-1), 0)
	in.panel = max(min(in.panel, len(d.Room.Treatments)-1), 0)
	in.run = max(min(in.run, len(d.Panels)-1), 0)
	in.zone = max(min(in.zone, len(d.SubZones)-1), 0)
	in.feature = max(min(in.feature, len(d.Room.Features)-1), 0)
	in.aspect = max(min(in.aspect, len(d.Picture.Aspects)-1), 0)
	in.filter = max(min(in.filter, len(d.Equalisation.Filters)-1), 0)
	in.backdrop = max(min(in.backdrop, len(d.Backdrops)-1), 0)
	in.lights = max(min(in.lights, len(d.LightGroups)-1), 0)
	in.viewpoint = max(min(in.viewpoint, len(d.Viewpoints)-1), 0)
	in.lamp = max(min(in.lamp, len(*in.points(d))-1), 0)
	in.flight = max(min(in.flight, len(d.Seating.Rows[in.row].Steps)-1), 0)
	for _, g := range in.groups {
		g.update()
	}
}

// Reset shows another document from its beginning.
func (in *Inspector) Reset() {
	in.row, in.speaker, in.feature, in.panel, in.zone, in.backdrop, in.filter, in.outline, in.customAspect = 0, 0, 0, 0, 0, 0, 0, false, false
	in.lights, in.lamp, in.viewpoint = 0, 0, 0
	in.aspect = 0
	in.Update()
	in.scroll.ScrollToTop()
}

// OpenAll opens every group.
func (in *Inspector) OpenAll() {
	for _, g := range in.groups {
		g.setOpen(true)
	}
}

// OpenFirst opens the first group if all are closed.
func (in *Inspector) OpenFirst() {
	for _, g := range in.groups {
		if g.open {
			return
		}
	}
	in.groups[roomGroup].setOpen(true)
}

// Speaker returns the index of the loudspeaker that is shown.
func (in *Inspector) Speaker() int { return in.speaker }

// Show opens an item: a loudspeaker, a row, a feature, the screen or the projector.
func (in *Inspector) Show(it place.Item) {
	switch it.Kind {
	case place.SpeakerItem:
		in.speaker = it.Index
		in.reveal(speakersGroup)
	case place.RowItem:
		in.row = it.Index
		in.reveal(rowsGroup)
	case place.FeatureItem:
		in.feature = it.Index
		in.reveal(builtGroup)
	case place.ScreenItem:
		in.reveal(screenGroup)
	case place.ProjectorItem:
		in.reveal(projectorGroup)
	}
}

// Follow shows the loudspeaker of that index when its group is open, and opens
// nothing.
func (in *Inspector) Follow(i int) {
	if i < 0 || i >= len(in.host.Design().Speakers) {
		return
	}
	in.speaker = i
	in.groups[speakersGroup].update()
}

// Opened returns what is open to be edited and is not selected in the picture by
// itself: a feature, a treatment, a sub zone, the projector.
func (in *Inspector) Opened() (out []place.Item) {
	d := in.host.Design()
	add := func(open bool, kind place.ItemKind, i, n int) {
		if open && i < n {
			out = append(out, place.Item{Kind: kind, Index: i})
		}
	}
	add(in.groups[builtGroup].open, place.FeatureItem, in.feature, len(d.Room.Features))
	add(in.groups[surfacesGroup].open && in.open.treatments, place.TreatmentItem, in.panel, len(d.Room.Treatments))
	add(in.groups[zonesGroup].open, place.ZoneItem, in.zone, len(d.SubZones))
	add(in.groups[projectorGroup].open && d.Projector.Given(), place.ProjectorItem, 0, 1)
	return out
}

// show shows another thing to be edited.
func (in *Inspector) show() {
	in.Update()
	if in.OnOpened != nil {
		in.OnOpened()
	}
}

// reveal opens a group and scrolls to its heading.
func (in *Inspector) reveal(i int) {
	g := in.groups[i]
	g.setOpen(true)
	in.Update()
	in.relayout()
	in.scroll.ScrollToOffset(fyne.NewPos(0, g.object().Position().Y))
}

// bringIn scrolls a group into view that was just opened: as far as shows all of it,
// and its heading at the least.
func (in *Inspector) bringIn(g *group) {
	in.relayout()
	field.Reveal(g.object())
}

// First returns the heading to which the keyboard goes first: of the first group that
// is open.
func (in *Inspector) First() fyne.Focusable {
	for _, g := range in.groups {
		if g.open {
			return g.head
		}
	}
	return in.groups[0].head
}

// relayout gives every group the height it needs now.
func (in *Inspector) relayout() {
	box := in.scroll.Content.(*fyne.Container)
	least := box.MinSize()
	size := fyne.NewSize(in.scroll.Size().Width, max(least.Height, in.scroll.Size().Height))
	box.Resize(size)
	box.Layout.Layout(box.Objects, size)
	in.scroll.Refresh()
	if least.Width != in.least {
		in.least = least.Width
		if in.OnWidth != nil {
			in.OnWidth()
		}
	}
}

// note passes on why something could not be done; nil is nothing.
func (in *Inspector) note(err error) {
	if err != nil && in.OnRefusal != nil {
		in.OnRefusal(field.OneLine(err))
	}
}

// say passes on what an edit took along; an empty text is nothing.
func (in *Inspector) say(text string) {
	if text != "" && in.OnSaid != nil {
		in.OnSaid(text)
	}
}

// metric reports whether lengths are shown in metres.
func (in *Inspector) metric() bool { return in.host.Design().Units != project.Imperial }
