// SPDX-License-Identifier: MIT

package picture

import (
	"math"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
)

func demo(t *testing.T, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %q", name)
	}
	return d.Clone()
}

// The small demo is 4.2 m long, and its lens was said to be free to stand 4.920 m from the
// screen wall: 4.2 m less 0.34 m of cabinet is 3.86 m.
func TestTheLensMayStandNoFurtherBackThanTheWall(t *testing.T) {
	r := Of(demo(t, "small"))
	in := r.InRoom(r.Stands[r.Chosen()])
	about(t, "furthest", in.FromWall.To, 4.2-0.34, 1e-9)
	if all := strings.Join(r.StandWords(), " "); !strings.Contains(all, "to 3.860 m from the screen wall") {
		t.Error(all)
	}
	if rep := r.Report().Stand.FromWall; math.Abs(rep[1]-in.FromWall.To) > 1e-9 {
		t.Errorf("JSON says %v, the words %v", *rep, in.FromWall)
	}
}

// At either end of each range the whole cabinet is in the room, under its sloping ceiling
// and beside its corner.
func TestWhereTheLensMayStandThereIsRoomForTheProjector(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d := demo(t, name)
		r := Of(d)
		s := r.InRoom(r.Stands[r.Chosen()])
		lens := d.Projector.At.Vec()
		for _, at := range []geometry.Vec{
			{X: s.FromWall.From, Y: lens.Y, Z: lens.Z}, {X: s.FromWall.To, Y: lens.Y, Z: lens.Z},
			{X: lens.X, Y: s.FromLeft.From, Z: lens.Z}, {X: lens.X, Y: s.FromLeft.To, Z: lens.Z},
			{X: lens.X, Y: lens.Y, Z: s.Height.From}, {X: lens.X, Y: lens.Y, Z: s.Height.To},
		} {
			box := place.CabinetOf(r.Model, at)
			for i := range 8 {
				side := func(bit int, half float64) float64 {
					const hair = 1e-5
					if i>>bit&1 == 0 {
						return hair - half
					}
					return half - hair
				}
				c := box.Center.Add(geometry.Vec{X: side(0, box.Half.X), Y: side(1, box.Half.Y), Z: side(2, box.Half.Z)})
				if !d.Room.Polygon().Contains(geometry.Vec2{X: c.X, Y: c.Y}) || c.Z < 0 || c.Z > d.Room.CeilingAt(c.X, c.Y) {
					t.Errorf("%s: with the lens at %v a corner of the cabinet is at %v", name, at, c)
				}
			}
		}
	}
}

func TestALensBehindAPortMayStandBeyondTheWall(t *testing.T) {
	d := demo(t, "small")
	d.Projector.Mount = project.PortMount
	r := Of(d)
	if s := r.Stands[r.Chosen()]; r.InRoom(s) != s {
		t.Errorf("%+v is cut to %+v", s, r.InRoom(s))
	}
	if all := strings.Join(r.StandWords(), " "); !strings.Contains(all, "behind its port") {
		t.Error(all)
	}
}

func TestAThrowTooLongForTheRoomSaysHowFarTheRoomGoes(t *testing.T) {
	d := demo(t, "small")
	d.ProjectorModels[0].ThrowMin = 1.8
	want := "It would have to stand 4.040 m to 4.920 m from the screen wall, and the room lets it stand at most 3.860 m."
	if all := strings.Join(Of(d).Short(), "\n"); !strings.Contains(all, want) {
		t.Error(all)
	}
}

func TestNoLensIsSaidToStandNowhereFromTheLeftWall(t *testing.T) {
	d := demo(t, "small")
	d.ProjectorModels[0].ShiftUp = 0.5
	r := Of(d)
	all := strings.Join(append(r.Short(), r.StandWords()...), "\n")
	if strings.Contains(all, "nowhere") || !strings.Contains(all, "the lens may stand 0.779 m to 2.017 m high.") {
		t.Error(all)
	}
}

func TestALensOutsideTheRoomSaysHowFarAndWhere(t *testing.T) {
	for want, at := range map[string]project.Point{
		"0.050 m beyond the back wall":                           {X: 4.25, Y: 1.9, Z: 2.2},
		"1.000 m below the floor":                                {X: 3.75, Y: 1.9, Z: -1},
		"1.100 m above the ceiling, which is 2.400 m high there": {X: 3.75, Y: 1.9, Z: 3.5},
		"it is 0.050 m from the screen wall, the screen 0.080 m": {X: unit.Length(0.05), Y: 1.9, Z: 2.2},
	} {
		d := demo(t, "small")
		d.Projector.At = at
		if all := strings.Join(Of(d).Short(), "\n"); !strings.Contains(all, want) {
			t.Errorf("%v: %s", at, all)
		}
	}
}

func TestATiltIsNotOfferedForAShiftToTheSide(t *testing.T) {
	d := demo(t, "small")
	d.Projector.At.Y = 3.7
	if all := strings.Join(Of(d).Short(), "\n"); strings.Contains(all, "Tilted") || !strings.Contains(all, "81.8 % left") {
		t.Error(all)
	}
}
