// SPDX-License-Identifier: MIT

package place

import (
	"slices"

	"earline/project"
)

// child is what children of an age measure in the middle, boys and girls together, in
// millimetres; head is how large the head is against a woman's.
type child struct {
	age              int // years
	sitting, stature float64
	head             float64
}

// children are rounded to 10 mm and from memory: statures as of the growth charts of the
// US Centers for Disease Control (2000), sitting heights as of R. G. Snyder and others,
// Anthropometry of infants, children and youths to age 18 for product safety design
// (UM-HSRI-77-17, 1977), heads by their circumference. They say how far below the smallest
// adults a child sits, and not more.
var children = []child{
	{6, 630, 1150, 0.94},
	{8, 690, 1280, 0.96},
	{10, 730, 1380, 0.97},
	{12, 780, 1500, 0.98},
}

// ChildAges returns the ages, in years, of the children that can be seated, the youngest
// first. They sit as adults do, without a cushion under them.
func ChildAges() []int {
	ages := make([]int, len(children))
	for i, c := range children {
		ages[i] = c.age
	}
	return ages
}

// Child returns a child of an age in the middle of its age, for d; ok is false for an age
// that is not of ChildAges. What is not known of children is as of a woman, as much smaller
// as the child is.
func Child(d *project.Design, age int) (p Person, ok bool) {
	i := slices.IndexFunc(children, func(c child) bool { return c.age == age })
	if i < 0 {
		return Person{}, false
	}
	c := children[i]
	woman := func(b bodySize) float64 { return b.at(50, 1) }
	head := func(b bodySize) float64 { return c.head * woman(b) }
	limb := func(b bodySize) float64 { return c.stature / 1000 / woman(stature) * woman(b) }
	sitting := c.sitting / 1000
	above := c.head * (woman(sittingHeight) - woman(tragionHeight))
	return Person{
		sitting: sitting, eye: sitting - c.head*(woman(sittingHeight)-woman(eyeHeight)), ear: sitting - above, above: above,
		breadth: head(headBreadth), length: head(headLength), pupils: head(pupilDistance),
		shoulders: limb(shoulderBreadth), hips: limb(hipBreadth),
		stature: c.stature / 1000,
		thigh:   limb(buttockKnee), shank: limb(kneeHeight),
		slump: float64(d.Seating.Sitters.Slump), sink: float64(d.Seating.Sitters.Sink),
	}, true
}
