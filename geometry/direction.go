// SPDX-License-Identifier: MIT

package geometry

import "math"

// Direction returns the unit vector of azimuth az and elevation el, in radians,
// as defined in the package comment (Rec. ITU-R BS.2051: 0 ahead, positive to
// the left and up).
func Direction(az, el float64) Vec {
	sa, ca := math.Sincos(az)
	se, ce := math.Sincos(el)
	return Vec{-ce * ca, -ce * sa, se}
}

// AzEl returns the azimuth in (-pi, pi] and the elevation in [-pi/2, pi/2] of
// the direction v, in radians. It is the inverse of Direction. ok is false when
// v has no direction. Straight up or down the azimuth is 0.
func AzEl(v Vec) (az, el float64, ok bool) {
	u, ok := v.Unit()
	if !ok {
		return 0, 0, false
	}
	h := math.Hypot(u.X, u.Y)
	el = math.Atan2(u.Z, h)
	if h < 1e-12 {
		return 0, el, true
	}
	az = math.Atan2(-u.Y, -u.X)
	if az == -math.Pi {
		az = math.Pi
	}
	return az, el, true
}

// Angle returns the angle between v and w in [0, pi], in radians; 0 when
// either has no direction.
func Angle(v, w Vec) float64 {
	c := v.Cross(w).Len()
	d := v.Dot(w)
	if c == 0 && d == 0 {
		return 0
	}
	return math.Atan2(c, d)
}

// Segment is the straight path from A to B.
type Segment struct{ A, B Vec }

// Len returns the length of s, in metres.
func (s Segment) Len() float64 { return s.A.Dist(s.B) }

// At returns the point at parameter t: A at 0, B at 1.
func (s Segment) At(t float64) Vec { return s.A.Lerp(s.B, t) }

// Across returns the angle, radians, under which a line 2 half long is seen from a point
// that is d in front of it and off its middle; NaN for a point not in front.
func Across(d, off, half float64) float64 {
	if !(d > 0) {
		return math.NaN()
	}
	return math.Atan((half-off)/d) + math.Atan((half+off)/d)
}
