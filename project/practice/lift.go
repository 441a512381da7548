// SPDX-License-Identifier: MIT

package practice

import (
	"slices"
	"strings"
)

// retired is a rule of the first version of house standards that is no more.
type retired struct {
	Rule
	now  string                      // what stands in its place
	lift func(s *Standard, c Change) // puts it there
}

// retiredRules are the rules that files of version 1 may still name.
var retiredRules = map[string]retired{
	"height-angle": {Rule{ID: "height-angle", Unit: Degrees, Limits: between(30, 60)}, `elevation, layers "height"`,
		func(s *Standard, c Change) { s.liftHeights(Height, c) }},
	"height-angle-flush": {Rule{ID: "height-angle-flush", Unit: Degrees, Limits: between(15, 45)}, `elevation, layers "flush"`,
		func(s *Standard, c Change) { s.liftHeights(Flush, c) }},
	"c-value": {Rule{ID: "c-value", Unit: Metres}, "picture-whole and picture-margin; the C value is a number of the report",
		func(*Standard, Change) {}},
	"picture-angle-main": {Rule{ID: "picture-angle-main", Unit: Degrees}, "picture-heights-main",
		func(*Standard, Change) {}},
}

// lift puts what a file of version 1 says of retired rules where it belongs now.
func (s *Standard) lift() {
	for _, id := range sorted(retiredRules) {
		if c, ok := s.Changes[id]; ok {
			delete(s.Changes, id)
			retiredRules[id].lift(s, c)
		}
	}
}

// liftHeights turns angles from straight overhead into elevations of a layer.
func (s *Standard) liftHeights(layer Layer, c Change) {
	var l Limits
	if c.Max != nil {
		l.Min = ptr(90 - *c.Max)
	}
	if c.Min != nil {
		l.Max = ptr(90 - *c.Min)
	}
	if c.Off {
		l = between(-90, 90)
	}
	e := s.Changes["elevation"]
	if l == (Limits{}) || e.Off {
		return
	}
	layers := map[Layer]Limits{layer: l}
	for k, v := range e.Layers {
		layers[k] = v
	}
	e.Layers = layers
	if strings.TrimSpace(e.Reason) == "" {
		e.Reason = c.Reason
	}
	s.Changes["elevation"] = e
}

// inVersion1 reports whether readers of version 1 know the rule.
func inVersion1(id string) bool {
	return !slices.Contains([]string{"raise-spare", "front-height", "surround-interval", "gap", "behind-above", "picture-heights-main"}, id)
}
