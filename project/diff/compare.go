// SPDX-License-Identifier: MIT

package diff

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"earline/geometry/unit"
	"earline/project"
)

// Compare lists what differs between two designs, in the order of the file: every
// value of what both have, and in one line each what is new or gone. Equal
// designs have none. Values are compared exactly; Seen leaves out what prints the
// same.
func Compare(was, is *project.Design) []Change {
	if was == is {
		return nil
	}
	c := &comparer{was: was, is: is}
	c.document()
	c.room()
	c.screen()
	c.chairs()
	c.seating()
	c.models()
	c.speakers()
	c.zones()
	c.playback()
	c.criteria()
	c.system()
	c.datum()
	c.job()
	c.lesson()
	c.services()
	c.projection()
	c.equalisation()
	c.light()
	c.viewpoints()
	c.variants()
	c.asBuilt()
	c.measured()
	c.backdrops()
	c.panels()
	return c.out
}

// Seen returns those of the changes that can be seen: lengths that differ by what
// is shown of them, and all others.
func Seen(all []Change) []Change {
	const same = 5e-5 // m: shown as the same number
	return slices.DeleteFunc(slices.Clone(all), func(c Change) bool {
		return c.Measure == Metres && c.To-c.From <= same && c.From-c.To <= same
	})
}

// comparer gathers changes of the thing at path, called name.
type comparer struct {
	was, is *project.Design
	out     []Change

	thing Thing
	path  string // "loudspeakers[3]"
	name  string // "M+090", or empty
}

func (c *comparer) add(field string, x Change) {
	x.Thing, x.Field, x.What = c.thing, strings.Trim(c.path+"."+field, "."), strings.TrimSpace(c.name+" "+x.What)
	c.out = append(c.out, x)
}

func (c *comparer) length(field, what string, was, is unit.Length) {
	if was != is {
		c.add(field, Change{What: what, From: float64(was), To: float64(is)})
	}
}

func (c *comparer) degrees(field, what string, was, is unit.Degrees) {
	if was != is {
		c.add(field, Change{What: what, From: float64(was), To: float64(is), Measure: Degrees})
	}
}

func (c *comparer) number(field, what string, was, is float64) {
	if was != is {
		c.add(field, Change{What: what, From: was, To: is, Measure: Number})
	}
}

func (c *comparer) text(field, what, was, is string) {
	if was != is {
		c.add(field, Change{What: what, Was: was, Is: is, Measure: Text})
	}
}

func (c *comparer) yes(field, what string, was, is bool) {
	word := map[bool]string{false: "no", true: "yes"}
	c.text(field, what, word[was], word[is])
}

func (c *comparer) words(field, what string) { c.add(field, Change{What: what, Measure: Words}) }

func (c *comparer) place(field string, was, is project.Point) {
	c.length(field+".x_m", "distance from the screen wall", was.X, is.X)
	c.length(field+".y_m", "distance from the left wall", was.Y, is.Y)
	c.length(field+".z_m", "height", was.Z, is.Z)
}

// one turns to a thing that a design has one of.
func (c *comparer) one(k Kind, path, name string) {
	c.thing, c.path, c.name = Thing{Kind: k}, path, name
}

// each goes through the pairs of two lists: compare is called with what both have,
// and new and gone are told by the name that named gives.
func each[T any](c *comparer, k Kind, path string, was, is []T, pairs []Pair, named func(d *project.Design, i int) string, compare func(a, b *T)) {
	last := -1
	sorted := true
	for _, p := range pairs {
		switch {
		case p.Was < 0:
			c.thing, c.path, c.name = Thing{k, p.Is}, fmt.Sprintf("%s[%d]", path, p.Is), named(c.is, p.Is)
			c.words("", "is new")
		case p.Is < 0:
			c.thing, c.path, c.name = Thing{k, p.Was}, fmt.Sprintf("%s[%d]", path, p.Was), named(c.was, p.Was)
			c.words("", "is gone")
		default:
			sorted = sorted && p.Was > last
			last = p.Was
			c.thing, c.path, c.name = Thing{k, p.Is}, fmt.Sprintf("%s[%d]", path, p.Is), named(c.was, p.Was)
			compare(&was[p.Was], &is[p.Is])
		}
	}
	if !sorted {
		c.one(k, path, "")
		c.words("", "the order of the "+k.plural())
	}
}

