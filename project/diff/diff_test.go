// SPDX-License-Identifier: MIT

package diff

import (
	"fmt"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
)

// full returns the large demo with something in every field that it leaves out.
func full(t testing.TB) *project.Design {
	t.Helper()
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	d = d.Clone()
	d.Models[0].Polar = project.Polar{Source: "measured", Angles: []float64{-90, 0, 90},
		Horizontal: []project.PolarCurve{{Frequency: 1000, Level: []float64{-6, 0, -6}}},
		Vertical:   []project.PolarCurve{{Frequency: 1000, Level: []float64{-9, 0, -9}}}}
	d.System = project.System{Name: "ours", Channels: []project.Channel{{Label: "M+030", AzimuthMin: 20, AzimuthMax: 40, Source: "the house"}}}
	d.Room.Surfaces.Wall = []project.WallSurface{{Wall: 1, Material: d.Room.Materials[0].ID}, {Wall: 2, Material: d.Room.Materials[1].ID}}
	at, turn := unit.Length(1), unit.Degrees(2)
	d.AsBuilt = project.AsBuilt{MeasuredOn: "2026-11-29", Items: []project.Measured{
		{Of: project.PictureID, X: &at, Y: &at, Z: &at, Turn: &turn, Tilt: &turn, Width: &at, Note: "by tape"}}}
	d.Measured = project.MeasuredSound{On: "2026-11-29", Decay: []project.ThirdTime{{Hz: 63, Time: 0.5}},
		Responses: []project.Response{{Seat: "r1.1", Of: project.AllSubwoofers, Frequencies: []float64{20, 40}, Level: []float64{80, 81}, Smoothing: "none", Source: "a.csv"}}, Noise: []float64{40, 35, 30, 25, 20, 15, 12, 10, 8}}
	d.Seating.Rows[0].Steps = []project.Steps{{Side: project.FrontSide, At: 1, Width: 1, Tread: 0.3, Rise: 0.2}}
	d.Room.Ceiling.Planes = []project.CeilingPlane{{FromHeight: 2, To: project.Corner{Y: 1}, ToHeight: 2.5}}
	d.Backdrops = []project.Backdrop{{Name: "shell", File: "shell.dxf", Unit: project.Millimetres, Points: "AAAAAAAAAAAAAAAA"}}
	d.Room.Finishes.Wall = []project.WallFinish{{Wall: 1, Material: project.Cloth, Colour: "#777777", Reflectance: 0.2}, {Wall: 2, Reflectance: 0.4}}
	for _, p := range project.FinishPlaces() {
		*d.Room.Finishes.At(p) = d.Room.Finishes.Wall[0].Finish()
	}
	d.LightGroups = []project.LightGroup{{Name: "all", Kind: project.Strip, Path: []project.Point{{}, {X: 1}}, At: []project.Point{{X: 1}}, Area: []project.Corner{{X: 1}},
		Flux: 100, Colour: 2700, Beam: 40, Tilt: 20, Azimuth: 90, Scenes: project.SceneLevels{House: 1, Preshow: 0.3, Show: 0.1, Cleaning: 1}}}
	d.Viewpoints = []project.Viewpoint{{Name: "door", Kind: project.Standing, At: project.Point{X: 1, Y: 1}, Seat: "r1.1", Heading: 10, Pitch: 5, Sees: 40, Scene: project.House, Stay: 4}, {Name: "seat", Kind: project.Seated, Seat: "r1.2"}}
	d.Entrance = project.Entrance{Each: 1, House: 2, Down: 3}
	if len(d.SubZones) == 0 {
		d.SubZones = []project.SubZone{{Name: "front"}}
	}
	if len(d.Room.Treatments) == 0 || len(d.Room.Features) == 0 {
		t.Fatal("the large demo has treatments and features")
	}
	return d
}

// leaf is one value of a design and its path in the file.
type leaf struct {
	path  string
	value reflect.Value
}

// leaves returns every value of a design, by the names that the file gives them.
func leaves(path string, v reflect.Value) []leaf {
	var out []leaf
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
			out = append(out, leaves(strings.TrimPrefix(path+"."+name, "."), v.Field(i))...)
		}
	case reflect.Pointer:
		return leaves(path, v.Elem())
	case reflect.Slice:
		for i := range v.Len() {
			out = append(out, leaves(fmt.Sprintf("%s[%d]", path, i), v.Index(i))...)
		}
	default:
		return []leaf{{path, v}}
	}
	return out
}

