// SPDX-License-Identifier: MIT

package project

import "earline/geometry/unit"

// Model is a model of loudspeaker. Its reference point is the middle of the
// front of its box; the box reaches back from there.
type Model struct {
	ID     string      `json:"id"`
	Name   string      `json:"name"`
	Width  unit.Length `json:"width_m"`
	Height unit.Length `json:"height_m"`
	Depth  unit.Length `json:"depth_m"`
	// Flush models sit in a wall or ceiling with their front in its surface;
	// others hang or stand free and turn as a whole to their aim.
	Flush   bool     `json:"flush,omitempty"`
	Drivers []Driver `json:"drivers"`
	// CoverageH and CoverageV are the nominal full angles between the -6 dB
	// points, across and upright.
	CoverageH unit.Degrees `json:"coverage_h_deg"`
	CoverageV unit.Degrees `json:"coverage_v_deg"`
	// AimRight and AimUp are the angle of the axis built into the box.
	AimRight unit.Degrees `json:"aim_right_deg,omitempty"`
	AimUp    unit.Degrees `json:"aim_up_deg,omitempty"`
	// Sensitivity is dB SPL at 1 m for Volts; Space what that was measured in, empty
	// for not said (see SensedIn). It counts for subwoofers only: higher up the front
	// of the box is all the wall there is.
	Sensitivity float64 `json:"sensitivity_db"`
	Space       Space   `json:"sensitivity_in,omitempty"`
	Power       float64 `json:"power_w"` // rated, continuous
	// Impedance is the nominal one, ohms; 0 is not known, and means 8.
	Impedance float64 `json:"impedance_ohm,omitempty"`
	// Cutoff is where its response has fallen by 3 dB at the low end, hertz; 0
	// is not known. Enclosure says how it goes on falling; empty means sealed.
	Cutoff    float64   `json:"low_cutoff_hz,omitempty"`
	Enclosure Enclosure `json:"enclosure,omitempty"`
	// Excursion is how far each subwoofer driver may move to one side, peak,
	// millimetres (the linear excursion of data sheets); 0 is not known.
	Excursion float64 `json:"excursion_mm,omitempty"`
	// Polar is how it radiates, as measured; otherwise the nominal coverage
	// serves.
	Polar   Polar       `json:"polar,omitzero"`
	Mass    float64     `json:"mass_kg"`
	CutoutW unit.Length `json:"cutout_width_m,omitempty"`
	CutoutH unit.Length `json:"cutout_height_m,omitempty"`
}

// Driver is one driver of a Model.
type Driver struct {
	Band Band `json:"band"`
	// Right and Up are where its middle sits on the front, from the front's
	// middle, seen by someone who looks at the front.
	Right    unit.Length `json:"right_m"`
	Up       unit.Length `json:"up_m"`
	Diameter unit.Length `json:"diameter_m"` // of the radiating face
}

// Band is the part of the range that a driver plays.
type Band string

// The bands.
const (
	High Band = "high"
	Mid  Band = "mid"
	Low  Band = "low"
	Full Band = "full"
	Sub  Band = "sub"
)

// Loudspeaker is a placed loudspeaker.
type Loudspeaker struct {
	ID string `json:"id,omitempty"` // see Design.Identify
	// Label is the label of Rec. ITU-R BS.2051, such as M+030, U-045 or LFE1.
	Label string `json:"label"`
	// Copy tells loudspeakers apart that share a label (an array of surrounds
	// playing one channel, several subwoofers); empty for the first.
	Copy  string `json:"copy,omitempty"`
	Model string `json:"model"` // ID of the loudspeaker model
	Mount Mount  `json:"mount"`
	At    Point  `json:"at"` // reference point of the model
	Aim   Aim    `json:"aim"`
	// Tuning is what the processor does to it.
	Tuning Tuning `json:"tuning,omitzero"`
}

// Mount is what carries a loudspeaker.
type Mount string

// The mounts.
const (
	OnWall       Mount = "wall"
	OnCeiling    Mount = "ceiling"
	OnFloor      Mount = "floor"
	BehindScreen Mount = "behind screen"
)

// Aim is where a loudspeaker's axis points.
type Aim struct {
	// Fixed axes point along Azimuth and Elevation as seen from the
	// loudspeaker; others at the main listening position.
	Fixed bool `json:"fixed,omitempty"`
	// Azimuth is 0 towards the screen, positive towards the left wall, as for
	// a listener; 180 points at the back wall.
	Azimuth   unit.Degrees `json:"azimuth_deg,omitempty"`
	Elevation unit.Degrees `json:"elevation_deg,omitempty"`
}

// Name returns the label and, where there is one, the copy: "M+090 b".
func (l Loudspeaker) Name() string {
	if l.Copy == "" {
		return l.Label
	}
	return l.Label + " " + l.Copy
}

// Subwoofer reports whether m has subwoofer drivers only. Sight is not judged
// for those: their wavelengths (over 2.8 m below 120 Hz) go round heads.
func (m Model) Subwoofer() bool {
	for _, d := range m.Drivers {
		if d.Band != Sub {
			return false
		}
	}
	return len(m.Drivers) > 0
}

// Deciding returns the index of the driver whose sight decides: the highest
// band, the first of equals; -1 when there is none.
func (m Model) Deciding() int {
	best, at := -1, -1
	for i, d := range m.Drivers {
		if r := d.Band.rank(); r > best {
			best, at = r, i
		}
	}
	return at
}

// rank orders the bands by how little of a path their sound can do without.
func (b Band) rank() int {
	switch b {
	case High:
		return 4
	case Full:
		return 3
	case Mid:
		return 2
	case Low:
		return 1
	}
	return 0
}
