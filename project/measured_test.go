// SPDX-License-Identifier: MIT

package project_test

import (
	"math"
	"strings"
	"testing"

	"earline/project"
	"earline/project/projecttest"
)

func TestMeasuredTimesThatCannotBeAreRefusedByNameAndWithTheNearestThird(t *testing.T) {
	at := func(hz, s float64) project.MeasuredSound {
		return project.MeasuredSound{Decay: []project.ThirdTime{{Hz: hz, Time: s}}}
	}
	for want, m := range map[string]project.MeasuredSound{
		`measured.measured_on: "tomorrow", allowed: a date, such as 2026-11-29`:                                  {On: "tomorrow"},
		"measured.decay[0].hz: 26 Hz, allowed: the nominal middle of a third of an octave; the nearest is 25 Hz": at(26, 1),
		"measured.decay[0].hz: 12.5 Hz, allowed: 16 Hz to 10000 Hz":                                              at(12.5, 1),
		"measured.decay[0].hz: not a number, allowed: 16 Hz to 10000 Hz":                                         at(math.NaN(), 1),
		"measured.decay[0].t60_s: 350 s, allowed: 0.05 s to 20 s":                                                at(63, 350),
		"measured.decay[0].t60_s: -1 s, allowed: 0.05 s to 20 s":                                                 at(63, -1),
		"measured.decay[1].hz: 50 Hz, allowed: more than the third before, 63 Hz":                                {Decay: []project.ThirdTime{{Hz: 63, Time: 1}, {Hz: 50, Time: 1}}},
		"measured.decay[1].hz: 63 Hz, allowed: more than the third before, 63 Hz":                                {Decay: []project.ThirdTime{{Hz: 63, Time: 1}, {Hz: 63, Time: 1}}},
		"measured.decay: 30 entries, allowed: 0 to 29":                                                           {Decay: make([]project.ThirdTime, 30)},
		"measured.noise_db: 8 entries, allowed: 9, for the octaves 31.5 Hz to 8 kHz, or none":                    {Noise: make([]float64, 8)},
		"measured.noise_db[1]: 300 dB, allowed: -10 dB to 120 dB":                                                {Noise: []float64{30, 300, 30, 30, 30, 30, 30, 30, 30}},
	} {
		d := projecttest.Room(1).Clone()
		d.Measured = m
		if err := d.Validate(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

func TestMeasuredTimesOfACopyAreItsOwn(t *testing.T) {
	d := projecttest.Room(1).Clone()
	for _, hz := range project.Thirds() {
		d.Measured.Decay = append(d.Measured.Decay, project.ThirdTime{Hz: hz, Time: 0.4})
	}
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	d.Clone().Measured.Decay[0].Time = 9
	if d.Measured.Decay[0].Time != 0.4 {
		t.Error("the copy's times are the original's")
	}
}
