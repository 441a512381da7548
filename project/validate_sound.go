// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"strconv"

	"earline/geometry/unit"
)

// Limits of what sound needs to know; see the others in validate.go.
const (
	MaxMaterials  = 200
	MaxTreatments = 500
	MaxSubZones   = 50
	MaxPolar      = 400 // angles, and frequencies of a plane
	// MaxLevels bounds the polar data of all models together: a dozen models at
	// every 2° and 1/24 octave.
	MaxLevels = 1_000_000
)

// materials returns the IDs of the materials.
func (c *checker) materials(all []Material) map[string]bool {
	ids := map[string]bool{}
	for i := range c.count("room.materials", len(all), 0, MaxMaterials) {
		m, at := all[i], fmt.Sprintf("room.materials[%d].", i)
		c.id(at+"id", m.ID, ids[m.ID])
		ids[m.ID] = true
		c.text(at+"name", m.Name, maxName)
		c.text(at+"source", m.Source, maxName)
		for k := range c.count(at+"bass_absorption", len(m.Bass), 0, BassThirdCount) {
			at := fmt.Sprintf("%sbass_absorption[%d].", at, k)
			c.third(at+"hz", m.Bass[k].Hz, BassThirds()[BassThirdCount-1])
			if k > 0 {
				c.ascends(at+"hz", m.Bass[k].Hz, m.Bass[k-1].Hz)
			}
			c.between(at+"absorption", m.Bass[k].Absorption, 0, 1, "")
		}
		if len(m.Absorption) != OctaveCount {
			c.fault(at+"absorption", entries(len(m.Absorption)), "8, for the octaves 63 Hz to 8 kHz")
			continue
		}
		for k, a := range m.Absorption {
			c.between(fmt.Sprintf("%sabsorption[%d]", at, k), a, 0, 1, "")
		}
	}
	return ids
}

// surfaces faults what names no material or no wall.
func (c *checker) surfaces(d *Design, materials map[string]bool) {
	r := d.Room
	named := func(field, id string) {
		if id != "" && !materials[id] {
			c.fault(field, quote(id), "the id of one of room.materials")
		}
	}
	walls := len(r.Footprint)
	wall := func(field string, n, lo int) {
		if n < lo || n > walls {
			c.fault(field, strconv.Itoa(n), fmt.Sprintf("%d to %d", lo, walls))
		}
	}
	s := r.Surfaces
	named("room.surfaces.floor", s.Floor)
	named("room.surfaces.ceiling", s.Ceiling)
	named("room.surfaces.walls", s.Walls)
	named("room.surfaces.platforms", s.Platforms)
	for i := range c.count("room.surfaces.wall", len(s.Wall), 0, MaxCorners) {
		at := fmt.Sprintf("room.surfaces.wall[%d].", i)
		wall(at+"wall", s.Wall[i].Wall, 1)
		c.material(at+"material", s.Wall[i].Material, materials)
	}
	for i := range c.count("room.treatments", len(r.Treatments), 0, MaxTreatments) {
		t, at := r.Treatments[i], fmt.Sprintf("room.treatments[%d].", i)
		c.text(at+"name", t.Name, maxName)
		c.material(at+"material", t.Material, materials)
		wall(at+"wall", t.Wall, 0)
		c.length(at+"from_m", t.From, 0, maxPlace)
		c.above(at+"to_m", t.To, t.From)
		c.length(at+"low_m", t.Low, 0, maxPlace)
		c.above(at+"high_m", t.High, t.Low)
	}
	for i := range r.Features {
		named(fmt.Sprintf("room.features[%d].material", i), r.Features[i].Material)
	}
	for i := range d.Chairs {
		named(fmt.Sprintf("chair_models[%d].upholstery", i), d.Chairs[i].Upholstery)
	}
	if r.Air != (Air{}) {
		c.between("room.air.temperature_c", r.Air.Temperature, -20, 50, " °C") // the range of ISO 9613-1
		c.between("room.air.humidity_percent", r.Air.Humidity, 10, 100, " %")
	}
}

func (c *checker) material(field, id string, materials map[string]bool) {
	if !materials[id] {
		c.fault(field, quote(id), "the id of one of room.materials")
	}
}

