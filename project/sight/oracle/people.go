// SPDX-License-Identifier: MIT

package oracle

import "math"

// survey is one size of the body in millimetres at percentiles 1, 5, 50, 95 and
// 99, of men and of women.
type survey struct{ men, women [5]float64 }

// ANSUR II, US Army survey of 2012 (report NATICK/TR-15/007), percentiles of the
// public data, 4082 men and 1986 women, sitting erect: copied by hand from the
// table of that data, not from package project.
var ansur = struct{ sitting, eye, ear, crown, breadth, length, pupils, shoulders survey }{
	sitting:   survey{[5]float64{835.8, 860.0, 918.0, 977.0, 1001.2}, [5]float64{784.0, 803.0, 857.0, 912.0, 932.2}},
	eye:       survey{[5]float64{728.0, 750.0, 804.0, 860.0, 883.0}, [5]float64{681.0, 698.0, 748.0, 799.0, 816.0}},
	ear:       survey{[5]float64{706.0, 731.0, 786.0, 845.0, 869.0}, [5]float64{660.9, 677.0, 730.0, 784.8, 804.2}},
	crown:     survey{[5]float64{116.0, 121.0, 131.0, 141.0, 145.0}, [5]float64{110.0, 116.0, 127.0, 137.0, 142.0}}, // above the ear
	breadth:   survey{[5]float64{142.0, 146.0, 154.0, 163.0, 168.0}, [5]float64{136.0, 140.0, 147.0, 156.0, 160.0}},
	length:    survey{[5]float64{182.0, 188.0, 200.0, 211.0, 215.0}, [5]float64{171.8, 178.0, 190.0, 202.0, 208.0}},
	pupils:    survey{[5]float64{56.0, 58.5, 64.0, 70.0, 72.5}, [5]float64{53.5, 55.5, 62.0, 67.5, 70.5}},
	shoulders: survey{[5]float64{439.0, 459.0, 509.0, 567.0, 593.0}, [5]float64{388.0, 406.0, 450.0, 499.0, 522.0}},
}

// scores are those of the standard normal distribution at the percentiles of a
// survey (Abramowitz and Stegun, table 26.5).
var scores = [5]float64{-2.326348, -1.644854, 0, 1.644854, 2.326348}

// below returns which share of people is smaller than mm: straight between the
// survey's percentiles on a scale of normal scores, and on beyond the last two.
func below(of [5]float64, mm float64) float64 {
	i := 1
	for i < 4 && mm > of[i] {
		i++
	}
	z := scores[i-1] + (scores[i]-scores[i-1])*(mm-of[i-1])/(of[i]-of[i-1])
	return 0.5 * (1 + math.Erf(z/math.Sqrt2))
}

