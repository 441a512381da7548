// SPDX-License-Identifier: MIT

package project

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"earline/geometry"
	"earline/geometry/unit"
)

// Limits of a design. They bound the work that a file can ask for and catch
// slips of the unit (a room of 4200 m); they judge nothing. They are our own
// choice, generous beside any private room.
const (
	MaxCorners  = 64
	MaxPlanes   = 8 // of a ceiling, further ones
	MaxFeatures = 200
	MaxModels   = 100 // of chairs, and of loudspeakers
	MaxRows     = 40
	MaxFlights  = 8   // of steps, of one row
	MaxSeats    = 400 // in all
	MaxSpeakers = 64
	MaxDrivers  = 8 // of one loudspeaker model

	maxPlace  = 100   // m, of any coordinate
	minHeight = 0.5   // m, of a ceiling
	maxHeight = 30    // m, of a ceiling
	minArea   = 1     // square metres of floor
	minEdge   = 0.001 // m, between neighbouring corners
	maxName   = 200   // characters
	maxNotes  = 20_000
)

// label is the form of a loudspeaker label of Rec. ITU-R BS.2051: layer and
// azimuth in degrees (plain minus sign), the screen pair, or an LFE channel.
var label = regexp.MustCompile(`^([MUB][+-](0[0-9]{2}|1[0-7][0-9])|UH[+-](0[0-9]{2}|1[0-7][0-9])|(M|U|B|UH)\+180|T\+000|M[+-]SC|LFE[1-9])$`)

// Validate returns an error that joins a *Fault for everything in d that no
// analysis could compute with, or nil. What can be computed but makes a poor or
// unlikely room is not refused; see Findings.
func (d *Design) Validate() error {
	var c checker
	c.text("name", d.Name, maxName)
	c.notes("notes", d.Notes)
	oneOf(&c, "units", d.Units, Metric, Imperial)
	c.identities(d)
	c.room(d.Room)
	materials := c.materials(d.Room.Materials)
	c.surfaces(d, materials)
	c.screen(d.Screen)
	chairs := c.chairs(d.Chairs)
	c.seating(d.Seating, chairs)
	models := c.models(d.Models)
	c.levels(d.Models)
	c.speakers(d.Speakers, models)
	c.subZones(d.SubZones)
	c.playback(d.Playback)
	c.crossover(d)
	c.system(d.System)
	c.datum(d.Datum, d.Room)
	c.job(d.Job)
	c.lesson(d.Lesson)
	c.length("criteria.margin_m", d.Criteria.Margin, 0, 1)
	c.length("criteria.picture_margin_m", d.Criteria.PictureMargin, 0, 1)
	oneOf(&c, "criteria.standard", d.Criteria.Standard, "", RaisedBed, PublishedDirections)
	oneOf(&c, "criteria.code_set", d.Criteria.Code, "", NoCode, IRC, EnglandK)
	c.services(d)
	c.projection(d)
	c.equalisation(d)
	c.light(d)
	c.finishes(&d.Room)
	c.viewpoints(d)
	c.variants(d)
	c.asBuilt(d)
	c.measured(d.Measured)
	c.backdrops(d.Backdrops)
	c.panels(d, materials)
	return errors.Join(c.faults...)
}

// system checks what is chosen; whether a name without channels is known, package
// system says.
func (c *checker) system(s System) {
	c.text("system.name", s.Name, maxName)
	if strings.TrimSpace(s.Name) == "" && len(s.Channels) > 0 {
		c.fault("system.name", "empty", "a name for the list of channels")
	}
	given := map[string]bool{}
	for i := range c.count("system.channels", len(s.Channels), 0, MaxSpeakers) {
		ch, at := s.Channels[i], fmt.Sprintf("system.channels[%d].", i)
		if !label.MatchString(ch.Label) {
			c.fault(at+"label", quote(ch.Label), "a label of Rec. ITU-R BS.2051, such as M+030, U-045, LFE1")
		} else if given[ch.Label] {
			c.fault(at+"label", quote(ch.Label)+" a second time", "each label once")
		}
		given[ch.Label] = true
		span := func(lo, hi string, from, to, least, most float64) {
			c.between(at+lo, from, least, most, "°")
			c.between(at+hi, to, least, most, "°")
			if from > to {
				c.fault(at+hi, fmt.Sprintf("%g° under %g°", to, from), "no less than "+lo)
			}
		}
		span("azimuth_min_deg", "azimuth_max_deg", ch.AzimuthMin, ch.AzimuthMax, -180, 180)
		span("elevation_min_deg", "elevation_max_deg", ch.ElevationMin, ch.ElevationMax, -90, 90)
		if ch.AzimuthMin == ch.AzimuthMax && !strings.HasPrefix(ch.Label, "LFE") && !strings.HasPrefix(ch.Label, "T") {
			c.fault(at+"azimuth_max_deg", "no range", "more than azimuth_min_deg")
		}
		c.text(at+"source", ch.Source, maxName)
	}
}

