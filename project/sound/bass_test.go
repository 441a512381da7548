// SPDX-License-Identifier: MIT

package sound_test

import (
	"slices"
	"strings"
	"testing"

	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/bass"
	"earline/project/file"
	"earline/project/sound"
)

// Sound wanted 1,817 W where bass wanted 52 W of the same two subwoofers. Both say what
// package bass finds: the same watts, the same reserve, for the same seat and third.
func TestSoundAndBassWantTheSameWatts(t *testing.T) {
	for _, name := range []string{"small", "two-row"} {
		d, _ := file.Demo(name)
		r, err := sound.Study(t.Context(), d, nil, sound.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p, err := bass.Of(d, bass.Shown())
		if err != nil {
			t.Fatal(err)
		}
		var s bass.Store
		st, err := s.New(t.Context(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		o := st.Output(d)
		if r.Bass == nil || r.Bass.Main != o.Main || r.Bass.Worst != o.Worst {
			t.Fatalf("%s: sound says %+v, bass %+v", name, r.Bass, o)
		}
		rep := r.Report()
		for i, k := range o.Speakers {
			if !rep.Speakers[k].Subwoofer {
				t.Errorf("%s is no subwoofer", rep.Speakers[k].Name)
			}
			geomtest.Within(t, name+": watts", rep.Speakers[k].Needed, o.Needed[i], 1e-6)
			geomtest.Within(t, name+": reserve", rep.Speakers[k].Left, o.Main.Reserve, 1e-6)
			geomtest.Within(t, name+": at the weakest seat", rep.Speakers[k].LeftFar, o.Worst.Reserve, 1e-6)
		}
		if rep.Bass.Main.Third != st.Output(d).Thirds[o.Main.Third].Mid || rep.Bass.Subwoofers[0].Needed != o.Needed[0] {
			t.Errorf("%s: %+v", name, rep.Bass)
		}
	}
}

// Where the bass cannot be computed, the watts are those of a free field and a remark
// says why.
func TestSubwooferOutsideTheRoomIsAnsweredInTheFreeField(t *testing.T) {
	d, _ := file.Demo("small")
	k := slices.IndexFunc(d.Speakers, func(l project.Loudspeaker) bool { return sound.LFE(l.Label) })
	d.Speakers[k].At.X = -1
	r, err := sound.Study(t.Context(), d, nil, sound.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Bass != nil || r.Direct.Speakers[k].Power <= 0 || !slices.ContainsFunc(r.Remarks, func(s string) bool { return strings.Contains(s, "free field, since") }) {
		t.Errorf("%+v\n%s", r.Bass, strings.Join(r.Remarks, "\n"))
	}
}
