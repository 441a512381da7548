// SPDX-License-Identifier: MIT

package practice

import "testing"

func TestARemarkIsFoundAgain(t *testing.T) {
	r := &Result{Remarks: []Remark{
		{Rule: "sight", Speakers: []int{1}, Seats: []int{4}},
		{Rule: "sight", Speakers: []int{2}, Seats: []int{4}},
		{Rule: "sight", Speakers: []int{2}, Seats: []int{5}},
		{Rule: "azimuth", Seats: []int{5}},
	}}
	for _, c := range []struct {
		name string
		m    Remark
		want int // -1: none
	}{
		{"the same places", Remark{Rule: "sight", Speakers: []int{2}, Seats: []int{5}}, 2},
		{"another seat is the worst now", Remark{Rule: "sight", Speakers: []int{2}, Seats: []int{9}}, 1},
		{"another loudspeaker", Remark{Rule: "sight", Speakers: []int{3}, Seats: []int{5}}, -1},
		{"about seats alone, and another one", Remark{Rule: "azimuth", Seats: []int{6}}, -1},
		{"its rule is off", Remark{Rule: "elevation", Speakers: []int{2}}, -1},
	} {
		got := r.Find(&c.m)
		if c.want < 0 && got != nil || c.want >= 0 && got != &r.Remarks[c.want] {
			t.Errorf("%s: found %+v", c.name, got)
		}
	}
	var none *Result
	if none.Find(&Remark{}) != nil {
		t.Error("found in nothing")
	}
}
