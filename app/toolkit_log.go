// SPDX-License-Identifier: MIT

package app

import (
	"bytes"
	"io"
)

// toolkitLog passes on what Fyne logs, line by line, without what is no fault: that a
// home has no folder for videos.
type toolkitLog struct {
	to   io.Writer
	skip bool // the lines that belong to the one left out
}

// Write implements io.Writer; the log package hands over whole lines.
func (l *toolkitLog) Write(line []byte) (int, error) {
	more := bytes.Contains(line, []byte("  Cause: ")) || bytes.Contains(line, []byte("  At: "))
	l.skip = bytes.Contains(line, []byte("Getting favorite locations")) || l.skip && more
	if l.skip {
		return len(line), nil
	}
	return l.to.Write(line)
}
