// SPDX-License-Identifier: MIT

package gl

import (
	"fmt"
	"math/bits"

	"github.com/go-gl/gl/v3.3-core/gl"
	"github.com/go-gl/mathgl/mgl32"

	"earline/scene"
)

// mirror holds on the graphics side what is seen all about a room, with softer and softer
// copies of it. The zero value shows nothing. GL thread only.
type mirror struct {
	texture uint32
	of      *scene.Around
	now     mirrors
}

// mirrors is what programs are told of a mirror.
type mirrors struct {
	at, lo, hi mgl32.Vec3
	mean       float32
}

// show puts a on the graphics side, unless it is there, and binds it.
func (m *mirror) show(a *scene.Around) mirrors {
	gl.ActiveTexture(gl.TEXTURE0)
	if m.texture == 0 {
		gl.GenTextures(1, &m.texture)
		gl.BindTexture(gl.TEXTURE_CUBE_MAP, m.texture)
		gl.TexParameteri(gl.TEXTURE_CUBE_MAP, gl.TEXTURE_MIN_FILTER, gl.LINEAR_MIPMAP_NEAREST)
		gl.TexParameteri(gl.TEXTURE_CUBE_MAP, gl.TEXTURE_MAG_FILTER, gl.LINEAR)
		gl.Enable(gl.TEXTURE_CUBE_MAP_SEAMLESS)
	} else {
		gl.BindTexture(gl.TEXTURE_CUBE_MAP, m.texture)
		if m.of == a {
			return m.now
		}
	}
	m.of, m.now = a, mirrors{}
	side, cells := 1, make([]float32, 6*3)
	if a != nil {
		side, cells = a.Side, a.Light
		m.now = mirrors{a.At, a.Lo, a.Hi, meanOf(a)}
	}
	gl.PixelStorei(gl.UNPACK_ALIGNMENT, 4)
	for face := range 6 {
		gl.TexImage2D(gl.TEXTURE_CUBE_MAP_POSITIVE_X+uint32(face), 0, gl.RGB16F, int32(side), int32(side), 0,
			gl.RGB, gl.FLOAT, gl.Ptr(&cells[face*3*side*side]))
	}
	gl.TexParameteri(gl.TEXTURE_CUBE_MAP, gl.TEXTURE_MAX_LEVEL, int32(bits.Len(uint(side))-1))
	gl.GenerateMipmap(gl.TEXTURE_CUBE_MAP)
	return m.now
}

func (m *mirror) dispose() {
	if m.texture != 0 {
		gl.DeleteTextures(1, &m.texture)
	}
	*m = mirror{}
}

// meanOf returns the mean luminance of all cells.
func meanOf(a *scene.Around) float32 {
	var sum float64
	for i := 0; i+2 < len(a.Light); i += 3 {
		sum += 0.2126*float64(a.Light[i]) + 0.7152*float64(a.Light[i+1]) + 0.0722*float64(a.Light[i+2])
	}
	return float32(sum / float64(len(a.Light)/3))
}

func checkAround(a *scene.Around) error {
	const most = 1024
	if a != nil && (a.Side < 1 || a.Side > most || len(a.Light) != 6*3*a.Side*a.Side) {
		return fmt.Errorf("gl: %d numbers of light all around, %d cells a side, want 18 times its square", len(a.Light), a.Side)
	}
	return nil
}

// alike reports whether a and b mirror the same.
func alike(a, b *scene.Around) bool {
	return a == b || a != nil && b != nil && a.At == b.At && a.Lo == b.Lo && a.Hi == b.Hi && a.Side == b.Side && equal(a.Light, b.Light)
}