// at returns the size, in metres, at a percentile of a mix of which women is the
// share of women: that of which the mix has so many smaller, by halving.
func (s survey) at(percentile, women float64) float64 {
	lo, hi := 0.0, 3000.0 // mm
	for hi-lo > 1e-9 {
		mid := (lo + hi) / 2
		if mid <= lo || mid >= hi {
			break
		}
		if (1-women)*below(s.men, mid)+women*below(s.women, mid) < percentile/100 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2 / 1000
}

// person is one size of body, erect, in metres above the loaded seat; crown is
// above the ear.
type person struct{ sitting, eye, ear, crown, breadth, length, pupils, shoulders float64 }

func personAt(percentile, women float64) person {
	p := person{
		sitting: ansur.sitting.at(percentile, women), eye: ansur.eye.at(percentile, women),
		ear: ansur.ear.at(percentile, women), breadth: ansur.breadth.at(percentile, women),
		length: ansur.length.at(percentile, women), pupils: ansur.pupils.at(percentile, women),
		shoulders: ansur.shoulders.at(percentile, women),
	}
	p.crown = p.sitting - p.ear
	return p
}

// body is a person in a chair.
type body struct {
	ears  [2]Vec   // left, right
	eye   Vec      // between the eyes
	parts [3]Solid // head, neck, shoulders
}

// seated seats p. The frame loaded is the chair's where the back's plane meets
// the loaded pan: x back, y right, z up.
//
// Erect, the hip's joint is 130 mm before the back and 90 mm above the pan, the
// ear 110 mm before the back, the top of the spine 90 mm under the ear and 20 mm
// behind it, the shoulders' middle 30 mm behind the line straight up from the
// hip and, with their half height of 110 mm, topped at 0.66 of the height
// sitting. The relaxed sitter slumps. The trunk leans back about the hip; the
// head goes with the top of the spine and stays level, up to 30 degrees. The eyes are 80 mm before
// the ears. Beyond 30 degrees, in a chair with a headrest, the head lies down on
// it: see lying. The head is an ellipsoid over the ears that ends at the crown and is
// 1.77 times as high as the crown is above the ears. The neck, 60 mm in radius,
// runs from the shoulders' middle to between the ears and 20 mm beyond both.
// These proportions are package place's (see body.go there), without source.
func seated(p person, slump float64, c chair, floor, loaded frame, recline float64) body {
	hip := frame{loaded.point(Vec{X: -0.13, Z: 0.09}), loaded.axes.after(tip(recline))}
	spine := hip.point(Vec{X: -0.11 + 0.02 + 0.13, Z: p.ear - slump - 0.09 - 0.09})
	shoulders := frame{hip.point(Vec{X: 0.03, Z: 0.66*p.sitting - slump - 0.11 - 0.09}), hip.axes}

	// The head's frame has its origin between the ears.
	half := 1.77 * p.crown / 2
	ears := frame{Vec{X: -0.02, Z: 0.09}, turn(0)}
	head := frame{spine, loaded.axes}.within(ears) // level
	if w := lying(recline); w > 0 && c.Headrest > 0 {
		// Lying, it is tipped about the top of the spine as the headrest is, and
		// carried back, square to the headrest, until it meets the face of the
		// headrest or that of the back, wherever they end. Before, a share of both.
		back := frame{floor.point(Vec{Z: c.PanHeight}), floor.axes.after(tip(recline))}
		rest := frame{back.point(Vec{Z: c.BackHeight}), floor.axes.after(tip(recline / 2))}
		at := frame{spine, rest.axes}.within(ears)
		skull := ellipsoid("head", frame{at.point(Vec{Z: p.crown - half}), at.axes}, p.length/2, p.breadth/2, half)
		square := rest.axes[0]
		far := math.Inf(1)
		for _, n := range []Vec{square, back.axes[0]} {
			far = min(far, (n.dot(rest.at)-skull.Support(n))/n.dot(square))
		}
		spine = spine.add(square.times(w * far))
		head = frame{spine, loaded.axes.after(tip(w * recline / 2))}.within(ears)
	}
	b := body{
		ears: [2]Vec{head.point(Vec{Y: -p.breadth / 2}), head.point(Vec{Y: p.breadth / 2})},
		eye:  head.point(Vec{X: -0.08, Z: p.eye - p.ear}),
	}
	up := head.at.sub(shoulders.at)
	neck := frame{shoulders.at.to(head.at, 0.5), Matrix{1: loaded.axes[1], 2: up.unit()}}
	neck.axes[0] = neck.axes[1].cross(neck.axes[2])
	b.parts = [3]Solid{
		ellipsoid("head", frame{head.point(Vec{Z: p.crown - half}), head.axes}, p.length/2, p.breadth/2, half),
		ellipsoid("neck", neck, 0.06, 0.06, up.len()/2+0.02),
		ellipsoid("shoulders", shoulders, 0.11, p.shoulders/2, 0.11),
	}
	return b
}

// lying is how far a head has gone over from level, 0, to lying on the headrest,
// 1, at a recline: smoothly, from 30 to 35 degrees.
func lying(recline float64) float64 {
	t := min(max((recline-rad(30))/rad(5), 0), 1)
	return t * t * (3 - 2*t)
}
