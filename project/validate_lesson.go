// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"strconv"
)

// lesson checks what is to be mended.
func (c *checker) lesson(l Lesson) {
	if !l.Given() {
		return
	}
	if l.Made() && l.ByTrainer() {
		c.fault("lesson", "a seed and a trainer's faults", "one of the two")
		return
	}
	if l.Made() {
		if f := l.Fault(); f != nil {
			c.fault(f.Field, f.Found, f.Allowed)
		}
		return
	}
	const most = 100 // causes of one room
	causes := func(field string, all []LessonCause, least int) {
		for i := range c.count(field, len(all), least, most) {
			at := fmt.Sprintf("%s[%d]", field, i)
			if all[i].Cause == "" {
				c.fault(at+".cause", "nothing", "the name of a cause")
			}
			c.text(at+".cause", all[i].Cause, maxName)
			c.text(at+".subject", all[i].Subject, maxName)
			c.text(at+".text", all[i].Text, maxNotes)
			c.text(at+".rule", all[i].Rule, maxName)
			c.text(at+".cure", all[i].Cure, maxNotes)
			oneOf(c, at+".severity", all[i].Severity, "must", "should")
			c.between(at+".harm", all[i].Harm, 0, 1e9, "")
		}
	}
	causes("lesson.faults", l.Faults, 1)
	causes("lesson.allowed", l.Allowed, 0)
	whole := func(field string, v, hi int) {
		if v < 1 || v > hi {
			c.fault(field, strconv.Itoa(v), fmt.Sprintf("1 to %d", hi))
		}
	}
	whole("lesson.seats", l.Seats, 10000)
	whole("lesson.loudspeakers", l.Loudspeakers, 64)
}