// checker gathers faults.
type checker struct{ faults []error }

func (c *checker) fault(field, found, allowed string) {
	c.faults = append(c.faults, &Fault{Field: field, Found: found, Allowed: allowed})
}

func (c *checker) room(r Room) {
	before := len(c.faults)
	c.footprint("room.footprint", r)
	oneOf(c, "room.ceiling.slope", r.Ceiling.Slope, Flat, FrontToBack, LeftToRight)
	c.length("room.ceiling.height_m", r.Ceiling.Height, minHeight, maxHeight)
	lo := 0.0
	if s := r.Ceiling.Slope; s == FrontToBack || s == LeftToRight {
		lo = minHeight
	}
	c.length("room.ceiling.far_height_m", r.Ceiling.FarHeight, lo, maxHeight)
	c.ceilingPlanes(r, len(c.faults) == before)

	for i := range c.count("room.features", len(r.Features), 0, MaxFeatures) {
		f, at := r.Features[i], fmt.Sprintf("room.features[%d].", i)
		oneOf(c, at+"kind", f.Kind, Soffit, Column, Door, Window, Stage, Light, Vent, Counter, Chimney, Beam, Rack)
		c.text(at+"name", f.Name, maxName)
		c.point(at+"at", f.At)
		c.length(at+"length_m", f.Length, 0.001, maxPlace)
		c.round(at, f)
		c.length(at+"height_m", f.Height, 0.001, maxPlace)
		c.angle(at+"turn_deg", f.Turn, -360, 360)
		if f.Kind == Door {
			oneOf(c, at+"swing", f.Swing, InLeft, InRight, OutLeft, OutRight, Sliding)
		} else if f.Swing != "" {
			c.fault(at+"swing", quote(string(f.Swing)), "for a door only")
		}
	}
}

func (c *checker) footprint(field string, r Room) {
	before := len(c.faults)
	n := len(r.Footprint)
	if c.count(field, n, 3, MaxCorners) != n || n < 3 {
		return
	}
	for i, p := range r.Footprint {
		at := fmt.Sprintf("%s[%d].", field, i)
		c.length(at+"x_m", p.X, 0, maxPlace)
		c.length(at+"y_m", p.Y, 0, maxPlace)
	}
	if len(c.faults) > before {
		return // no outline to judge
	}
	for i, p := range r.Footprint {
		q := r.Footprint[(i+1)%n]
		if math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y)) < minEdge {
			c.fault(fmt.Sprintf("%s[%d]", field, (i+1)%n),
				fmt.Sprintf("same place as corner %d", i), "corners 1 mm apart or more")
			return
		}
	}
	poly := r.Polygon()
	if err := poly.Simple(); err != nil {
		found := "an outline that is not simple"
		var x geometry.CrossingError
		if errors.As(err, &x) { // the first is enough to go on
			found = fmt.Sprintf("the wall from corner %d to %d meets the wall from corner %d to %d", x.I, (x.I+1)%n, x.J, (x.J+1)%n)
		}
		c.fault(field, found, "walls that meet at their ends only")
		return
	}
	if area := math.Abs(poly.Area()); area < minArea {
		c.fault(field, figure(area)+" square metres of floor", "1 or more")
	}
}

func (c *checker) screen(s Screen) {
	c.between("screen.aspect", s.Aspect, 1, 4, "")
	c.length("screen.width_m", s.Width, 0.2, 50)
	c.length("screen.bottom_m", s.Bottom, -maxPlace, maxPlace)
	c.length("screen.distance_m", s.Distance, -maxPlace, maxPlace)
	c.length("screen.centre_m", s.Centre, -maxPlace, maxPlace)
	c.length("screen.border_m", s.Border, 0, 2)
	c.between("screen.gain", s.Gain, 0.05, 20, "")
}

