// SPDX-License-Identifier: MIT

package bake

import (
	"context"
	"math"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/project/light"
	"earline/scene"
)

// emptied returns a design without what stands before its surfaces.
func emptied(d *project.Design) *project.Design {
	d = d.Clone()
	d.Room.Features, d.Speakers, d.Projector = nil, nil, project.Projector{}
	return d
}

func readied(d *project.Design) (*light.Model, *Room) {
	o := scene.Default()
	o.Client, o.Bare, o.People = true, true, false
	list := scene.Build(d, nil, o)
	m := light.Of(d)
	lamps := LampsOf(m, list)
	for i := range lamps.Colours {
		lamps.Colours[i] = Colour{1, 1, 1} // the study of light knows no colours
	}
	return m, Of(list, lamps, 0.5)
}

// The study of light and the picture of it each had its own idea of how bright a wall was.
// Every patch of the study is met by rays: what is drawn there throws back as much.
func TestASurfaceIsAsBrightInThePictureAsInTheStudy(t *testing.T) {
	named := map[string]*project.Design{"nothing said": emptied(file.New())}
	for _, name := range []string{"large", "two-row", "small"} {
		d, ok := file.Demo(name)
		if !ok {
			t.Fatal("no demo")
		}
		named[name] = emptied(d)
	}
	grey := named["nothing said"].Clone()
	grey.Room.Finishes = project.Finishes{Walls: project.Finish{Reflectance: 0.37}, Floor: project.Finish{Reflectance: 0.21}, Ceiling: project.Finish{Reflectance: 0.62},
		Wall: []project.WallFinish{{Wall: 2, Reflectance: 0.08}}}
	named["reflectances alone"] = grey
	turned := grey.Clone() // the same walls, their corners the other way round
	for i, n := 0, len(turned.Room.Footprint); i < n/2; i++ {
		f := turned.Room.Footprint
		f[i], f[n-1-i] = f[n-1-i], f[i]
	}
	turned.Room.Finishes.Wall[0].Wall = 1
	named["corners the other way round"] = turned
	for name, d := range named {
		m, r := readied(d)
		surface := map[int]bool{}
		for i := range r.list.Meshes {
			switch r.list.Meshes[i].Name {
			case "shell", "floor", "treatments":
				surface[i] = true
			}
		}
		met, differ := 0, 0
		for i := range m.Patches {
			p := &m.Patches[i]
			if math.Abs(p.Normal.Z) < 0.5 && p.At.Z < 1.2 {
				continue // rails, skirtings and steps are drawn and not computed
			}
			const (
				before = 0.25 // m, from where the ray starts
				near   = 0.12 // m from the patch: treatments stand as far before their wall
				grid   = 17
				within = 0.03 // joints between panels, bevels and borders are drawn and not computed
				share  = 0.04
			)
			sum, n := 0.0, 0.0
			for a := range grid {
				for b := range grid {
					s, u := (float64(a)+0.5)/grid, (float64(b)+0.5)/grid
					at := p.Outline[0].Lerp(p.Outline[1], s)
					if len(p.Outline) == 4 {
						at = at.Lerp(p.Outline[3].Lerp(p.Outline[2], s), u)
					} else {
						at = at.Lerp(p.At, u)
					}
					h := r.tree.nearest(at.Add(p.Normal.Mul(before)), p.Normal.Neg())
					if h.triangle < 0 || !h.front {
						continue
					}
					c := r.corner[h.triangle]
					if !surface[meshOf(r, int(c[0]))] {
						continue
					}
					hit := geometry.Vec{}
					y := 0.0
					for _, v := range c {
						hit = hit.Add(r.sites[r.site[v]].at.Mul(1. / 3))
						y += float64(r.albedo[v].luminance()) / 3
					}
					if math.Abs(hit.Sub(at).Dot(p.Normal)) > near {
						continue
					}
					sum, n = sum+y, n+1
				}
			}
			if n < grid*grid*0.9 {
				continue // something stands before it
			}
			met++
			if math.Abs(sum/n-p.Reflectance) > within+share*p.Reflectance {
				if differ++; differ < 4 {
					t.Logf("%s: patch at %.2f, facing %.1f, throws back %.3f, drawn as %.3f", name, p.At, p.Normal, p.Reflectance, sum/n)
				}
			}
		}
		const few = 0.02 // edges of treatments and borders
		if met < 50 || float64(differ) > few*float64(met) {
			t.Errorf("%s: %d of %d patches are drawn otherwise than computed", name, differ, met)
		}
	}
}

// What a dark-blue room throws on its screen is the same in the picture as in the study.
func TestADarkBlueRoomsStrayLightIsThatOfTheStudy(t *testing.T) {
	d := emptied(file.New())
	blue := project.Finish{Material: project.Cloth, Colour: "#33435a"}
	d.Room.Finishes = project.Finishes{Floor: blue, Ceiling: blue, Walls: blue, Chairs: blue, Joinery: blue}
	z := d.Room.Ceiling.Height - 0.01
	d.LightGroups = []project.LightGroup{{Kind: project.Downlight, At: []project.Point{{X: 1.2, Y: 1, Z: z}, {X: 1.2, Y: 2, Z: z}},
		Flux: 1000, Beam: 40, Scenes: project.SceneLevels{House: 1}}}
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	study, err := light.Study(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	want := study.Mean(0)
	_, r := readied(d)
	l, err := r.Light(context.Background(), Full())
	if err != nil {
		t.Fatal(err)
	}
	sum, n := 0.0, 0.0
	for i, mesh := range r.list.Meshes {
		if mesh.Shines != scene.Canvas {
			continue
		}
		for v := range len(mesh.Pos) / 3 {
			c := l.lux[int(r.site[r.first[i]+v])*r.lamps.Layers]
			sum, n = sum+float64(c.luminance()), n+1
		}
	}
	const within = 0.15 // chairs throw light back in the picture alone, and both are coarse
	if got := sum / n; n == 0 || math.Abs(got/want-1) > within {
		t.Errorf("%.4g lx on the screen in the picture, %.4g in the study", got, want)
	} else {
		t.Logf("%.4g lx on the screen in the picture, %.4g in the study", got, want)
	}
}