// above faults a length that is not more than another; what is wrong with the
// other is that one's fault.
func (c *checker) above(field string, v, than unit.Length) {
	if v <= than {
		c.fault(field, figure(float64(v))+" m", "more than "+figure(float64(than))+" m")
		return
	}
	c.length(field, v, 0, maxPlace)
}

// given is between, for a value that may be left at 0.
func (c *checker) given(field string, v, lo, hi float64, suffix string) {
	if v != 0 {
		c.between(field, v, lo, hi, suffix)
	}
}

func (c *checker) subZones(zones []SubZone) {
	for i := range c.count("sub_zones", len(zones), 0, MaxSubZones) {
		z, at := zones[i], fmt.Sprintf("sub_zones[%d].", i)
		c.text(at+"name", z.Name, maxName)
		for _, p := range []struct {
			name   string
			corner Corner
		}{{"from", z.From}, {"to", z.To}} {
			c.length(at+p.name+".x_m", p.corner.X, 0, maxPlace)
			c.length(at+p.name+".y_m", p.corner.Y, 0, maxPlace)
		}
		c.length(at+"height_m", z.Height, 0, maxPlace)
	}
}

func (c *checker) playback(p Playback) {
	c.given("playback.reference_db", p.Reference, 60, 100, " dB")
	c.given("playback.headroom_db", p.Headroom, 3, 40, " dB")
	c.given("playback.lfe_gain_db", p.LFEGain, -20, 20, " dB")
	c.given("playback.delay_step_ms", p.DelayStep, 0.001, 10, " ms")
	c.given("playback.trim_step_db", p.TrimStep, 0.01, 6, " dB")
	c.given("playback.background_nr", p.Background, 1, 80, "")
}

// levels faults more polar data than a file holds.
func (c *checker) levels(models []Model) {
	n := 0
	for i := range models {
		for _, plane := range [2][]PolarCurve{models[i].Polar.Horizontal, models[i].Polar.Vertical} {
			for _, curve := range plane {
				n += len(curve.Level)
			}
		}
	}
	if n > MaxLevels {
		c.fault("loudspeaker_models", fmt.Sprintf("%d levels of polar data in all", n),
			fmt.Sprintf("at most %d: fewer angles or frequencies, or fewer models with polar data", MaxLevels))
	}
}

func (c *checker) polar(at string, p Polar) {
	c.text(at+"source", p.Source, maxName)
	if !p.Given() {
		if p.Source != "" || len(p.Horizontal)+len(p.Vertical) > 0 {
			c.fault(at+"angles_deg", "0 entries", "the angles of the curves")
		}
		return
	}
	for i := range c.count(at+"angles_deg", len(p.Angles), 2, MaxPolar) {
		field := fmt.Sprintf("%sangles_deg[%d]", at, i)
		c.between(field, p.Angles[i], -180, 180, "°")
		if i > 0 && !(p.Angles[i] > p.Angles[i-1]) {
			c.fault(field, figure(p.Angles[i])+"°", "more than the angle before, "+figure(p.Angles[i-1])+"°")
		}
	}
	for _, plane := range []struct {
		name   string
		curves []PolarCurve
	}{{"horizontal", p.Horizontal}, {"vertical", p.Vertical}} {
		for i := range c.count(at+plane.name, len(plane.curves), 1, MaxPolar) {
			curve, at := plane.curves[i], fmt.Sprintf("%s%s[%d].", at, plane.name, i)
			c.between(at+"frequency_hz", curve.Frequency, 10, 100_000, " Hz")
			if i > 0 && !(curve.Frequency > plane.curves[i-1].Frequency) {
				c.fault(at+"frequency_hz", figure(curve.Frequency)+" Hz", "more than the frequency before, "+figure(plane.curves[i-1].Frequency)+" Hz")
			}
			if len(curve.Level) != len(p.Angles) {
				c.fault(at+"level_db", entries(len(curve.Level)), fmt.Sprintf("%d, one an angle", len(p.Angles)))
				continue
			}
			for k, l := range curve.Level {
				if !(l >= -120 && l <= 40) { // there may be a million: name only what is at fault
					c.between(fmt.Sprintf("%slevel_db[%d]", at, k), l, -120, 40, " dB")
				}
			}
		}
	}
}
