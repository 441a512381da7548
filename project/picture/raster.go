// SPDX-License-Identifier: MIT

package picture

import "earline/project"

// Raster is what the whole imager lights on the screen while one shape is shown.
type Raster struct {
	Frame
	// Widened is by how much an anamorphic lens widens it; 1 without one. The lens
	// behind it throws a raster of Width / Widened.
	Widened float64
}

// rasterFor returns the smallest raster of an imager of that aspect that holds f, about
// its middle.
func rasterFor(f Frame, imager, widened float64) Raster {
	aspect := imager * widened
	r := Raster{Frame: f, Widened: widened}
	if f.Aspect() >= aspect {
		r.Height = f.Width / aspect
	} else {
		r.Width = f.Height * aspect
	}
	return r
}

// rasters returns the raster of each of the pictures when the screen is filled so.
func rasters(pictures []Frame, fill project.Fill, imager, stretch float64) []Raster {
	out := make([]Raster, len(pictures))
	all := Frame{}
	for i, f := range pictures {
		if i == 0 {
			all = f
		}
		all.Width, all.Height = max(all.Width, f.Width), max(all.Height, f.Height)
	}
	for i, f := range pictures {
		switch {
		case fill == project.Scaled:
			out[i] = rasterFor(all, imager, 1)
		default:
			out[i] = rasterFor(f, imager, 1)
			// The lens stays away from pictures that it would darken.
			if widened := rasterFor(f, imager, stretch); fill == project.Anamorphic && widened.Area() < out[i].Area() {
				out[i] = widened
			}
		}
	}
	return out
}

// Used returns the share of the imager, and so of the light, that falls on the picture.
func (r Raster) Used(picture Frame) float64 { return picture.Area() / r.Area() }

// pixels returns how many of n pixels of a raster's side fall on part of it.
func pixels(n int, part, whole float64) int { return int(float64(n)*part/whole + 0.5) }
