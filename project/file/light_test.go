// SPDX-License-Identifier: MIT

package file

import (
	"pgregory.net/rapid"

	"earline/geometry/unit"
	"earline/project"
)

// drawLight gives d any light groups and finishes that Validate accepts.
func drawLight(t *rapid.T, d *project.Design, text func(string) string, point func() project.Point) {
	num := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	share := func(name string) float64 { return num(name, 0, 1) }
	for range rapid.IntRange(1, 4).Draw(t, "groups") {
		g := project.LightGroup{Name: text("group"), Flux: num("flux", 0.01, 500_000), Colour: num("colour", 1000, 20_000),
			Kind:   rapid.SampledFrom([]project.LightKind{project.Strip, project.Downlight, project.StepLight, project.Stars}).Draw(t, "lamps"),
			Scenes: project.SceneLevels{House: share("house"), Preshow: share("preshow"), Show: share("show"), Cleaning: share("cleaning")}}
		if g.Kind != project.Stars {
			g.Beam, g.Tilt, g.Azimuth = unit.Degrees(num("beam", 5, 160)), unit.Degrees(num("tilt", 0, 180)), unit.Degrees(num("azimuth", -360, 360))
		}
		switch g.Kind {
		case project.Strip:
			from := point()
			to := from
			to.X -= from.X / 2
			to.Y += unit.Length(num("run", 0.01, 0.5)) * map[bool]unit.Length{true: -1, false: 1}[from.Y > 0]
			g.Path = []project.Point{from, to}
		case project.Stars:
			if x := unit.Length(num("x", -9, 9)); rapid.Bool().Draw(t, "area") {
				g.Area = []project.Corner{{X: x}, {X: x + 1}, {X: x, Y: 2}}
			}
		default:
			g.At = []project.Point{point(), point()}
		}
		d.LightGroups = append(d.LightGroups, g)
	}
	finish := func(name string) project.Finish {
		f := project.Finish{}
		if rapid.Bool().Draw(t, name+" of a material") {
			f.Material = rapid.SampledFrom(project.FinishMaterials()).Draw(t, name+" material")
		}
		if rapid.Bool().Draw(t, name+" coloured") {
			f.Colour = project.LinearRGB{num(name+" red", 0.02, 0.95), num(name+" green", 0.02, 0.95), num(name+" blue", 0.02, 0.95)}.Colour()
		} else {
			f.Reflectance = num(name, 0.01, 0.98)
		}
		return f
	}
	other := finish("other")
	d.Room.Finishes = project.Finishes{Screen: project.Finish{Reflectance: num("screen", 0.01, 1)},
		Wall: []project.WallFinish{{Wall: rapid.IntRange(1, 3).Draw(t, "wall"), Material: other.Material, Colour: other.Colour, Reflectance: other.Reflectance}}}
	for _, p := range project.FinishPlaces() {
		if p != project.ScreenFinish && rapid.Bool().Draw(t, string(p)+" given") {
			*d.Room.Finishes.At(p) = finish(string(p))
		}
	}
}
