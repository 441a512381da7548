// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"math"

	"earline/project"
)

// Frame is an upright rectangle in the plane of the screen.
type Frame struct {
	Width, Height  float64
	Across, Middle float64 // its middle: from the left wall, and above the floor
}

// Area returns the area of f, square metres.
func (f Frame) Area() float64 { return f.Width * f.Height }

// Aspect returns its width divided by its height.
func (f Frame) Aspect() float64 { return f.Width / f.Height }

// Bottom returns the height of its lower edge above the floor.
func (f Frame) Bottom() float64 { return f.Middle - f.Height/2 }

// screenFrame returns the picture that the screen of d is made for.
func screenFrame(d *project.Design) Frame {
	c, r, u := d.Screen.Picture()
	return Frame{Width: 2 * r.Y, Height: 2 * u.Z, Across: c.Y, Middle: c.Z}
}

// held returns the picture of that aspect about the middle of the screen.
func held(screen Frame, what project.Held, aspect float64) Frame {
	f := screen
	switch what {
	case project.HeldHeight:
		f.Width = f.Height * aspect
	case project.HeldWidth:
		f.Height = f.Width / aspect
	case project.HeldArea:
		f.Width, f.Height = math.Sqrt(screen.Area()*aspect), math.Sqrt(screen.Area()/aspect)
	default:
		f.Width = min(screen.Width, screen.Height*aspect)
		f.Height = f.Width / aspect
	}
	return f
}

// shapes returns the shapes of picture that d is to show: its own one alone where it
// names none.
func shapes(d *project.Design) []project.Aspect {
	if len(d.Picture.Aspects) > 0 {
		return d.Picture.Aspects
	}
	return []project.Aspect{{Aspect: d.Screen.Aspect}}
}

// name returns what a shape is called.
func name(a project.Aspect) string {
	ratio := fmt.Sprintf("%.4g:1", a.Aspect)
	if a.Name == "" {
		return ratio
	}
	return a.Name + " " + ratio
}