// edit changes the value to another one that can be seen.
func (l leaf) edit(t testing.TB) {
	switch v := l.value; v.Kind() {
	case reflect.Float64:
		v.SetFloat(v.Float() + 0.5)
	case reflect.Int:
		v.SetInt(v.Int() + 50)
	case reflect.String:
		v.SetString(v.String() + "x")
	case reflect.Bool:
		v.SetBool(!v.Bool())
	default:
		t.Fatalf("%s is a %v", l.path, v.Kind())
	}
}

func TestNothingDiffersFromACopy(t *testing.T) {
	d := full(t)
	if got := Compare(d, d.Clone()); len(got) > 0 {
		t.Errorf("got %v", got)
	}
	if moved, ok := OnlySpeakers(d, d.Clone()); !ok || len(moved) > 0 {
		t.Errorf("moved %v, %v", moved, ok)
	}
}

// identity is the path of an id that Design.Identify gives.
var identity = regexp.MustCompile(`^(seating\.rows|room\.features|room\.treatments|loudspeakers|sub_zones|backdrops|light_groups)\[\d+\]\.id$`)

// Every value of the document, changed alone, is named by its path, and its
// sentence says what it was and is; the way back says the same backwards. Whether
// it is a matter of a loudspeaker's place alone is judged by its path.
func TestEveryEditIsNamed(t *testing.T) {
	was := full(t)
	seen := map[string]bool{}
	for i := range leaves("", reflect.ValueOf(was).Elem()) {
		is := was.Clone()
		is.Models[0].Polar = full(t).Models[0].Polar // which copies share
		l := leaves("", reflect.ValueOf(is).Elem())[i]
		if identity.MatchString(l.path) {
			continue // by which thing it is, it differs in nothing
		}
		l.edit(t)
		got := Compare(was, is)
		if len(got) != 1 || got[0].Field != l.path && !(got[0].Measure == Words && strings.HasPrefix(l.path, got[0].Field)) {
			t.Errorf("%s changed: got %+v", l.path, got)
			continue
		}
		c := got[0]
		if c.What == "" || strings.Contains(c.Sentence(project.Metric), "  ") {
			t.Errorf("%s: %q", l.path, c.Sentence(project.Metric))
		}
		if c.Measure != Words {
			before, after, _ := strings.Cut(strings.TrimPrefix(c.Sentence(project.Metric), c.What+": "), " to ")
			if before == after || before == "" || after == "" {
				t.Errorf("%s: %q", l.path, c.Sentence(project.Metric))
			}
			if len(Seen(got)) != 1 {
				t.Errorf("%s: not seen", l.path)
			}
		}
		if back := Compare(is, was); len(back) != 1 || back[0].From != c.To || back[0].To != c.From || back[0].Was != c.Is || back[0].Is != c.Was {
			t.Errorf("%s: back %+v, forth %+v", l.path, back, c)
		}
		var k int
		field := ""
		if n, _ := fmt.Sscanf(l.path, "loudspeakers[%d].%s", &k, &field); n < 2 {
			field = ""
		}
		first, _, _ := strings.Cut(field, ".")
		place := slices.Contains([]string{"at", "aim", "mount", "tuning"}, first)
		if strings.HasPrefix(l.path, "as_built") { // alters nothing
			if moved, ok := OnlySpeakers(was, is); !ok || len(moved) > 0 {
				t.Errorf("%s: moved %v, %v", l.path, moved, ok)
			}
			continue
		}
		if moved, ok := OnlySpeakers(was, is); ok != place || ok && !slices.Equal(moved, []int{k}) {
			t.Errorf("%s: only loudspeakers moved %v, %v", l.path, moved, ok)
		}
		if first != "" && (c.Thing != Thing{Speaker, k}) {
			t.Errorf("%s is a matter of %v", l.path, c.Thing)
		}
		seen[c.What] = true
	}
	for _, want := range []string{"M+030 height", "row 1 riser", "picture width", "picture lower edge", "ceiling height", "material of the floor", "absorption at"} {
		if !slices.ContainsFunc(slices.Collect(maps.Keys(seen)), func(s string) bool { return strings.Contains(s, want) }) {
			t.Errorf("nothing is called %q", want)
		}
	}
}

