// SPDX-License-Identifier: MIT

package gl

import (
	"math"

	"github.com/go-gl/mathgl/mgl32"

	"earline/scene"
)

var (
	red   = scene.RGB{R: 1}
	green = scene.RGB{G: 1}
	blue  = scene.RGB{B: 1}
	white = scene.RGB{R: 1, G: 1, B: 1}
	black = scene.RGB{}
)

// ahead is a camera at the origin looking along -z (towards the screen), x to
// the right.
func ahead() scene.Camera {
	return scene.Camera{At: mgl32.Vec3{0, 0, -1}, Up: mgl32.Vec3{0, 1, 0}, FOV: 1}
}

// quad is a square of half size r about c facing +z, unlit and opaque.
func quad(c mgl32.Vec3, r float32, col scene.RGB) scene.Mesh {
	m := scene.Mesh{Alpha: 1, Unlit: true, Index: []uint32{0, 1, 2, 0, 2, 3}}
	for _, p := range [4][2]float32{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		m.Pos = append(m.Pos, c[0]+p[0]*r, c[1]+p[1]*r, c[2])
		m.Nor = append(m.Nor, 0, 0, 1)
		m.Col = append(m.Col, col.R, col.G, col.B)
	}
	return m
}

// turned is m seen from the other side.
func turned(m scene.Mesh) scene.Mesh {
	m.Index = []uint32{0, 2, 1, 0, 3, 2}
	return m
}

// ball is a lit ellipsoid with half sizes r about c: 2*n*n triangles or so.
func ball(c, r mgl32.Vec3, col scene.RGB, n int) scene.Mesh {
	m := scene.Mesh{Alpha: 1, OneSided: true} // closed: its back is never seen
	for i := 0; i <= n; i++ {
		el := math.Pi * (float64(i)/float64(n) - 0.5)
		for j := 0; j <= n; j++ {
			az := 2 * math.Pi * float64(j) / float64(n)
			d := mgl32.Vec3{float32(math.Cos(el) * math.Cos(az)), float32(math.Sin(el)), float32(-math.Cos(el) * math.Sin(az))}
			nor := mgl32.Vec3{d[0] / r[0], d[1] / r[1], d[2] / r[2]}.Normalize()
			m.Pos = append(m.Pos, c[0]+d[0]*r[0], c[1]+d[1]*r[1], c[2]+d[2]*r[2])
			m.Nor = append(m.Nor, nor[0], nor[1], nor[2])
			m.Col = append(m.Col, col.R, col.G, col.B)
			if i < n && j < n {
				a, b := uint32(i*(n+1)+j), uint32((i+1)*(n+1)+j)
				m.Index = append(m.Index, a, a+1, b+1, a, b+1, b)
			}
		}
	}
	return m
}

// box is a lit box about c with half sizes r.
func box(c, r mgl32.Vec3, col scene.RGB) scene.Mesh {
	m := scene.Mesh{Alpha: 1, OneSided: true} // closed: its back is never seen
	for f := range 6 {
		u, v, w := f%3, (f+1)%3, (f+2)%3
		sign := float32(1 - 2*(f/3))
		base := uint32(len(m.Pos) / 3)
		for _, p := range [4][2]float32{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			q, n := c, mgl32.Vec3{}
			q[u] += p[0] * r[u] * sign
			q[v] += p[1] * r[v]
			q[w] += sign * r[w]
			n[w] = sign
			m.Pos = append(m.Pos, q[:]...)
			m.Nor = append(m.Nor, n[:]...)
			m.Col = append(m.Col, col.R, col.G, col.B)
		}
		m.Index = append(m.Index, base, base+1, base+2, base, base+2, base+3)
	}
	return m
}

// inward is m with its faces turned in, like a room.
func inward(m scene.Mesh) scene.Mesh {
	for i := 0; i < len(m.Index); i += 3 {
		m.Index[i+1], m.Index[i+2] = m.Index[i+2], m.Index[i+1]
	}
	for i := range m.Nor {
		m.Nor[i] = -m.Nor[i]
	}
	m.OneSided = true
	return m
}

// join puts many meshes into one.
func join(all ...scene.Mesh) scene.Mesh {
	m := scene.Mesh{Alpha: all[0].Alpha, OneSided: all[0].OneSided}
	for _, a := range all {
		base := uint32(len(m.Pos) / 3)
		m.Pos, m.Nor, m.Col = append(m.Pos, a.Pos...), append(m.Nor, a.Nor...), append(m.Col, a.Col...)
		for _, i := range a.Index {
			m.Index = append(m.Index, base+i)
		}
	}
	return m
}

