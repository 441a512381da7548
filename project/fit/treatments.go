// SPDX-License-Identifier: MIT

package fit

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/panel"
	"earline/project/place"
)

// treatments finds panels that are larger than what carries them, and panels
// over a flush loudspeaker, a door or a window.
func (f *finder) treatments() {
	all := panel.Treatments(f.d)
	if len(all) == 0 {
		return
	}
	placed := place.Speakers(f.d)
	for i, t := range all {
		field, where := fmt.Sprintf("room.treatments[%d]", i), t.Name
		if i >= len(f.d.Room.Treatments) {
			field = "panels"
		}
		if where == "" {
			where = fmt.Sprintf("treatment %d", i+1)
		}
		if t.Wall == 0 {
			f.overhead(field, where, t, placed)
			continue
		}
		if t.Wall < 1 || t.Wall > len(f.poly) {
			continue // Validate says so
		}
		a, b := f.poly.Edge(t.Wall - 1)
		long := a.Dist(b)
		if !(long > 0) {
			continue
		}
		along, in := b.Sub(a).Mul(1/long), f.poly.InwardNormal(t.Wall-1)
		if over := float64(t.To) - long; over > touchTol {
			f.add(field+".to_m", where, "reaches %s beyond the end of the %s", f.show(over), f.d.Room.WallName(t.Wall))
		}
		over := 0.0
		for _, u := range [2]float64{float64(t.From), math.Min(float64(t.To), long)} {
			q := a.Add(along.Mul(u))
			over = math.Max(over, f.overCeiling(geometry.Vec{X: q.X, Y: q.Y, Z: float64(t.High)}))
		}
		if over > touchTol {
			f.add(field+".high_m", where, "reaches %s above the ceiling", f.show(over))
		}
		// on returns where p is along the wall and how far off it.
		on := func(p geometry.Vec) (u, off float64) {
			v := geometry.Vec2{X: p.X, Y: p.Y}.Sub(a)
			return v.Dot(along), v.Dot(in)
		}
		for _, l := range placed {
			at := l.At.Vec()
			if u, off := on(at); l.Spec.Flush && l.Mount == project.OnWall && math.Abs(off) <= flushSlack &&
				u > float64(t.From) && u < float64(t.To) && at.Z > float64(t.Low) && at.Z < float64(t.High) {
				f.add(field, where, "covers %s", l.Name())
			}
		}
		for _, ft := range f.d.Room.Features {
			if !opening(ft.Kind) {
				continue
			}
			lo, hi, near := math.Inf(1), math.Inf(-1), false
			for _, p := range corners(ft.Box()) {
				u, off := on(p)
				lo, hi, near = math.Min(lo, u), math.Max(hi, u), near || math.Abs(off) <= openingDepth
			}
			if near && math.Min(hi, float64(t.To))-math.Max(lo, float64(t.From)) > touchTol &&
				math.Min(float64(ft.At.Z+ft.Height), float64(t.High))-math.Max(float64(ft.At.Z), float64(t.Low)) > touchTol {
				f.add(field, where, "covers the %s", ft.Words())
			}
		}
	}
}

// overhead is treatments for one under the ceiling.
func (f *finder) overhead(field, where string, t project.Treatment, placed []place.Speaker) {
	out := 0.0
	for _, x := range [2]float64{float64(t.From), float64(t.To)} {
		for _, y := range [2]float64{float64(t.Low), float64(t.High)} {
			out = math.Max(out, f.outside(geometry.Vec{X: x, Y: y}))
		}
	}
	if out > touchTol {
		f.add(field, where, "reaches %s outside the room", f.show(out))
	}
	within := func(p geometry.Vec) bool {
		return p.X > float64(t.From) && p.X < float64(t.To) && p.Y > float64(t.Low) && p.Y < float64(t.High)
	}
	for _, l := range placed {
		if l.Spec.Flush && l.Mount == project.OnCeiling && within(l.At.Vec()) {
			f.add(field, where, "covers %s", l.Name())
		}
	}
	for _, ft := range f.d.Room.Features {
		at := ft.At.Vec()
		if top := at.Add(geometry.Vec{Z: float64(ft.Height)}); fitting(ft.Kind) && within(at) && f.overCeiling(top) > -touchTol {
			f.add(field, where, "covers the %s", ft.Words())
		}
	}
}
