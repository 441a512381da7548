// SPDX-License-Identifier: MIT

package inspector

import (
	"strings"
	"testing"
)

func TestAMeasuredTimeIsEnteredSteppedAndTakenOut(t *testing.T) {
	b := newBench(t, "small")
	line := b.line(t, measuredGroup, "63 Hz")
	now := func() float64 { return b.Design().Measured.Time(63) }
	enter(line, "0.45")
	if now() != 0.45 {
		t.Errorf("%v s", now())
	}
	enter(line, "450 ms")
	if now() != 0.45 || line.Fault() == "" {
		t.Errorf("450 ms: %v s, %q", now(), line.Fault())
	}
	enter(line, "450")
	if now() != 0.45 || !strings.Contains(line.Fault(), "0.05 s to 20 s") {
		t.Errorf("450: %v s, %q", now(), line.Fault())
	}
	enter(b.line(t, measuredGroup, "31.5 Hz"), "1.2 s")
	if d := b.Design().Measured.Decay; len(d) != 2 || d[0].Hz != 31.5 {
		t.Errorf("%+v", d)
	}
	enter(line, "")
	if now() != 0 || len(b.Design().Measured.Decay) != 1 {
		t.Errorf("%+v", b.Design().Measured)
	}
	day := b.line(t, measuredGroup, "Measured on")
	enter(day, "yesterday")
	if b.Design().Measured.On != "" || !strings.Contains(day.Fault(), "a date") {
		t.Errorf("%q, %q", b.Design().Measured.On, day.Fault())
	}
	enter(day, "2026-11-29")
	if b.Design().Measured.On != "2026-11-29" {
		t.Error(b.Design().Measured.On)
	}
}
