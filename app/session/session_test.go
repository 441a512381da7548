// SPDX-License-Identifier: MIT

package session

import (
	"context"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"pgregory.net/rapid"

	"earline/app/document"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/bass"
	"earline/project/built"
	"earline/project/compare"
	"earline/project/decay"
	"earline/project/file"
	"earline/project/light"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/settle"
	"earline/project/sight"
	"earline/project/sound"
	"earline/project/viewing"
)

// opened returns a session on a demo, and its UI goroutine.
func opened(t testing.TB, demo string) (*Session, *queue) {
	t.Helper()
	d, ok := file.Demo(demo)
	if !ok {
		t.Fatalf("no demo %s", demo)
	}
	q := new(queue)
	return New(document.New(d, ""), q.post), q
}

func raise(t *testing.T, s *Session, by unit.Length) {
	t.Helper()
	if err := s.Do("raise", "", func(d *project.Design) { d.Speakers[0].At.Z += by }); err != nil {
		t.Fatal(err)
	}
}

// higher returns work that proposes to raise the first loudspeaker after a while.
func higher(takes time.Duration) func(context.Context, *project.Design, func(float64, string)) (*Proposal, error) {
	return func(ctx context.Context, d *project.Design, tell func(float64, string)) (*Proposal, error) {
		tell(0.5, "half way")
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(takes):
		}
		to := d.Clone()
		to.Speakers[0].At.Z += 0.01
		return &Proposal{Design: to, Details: "raised"}, nil
	}
}

func TestAnEditMakesTheAuditStale(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, q := opened(t, "small")
		seen := map[State]int{}
		s.Show = func(Change) {
			_, state := s.Known.Audit.Get()
			seen[state]++
		}
		r, state := s.Known.Audit.Get()
		if state != Fresh || len(r.Seats) != 3 {
			t.Fatalf("%v", state)
		}
		if err := s.Do("seats", "", func(d *project.Design) { d.Seating.Rows[0].Seats = quickSeats + 6 }); err != nil {
			t.Fatal(err)
		}
		old, state := s.Known.Audit.Get()
		if state != Stale || old != r {
			t.Fatalf("a large audit held the window up: %v", state)
		}
		if _, state := s.Known.Practice.Get(); state != Missing {
			t.Errorf("the rules are %v of an audit that is stale", state)
		}
		q.run()
		if r, state := s.Known.Audit.Get(); state != Fresh || len(r.Seats) != quickSeats+6 {
			t.Errorf("%v", state)
		}
		if seen[Stale] != 1 || seen[Fresh] != 1 {
			t.Errorf("told %v, want once stale and once fresh", seen)
		}
		s.Close()
	})
}

func TestForWhomItHoldsComesOnceEditsHavePaused(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, q := opened(t, "small")
		for range 5 {
			raise(t, s, 0.01)
			s.Known.Everyone.Get()
			q.wait(editSettle / 2)
			if _, state := s.Known.Everyone.Get(); state != Missing {
				t.Fatalf("%v while edits go on", state)
			}
		}
		q.wait(editSettle)
		got, state := s.Known.Everyone.Get()
		want, err := sight.Range(t.Context(), s.Design())
		if err != nil || state != Fresh || !reflect.DeepEqual(got.Pairs, want.Pairs) {
			t.Errorf("%v, %v", state, err)
		}
		s.Close()
	})
}

func TestADraftIsShownAndLeavesNoTrace(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, _ := opened(t, "small")
		before := s.Design()
		r, _ := s.Known.Audit.Get()
		d := before.Clone()
		d.Speakers[0].At.Z += 0.2
		s.Draft(d)
		if got, _ := s.Known.Audit.Get(); s.Design() != d || got.Speakers[0].At != d.Speakers[0].At {
			t.Error("what is dragged is not shown where it is")
		}
		if !s.Undo() || s.Design() != before || s.Doc.RedoLabel() != "" || s.Doc.Dirty() {
			t.Error("undo during a drag takes the drag back and nothing else")
		}
		if got, _ := s.Known.Audit.Get(); !reflect.DeepEqual(got.Pairs, r.Pairs) {
			t.Error("the audit is not that of before")
		}
	})
}

