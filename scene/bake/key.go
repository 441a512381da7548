// SPDX-License-Identifier: MIT

package bake

import (
	"crypto/sha256"
	"encoding/binary"

	"earline/geometry"
	"earline/scene"
)

// Key tells lists and lamps apart by all that a Light depends on: what is drawn, where and
// of what colour, and what shines. Levels, cameras and labels are not in it.
type Key [sha256.Size]byte

// KeyOf returns the key of what Of takes.
func KeyOf(l *scene.List, lamps Lamps) (k Key) {
	h := sha256.New()
	var b []byte
	put := func(v any) {
		b, _ = binary.Append(b[:0], binary.LittleEndian, v) // of numbers alone, which it knows
		h.Write(b)
	}
	counted := func(v any, n int) {
		put(int64(n))
		put(v)
	}
	for i := range l.Meshes {
		m := &l.Meshes[i]
		put([3]int64{int64(m.Shines), int64(m.Seat), 0})
		put([4]bool{m.Unlit, m.OneSided, m.OnTop, m.Alpha < 1})
		counted(m.Pos, len(m.Pos))
		counted(m.Nor, len(m.Nor))
		counted(m.Col, len(m.Col))
		counted(m.Mat, len(m.Mat))
		counted(m.Deep, len(m.Deep))
		counted(m.Index, len(m.Index))
	}
	put(int64(lamps.Layers))
	vec := func(v geometry.Vec) { put([3]float64{v.X, v.Y, v.Z}) }
	for i := range lamps.Emitters {
		e := &lamps.Emitters[i]
		put([2]int64{int64(e.Layer), int64(len(e.Face))})
		put([2]float64{e.Flux, e.Lobe})
		vec(e.At)
		vec(e.Axis)
		vec(e.Run)
		for _, p := range e.Face {
			vec(p)
		}
		put(lamps.Colours[i][:])
	}
	h.Sum(k[:0])
	return k
}