// chairs returns the models by ID.
func (c *checker) chairs(chairs []Chair) map[string]Chair {
	byID := map[string]Chair{}
	for i := range c.count("chair_models", len(chairs), 1, MaxModels) {
		m, at := chairs[i], fmt.Sprintf("chair_models[%d].", i)
		_, taken := byID[m.ID]
		c.id(at+"id", m.ID, taken)
		byID[m.ID] = m
		c.text(at+"name", m.Name, maxName)
		c.length(at+"pan_height_m", m.PanHeight, 0.1, 1.5)
		c.length(at+"pan_depth_m", m.PanDepth, 0.2, 2)
		c.length(at+"pan_width_m", m.PanWidth, 0.2, 3)
		c.length(at+"back_height_m", m.BackHeight, 0.1, 2)
		c.length(at+"back_thickness_m", m.BackThickness, 0.01, 1)
		c.length(at+"headrest_m", m.Headrest, 0, 1)
		lo := 0.0
		if m.Headrest > 0 {
			lo = 0.05
		}
		c.length(at+"headrest_width_m", m.HeadrestWidth, lo, 3)
		c.length(at+"arm_width_m", m.ArmWidth, 0, 1)
		c.length(at+"arm_height_m", m.ArmHeight, 0, 1)
		c.angle(at+"recline_min_deg", m.MinRecline, -10, 90)
		c.angle(at+"recline_max_deg", m.MaxRecline, max(-10, m.MinRecline), 90)
		c.length(at+"footrest_reach_m", m.Footrest, 0, 2)
	}
	return byID
}

func (c *checker) seating(s Seating, chairs map[string]Chair) {
	total := 0
	for i := range c.count("seating.rows", len(s.Rows), 1, MaxRows) {
		r, at := s.Rows[i], fmt.Sprintf("seating.rows[%d].", i)
		chair, known := chairs[r.Chair]
		if !known {
			c.fault(at+"chair", quote(r.Chair), "the id of a chair model")
		} else if chair.MinRecline <= chair.MaxRecline {
			c.angle(at+"recline_deg", r.Recline, chair.MinRecline, chair.MaxRecline)
		}
		c.length(at+"distance_m", r.Distance, -maxPlace, maxPlace)
		c.length(at+"riser_m", r.Riser, 0, 10)
		before := len(c.faults)
		c.length(at+"platform_front_m", r.Front, 0, maxPlace)
		c.length(at+"platform_back_m", r.Back, 0, maxPlace)
		if r.Riser > 0 && r.Front+r.Back == 0 && len(c.faults) == before {
			c.fault(at+"platform_front_m", "a platform of no depth", "platform_front_m + platform_back_m above 0 m on a riser")
		}
		c.length(at+"platform_from_left_m", r.Left, 0, maxPlace)
		c.length(at+"platform_to_right_m", r.Right, 0, maxPlace)
		if r.Right != 0 && r.Right <= r.Left {
			c.fault(at+"platform_to_right_m", figure(float64(r.Right))+" m", "above platform_from_left_m, or 0 for the wall")
		}
		for k := range c.count(at+"steps", len(r.Steps), 0, MaxFlights) {
			st, at := r.Steps[k], fmt.Sprintf("%ssteps[%d].", at, k)
			oneOf(c, at+"side", st.Side, FrontSide, BackSide, LeftSide, RightSide)
			c.length(at+"at_m", st.At, 0, maxPlace)
			c.length(at+"width_m", st.Width, 0.1, maxPlace)
			c.length(at+"tread_m", st.Tread, 0.05, 2)
			c.length(at+"rise_m", st.Rise, 0.05, 1)
		}
		if r.Seats < 1 || r.Seats > MaxSeats {
			c.fault(at+"seats", strconv.Itoa(r.Seats), "1 to 400")
		} else {
			total += r.Seats
		}
		c.length(at+"pitch_m", r.Pitch, 0.2, 5)
		c.length(at+"centre_m", r.Centre, -maxPlace, maxPlace)
		c.length(at+"stagger_m", r.Stagger, -maxPlace, maxPlace)
		if r.Curve != 0 {
			c.length(at+"curve_radius_m", r.Curve, 0.5, 1000)
			if arc := float64(r.Pitch) * float64(r.Seats-1) / float64(r.Curve); r.Curve >= 0.5 && arc > math.Pi {
				c.fault(at+"curve_radius_m", fmt.Sprintf("a row that turns through %.0f°", arc/unit.Degree), "at most half a circle")
			}
		}
	}
	if total > MaxSeats {
		c.fault("seating.rows", fmt.Sprintf("%d seats in all", total), "1 to 400")
	}
	p := s.Sitters
	c.between("seating.sitters.listener_percentile", p.Listener, 1, 99, "")
	c.between("seating.sitters.others_percentile", p.Others, 1, 99, "")
	c.between("seating.sitters.women_share", p.Women, 0, 1, "")
	c.length("seating.sitters.seat_sink_m", p.Sink, 0, 0.3)
	c.length("seating.sitters.slump_m", p.Slump, 0, 0.3)
	if m := s.Main.Row; len(s.Rows) > 0 && (m < 0 || m > len(s.Rows)) {
		c.fault("seating.main_position.row", strconv.Itoa(m), fmt.Sprintf("1 to %d, or 0 for the point at", len(s.Rows)))
	}
	c.point("seating.main_position.at", s.Main.At)
}

