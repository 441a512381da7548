// SPDX-License-Identifier: MIT

package diff

import "reflect"

// lesson compares what is to be mended.
func (c *comparer) lesson() {
	if !reflect.DeepEqual(c.was.Lesson, c.is.Lesson) {
		c.one(Document, "lesson", "lesson:")
		c.words("", "it is another lesson")
	}
}
