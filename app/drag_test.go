// SPDX-License-Identifier: MIT

package app

import (
	"math"
	"strings"
	"sync"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"earline/app/move"
	"earline/app/view"
	"earline/geometry"
	"earline/project/file"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
	"earline/scene"
)

// posted are the queues of the windows that inDrawing opened.
var posted sync.Map // *Window to *queue

// inDrawing opens a demo in a drawing with its picture's size known.
func inDrawing(t *testing.T, demo string, k view.Kind) (*Window, *fakeRenderer) {
	t.Helper()
	q := new(queue)
	w, f := testWindow(t, Config{Demo: demo, Post: q.Post})
	w.win.Canvas().Capture() // which tells the view its size
	q.Run()
	w.room.SetView(k)
	q.Run()
	posted.Store(w, q)
	t.Cleanup(func() { posted.Delete(w) })
	return w, f
}

// where returns the place in the view at which a point of the room is shown.
func where(t *testing.T, w *Window, p geometry.Vec) fyne.Position {
	t.Helper()
	s := w.room.View.Size()
	x, y, _, ok := w.room.View.Rig.Camera().Project(scene.World(p), int(s.Width), int(s.Height))
	if !ok || x < 0 || y < 0 || x > s.Width || y > s.Height {
		t.Fatalf("%v is not in the picture", p)
	}
	return fyne.NewPos(x, y)
}

func pressAt(w *Window, p fyne.Position) {
	ev := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	ev.Position = p
	w.room.View.MouseDown(ev)
}

// pull drags by a way in the room, in steps as a hand does.
func pull(t *testing.T, w *Window, from fyne.Position, start, by geometry.Vec) {
	t.Helper()
	to := where(t, w, start.Add(by))
	zero := where(t, w, start)
	const steps = 5
	for range steps {
		w.room.View.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta((to.X-zero.X)/steps, (to.Y-zero.Y)/steps)})
		if q, ok := posted.Load(w); ok {
			q.(*queue).Run()
		}
	}
}

func TestDraggingALoudspeakerIsOneStepOfUndo(t *testing.T) {
	w, f := inDrawing(t, "large", view.Long)
	k := speakerNamed(t, w.session.Design(), "M+090")
	before, rig := w.session.Doc.Design(), w.room.View.Rig
	at := w.session.Design().Speakers[k].At.Vec()
	p := where(t, w, at)
	pressAt(w, p)
	pull(t, w, p, at, geometry.V(0, 0, 0.31))
	if w.session.Doc.Design() != before {
		t.Error("the document changed before the drop")
	}
	moved := w.session.Design().Speakers[k].At
	if gone := float64(moved.Z) - at.Z; math.Abs(gone-0.31) > 0.05 {
		t.Fatalf("moved up by %v m, want about 0.31", gone)
	}
	if got, want := w.session.Result().Speakers[k].At, moved; got != want {
		t.Errorf("audited at %v, drawn at %v", got, want)
	}
	if !strings.Contains(w.status.sentence.Text, "M+090") || !strings.Contains(w.status.sentence.Text, "above the floor") {
		t.Errorf("status says %q", w.status.sentence.Text)
	}
	texts := labels(f.lastList())
	if want := moved.Z.Format(true); !strings.Contains(texts, want) {
		t.Errorf("no dimension %s among the labels %s", want, texts)
	}
	w.room.View.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	w.room.View.DragEnd()
	if got := w.session.Doc.Design().Speakers[k].At; got != moved {
		t.Errorf("dropped at %v, want %v", got, moved)
	}
	if got, want := w.session.Doc.UndoLabel(), "move M+090 and M-090"; got != want {
		t.Errorf("undo is %q, want %q", got, want)
	}
	if w.room.View.Rig != rig {
		t.Error("the camera moved too")
	}
	w.undo()
	if w.session.Doc.Design() != before || w.session.Doc.UndoLabel() != "" {
		t.Error("one undo does not take the whole drag back")
	}
}

