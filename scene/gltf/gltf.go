// SPDX-License-Identifier: MIT

// Package gltf keeps a room as a binary glTF 2.0 file (Khronos Group, 2021): metres, y
// up, every wall, row, feature and loudspeaker a node of its own under its group, so
// that whoever opens it can hide a wall, light the room, or put other chairs in.
//
// Colours are those of the picture, linear, at the vertices. Lights that hang or are
// recessed come along as spots (KHR_lights_punctual) of a nominal brightness: what a
// design says of them is where they are, not how strong.
package gltf

import (
	"bytes"
	"math"

	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/ext/lightspunctual"
	"github.com/qmuntal/gltf/ext/unlit"
	"github.com/qmuntal/gltf/modeler"

	"earline/geometry"
	"earline/project"
	"earline/project/bs2051"
	"earline/scene"
)

// candela is the brightness of a light, of which a design does not say how strong it
// is: what lights cloth two metres away so that it is seen in a viewer that does not
// expose. Our own choice; nothing follows from it.
const candela = 10

// Encode returns d as a binary glTF file. people is whether the sitters are in it. The
// same design always gives the same bytes.
func Encode(d *project.Design, people bool) ([]byte, error) {
	w := writer{doc: gltf.NewDocument(), materials: map[look]int{}, groups: map[string]int{}}
	w.doc.Asset.Generator = "Earline"
	for _, o := range scene.Objects(d, people) {
		w.object(o)
	}
	w.lights(d)
	if w.unlit {
		w.doc.ExtensionsUsed = append(w.doc.ExtensionsUsed, unlit.ExtensionName)
	}
	var b bytes.Buffer
	err := gltf.NewEncoder(&b).Encode(w.doc)
	return b.Bytes(), err
}

// look is all by which materials differ: colour is the vertices'.
type look struct {
	alpha           float32
	unlit, oneSided bool
}

type writer struct {
	doc       *gltf.Document
	materials map[look]int
	groups    map[string]int // nodes, by name
	unlit     bool
}

// object adds a node with what o is drawn of, under its group.
func (w *writer) object(o scene.Object) {
	mesh := &gltf.Mesh{Name: o.Name}
	for i := range o.Meshes {
		m := &o.Meshes[i]
		mesh.Primitives = append(mesh.Primitives, &gltf.Primitive{
			Indices:  gltf.Index(modeler.WriteIndices(w.doc, m.Index)),
			Material: gltf.Index(w.material(look{m.Alpha, m.Unlit, m.OneSided})),
			Attributes: gltf.PrimitiveAttributes{
				gltf.POSITION: modeler.WritePosition(w.doc, triples(m.Pos)),
				gltf.NORMAL:   modeler.WriteNormal(w.doc, units(m.Nor)),
				gltf.COLOR_0:  modeler.WriteColor(w.doc, linear(m.Col)),
			},
		})
	}
	w.doc.Meshes = append(w.doc.Meshes, mesh)
	name := o.Name
	if o.Group == "Loudspeakers" {
		name = bs2051.InFull(name)
	}
	w.node(o.Group, &gltf.Node{Name: name, Mesh: gltf.Index(len(w.doc.Meshes) - 1)})
}

// node adds n under the node of a group.
func (w *writer) node(group string, n *gltf.Node) {
	w.doc.Nodes = append(w.doc.Nodes, n)
	at := len(w.doc.Nodes) - 1
	parent, ok := w.groups[group]
	if !ok {
		w.doc.Nodes = append(w.doc.Nodes, &gltf.Node{Name: group})
		parent = len(w.doc.Nodes) - 1
		w.groups[group] = parent
		w.doc.Scenes[0].Nodes = append(w.doc.Scenes[0].Nodes, parent)
	}
	w.doc.Nodes[parent].Children = append(w.doc.Nodes[parent].Children, at)
}