// Several edits at once: as many changes as values that differ, found the slow way.
func TestEditsAddUp(t *testing.T) {
	was := full(t)
	r := geomtest.Rand(t)
	for range 200 {
		is := was.Clone()
		all := leaves("", reflect.ValueOf(is).Elem())
		for range r.IntN(6) {
			if l := all[r.IntN(len(all))]; l.value.Kind() == reflect.Float64 && !strings.Contains(l.path, "polar") {
				l.edit(t)
			}
		}
		want := 0
		for i, l := range leaves("", reflect.ValueOf(was).Elem()) {
			if !l.value.Equal(all[i].value) {
				want++
			}
		}
		if got := Compare(was, is); len(got) != want {
			t.Fatalf("%d changes, %d values differ: %+v", len(got), want, got)
		}
	}
}

// One thing put in or taken out is one line, wherever it stands in its list.
func TestNewAndGoneAreOneLine(t *testing.T) {
	was := full(t)
	say := func(is *project.Design) string {
		var lines []string
		for _, c := range Compare(was, is) {
			lines = append(lines, c.Sentence(was.Units))
		}
		return strings.Join(lines, "; ")
	}
	for name, c := range map[string]struct {
		edit func(d *project.Design)
		want string
	}{
		"loudspeaker gone": {func(d *project.Design) { d.Speakers = slices.Delete(d.Speakers, 2, 3) }, was.Speakers[2].Name() + " is gone"},
		"loudspeaker new": {func(d *project.Design) {
			l := d.Speakers[0]
			l.Copy = "b"
			d.Speakers = slices.Insert(d.Speakers, 1, l)
		}, was.Speakers[0].Label + " b is new"},
		"row gone": {func(d *project.Design) { d.Seating.Rows = d.Seating.Rows[1:] }, "row 1 is gone"},
		"row new": {func(d *project.Design) {
			row := d.Seating.Rows[0]
			row.Distance += 0.5
			d.Seating.Rows = slices.Insert(d.Seating.Rows, 1, row)
		}, "row 2 is new"},
		"feature gone": {func(d *project.Design) { d.Room.Features = slices.Delete(d.Room.Features, 0, 1) }, was.Room.Features[0].Words() + " is gone"},
		"corner new": {func(d *project.Design) {
			d.Room.Footprint = slices.Insert(d.Room.Footprint, 1, project.Corner{X: 1, Y: -0.2})
		}, "corner 2 is new"},
		"two change places": {func(d *project.Design) { d.Speakers[0], d.Speakers[1] = d.Speakers[1], d.Speakers[0] }, "the order of the loudspeakers"},
		"another label":     {func(d *project.Design) { d.Speakers[0].Label = "M+050" }, was.Speakers[0].Name() + " label: " + was.Speakers[0].Label + " to M+050"},
		"another model": {func(d *project.Design) { d.Speakers[0].Model = d.Models[1].ID },
			was.Speakers[0].Name() + " model: " + model(was, was.Speakers[0].Model) + " to " + was.Models[1].Name},
	} {
		is := was.Clone()
		c.edit(is)
		if got := say(is); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// Which loudspeaker is which is a matter of the name, not of the place in the list.
func TestSpeakersArePairedByName(t *testing.T) {
	named := func(names ...string) *project.Design {
		d := &project.Design{}
		for _, n := range names {
			d.Speakers = append(d.Speakers, project.Loudspeaker{Label: n})
		}
		return d
	}
	got := Speakers(named("a", "b", "c"), named("c", "x", "a"))
	if want := []Pair{{2, 0}, {-1, 1}, {0, 2}, {1, -1}}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// A move too small to be printed is a change, but none that is seen.
func TestSeenLeavesOutWhatPrintsTheSame(t *testing.T) {
	was := full(t)
	is := was.Clone()
	is.Speakers[0].At.Z += 0.02 * unit.Millimetre
	all := Compare(was, is)
	if len(all) != 1 || len(Seen(all)) != 0 {
		t.Errorf("all %v, seen %v", all, Seen(all))
	}
}

// A column made round is one line, though its width goes with it.
func TestAColumnMadeRoundIsSaidInOneLine(t *testing.T) {
	was := file.New()
	was.Room.Features = []project.Feature{{Kind: project.Column, Name: "pillar", Length: 0.3, Width: 0.4, Height: 2}}
	is := was.Clone()
	is.Room.Features[0].Round, is.Room.Features[0].Width = true, 0
	got := Compare(was, is)
	if len(got) != 1 || got[0].Field != "room.features[0].round" {
		t.Errorf("%+v", got)
	}
}
