// SPDX-License-Identifier: MIT

package settle_test

import (
	"slices"
	"strings"
	"testing"

	"earline/project"
	"earline/project/newroom"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/settle"
	"earline/project/sight"
)

func sentence(d *project.Design) (string, *settle.List) {
	r := sight.Audit(d)
	kept := practice.Check(d, r, practice.Standard{})
	l := settle.Causes(r, kept, nil)
	return l.Sentence(), l
}

func good(t *testing.T) *project.Design {
	t.Helper()
	d, err := newroom.Design(newroom.Usual())
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestAllIsWellIsSaidOfARoomInWhichItIs(t *testing.T) {
	if got, _ := sentence(good(t)); !strings.HasPrefix(got, "Every ear sees every loudspeaker, and every eye the whole picture") {
		t.Error(got)
	}
}

// A screen through the ceiling, a loudspeaker 5 m under the floor and a row before the
// screen wall were told as a good room, or as hidden by the sitters' own shoulders.
func TestWhatCannotBeBuiltIsSaidFirst(t *testing.T) {
	for _, c := range []struct {
		name, want string
		item       place.ItemKind
		edit       func(*project.Design)
	}{
		{"screen through the ceiling", "above the ceiling", place.ScreenItem, func(d *project.Design) { d.Screen.Bottom += 1 }},
		{"height of -5 m", "below the floor", place.SpeakerItem, func(d *project.Design) { d.Speakers[5].At.Z = -5 }},
		{"row at -1 m", "outside the room", place.RowItem, func(d *project.Design) { d.Seating.Rows[0].Distance = -1 }},
		{"loudspeaker in the wall", "", place.SpeakerItem, func(d *project.Design) { d.Speakers[2].At.X -= 0.4 }},
	} {
		d := good(t)
		c.edit(d)
		got, all := sentence(d)
		first := all.First()
		told := slices.ContainsFunc(all.Apart, func(o *settle.Cause) bool {
			return o.Family == settle.Build && o.Findings[0].Item().Kind == c.item && strings.Contains(o.Text, c.want)
		})
		if first == nil || first.Family != settle.Build || !told || !strings.Contains(got, " to settle: ") {
			t.Errorf("%s: %q", c.name, got)
		}
	}
}

func TestABlockedPictureIsNotToldAsAGoodRoom(t *testing.T) {
	d := good(t)
	// Nothing is in the way of sound, but the picture lies behind the people's knees.
	d.Screen.Bottom = 0.05
	d.Seating.Rows = append(d.Seating.Rows, d.Seating.Rows[0])
	d.Seating.Rows[0].Distance -= 1.4
	d.Seating.Main.Row = 2
	_, all := sentence(d)
	seen := false
	for _, c := range all.Settle {
		seen = seen || c.Family == settle.Picture && c.Seat >= 0 && c.Speaker == settle.None && c.Severity == practice.Must
	}
	if !seen {
		t.Error(all)
	}
}

func TestABrokenRuleThatMustHoldComesBeforeWhatIsHeard(t *testing.T) {
	d := good(t)
	d.Criteria.Code = project.IRC // without a code nothing about steps must hold
	d.Seating.Rows[0].Riser, d.Seating.Rows[0].Front, d.Seating.Rows[0].Back = 0.9, 1, 1
	_, all := sentence(d)
	for _, c := range all.Apart {
		if c.Family == settle.Safety && c.Severity == practice.Must && all.First().Family <= settle.Safety {
			return
		}
	}
	t.Error("not said:", all)
}
