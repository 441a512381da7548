// SPDX-License-Identifier: MIT

package project

import (
	"math"

	"earline/geometry/unit"
)

// Panels is a run of panels of one width along a wall or under the ceiling: how they
// are laid out clear of doors and loudspeakers, and what that comes to as treatments,
// package panel says.
type Panels struct {
	ID string `json:"id,omitempty"` // see Design.Identify
	// Wall counts from 1 as in Treatment; 0 is the ceiling, along which the run goes
	// from the screen wall to the back.
	Wall int `json:"wall"`
	// Low and High are the heights of the edges; under the ceiling they are y. High 0
	// is up to the ceiling, or to the far side of it.
	Low  unit.Length `json:"low_m"`
	High unit.Length `json:"high_m,omitempty"`
	// Module is how wide a panel is, Gap the joint beside it.
	Module unit.Length `json:"module_m"`
	Gap    unit.Length `json:"gap_m"`
	// LightGap is how wide a joint with light in it is; 0 is that there is none. Every
	// LightEvery-th joint is one, counted from the middle of the run so that both
	// halves are alike; 0 is every joint.
	LightGap   unit.Length `json:"light_gap_m,omitempty"`
	LightEvery int         `json:"light_every,omitempty"`
	Depth      unit.Length `json:"depth_m"` // off the wall
	// Pattern is what each panel is, from the first corner of the wall on; one that is
	// shorter than the run begins again.
	Pattern []PanelKind `json:"pattern"`
	// Absorb and Diffuse are the IDs of the materials of absorbing and diffusing panels.
	Absorb  string `json:"material_absorb,omitempty"`
	Diffuse string `json:"material_diffuse,omitempty"`
}

// PanelKind is what a panel does to sound.
type PanelKind string

// The kinds. Where a panel is bare nothing hangs: the wall is as it is.
const (
	AbsorbPanel  PanelKind = "absorb"
	DiffusePanel PanelKind = "diffuse"
	BarePanel    PanelKind = "bare"
)

// PanelKinds returns the kinds in their order.
func PanelKinds() []PanelKind { return []PanelKind{AbsorbPanel, DiffusePanel, BarePanel} }

// Kind returns what panel i, from 0, is.
func (p *Panels) Kind(i int) PanelKind {
	if len(p.Pattern) == 0 {
		return BarePanel
	}
	return p.Pattern[i%len(p.Pattern)]
}

// Material returns the ID of the material of panels of kind k; empty where nothing hangs.
func (p *Panels) Material(k PanelKind) string {
	switch k {
	case AbsorbPanel:
		return p.Absorb
	case DiffusePanel:
		return p.Diffuse
	}
	return ""
}

// Lit reports whether joint k of a run of n panels has light in it. Joint 0 is before
// the first panel, joint n behind the last.
func (p *Panels) Lit(k, n int) bool {
	off := 2*k - n // in halves of a panel from the middle
	if off < 0 {
		off = -off
	}
	return p.LightGap > 0 && off/2%max(p.LightEvery, 1) == 0
}

// Joint returns how wide joint k of a run of n panels is.
func (p *Panels) Joint(k, n int) unit.Length {
	if p.Lit(k, n) {
		return p.LightGap
	}
	return p.Gap
}

// Run returns how long a run of n panels is with the joints at both its ends.
func (p *Panels) Run(n int) unit.Length {
	long := unit.Length(n) * p.Module
	for k := range n + 1 {
		long += p.Joint(k, n)
	}
	return long
}

// Count returns how many panels a wall holds over a length in metres, each with a joint
// at either side: n = floor((L - g)/(w + g)) where all joints are g wide.
func (p *Panels) Count(length float64) int {
	const hair = 1e-9 // m: a run as long as the wall fits
	if !(p.Module > 0) || !(length > 0) {
		return 0
	}
	n := int(min((length+hair)/float64(p.Module), 1000))
	for n > 0 && float64(p.Run(n)) > length+hair {
		n--
	}
	return max(n, 0)
}

// PanelLength returns how long a run on a wall, counted from 1, or under the ceiling, 0,
// may be, metres; 0 where there is no such wall.
func (r Room) PanelLength(wall int) float64 {
	poly := r.Polygon()
	if wall < 0 || wall > len(poly) || len(poly) < 3 {
		return 0
	}
	if wall == 0 {
		lo, hi := poly.Bounds()
		return hi.X - lo.X
	}
	a, b := poly.Edge(wall - 1)
	return math.Hypot(b.X-a.X, b.Y-a.Y)
}

// PanelPlace names what panels hang on: "left wall", "ceiling".
func (r Room) PanelPlace(wall int) string {
	if wall < 1 || wall > len(r.Footprint) {
		return "ceiling"
	}
	return r.WallName(wall)
}