func labels(l *scene.List) string {
	var texts []string
	for _, t := range l.Labels {
		texts = append(texts, t.Text)
	}
	return strings.Join(texts, "|")
}

func TestEscapeGivesADragUp(t *testing.T) {
	w, _ := inDrawing(t, "large", view.Plan)
	k := speakerNamed(t, w.session.Design(), "M-090")
	before := w.session.Doc.Design()
	want := w.session.Result().Count
	at := before.Speakers[k].At.Vec()
	p := where(t, w, at)
	pressAt(w, p)
	pull(t, w, p, at, geometry.V(-1.5, 0, 0))
	if w.session.Design() == before {
		t.Fatal("nothing was dragged")
	}
	w.room.View.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.session.Design() != before || w.session.Result().Count != want {
		t.Error("the drag is not taken back")
	}
	pull(t, w, p, at, geometry.V(-1, 0, 0)) // the button is still down
	w.room.View.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	if w.session.Design() != before || w.session.Doc.UndoLabel() != "" || w.session.Doc.Dirty() {
		t.Error("what was given up was dropped after all")
	}
}

func TestDraggingNothingMovesTheDrawing(t *testing.T) {
	w, _ := inDrawing(t, "large", view.Plan)
	before := w.room.View.Rig.Target
	pressAt(w, fyne.NewPos(4, 4))
	w.room.View.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(40, 10)})
	w.room.View.DragEnd()
	if w.room.View.Rig.Target == before {
		t.Error("the drawing did not move")
	}
	if w.session.Doc.Dirty() {
		t.Error("the design changed")
	}
	w.room.SetView(view.Overview)
	at := w.session.Design().Speakers[0].At.Vec()
	pressAt(w, where(t, w, at))
	turn := w.room.View.Rig.Turn
	w.room.View.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(40, 0)})
	w.room.View.DragEnd()
	if w.room.View.Rig.Turn == turn || w.session.Doc.Dirty() {
		t.Error("in the overview a drag turns the room, whatever it begins on")
	}
}

func TestARowAndTheScreenAreDragged(t *testing.T) {
	w, _ := inDrawing(t, "two-row", view.Long)
	d := w.session.Doc.Design()
	seat := place.Seats(d)[0]
	at := seat.Local(-0.2, 0, 0.3)
	p := where(t, w, at)
	pressAt(w, p)
	pull(t, w, p, at, geometry.V(0.25, 0, 0))
	w.room.View.DragEnd()
	if gone := w.session.Doc.Design().Seating.Rows[0].Distance - d.Seating.Rows[0].Distance; math.Abs(float64(gone)-0.25) > 0.05 {
		t.Errorf("row 1 moved by %v, want about 0.25 m", gone)
	}

	w.room.SetView(view.Long)
	d = w.session.Doc.Design()
	at, _, _ = d.Screen.Picture()
	p = where(t, w, at)
	hover := &desktop.MouseEvent{}
	hover.Position = p
	w.room.View.MouseMoved(hover)
	if it := w.room.Options().Hovered; it.Kind != place.ScreenItem {
		t.Fatalf("something stands before the screen there: %+v", it)
	}
	pressAt(w, p)
	pull(t, w, p, at, geometry.V(0, 0, 0.2))
	w.room.View.DragEnd()
	if up := w.session.Doc.Design().Screen.Bottom - d.Screen.Bottom; math.Abs(float64(up)-0.2) > 0.05 {
		t.Errorf("the screen went up by %v, want about 0.2 m", up)
	}
}

