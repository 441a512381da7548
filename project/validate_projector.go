// SPDX-License-Identifier: MIT

package project

import "fmt"

// projection checks projector models, the projector and the shapes of picture.
func (c *checker) projection(d *Design) {
	ids := map[string]bool{}
	for i := range c.count("projector_models", len(d.ProjectorModels), 0, MaxProjectors) {
		at := fmt.Sprintf("projector_models[%d].", i)
		m := d.ProjectorModels[i]
		c.id(at+"id", m.ID, ids[m.ID])
		ids[m.ID] = true
		c.projectorModel(at, m)
	}
	if d.Projector.Given() {
		c.projector(d.Projector, ids)
	}
	c.picture(d.Picture)
}

func (c *checker) projectorModel(at string, m ProjectorModel) {
	c.text(at+"name", m.Name, maxName)
	c.between(at+"light_lm", m.Light, 10, 200_000, " lm")
	c.between(at+"calibrated_share", m.Calibrated, 0.05, 1, "")
	c.between(at+"aged_share", m.Aged, 0.05, 1, "")
	c.between(at+"imager_width_px", float64(m.PixelsWide), 320, 20_000, " px")
	c.between(at+"imager_height_px", float64(m.PixelsHigh), 240, 20_000, " px")
	if m.PixelsWide > 0 && m.PixelsHigh > 0 {
		if a := float64(m.PixelsWide) / float64(m.PixelsHigh); a < 1 || a > 4 {
			c.fault(at+"imager_width_px", fmt.Sprintf("%d by %d px", m.PixelsWide, m.PixelsHigh), "1 to 4 times imager_height_px")
		}
	}
	c.between(at+"throw_ratio_min", m.ThrowMin, 0.1, 20, "")
	c.between(at+"throw_ratio_max", m.ThrowMax, 0.1, 20, "")
	if m.ThrowMax < m.ThrowMin {
		c.fault(at+"throw_ratio_max", figure(m.ThrowMax), "throw_ratio_min, "+figure(m.ThrowMin)+", or more")
	}
	c.between(at+"shift_up_max_share", m.ShiftUp, 0, 3, "")
	c.between(at+"shift_right_max_share", m.ShiftRight, 0, 3, "")
	oneOf(c, at+"shift_shape", m.ShiftShape, ShiftEllipse, ShiftDiamond, ShiftRectangle)
	c.between(at+"noise_dba", m.Noise, 0, 100, " dB")
	c.between(at+"heat_w", m.Heat, 0, maxWatts, " W")
	c.between(at+"mass_kg", m.Mass, 0, 2000, " kg")
	c.length(at+"width_m", m.Width, 0.05, 3)
	c.length(at+"height_m", m.Height, 0.05, 3)
	c.length(at+"depth_m", m.Depth, 0.05, 3)
	c.length(at+"lens_ahead_m", m.LensAhead, 0, 1)
}

func (c *checker) projector(p Projector, models map[string]bool) {
	if !models[p.Model] {
		c.fault("projector.model", quote(p.Model), "the id of one of projector_models")
	}
	c.point("projector.at", p.At)
	oneOf(c, "projector.mount", p.Mount, CeilingMount, ShelfMount, PortMount)
	oneOf(c, "projector.fill", p.Fill, Zoom, Anamorphic, Scaled)
	if p.Stretch != 0 {
		c.between("projector.stretch", p.Stretch, 1, 2, "")
	}
	if p.Lens != 0 {
		c.between("projector.lens_transmission_share", p.Lens, 0.1, 1, "")
	}
	if p.Port != 0 {
		c.between("projector.port_transmission_share", p.Port, 0.1, 1, "")
	}
}

func (c *checker) picture(p Picture) {
	oneOf(c, "picture.held", p.Held, "", HeldHeight, HeldWidth, HeldArea)
	c.masking(p)
	given, sum := map[float64]bool{}, 0.0
	for i := range c.count("picture.aspects", len(p.Aspects), 0, MaxAspects) {
		a, at := p.Aspects[i], fmt.Sprintf("picture.aspects[%d].", i)
		c.between(at+"aspect", a.Aspect, 1, 4, "")
		if given[a.Aspect] {
			c.fault(at+"aspect", figure(a.Aspect)+" again", "each shape once")
		}
		given[a.Aspect] = true
		c.text(at+"name", a.Name, maxName)
		c.between(at+"viewing_share", a.Share, 0, 1, "")
		sum += a.Share
	}
	const rounding = 0.005 // of shares typed in whole percent
	if sum > 1+rounding*float64(len(p.Aspects)) {
		c.fault("picture.aspects", fmt.Sprintf("viewing_share of %.3g in all", sum), "at most 1")
	}
	last := 0.0
	for i := range c.count("picture.gain_curve", len(p.Gains), 0, MaxGains) {
		g, at := p.Gains[i], fmt.Sprintf("picture.gain_curve[%d].", i)
		c.angle(at+"angle_deg", g.Angle, 0, 90)
		if a := float64(g.Angle); a <= last {
			c.fault(at+"angle_deg", figure(a)+"°", "above "+figure(last)+"°: at 0° the gain is the screen's")
		} else {
			last = a
		}
		c.between(at+"gain", g.Gain, 0.01, 20, "")
	}
	switch n := len(p.SoundLoss); n {
	case 0:
	case OctaveCount:
		for i, loss := range p.SoundLoss {
			c.between(fmt.Sprintf("picture.sound_loss_db[%d]", i), loss, 0, 30, " dB")
		}
	default:
		c.fault("picture.sound_loss_db", entries(n), fmt.Sprintf("%d, for the octaves 63 Hz to 8 kHz, or none", OctaveCount))
	}
}