// cinema is as much as a large design shows: a room, 24 chairs of about 600
// triangles, 24 people of about 400, 16 translucent cones, 768 rays and 40
// labels. No sizes of it matter but these counts.
func cinema() *scene.List {
	l := &scene.List{Sky: scene.RGB{R: 0.16, G: 0.18, B: 0.22}, Ground: scene.RGB{R: 0.07, G: 0.07, B: 0.08}}
	room := mgl32.Vec3{3, 1.5, 4.5}
	l.Meshes = append(l.Meshes, inward(box(room, room, scene.RGB{R: 0.42, G: 0.40, B: 0.38})))
	pic := quad(mgl32.Vec3{3, 1.4, 0.05}, 1, scene.RGB{R: 0.85, G: 0.87, B: 0.9})
	for i := range pic.Pos {
		if i%3 == 0 {
			pic.Pos[i] = 3 + (pic.Pos[i]-3)*2.2
		}
	}
	l.Meshes = append(l.Meshes, pic)
	var heads, drivers []mgl32.Vec3
	for i := range 24 {
		at := mgl32.Vec3{0.8 + 0.88*float32(i%6), 0.25 * float32(i/6), 3.2 + 1.35*float32(i/6)}
		chair := scene.RGB{R: 0.35, G: 0.12, B: 0.11}
		l.Meshes = append(l.Meshes, join(
			ball(at.Add(mgl32.Vec3{0, 0.35, 0}), mgl32.Vec3{0.3, 0.16, 0.33}, chair, 10),
			ball(at.Add(mgl32.Vec3{0, 0.75, 0.35}), mgl32.Vec3{0.3, 0.45, 0.13}, chair, 10),
			ball(at.Add(mgl32.Vec3{-0.34, 0.4, 0}), mgl32.Vec3{0.08, 0.2, 0.36}, chair, 8),
			ball(at.Add(mgl32.Vec3{0.34, 0.4, 0}), mgl32.Vec3{0.08, 0.2, 0.36}, chair, 8)))
		head := at.Add(mgl32.Vec3{0, 1.15, 0.12})
		l.Meshes = append(l.Meshes, join(
			ball(head, mgl32.Vec3{0.08, 0.12, 0.1}, scene.RGB{R: 0.75, G: 0.62, B: 0.55}, 10),
			ball(at.Add(mgl32.Vec3{0, 0.72, 0.12}), mgl32.Vec3{0.22, 0.32, 0.13}, scene.RGB{R: 0.3, G: 0.4, B: 0.5}, 10)))
		heads = append(heads, head)
		l.Labels = append(l.Labels, scene.Label{At: head.Add(mgl32.Vec3{0, 0.2, 0}), Text: "row " + string(rune('1'+i/6)) + " seat " + string(rune('1'+i%6)), Ink: white, Plate: black, Hidden: true, Bold: i == 8})
	}
	for i := range 16 {
		a := 2 * math.Pi * float64(i) / 16
		at := mgl32.Vec3{3 + 2.85*float32(math.Sin(a)), 1.2 + 1.2*float32(i%2), 4.5 + 4.3*float32(math.Cos(a))}
		l.Meshes = append(l.Meshes, box(at, mgl32.Vec3{0.12, 0.2, 0.12}, scene.RGB{R: 0.12, G: 0.12, B: 0.13}))
		to := mgl32.Vec3{3, 1.2, 5}.Sub(at).Mul(0.35)
		cone := ball(at.Add(to), mgl32.Vec3{0.5, 0.5, 0.5}, scene.RGB{R: 0.9, G: 0.7, B: 0.3}, 12)
		cone.Alpha = 0.2
		l.Meshes = append(l.Meshes, cone)
		drivers = append(drivers, at)
		l.Labels = append(l.Labels, scene.Label{At: at, Text: "M+0" + string(rune('0'+i/10)) + string(rune('0'+i%10)), Ink: white, Plate: scene.RGB{R: 0.2, G: 0.25, B: 0.4}})
	}
	rays := scene.Lines{}
	for i, h := range heads {
		for j, d := range drivers {
			for _, ear := range [2]float32{-0.08, 0.08} {
				rays.Pos = append(rays.Pos, h[0]+ear, h[1], h[2], d[0], d[1], d[2])
				c := mgl32.Vec3{0.3, 0.75, 0.6}
				if (i+j)%9 == 0 {
					c = mgl32.Vec3{0.9, 0.35, 0.2}
				}
				rays.Col = append(rays.Col, c[0], c[1], c[2], c[0], c[1], c[2])
			}
		}
	}
	l.Lines = append(l.Lines, rays)
	return l
}

// corner is a camera looking into the cinema over its back wall.
func corner() scene.Camera {
	return scene.Camera{Eye: mgl32.Vec3{6.6, 4.2, 11}, At: mgl32.Vec3{3, 0.9, 4}, Up: mgl32.Vec3{0, 1, 0}, FOV: 0.75}
}