// kept reports whether two lists are one and the same in memory.
func kept[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

func equal[T comparable](a, b *T) bool { return *a == *b }

func (c *comparer) document() {
	a, b := c.was, c.is
	c.one(Document, "", "")
	c.text("name", "name", a.Name, b.Name)
	c.text("notes", "notes", a.Notes, b.Notes)
	c.text("units", "units", string(a.Units), string(b.Units))
}

func (c *comparer) criteria() {
	a, b := c.was.Criteria, c.is.Criteria
	c.one(Document, "criteria", "")
	c.length("margin_m", "margin", a.Margin, b.Margin)
	c.length("picture_margin_m", "margin of the picture", a.PictureMargin, b.PictureMargin)
	c.text("standard", "standard of placement", string(a.Standard), string(b.Standard))
	c.text("code_set", "dwelling code", string(a.Code), string(b.Code))
}

// system compares the list of channels that the loudspeakers are judged by; an own one
// as a whole.
func (c *comparer) system() {
	a, b := c.was.System, c.is.System
	c.one(Document, "system", "")
	c.text("name", "system judged by", a.Name, b.Name)
	if !slices.Equal(a.Channels, b.Channels) {
		c.words("channels", "the channels of the system judged by are others")
	}
}

// asBuilt compares what was measured on site, as a whole: its values are told beside
// the plan's where they are entered.
func (c *comparer) asBuilt() {
	a, b := c.was.AsBuilt, c.is.AsBuilt
	c.one(Document, "as_built", "")
	c.text("measured_on", "measured on", a.MeasuredOn, b.MeasuredOn)
	if !reflect.DeepEqual(a.Items, b.Items) {
		c.words("items", "what was measured on site differs")
	}
}

// measured compares what was measured of the sound of the room, list by list.
func (c *comparer) measured() {
	a, b := c.was.Measured, c.is.Measured
	c.one(Document, "measured", "")
	c.text("measured_on", "sound measured on", a.On, b.On)
	if !slices.Equal(a.Decay, b.Decay) {
		c.words("decay", "the measured times of decay")
	}
	if !reflect.DeepEqual(a.Responses, b.Responses) {
		c.words("responses", "the measured responses")
	}
	if !slices.Equal(a.Noise, b.Noise) {
		c.words("noise_db", "the measured noise")
	}
}

func (c *comparer) screen() {
	a, b := c.was.Screen, c.is.Screen
	if a == b {
		return
	}
	c.one(Screen, "screen", "picture")
	c.number("aspect", "aspect", a.Aspect, b.Aspect)
	c.length("width_m", "width", a.Width, b.Width)
	c.length("bottom_m", "lower edge", a.Bottom, b.Bottom)
	c.length("distance_m", "distance from the screen wall", a.Distance, b.Distance)
	c.length("centre_m", "middle from the left wall", a.Centre, b.Centre)
	c.length("border_m", "border", a.Border, b.Border)
	c.one(Screen, "screen", "screen")
	c.yes("sound_transparent", "lets sound through", a.Transparent, b.Transparent)
	c.number("gain", "gain", a.Gain, b.Gain)
}

func (c *comparer) chairs() {
	if kept(c.was.Chairs, c.is.Chairs) {
		return
	}
	pairs := renamed(byKey(c.was.Chairs, c.is.Chairs, func(m *project.Chair) string { return m.ID }))
	named := func(d *project.Design, i int) string { return "chair " + either(d.Chairs[i].Name, d.Chairs[i].ID) }
	each(c, Chair, "chair_models", c.was.Chairs, c.is.Chairs, pairs, named, func(a, b *project.Chair) {
		if *a == *b {
			return
		}
		c.text("id", "ID", a.ID, b.ID)
		c.text("name", "name", a.Name, b.Name)
		c.length("pan_height_m", "seat height", a.PanHeight, b.PanHeight)
		c.length("pan_depth_m", "seat depth", a.PanDepth, b.PanDepth)
		c.length("pan_width_m", "seat width", a.PanWidth, b.PanWidth)
		c.length("back_height_m", "back height", a.BackHeight, b.BackHeight)
		c.length("back_thickness_m", "back thickness", a.BackThickness, b.BackThickness)
		c.length("headrest_m", "headrest height", a.Headrest, b.Headrest)
		c.length("headrest_width_m", "headrest width", a.HeadrestWidth, b.HeadrestWidth)
		c.length("arm_width_m", "arm width", a.ArmWidth, b.ArmWidth)
		c.length("arm_height_m", "arm height", a.ArmHeight, b.ArmHeight)
		c.degrees("recline_min_deg", "least recline", a.MinRecline, b.MinRecline)
		c.degrees("recline_max_deg", "greatest recline", a.MaxRecline, b.MaxRecline)
		c.length("footrest_reach_m", "reach of the footrest", a.Footrest, b.Footrest)
		c.material("upholstery", "upholstery", a.Upholstery, b.Upholstery)
	})
}

func (c *comparer) seating() {
	a, b := c.was.Seating, c.is.Seating
	if !kept(a.Rows, b.Rows) {
		named := func(d *project.Design, i int) string { return fmt.Sprintf("row %d", i+1) }
		each(c, Row, "seating.rows", a.Rows, b.Rows, byPlace(a.Rows, b.Rows, sameRow), named, c.row)
	}
	if a.Sitters != b.Sitters {
		x, y := a.Sitters, b.Sitters
		c.one(Sitters, "seating.sitters", "sitters:")
		c.number("listener_percentile", "percentile of the listener", x.Listener, y.Listener)
		c.number("others_percentile", "percentile of the others", x.Others, y.Others)
		c.number("women_share", "share of women", x.Women, y.Women)
		c.length("seat_sink_m", "how far the seat gives", x.Sink, y.Sink)
		c.length("slump_m", "slump", x.Slump, y.Slump)
	}
	c.one(MainPosition, "seating.main_position", "main position")
	c.number("row", "row", float64(a.Main.Row), float64(b.Main.Row))
	c.place("at", a.Main.At, b.Main.At)
}

func sameRow(a, b *project.Row) bool { return a.Equal(*b) }

func (c *comparer) row(a, b *project.Row) {
	if a.Equal(*b) {
		return
	}
	c.named("chair", "chair", a.Chair, b.Chair, chair)
	c.length("distance_m", "distance from the screen wall", a.Distance, b.Distance)
	c.length("riser_m", "riser", a.Riser, b.Riser)
	c.length("platform_front_m", "platform before it", a.Front, b.Front)
	c.length("platform_back_m", "platform behind it", a.Back, b.Back)
	c.length("platform_from_left_m", "left edge of its platform", a.Left, b.Left)
	c.length("platform_to_right_m", "right edge of its platform", a.Right, b.Right)
	if len(a.Steps) != len(b.Steps) {
		c.number("steps", "flights of steps", float64(len(a.Steps)), float64(len(b.Steps)))
	}
	for k := range min(len(a.Steps), len(b.Steps)) {
		x, y, at := a.Steps[k], b.Steps[k], fmt.Sprintf("steps[%d].", k)
		c.text(at+"side", "side of its steps", string(x.Side), string(y.Side))
		c.length(at+"at_m", "middle of its steps", x.At, y.At)
		c.length(at+"width_m", "width of its steps", x.Width, y.Width)
		c.length(at+"tread_m", "tread of its steps", x.Tread, y.Tread)
		c.length(at+"rise_m", "rise of its steps", x.Rise, y.Rise)
	}
	c.number("seats", "seats", float64(a.Seats), float64(b.Seats))
	c.length("pitch_m", "pitch", a.Pitch, b.Pitch)
	c.length("centre_m", "middle from the left wall", a.Centre, b.Centre)
	c.length("stagger_m", "stagger", a.Stagger, b.Stagger)
	c.length("curve_radius_m", "radius of the curve", a.Curve, b.Curve)
	c.degrees("recline_deg", "recline", a.Recline, b.Recline)
}

func (c *comparer) models() {
	if kept(c.was.Models, c.is.Models) {
		return
	}
	pairs := renamed(byKey(c.was.Models, c.is.Models, func(m *project.Model) string { return m.ID }))
	named := func(d *project.Design, i int) string { return either(d.Models[i].Name, d.Models[i].ID) }
	each(c, Model, "loudspeaker_models", c.was.Models, c.is.Models, pairs, named, func(a, b *project.Model) {
		c.text("id", "ID", a.ID, b.ID)
		c.text("name", "name", a.Name, b.Name)
		c.length("width_m", "width", a.Width, b.Width)
		c.length("height_m", "height", a.Height, b.Height)
		c.length("depth_m", "depth", a.Depth, b.Depth)
		c.yes("flush", "flush", a.Flush, b.Flush)
		c.drivers(a.Drivers, b.Drivers)
		c.degrees("coverage_h_deg", "coverage across", a.CoverageH, b.CoverageH)
		c.degrees("coverage_v_deg", "coverage upright", a.CoverageV, b.CoverageV)
		c.degrees("aim_right_deg", "built-in aim to the right", a.AimRight, b.AimRight)
		c.degrees("aim_up_deg", "built-in aim up", a.AimUp, b.AimUp)
		c.number("sensitivity_db", "sensitivity in dB", a.Sensitivity, b.Sensitivity)
		c.number("power_w", "power in W", a.Power, b.Power)
		c.number("impedance_ohm", "impedance in ohm", a.Impedance, b.Impedance)
		c.number("low_cutoff_hz", "low end in Hz", a.Cutoff, b.Cutoff)
		c.text("enclosure", "enclosure", string(a.Enclosure), string(b.Enclosure))
		c.text("sensitivity_in", "what the sensitivity was measured in", string(a.Space), string(b.Space))
		c.number("excursion_mm", "peak excursion in mm", a.Excursion, b.Excursion)
		if !samePolar(a.Polar, b.Polar) {
			c.words("polar", "measured directivity")
		}
		c.number("mass_kg", "mass in kg", a.Mass, b.Mass)
		c.length("cutout_width_m", "width of the cutout", a.CutoutW, b.CutoutW)
		c.length("cutout_height_m", "height of the cutout", a.CutoutH, b.CutoutH)
	})
}

// drivers compares those of one model; what they are called goes on from its name.
func (c *comparer) drivers(was, is []project.Driver) {
	if slices.Equal(was, is) {
		return
	}
	of, path, name := c.thing, c.path, c.name
	for _, p := range byPlace(was, is, equal) {
		i := p.Is
		if i < 0 {
			i = p.Was
		}
		c.path, c.name = fmt.Sprintf("%s.drivers[%d]", path, i), fmt.Sprintf("%s driver %d", name, i+1)
		switch {
		case p.Was < 0:
			c.words("", "is new")
		case p.Is < 0:
			c.words("", "is gone")
		default:
			a, b := was[p.Was], is[p.Is]
			c.text("band", "band", string(a.Band), string(b.Band))
			c.length("right_m", "to the right", a.Right, b.Right)
			c.length("up_m", "up", a.Up, b.Up)
			c.length("diameter_m", "diameter", a.Diameter, b.Diameter)
		}
	}
	c.thing, c.path, c.name = of, path, name
}

func samePolar(a, b project.Polar) bool {
	curve := func(a, b project.PolarCurve) bool {
		return a.Frequency == b.Frequency && slices.Equal(a.Level, b.Level)
	}
	return a.Source == b.Source && slices.Equal(a.Angles, b.Angles) &&
		slices.EqualFunc(a.Horizontal, b.Horizontal, curve) && slices.EqualFunc(a.Vertical, b.Vertical, curve)
}

func (c *comparer) speakers() {
	if kept(c.was.Speakers, c.is.Speakers) {
		return
	}
	named := func(d *project.Design, i int) string { return d.Speakers[i].Name() }
	each(c, Speaker, "loudspeakers", c.was.Speakers, c.is.Speakers, renamed(Speakers(c.was, c.is)), named, func(a, b *project.Loudspeaker) {
		if *a == *b {
			return
		}
		c.text("label", "label", a.Label, b.Label)
		c.text("copy", "copy", a.Copy, b.Copy)
		c.named("model", "model", a.Model, b.Model, model)
		c.text("mount", "mount", string(a.Mount), string(b.Mount))
		c.place("at", a.At, b.At)
		aim := map[bool]string{false: "main position", true: "fixed"}
		c.text("aim.fixed", "aim", aim[a.Aim.Fixed], aim[b.Aim.Fixed])
		c.degrees("aim.azimuth_deg", "azimuth of its aim", a.Aim.Azimuth, b.Aim.Azimuth)
		c.degrees("aim.elevation_deg", "elevation of its aim", a.Aim.Elevation, b.Aim.Elevation)
		c.number("tuning.delay_ms", "delay in ms", a.Tuning.Delay, b.Tuning.Delay)
		c.number("tuning.gain_db", "gain in dB", a.Tuning.Gain, b.Tuning.Gain)
		c.yes("tuning.inverted", "inverted", a.Tuning.Inverted, b.Tuning.Inverted)
		c.number("tuning.crossover_hz", "crossover in Hz", a.Tuning.Crossover, b.Tuning.Crossover)
	})
}

func (c *comparer) zones() {
	if kept(c.was.SubZones, c.is.SubZones) {
		return
	}
	named := func(d *project.Design, i int) string { return d.ZoneName(i) }
	each(c, Zone, "sub_zones", c.was.SubZones, c.is.SubZones, byPlace(c.was.SubZones, c.is.SubZones, equal), named, func(a, b *project.SubZone) {
		c.text("name", "name", a.Name, b.Name)
		c.length("from.x_m", "first corner from the screen wall", a.From.X, b.From.X)
		c.length("from.y_m", "first corner from the left wall", a.From.Y, b.From.Y)
		c.length("to.x_m", "second corner from the screen wall", a.To.X, b.To.X)
		c.length("to.y_m", "second corner from the left wall", a.To.Y, b.To.Y)
		c.length("height_m", "height", a.Height, b.Height)
	})
}

func (c *comparer) playback() {
	a, b := c.was.Playback, c.is.Playback
	c.one(Playback, "playback", "")
	c.number("reference_db", "reference level in dB", a.Reference, b.Reference)
	c.number("headroom_db", "headroom in dB", a.Headroom, b.Headroom)
	c.number("lfe_gain_db", "LFE gain in dB", a.LFEGain, b.LFEGain)
	c.number("crossover_hz", "crossover in Hz", a.Crossover, b.Crossover)
	c.text("crossover_slope", "slope of the crossover", string(a.Slope), string(b.Slope))
	c.number("delay_step_ms", "step of delays in ms", a.DelayStep, b.DelayStep)
	c.number("trim_step_db", "step of trims in dB", a.TrimStep, b.TrimStep)
	c.number("background_nr", "background noise as NR", a.Background, b.Background)
}

// named compares IDs, and shows them by what they are called; by themselves where
// both are called alike.
func (c *comparer) named(field, what, was, is string, name func(d *project.Design, id string) string) {
	if was == is {
		return
	}
	if a, b := name(c.was, was), name(c.is, is); a != b {
		was, is = a, b
	}
	c.text(field, what, was, is)
}

func (c *comparer) material(field, what, was, is string) { c.named(field, what, was, is, material) }

// material, chair and model return the name of what an ID means, or the ID.
func material(d *project.Design, id string) string {
	for _, m := range d.Room.Materials {
		if m.ID == id {
			return either(m.Name, id)
		}
	}
	return id
}

func chair(d *project.Design, id string) string {
	m, _ := d.Chair(id)
	return either(m.Name, id)
}

func model(d *project.Design, id string) string {
	m, _ := d.Model(id)
	return either(m.Name, id)
}

func either(name, id string) string {
	if name == "" {
		return id
	}
	return name
}

// variants compares the designs kept beside the plan, as wholes.
func (c *comparer) variants() {
	a, b := c.was, c.is
	c.one(Document, "variant", "")
	c.text("name", "the plan's name", a.Variant.Name, b.Variant.Name)
	c.text("role", "the plan's role", string(a.Variant.Role), string(b.Variant.Role))
	c.one(Document, "variants", "")
	for i := range b.Variants {
		switch was := a.VariantNamed(b.Variants[i].Variant.Name); {
		case was < 0:
			c.words("", fmt.Sprintf("%q is kept beside the plan", b.Variants[i].Variant.Name))
		case !reflect.DeepEqual(a.Variants[was], b.Variants[i]):
			c.words("", fmt.Sprintf("%q, kept beside the plan, is another", b.Variants[i].Variant.Name))
		}
	}
	for i := range a.Variants {
		if b.VariantNamed(a.Variants[i].Variant.Name) < 0 {
			c.words("", fmt.Sprintf("%q is no longer kept beside the plan", a.Variants[i].Variant.Name))
		}
	}
}

// services compares where the rack stands, how cables run, and what is plugged in.
func (c *comparer) services() {
	a, b := c.was.Services, c.is.Services
	c.one(Document, "services", "rack's")
	c.place("rack", a.Rack, b.Rack)
	c.one(Document, "services", "")
	c.length("run_height_m", "height of cable runs", a.RunHeight, b.RunHeight)
	c.length("spare_m", "spare of every cable", a.Spare, b.Spare)
	c.number("equipment_heat_w", "heat of the equipment in W", a.Heat, b.Heat)
	if !slices.Equal(a.Cables, b.Cables) {
		c.words("cables", "what is known of cables")
	}
	if !slices.Equal(a.Outlets, b.Outlets) {
		c.words("outlets", "the outlets")
	}
}