// models returns the IDs of the models.
func (c *checker) models(models []Model) map[string]bool {
	ids := map[string]bool{}
	for i := range c.count("loudspeaker_models", len(models), 0, MaxModels) {
		m, at := models[i], fmt.Sprintf("loudspeaker_models[%d].", i)
		c.id(at+"id", m.ID, ids[m.ID])
		ids[m.ID] = true
		c.text(at+"name", m.Name, maxName)
		c.length(at+"width_m", m.Width, 0.01, 5)
		c.length(at+"height_m", m.Height, 0.01, 5)
		c.length(at+"depth_m", m.Depth, 0.01, 5)
		for k := range c.count(at+"drivers", len(m.Drivers), 1, MaxDrivers) {
			dr, at := m.Drivers[k], fmt.Sprintf("%sdrivers[%d].", at, k)
			oneOf(c, at+"band", dr.Band, High, Mid, Low, Full, Sub)
			c.length(at+"right_m", dr.Right, -float64(m.Width)/2, float64(m.Width)/2)
			c.length(at+"up_m", dr.Up, -float64(m.Height)/2, float64(m.Height)/2)
			c.length(at+"diameter_m", dr.Diameter, 0.005, 1.5)
		}
		c.angle(at+"coverage_h_deg", m.CoverageH, 1, 360)
		c.angle(at+"coverage_v_deg", m.CoverageV, 1, 360)
		c.angle(at+"aim_right_deg", m.AimRight, -89, 89)
		c.angle(at+"aim_up_deg", m.AimUp, -89, 89)
		c.between(at+"sensitivity_db", m.Sensitivity, 40, 130, " dB")
		c.between(at+"power_w", m.Power, 0.1, 100_000, " W")
		c.given(at+"impedance_ohm", m.Impedance, 0.5, 100, " ohm")
		c.given(at+"low_cutoff_hz", m.Cutoff, 5, 1000, " Hz")
		if m.Enclosure != "" {
			oneOf(c, at+"enclosure", m.Enclosure, Sealed, Ported)
		}
		if m.Space != "" {
			oneOf(c, at+"sensitivity_in", m.Space, FreeField, HalfSpace)
		}
		c.given(at+"excursion_mm", m.Excursion, 0.1, 100, " mm")
		c.polar(at+"polar.", m.Polar)
		c.between(at+"mass_kg", m.Mass, 0.01, 2000, " kg")
		c.length(at+"cutout_width_m", m.CutoutW, 0, 5)
		c.length(at+"cutout_height_m", m.CutoutH, 0, 5)
	}
	return ids
}

