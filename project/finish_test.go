// SPDX-License-Identifier: MIT

package project_test

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/file"
)

// finished returns the starter room with a finish of each kind.
func finished() *project.Design {
	d := file.New()
	d.Room.Finishes = project.Finishes{
		Floor:      project.Finish{Material: project.Carpet, Colour: "#34465f"},
		Ceiling:    project.Finish{Reflectance: 0.3},
		Walls:      project.Finish{Material: project.Timber, Colour: "#6b4a35"},
		Wall:       []project.WallFinish{{Wall: 2, Material: project.Cloth, Colour: "#414346"}},
		ScreenWall: project.Finish{Material: project.Cloth, Reflectance: 0.05},
		Chairs:     project.Finish{Material: project.Leather},
	}
	return d
}

// IEC 61966-2-1:1999, 5.2 and 5.3: the two pieces of the curve, its ends, and the middle grey
// of the web, 119, whose Y is 0.1845 (as published with the standard's curve; worked by
// hand: ((119/255 + 0.055)/1.055)^2.4).
func TestTheCurveOfSRGB(t *testing.T) {
	for _, tt := range []struct{ encoded, linear float64 }{{0, 0}, {1, 1}, {0.04045, 0.04045 / 12.92}, {0.02, 0.02 / 12.92}, {0.5, 0.214041}, {119. / 255, 0.184475}} {
		geomtest.Within(t, "linear", project.LinearOf(tt.encoded), tt.linear, 5e-7)
		geomtest.Within(t, "encoded", project.EncodedOf(tt.linear), tt.encoded, 1e-5) // the pieces meet to five digits
	}
	// Y of the primaries and of white: IEC 61966-2-1:1999, 5.2.
	for c, want := range map[project.Colour]float64{"#ff0000": 0.2126, "#00ff00": 0.7152, "#0000ff": 0.0722, "#ffffff": 1, "#000000": 0, "": 0, "#ff00": 0} {
		geomtest.Within(t, string(c), c.Reflectance(), want, 1e-12)
	}
}

// A colour scaled to a reflectance throws back just that, whatever its hue, and what is
// written of it comes back within half a step of eight bits.
func TestAColourAsBrightAsAsked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one := rapid.Float64Range(0, 1)
		l := project.LinearRGB{one.Draw(t, "red"), one.Draw(t, "green"), one.Draw(t, "blue")}
		y := rapid.Float64Range(0.01, 0.98).Draw(t, "y")
		at := l.At(y)
		if math.Abs(at.Luminance()-y) > 1e-9 {
			t.Fatalf("%v at %v throws back %v", l, y, at.Luminance())
		}
		for _, v := range at {
			if v < -1e-12 || v > 1+1e-9 {
				t.Fatalf("%v at %v is %v", l, y, at)
			}
		}
		again, ok := at.Colour().Linear()
		if !ok {
			t.Fatalf("%v is written %q", at, at.Colour())
		}
		for i := range again {
			if math.Abs(project.EncodedOf(again[i])-project.EncodedOf(max(at[i], 0))) > 0.5/255+1e-6 {
				t.Fatalf("%v came back as %v", at, again)
			}
		}
	})
}

func TestWhatAFinishThrowsBack(t *testing.T) {
	for _, tt := range []struct {
		f    project.Finish
		want float64
	}{
		{project.Finish{}, 0},
		{project.Finish{Reflectance: 0.3}, 0.3},
		{project.Finish{Colour: "#777777"}, 0.184475},
		{project.Finish{Colour: "#777777", Reflectance: 0.19}, 0.19}, // a measured one is believed
		{project.Finish{Material: project.Plaster}, project.Plaster.Usual().Reflectance()},
	} {
		geomtest.Within(t, tt.f.Words(), tt.f.Reflects(), tt.want, 5e-7)
		if tt.want > 0 {
			geomtest.Within(t, "as drawn", tt.f.Linear("#7b6a59").Luminance(), tt.want, 5e-7)
		}
	}
}

// A place without a finish of its own goes by its neighbour.
func TestWhichFinishAPlaceHas(t *testing.T) {
	r := &finished().Room
	f := &r.Finishes
	if f.Of(project.PlatformsFinish) != f.Floor {
		t.Error("platforms are not as the floor")
	}
	for wall := 1; wall <= len(r.Footprint); wall++ {
		want := f.Walls
		switch {
		case wall == 2:
			want = f.Wall[0].Finish()
		case r.WallSide(wall) == "screen":
			want = f.ScreenWall
		}
		if got := r.WallFinish(wall); got != want {
			t.Errorf("%s: %+v", r.WallName(wall), got)
		}
	}
	f.ScreenWall = project.Finish{}
	if got := r.WallFinish(4); r.WallSide(4) != "screen" || got != f.Walls {
		t.Errorf("the screen wall is %+v", got)
	}
}