// material returns the index of a material that looks like l.
func (w *writer) material(l look) int {
	if i, ok := w.materials[l]; ok {
		return i
	}
	m := &gltf.Material{
		Name: "solid", DoubleSided: !l.oneSided,
		PBRMetallicRoughness: &gltf.PBRMetallicRoughness{
			BaseColorFactor: &[4]float64{1, 1, 1, float64(l.alpha)},
			MetallicFactor:  gltf.Float(0), RoughnessFactor: gltf.Float(0.9),
		},
	}
	if l.alpha < 1 {
		m.Name, m.AlphaMode = "translucent", gltf.AlphaBlend
	}
	if l.unlit {
		m.Name, w.unlit = "lit", true
		m.Extensions = gltf.Extensions{unlit.ExtensionName: unlit.Unlit{}}
	}
	if !l.oneSided {
		m.Name += ", both sides"
	}
	w.doc.Materials = append(w.doc.Materials, m)
	w.materials[l] = len(w.doc.Materials) - 1
	return w.materials[l]
}

// lights adds a spot, pointing down, under every light of d, and a lamp in the middle
// of the room for what they do not reach: a file with lights is shown by them alone.
func (w *writer) lights(d *project.Design) {
	var lights lightspunctual.Lights
	for _, f := range d.Room.Features {
		if f.Kind != project.Light {
			continue
		}
		strength := float64(candela)
		at := scene.World(f.At.Vec())
		lights = append(lights, &lightspunctual.Light{
			Name: f.Words(), Type: lightspunctual.TypeSpot, Intensity: &strength,
			Color: warm(),
			Spot:  &lightspunctual.Spot{InnerConeAngle: 0.3, OuterConeAngle: gltf.Float(0.8)},
		})
		// Spots shine along -z; a quarter turn about x points them down.
		half := math.Sqrt2 / 2
		w.node("Lights", &gltf.Node{
			Name:        f.Words(),
			Translation: [3]float64{float64(at[0]), float64(at[1]) - 0.01, float64(at[2])},
			Rotation:    [4]float64{-half, 0, 0, half},
			Extensions:  gltf.Extensions{lightspunctual.ExtensionName: map[string]any{"light": len(lights) - 1}},
		})
	}
	if len(lights) > 0 {
		const under = 0.4 // m
		lo, hi := d.Room.Polygon().Bounds()
		mid := geometry.Vec{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2}
		mid.Z = d.Room.CeilingAt(mid.X, mid.Y) - under
		strength, at := float64(candela), scene.World(mid)
		lights = append(lights, &lightspunctual.Light{Name: "room", Type: lightspunctual.TypePoint, Intensity: &strength, Color: warm()})
		w.node("Lights", &gltf.Node{
			Name:        "room",
			Translation: [3]float64{float64(at[0]), float64(at[1]), float64(at[2])},
			Extensions:  gltf.Extensions{lightspunctual.ExtensionName: map[string]any{"light": len(lights) - 1}},
		})
		// The library writes its own types without the object that they must lie in.
		w.doc.Extensions = gltf.Extensions{lightspunctual.ExtensionName: map[string]any{"lights": lights}}
		w.doc.ExtensionsUsed = append(w.doc.ExtensionsUsed, lightspunctual.ExtensionName)
	}
}

// warm is the colour of the lights: about 3000 K.
func warm() *[3]float64 { return &[3]float64{1, 0.85, 0.66} }

func triples(v []float32) [][3]float32 {
	out := make([][3]float32, len(v)/3)
	for i := range out {
		out[i] = [3]float32{v[3*i], v[3*i+1], v[3*i+2]}
	}
	return out
}

// units returns normals at the length of 1 that the format asks for.
func units(v []float32) [][3]float32 {
	out := triples(v)
	for i, n := range out {
		l := math.Sqrt(float64(n[0])*float64(n[0]) + float64(n[1])*float64(n[1]) + float64(n[2])*float64(n[2]))
		if !(l > 0) {
			out[i] = [3]float32{0, 1, 0}
			continue
		}
		for k := range n {
			out[i][k] = float32(float64(n[k]) / l)
		}
	}
	return out
}

// linear returns display colours as the linear ones that the format asks for.
func linear(v []float32) [][3]float32 {
	out := triples(v)
	for i, c := range out {
		for k := range c {
			c[k] = min(max(c[k], 0), 1)
		}
		out[i] = scene.RGB{R: c[0], G: c[1], B: c[2]}.Linear()
	}
	return out
}
