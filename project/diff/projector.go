// SPDX-License-Identifier: MIT

package diff

import (
	"slices"

	"earline/project"
)

// projection compares projector models, as a whole, the projector, and the pictures that
// are to be shown.
func (c *comparer) projection() {
	if !slices.Equal(c.was.ProjectorModels, c.is.ProjectorModels) {
		c.one(Document, "projector_models", "")
		c.words("", "the projector models")
	}
	if a, b := c.was.Projector, c.is.Projector; a != b {
		c.projector(a, b)
	}
	a, b := c.was.Picture, c.is.Picture
	c.one(Document, "picture", "")
	if !slices.Equal(a.Aspects, b.Aspects) {
		c.words("aspects", "the shapes of picture")
	}
	c.text("held", "what all pictures share", string(a.Held), string(b.Held))
	c.text("masking", "borders that move", orUnsaid(a.Masking), orUnsaid(b.Masking))
	c.length("masking_box_m", "masking box", a.MaskingBox, b.MaskingBox)
	if !slices.Equal(a.Gains, b.Gains) {
		c.words("gain_curve", "the screen's gain by angle")
	}
	if !slices.Equal(a.SoundLoss, b.SoundLoss) {
		c.words("sound_loss_db", "what the screen takes from the sound behind it")
	}
}

func (c *comparer) projector(a, b project.Projector) {
	c.one(Document, "projector", "projector")
	switch {
	case !a.Given():
		c.words("", "is new")
		return
	case !b.Given():
		c.words("", "is gone")
		return
	}
	c.text("model", "model", a.Model, b.Model)
	c.place("at", a.At, b.At)
	c.text("mount", "fixed to", string(a.Mount), string(b.Mount))
	c.text("fill", "fills the screen by", string(a.Fill), string(b.Fill))
	c.number("stretch", "stretch of the anamorphic lens", a.Stretch, b.Stretch)
	c.number("lens_transmission_share", "light through a further lens", a.Lens, b.Lens)
	c.number("port_transmission_share", "light through the port", a.Port, b.Port)
}

// orUnsaid returns which borders move, in a word where the design does not say.
func orUnsaid(m project.Masking) string {
	if m == "" {
		return "not said"
	}
	return string(m)
}