func TestFinishesThatCannotBe(t *testing.T) {
	if err := finished().Validate(); err != nil {
		t.Fatal(err)
	}
	for want, edit := range map[string]func(f *project.Finishes){
		`room.finishes.floor.material: "rug", allowed: "cloth", "leather", "timber", "carpet", "paint", "plaster", "metal", "lacquer"`: func(f *project.Finishes) { f.Floor.Material = "rug" },
		`room.finishes.walls.colour: "walnut", allowed: six hexadecimal digits after "#", as "#69503f"`:                                func(f *project.Finishes) { f.Walls.Colour = "walnut" },
		`room.finishes.walls.colour: "#ABC", allowed: six hexadecimal digits after "#", as "#69503f"; did you mean "#aabbcc"?`:         func(f *project.Finishes) { f.Walls.Colour = "#ABC" },
		`room.finishes.walls.colour: "6b4a35", allowed: six hexadecimal digits after "#", as "#69503f"; did you mean "#6b4a35"?`:       func(f *project.Finishes) { f.Walls.Colour = "6b4a35" },
		`room.finishes.wall[0].colour: "#000000", which throws back 0.000 of the light, allowed: 0.01 to 0.98; "#1a1a1a" is the near`:  func(f *project.Finishes) { f.Wall[0].Colour = "#000000" },
		`room.finishes.chairs.colour: "#ffffff", which throws back 1.000 of the light, allowed: 0.01 to 0.98; "#fcfcfc" is the neares`: func(f *project.Finishes) { f.Chairs.Colour = "#ffffff" },
		`room.finishes.ceiling.reflectance: 0.30 beside the colour "#dfdad1", which throws back 0.70, allowed: either alone, or both`:  func(f *project.Finishes) { f.Ceiling.Colour = "#dfdad1" },
		`room.finishes.joinery.reflectance: 1.2, allowed: 0.01 to 0.98`:                                                                func(f *project.Finishes) { f.Joinery.Reflectance = 1.2 },
		`room.finishes.screen.colour: "#ffffff", allowed: nothing: of the screen's cloth only the reflectance is given`:                func(f *project.Finishes) { f.Screen.Colour = "#ffffff" },
		`room.finishes.screen.reflectance: 1.1, allowed: 0.01 to 1`:                                                                    func(f *project.Finishes) { f.Screen.Reflectance = 1.1 },
		`room.finishes.wall[0]: no finish, allowed: a material, a colour or a reflectance`:                                             func(f *project.Finishes) { f.Wall[0] = project.WallFinish{Wall: 2} },
	} {
		d := finished()
		edit(&d.Room.Finishes)
		if err := d.Validate(); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("want %s, got %v", want, err)
		}
	}
}

// What a fault offers as nearest is taken.
func TestTheColourThatIsOfferedWorks(t *testing.T) {
	for _, c := range []project.Colour{"#000000", "#ffffff", "#00000f", "#0000ff", "#010000", "#ffffef", "#fffffe"} {
		d := finished()
		d.Room.Finishes.Floor.Colour = c
		err := d.Validate()
		if err == nil {
			continue
		}
		_, after, ok := strings.Cut(err.Error(), `0.98; "`)
		if !ok {
			t.Fatal(err)
		}
		d.Room.Finishes.Floor.Colour = project.Colour(after[:7])
		if err := d.Validate(); err != nil {
			t.Errorf("%s: what was offered is refused: %v", c, err)
		}
	}
}

func TestReadyFinishesAreFinishes(t *testing.T) {
	names := map[string]bool{}
	for _, r := range project.ReadyFinishes() {
		if names[r.Name] {
			t.Errorf("%q twice", r.Name)
		}
		names[r.Name] = true
		d := finished()
		d.Room.Finishes.Walls = r.Finish
		if err := d.Validate(); err != nil {
			t.Errorf("%s: %v", r.Name, err)
		}
		const darkest = 0.035 // what is darker is seen as a hole
		if y := r.Reflects(); y < darkest {
			t.Errorf("%s throws back %.3f", r.Name, y)
		}
		if got := r.Words(); got != r.Name {
			t.Errorf("%q is told as %q", r.Name, got)
		}
	}
	for _, p := range project.FinishPlaces() {
		fits := slices.ContainsFunc(project.ReadyFinishes(), func(r project.ReadyFinish) bool { return p.Suits(r.Material) })
		if fits == (p == project.ScreenFinish) {
			t.Errorf("%s: ready finishes: %v", p.Words(), fits)
		}
	}
}

func TestFinishesAreKept(t *testing.T) {
	d := finished()
	data, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), `"version": 2`) {
		t.Error("not written as version 2")
	}
	again, err := file.Decode(data, "")
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(again.Room.Finishes, d.Room.Finishes) {
		t.Errorf("came back as %+v", again.Room.Finishes)
	}
	c := again.Clone()
	c.Room.Finishes.Wall[0].Colour = "#ffffff"
	if !reflect.DeepEqual(again.Room.Finishes, d.Room.Finishes) {
		t.Error("a copy shares its walls with it")
	}
}