func TestHoverOutlinesWhatWouldBeDragged(t *testing.T) {
	w, f := inDrawing(t, "large", view.Plan)
	k := speakerNamed(t, w.session.Design(), "M+090")
	ev := &desktop.MouseEvent{}
	ev.Position = where(t, w, w.session.Design().Speakers[k].At.Vec())
	w.room.View.MouseMoved(ev)
	hot := func() bool {
		for _, l := range f.lastList().Lines {
			if l.Name == "hot" {
				return true
			}
		}
		return false
	}
	if !hot() || w.room.Options().Hovered != (place.Item{Kind: place.SpeakerItem, Index: k}) || w.room.View.Cursor() != desktop.PointerCursor {
		t.Errorf("hot is %+v, cursor %v", w.room.Options().Hovered, w.room.View.Cursor())
	}
	w.room.View.MouseOut()
	if hot() || w.room.View.Cursor() != desktop.DefaultCursor {
		t.Error("still outlined though the pointer is gone")
	}
}

func TestAnEditDuringADragEndsIt(t *testing.T) {
	w, _ := inDrawing(t, "large", view.Plan)
	k := speakerNamed(t, w.session.Design(), "M-090")
	at := w.session.Design().Speakers[k].At.Vec()
	p := where(t, w, at)
	pressAt(w, p)
	pull(t, w, p, at, geometry.V(-1.5, 0, 0))
	raise(t, w, 0.1)
	w.room.View.DragEnd()
	if w.session.Doc.UndoLabel() != "raise M+030" || w.session.Design().Speakers[k].At.Vec() != at {
		t.Error("the drag went on behind the edit's back")
	}
}

// BenchmarkDrag is one step of a drag without its picture: where it goes, the
// new design checked, its audit, what the rules find, its display list.
func BenchmarkDrag(b *testing.B) {
	d, ok := file.Demo("large")
	if !ok {
		b.Fatal("no demo")
	}
	for _, c := range []struct {
		name string
		item place.Item
	}{{"loudspeaker", place.Item{Kind: place.SpeakerItem, Index: 7}}, {"row", place.Item{Kind: place.RowItem, Index: 1}}} {
		b.Run(c.name, func(b *testing.B) {
			axes := view.Plan.Axes()
			m, ok := move.Start(d, c.item, axes)
			if !ok {
				b.Fatal("not taken hold of")
			}
			r := sight.Audit(d)
			o := scene.Default()
			o.Drawing = view.Plan.Axes()
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				step := m.To(geometry.V(0.01*float64(i%50), 0, 0), move.Grip{Reach: 0.02})
				next := d.Clone()
				step.Edit(next)
				if next.Validate() != nil {
					b.Fatal("refused")
				}
				if c.item.Kind == place.SpeakerItem {
					r = sight.Update(r, next, c.item.Index)
				} else {
					r = sight.Audit(next)
				}
				if len(practice.Check(next, r, practice.Standard{}).Remarks) == 0 {
					b.Fatal("nothing measured")
				}
				o.Dims = append(scene.Measure(next, c.item, axes), step.Guides...)
				if len(scene.Build(next, r, o).Meshes) == 0 {
					b.Fatal("nothing built")
				}
			}
		})
	}
}

// A click on a soffit opens it in the inspector, and outlines it in the picture;
// the client is shown no outline.
func TestAClickOpensWhatIsBuiltIn(t *testing.T) {
	w, f := testWindow(t, Config{Demo: "large"})
	cam := scene.Overview(w.session.Design(), 1.6)
	found := false
	for y := float32(0); y < 400 && !found; y += 8 {
		for x := float32(0); x < 640 && !found; x += 8 {
			hit, ok := scene.Pick(w.session.Design(), w.session.Room(), cam, float64(x), float64(y), 640, 400)
			if ok && hit.Kind == place.FeatureItem && hit.Feature == 0 {
				found = true
				w.room.View.OnPick(x, y, 640, 400, cam)
			}
		}
	}
	if !found {
		t.Fatal("the left soffit is nowhere in the picture")
	}
	if got := w.inspector.Opened(); len(got) != 1 || got[0] != (place.Item{Kind: place.FeatureItem}) {
		t.Errorf("opened: %v", got)
	}
	if !drawn(f, "opened") {
		t.Error("it is not outlined")
	}
	runID(t, w, "view.client")
	if drawn(f, "opened") {
		t.Error("the client sees the outline")
	}
}