func TestAnEditEndsAProposal(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, q := opened(t, "small")
		s.Report = func(title string, err error) { t.Errorf("%s: %v", title, err) }
		s.Propose("solve", "Lift", higher(time.Second))
		q.wait(500 * time.Millisecond)
		if p, ok := s.Proposing(); !ok || p != (Proposing{"Lift", "solve", 0.5, "half way"}) {
			t.Errorf("%+v, %v", p, ok)
		}
		q.wait(time.Second)
		if s.Offer == nil || s.Offer.Name != "Lift" || s.Offer.Page != "solve" || s.Offer.Details != "raised" {
			t.Fatalf("%+v", s.Offer)
		}
		raise(t, s, 0.1)
		if s.Offer != nil {
			t.Error("it outlives the design it was made for")
		}
		s.Propose("solve", "Lift", higher(time.Second))
		q.wait(500 * time.Millisecond)
		s.Undo()
		q.wait(time.Second)
		if _, ok := s.Proposing(); ok || s.Offer != nil {
			t.Error("work for an earlier design was offered")
		}
		s.Close()
	})
}

func TestAcceptingIsOneStep(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, q := opened(t, "small")
		before := s.Design()
		s.Propose("solve", "Lift", higher(time.Second))
		q.wait(2 * time.Second)
		want := s.Offer.Design
		if err := s.Accept(); err != nil {
			t.Fatal(err)
		}
		if s.Offer != nil || !reflect.DeepEqual(s.Design(), want) || s.Doc.UndoLabel() != "Lift" {
			t.Errorf("undo is %q", s.Doc.UndoLabel())
		}
		s.Undo()
		if s.Design() != before {
			t.Error("one undo does not take it back")
		}
		s.Close()
	})
}

func TestWorkThatFailsIsTold(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, q := opened(t, "small")
		var told string
		s.Report = func(title string, err error) { told += title + ": " + err.Error() }
		s.Propose("solve", "Lift", func(context.Context, *project.Design, func(float64, string)) (*Proposal, error) {
			return nil, errors.New("no")
		})
		q.run()
		if _, ok := s.Proposing(); ok || told != "Lift cannot be done: no" {
			t.Errorf("told %q", told)
		}
	})
}

func TestWhatIsGoneIsNotSelected(t *testing.T) {
	s, _ := opened(t, "large")
	n, k := seats(s.Design()), len(s.Design().Speakers)
	s.Choose(Selection{Seat: n - 1, Speaker: k - 1, Path: true, Item: place.Item{Kind: place.SpeakerItem, Index: k - 1}})
	if !s.Chosen.Path || s.Chosen.Seat != n-1 {
		t.Fatalf("%+v", s.Chosen)
	}
	if err := s.Do("remove", "", func(d *project.Design) { d.Speakers = d.Speakers[:k-1] }); err != nil {
		t.Fatal(err)
	}
	if s.Chosen != Nothing() {
		t.Errorf("a path to what is gone is chosen: %+v", s.Chosen)
	}
	s.Choose(Selection{Seat: n - 1, Speaker: 1})
	if err := s.Do("remove", "", func(d *project.Design) { d.Seating.Rows = d.Seating.Rows[:2] }); err != nil {
		t.Fatal(err)
	}
	if want := (Selection{Seat: None, Speaker: 1}); s.Chosen != want {
		t.Errorf("%+v, want %+v", s.Chosen, want)
	}
	s.Undo()
	s.Choose(Selection{Seat: 999, Speaker: -1})
	if s.Chosen != Nothing() {
		t.Errorf("a seat that is not there is chosen: %+v", s.Chosen)
	}
}

func TestThereIsNothingToSayOfAPathThatIsNotThere(t *testing.T) {
	s, _ := opened(t, "small")
	r := s.Result()
	if s.PathSentence(0, 0) == "" || s.PathSentence(0, None) == "" {
		t.Error("nothing is said of what is there")
	}
	for _, c := range [][2]int{{-1, 0}, {len(r.Seats), 0}, {0, len(r.Speakers)}, {0, -2}} {
		if text := s.PathSentence(c[0], c[1]); text != "" {
			t.Errorf("%v says %q", c, text)
		}
	}
}

func TestAChosenRemarkFollowsAnEdit(t *testing.T) {
	s, _ := opened(t, "large")
	r, _ := s.Known.Practice.Get()
	m := &r.Remarks[slices.IndexFunc(r.Remarks, func(m practice.Remark) bool { return !m.OK })]
	s.Choose(Selection{Seat: None, Speaker: None, Remark: m})
	if s.Marked() != m {
		t.Fatalf("marked %+v", s.Marked())
	}
	raise(t, s, 0.01)
	if got := s.Marked(); got == nil || got == m || got.Rule != m.Rule {
		t.Errorf("after an edit %+v", got)
	}
	s.SetStandard(practice.Standard{Changes: map[string]practice.Change{m.Rule: {Off: true, Reason: "a test"}}})
	if got := s.Marked(); got != nil {
		t.Errorf("marked though its rule is off: %s", got.Text)
	}
}