func (c *checker) speakers(speakers []Loudspeaker, models map[string]bool) {
	named := map[[2]string]int{}
	for i := range c.count("loudspeakers", len(speakers), 0, MaxSpeakers) {
		l, at := speakers[i], fmt.Sprintf("loudspeakers[%d].", i)
		if !label.MatchString(l.Label) {
			c.fault(at+"label", quote(l.Label), "a label of Rec. ITU-R BS.2051, such as M+030, U-045, T+000, M+SC or LFE1")
		} else if first, taken := named[[2]string{l.Label, l.Copy}]; taken {
			c.fault(at+"copy", l.Name()+" again", fmt.Sprintf("a copy that tells it from loudspeakers[%d]", first))
		} else {
			named[[2]string{l.Label, l.Copy}] = i
		}
		c.text(at+"copy", l.Copy, 32)
		if !models[l.Model] {
			c.fault(at+"model", quote(l.Model), "the id of a loudspeaker model")
		}
		oneOf(c, at+"mount", l.Mount, OnWall, OnCeiling, OnFloor, BehindScreen)
		c.point(at+"at", l.At)
		c.angle(at+"aim.azimuth_deg", l.Aim.Azimuth, -360, 360)
		c.angle(at+"aim.elevation_deg", l.Aim.Elevation, -90, 90)
		c.between(at+"tuning.delay_ms", l.Tuning.Delay, 0, 1000, " ms")
		c.between(at+"tuning.gain_db", l.Tuning.Gain, -60, 24, " dB")
	}
}

// count faults a list whose length is not from lo to hi and returns how many of
// its entries to look at.
func (c *checker) count(field string, n, lo, hi int) int {
	if n < lo || n > hi {
		c.fault(field, entries(n), fmt.Sprintf("%d to %d", lo, hi))
	}
	return min(n, hi)
}

func entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}

func (c *checker) point(field string, p Point) {
	c.length(field+".x_m", p.X, -maxPlace, maxPlace)
	c.length(field+".y_m", p.Y, -maxPlace, maxPlace)
	c.length(field+".z_m", p.Z, -maxPlace, maxPlace)
}

func (c *checker) length(field string, v unit.Length, lo, hi float64) {
	c.between(field, float64(v), lo, hi, " m")
}

func (c *checker) angle(field string, v, lo, hi unit.Degrees) {
	c.between(field, float64(v), float64(lo), float64(hi), "°")
}

// between faults v outside [lo, hi], and NaN. A NaN limit belongs to another
// field's fault and faults nothing here.
func (c *checker) between(field string, v, lo, hi float64, suffix string) {
	finite := !math.IsNaN(v) && !math.IsInf(v, 0)
	if finite && !(v < lo) && !(v > hi) {
		return
	}
	found := figure(v)
	if finite {
		found += suffix
	}
	c.fault(field, found, figure(lo)+suffix+" to "+figure(hi)+suffix)
}

func oneOf[T ~string](c *checker, field string, v T, allowed ...T) {
	words := make([]string, len(allowed))
	for i, a := range allowed {
		if v == a {
			return
		}
		words[i] = quote(string(a))
	}
	c.fault(field, quote(string(v)), strings.Join(words, ", "))
}

func (c *checker) id(field, id string, taken bool) {
	if id == "" {
		c.fault(field, "empty", "a text that names the model")
	} else if taken {
		c.fault(field, quote(id)+" again", "an id of its own")
	} else {
		c.text(field, id, maxName)
	}
}

// text faults what cannot stand in one line of a report or a JSON file.
func (c *checker) text(field, s string, limit int) {
	if strings.ContainsFunc(s, unicode.IsControl) {
		c.fault(field, quote(s), "text without control characters")
		return
	}
	c.wording(field, s, limit)
}

// notes is text that may run over lines.
func (c *checker) notes(field, s string) {
	control := func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }
	if strings.ContainsFunc(s, control) {
		c.fault(field, quote(s), "text without control characters, save line ends and tabs")
		return
	}
	c.wording(field, s, maxNotes)
}

func (c *checker) wording(field, s string, limit int) {
	if !utf8.ValidString(s) {
		c.fault(field, quote(s), "text in UTF-8")
	} else if n := utf8.RuneCountInString(s); n > limit {
		c.fault(field, fmt.Sprintf("%d characters", n), fmt.Sprintf("at most %d", limit))
	}
}

// figure prints v in as few digits as tell it apart.
func figure(v float64) string {
	switch {
	case math.IsNaN(v):
		return "not a number"
	case math.IsInf(v, 0):
		return "infinite"
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// quote returns s in quotes, cut where it grows long.
func quote(s string) string {
	if len(s) > 60 {
		s = strings.ToValidUTF8(s[:60], "") + "…"
	}
	return strconv.Quote(s)
}
