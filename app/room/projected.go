// SPDX-License-Identifier: MIT

package room

import (
	"fmt"

	"earline/app/command"
	"earline/project/picture"
)

// Shape returns which shape of picture is on the screen, an index in
// picture.Result.Shapes; one that there is not is the first.
func (p *Picture) Shape() int { return p.options.Shape }

// ShowShape puts another shape of picture on the screen.
func (p *Picture) ShowShape(i int) {
	p.options.Shape = i
	p.showOptions()
}

// Beam reports whether the light on its way to the screen is drawn.
func (p *Picture) Beam() bool { return p.options.Beam }

// ShowBeam draws it, or leaves it out.
func (p *Picture) ShowBeam(on bool) {
	if on != p.options.Beam {
		p.options.Beam = on
		p.showOptions()
	}
}

// shapeCommands lists the shapes of picture.
func (p *Picture) shapeCommands() []command.Command {
	r := picture.Optics(p.session.Design())
	var out []command.Command
	for i := range r.Shapes {
		out = append(out, command.Command{ID: fmt.Sprintf("view.shape.%d", i+1), Name: r.Shapes[i].Called,
			Says: "Shows the picture in this shape.",
			Do:   func() { p.ShowShape(i) },
			On: func() bool {
				return p.options.Shape == i || i == 0 && (p.options.Shape < 0 || p.options.Shape >= len(r.Shapes))
			}})
	}
	return out
}