// kept returns the document whose recovery copy is in dir; nil when there is none.
func kept(t *testing.T, dir string) *document.Document {
	t.Helper()
	left, faults := document.Copies(dir, dir)
	if len(left) != 1 || len(faults) != 0 {
		t.Errorf("%d copies, %v", len(left), faults)
		return nil
	}
	d, err := left[0].Restore(t.TempDir())
	if err != nil {
		t.Error(err)
	}
	return d
}

func TestTheRecoveryCopyFollowsAnEdit(t *testing.T) {
	d, _ := file.Demo("small")
	dir := t.TempDir()
	synctest.Test(t, func(t *testing.T) {
		q := new(queue)
		s := New(document.New(d, dir), q.post)
		raise(t, s, 0.25)
		q.wait(s.Autosave - 20*time.Millisecond)
		s.Doc.Wait()
		if left, _ := document.Copies(dir, dir); len(left) != 0 {
			t.Error("it is there before its time")
		}
		q.wait(40 * time.Millisecond)
		s.Doc.Wait()
		got := kept(t, dir)
		if got == nil || got.Design().Speakers[0].At != s.Design().Speakers[0].At {
			t.Fatal("no recovery copy of the edit")
		}
		raise(t, s, 0.1)
		s.Close() // which writes it at once
		s.Doc.Wait()
		if got := kept(t, dir); got == nil || got.Design().Speakers[0].At != s.Design().Speakers[0].At {
			t.Error("closing lost the last edit")
		}
	})
}

// A fault in work in the background ended the program there, where unsaved work
// could not be kept any more.
func TestAFaultInTheBackgroundReachesTheWindow(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, q := opened(t, "small")
		s.Propose("page", "x", func(context.Context, *project.Design, func(float64, string)) (*Proposal, error) {
			panic("a fault")
		})
		defer func() {
			if p, _ := recover().(string); !strings.Contains(p, "a fault") || !strings.Contains(p, "in the background") {
				t.Errorf("it says %q", p)
			}
		}()
		q.run()
		t.Error("nothing of it is seen")
	})
}

func TestAnotherDocumentBeginsAnew(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, q := opened(t, "small")
		s.Known.Audit.Get()
		s.Known.Everyone.Get()
		s.Choose(Selection{Seat: 1, Speaker: 1})
		s.Propose("solve", "Lift", higher(time.Second))
		q.wait(editSettle)
		d, _ := file.Demo("two-row")
		s.Open(document.New(d, ""))
		if s.Design().Name != d.Name || s.Chosen != Nothing() {
			t.Errorf("%q, %+v", s.Design().Name, s.Chosen)
		}
		if _, state := s.Known.Everyone.Get(); state != Missing {
			t.Errorf("%v of the document before", state)
		}
		q.wait(2 * time.Second)
		if s.Offer != nil {
			t.Error("a proposal for the document before")
		}
		if r, state := s.Known.Everyone.Get(); state != Fresh || len(r.Seats) != seats(d) {
			t.Errorf("%v", state)
		}
		s.Close()
	})
}

// fromScratch fails the test unless all that is fresh is what would be computed of
// the present design alone.
func fromScratch(t *rapid.T, s *Session) {
	t.Helper()
	d := s.Design()
	same := func(what string, got, want any) {
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("%s is fresh and not of the present design", what)
		}
	}
	audit := sight.Audit(d)
	if r, state := s.Known.Audit.Get(); state == Fresh {
		same("the audit", [...]any{r.Pairs, r.Views, r.Seats, r.Speakers, r.Count, r.PictureCount},
			[...]any{audit.Pairs, audit.Views, audit.Seats, audit.Speakers, audit.Count, audit.PictureCount})
	}
	if r, state := s.Known.Practice.Get(); state == Fresh {
		same("practice", r, practice.Check(d, audit, s.Standard()))
	}
	if l, state := s.Known.Causes.Get(); state == Fresh {
		// Their order may be that of the design before; see settle.Causes.
		texts := func(l *settle.List) (all []string) {
			for _, c := range l.All() {
				all = append(all, c.ID+": "+c.Text)
			}
			slices.Sort(all)
			return all
		}
		same("what is to be settled", texts(l), texts(settle.Causes(audit, practice.Check(d, audit, s.Standard()), nil)))
	}
	if r, state := s.Known.AsBuilt.Get(); state == Fresh {
		want, err := built.Compare(t.Context(), d, s.Standard())
		if err != nil {
			t.Fatal(err)
		}
		same("the room as built", r.Report(""), want.Report(""))
	}
	if l, state := s.Known.SetOut.Get(); state == Fresh {
		want, err := setout.Of(t.Context(), audit, s.Standard())
		if err != nil {
			t.Fatal(err)
		}
		same("the set-out list", l, want)
	}
	if r, state := s.Known.Everyone.Get(); state == Fresh {
		want, err := sight.Range(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		same("for whom it holds", [...]any{r.Pairs, r.Views, r.Count}, [...]any{want.Pairs, want.Views, want.Count})
	}
	if r, ok := s.Limits(0); ok {
		same("the limits", r, sight.Tolerance(d, audit, 0))
	}
	if r, state := s.Known.Direct.Get(); state == Fresh {
		same("the direct sound", r, sound.Hear(d, audit))
	}
	if r, state := s.Known.Reflections.Get(); state == Fresh {
		want, err := sound.Reflect(t.Context(), d, &audit.Room, sound.ReflectOptions{})
		if err != nil {
			t.Fatal(err)
		}
		same("reflections", r.All, want.All)
	}
	if r, state := s.Known.Decay.Get(); state == Fresh {
		want, _ := sound.Reverberate(d, sound.ReferenceRoom, false)
		same("the decay", r.Reverb, want)
	}
	if r, state := s.Known.Viewing.Get(); state == Fresh {
		want := viewing.Of(d)
		same("the picture", [...]any{r.Report(), r.Picture.Report()}, [...]any{want.Report(), want.Picture.Report()})
	}
	if r, state := s.Known.Light.Get(); state == Fresh {
		want, err := light.Study(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		same("the light", r.Report(), want.Report())
	}
	if r, state := s.Known.Ringing.Get(); state == Fresh {
		var store bass.Store
		want, err := decay.Of(t.Context(), d, &store, nil)
		if err != nil {
			t.Fatal(err)
		}
		same("how long it rings", r.Thirds, want.Thirds)
	}
	if r, state := s.Known.Ranged.Get(); state == Fresh {
		var store bass.Store
		p, err := bass.Of(d, bass.Shown())
		if err != nil {
			t.Fatal(err)
		}
		st, err := store.New(t.Context(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if st, err = store.Ranged(st); err != nil {
			t.Fatal(err)
		}
		same("the range of absorption", r.Halved, st.Halved)
	}
	if w, state := s.Waterfall(0); state == Fresh && w != nil {
		p, err := bass.Of(d, bass.Shown())
		if err != nil {
			t.Fatal(err)
		}
		var store bass.Store
		want, err := store.Waterfall(t.Context(), p, 0, nil)
		if err != nil {
			t.Fatal(err)
		}
		same("how the bass dies away", w, want)
	}
	if r, state := s.Map(sound.MapOptions{Speaker: 0, Octave: 6}); state == Fresh {
		want, err := sound.Map(t.Context(), d, sound.MapOptions{Speaker: 0, Octave: 6})
		if err != nil {
			t.Fatal(err)
		}
		same("the map", r, &want)
	}
	if r, state := s.Compare(0); state == Fresh {
		want := compare.Of(&d.Variants[0], d, s.Standard())
		same("the comparison", [...]any{r.Things, r.Holes, r.Cables, r.Facts}, [...]any{want.Things, want.Holes, want.Cables, want.Facts})
	}
	if r, state := s.Known.Bass.Get(); state == Fresh && r != nil {
		p, err := bass.Of(d, bass.Shown())
		if err != nil {
			t.Fatal(err)
		}
		want, err := new(bass.Store).New(t.Context(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		same("the bass", r.Figures, want.Figures)
	}
}

// After any run of edits, undos, redos, drafts, cancels, selections and pauses all
// that is fresh is of the present design, a proposal is for it, and what is
// selected is in it.
func TestWhatIsKnownIsOfThePresentDesign(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds")
	}
	synctest.Test(t, func(t *testing.T) {
		tb := t
		rapid.Check(struct{ rapid.TB }{t}, func(t *rapid.T) { // a bubble has no deadline
			s, q := opened(tb, "small")
			defer func() { s.Close(); q.wait(time.Second) }()
			for range rapid.IntRange(1, 12).Draw(t, "steps") {
				d := s.Design()
				k := rapid.IntRange(0, len(d.Speakers)-1).Draw(t, "loudspeaker")
				by := unit.Length(rapid.IntRange(-20, 20).Draw(t, "by")) / 100
				switch rapid.IntRange(0, 16).Draw(t, "step") {
				case 0:
					_ = s.Do("move", "z", func(d *project.Design) { d.Speakers[k].At.Z += by })
				case 1:
					_ = s.Do("seats", "", func(d *project.Design) { d.Seating.Rows[0].Seats = 2 + k%3 })
				case 2:
					_ = s.Do("remove", "", func(d *project.Design) { d.Speakers = d.Speakers[:max(len(d.Speakers)-1, 1)] })
				case 3:
					_ = s.Do("refused", "", func(d *project.Design) { d.Screen.Width = -1 })
				case 4:
					s.Undo()
				case 5:
					s.Redo()
				case 6:
					next := d.Clone()
					next.Speakers[k].At.Y += by
					if next.Validate() == nil {
						s.Draft(next)
					}
				case 7:
					s.Draft(nil)
				case 8:
					s.Choose(Selection{Seat: rapid.IntRange(-1, 5).Draw(t, "seat"), Speaker: k + rapid.IntRange(-1, 3).Draw(t, "further"), Path: rapid.Bool().Draw(t, "path")})
				case 9:
					s.Propose("solve", "Lift", higher(time.Duration(rapid.IntRange(0, 300).Draw(t, "takes"))*time.Millisecond))
				case 10:
					_ = s.Accept()
				case 11:
					s.Known.Everyone.Cancel()
					s.Known.limits.Cancel()
				case 12:
					s.Known.Everyone.Get()
					s.Limits(k)
					s.Compare(0)
					s.Known.Viewing.Get()
				case 16:
					s.Known.Light.Get()
					_ = s.Do("dim", "dim", func(d *project.Design) {
						for i := range d.LightGroups {
							d.LightGroups[i].Scenes.Show = min(max(float64(by)+0.2, 0), 1)
						}
					})
				case 13:
					v := float64(d.Speakers[k].At.Z + by)
					_ = s.Do("measure", "", func(d *project.Design) { built.Enter(d, d.Speakers[k].ID, built.Height, &v) })
				case 14:
					_ = s.Do("keep", "", func(d *project.Design) { d.Keep(project.Variant{Name: "As found", Role: project.Existing}) })
				default:
					q.wait(time.Duration(rapid.IntRange(1, 600).Draw(t, "pause")) * time.Millisecond)
				}
				if p := s.Offer; p != nil && p.of != s.Doc.Design() {
					t.Fatal("a proposal outlives the design it was made for")
				}
				if c := s.Chosen; c.Seat >= seats(s.Design()) || c.Speaker >= len(s.Design().Speakers) {
					t.Fatalf("selected is %+v", c)
				}
			}
			fromScratch(t, s)
			q.wait(2 * editSettle)
			fromScratch(t, s)
			s.Draft(nil)
			fromScratch(t, s)
		})
	})
}

func TestWhatWasMeasuredCostsNothingUntilItsPageIsLookedAt(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, q := opened(t, "small")
		defer func() { s.Close(); q.wait(time.Second) }()
		s.Known.Audit.Get()
		audit := s.Known.Audit.Last()
		v := float64(s.Design().Speakers[0].At.Z) + 0.005
		if err := s.Do("measure", "", func(d *project.Design) { built.Enter(d, d.Speakers[0].ID, built.Height, &v) }); err != nil {
			t.Fatal(err)
		}
		q.wait(time.Second)
		if s.Known.AsBuilt.Last().OK {
			t.Error("compared though nobody looks")
		}
		r, _ := s.Known.Audit.Get()
		if !reflect.DeepEqual(r.Pairs, audit.Value.Pairs) {
			t.Error("a measurement changed the audit of the plan")
		}
		s.Known.AsBuilt.Get()
		q.wait(time.Second)
		if r, state := s.Known.AsBuilt.Get(); state != Fresh || r.Measured != 1 {
			t.Errorf("%v", state)
		}
	})
}

func TestARefusedEditEndsADragAndChangesNothing(t *testing.T) {
	s, _ := opened(t, "small")
	before := s.Design()
	d := before.Clone()
	d.Speakers[0].At.Z += 0.2
	s.Draft(d)
	if err := s.Do("x", "", func(d *project.Design) { d.Screen.Width = -1 }); err == nil {
		t.Fatal("a screen of negative width was accepted")
	}
	if s.Design() != before || s.Dragging() || s.Doc.UndoLabel() != "" {
		t.Error("the design changed all the same")
	}
}
