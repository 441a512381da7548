// SPDX-License-Identifier: MIT

package practice

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"earline/project"
	"earline/project/disk"
)

// Extension ends the name of a house standard's file.
const Extension = ".earline-rules"

// MaxSize is the size in bytes beyond which a house standard is refused.
const MaxSize = 1 << 20

// The first two fields of the file. A file has the lowest version that can hold what is
// in it: 2 is the first with limits by layer.
const (
	format  = "earline-rules"
	version = 2
	maxText = 1000 // characters of a name or a reason
)

// Standard is one of the standards that come with Earline, and a house's changes to
// it. The zero Standard is RaisedBed as shipped.
type Standard struct {
	// Base is the shipped standard; see For. It is the design's, and not kept in the
	// file of a house standard.
	Base    project.StandardName
	Name    string            // of the house standard; empty without one
	Changes map[string]Change // by rule ID
}

// Change is one rule changed: off, or with another limit at either end. An end
// that is nil stays as it is.
type Change struct {
	Off      bool
	Min, Max *float64 // in the unit of the rule
	// Layers are what is accepted by layer, of a rule that tells layers apart.
	Layers map[Layer]Limits
	Reason string
}

// Limits returns the ends that c sets for every layer.
func (c Change) Limits() Limits { return Limits{c.Min, c.Max} }

// byLayer are the rules whose limits may be set by layer.
func byLayer(rule string) bool { return rule == "elevation" }

// Limits returns the limits of rule under s.
func (s Standard) Limits(rule *Rule) Limits {
	l, c := rule.Limits, s.Changes[rule.ID]
	if c.Min != nil {
		l.Min = c.Min
	}
	if c.Max != nil {
		l.Max = c.Max
	}
	return l
}

// Validate returns an error that joins a *project.Fault for everything that
// makes no sense in s, or nil: unknown rules, changes without a reason, limits
// that are no numbers or leave nothing between them.
func (s Standard) Validate() error {
	var faults []error
	fault := func(field, found, allowed string) {
		faults = append(faults, &project.Fault{Field: field, Found: found, Allowed: allowed})
	}
	text := func(field, v string) {
		if !utf8.ValidString(v) || strings.ContainsFunc(v, unicode.IsControl) {
			fault(field, strconv.Quote(cut(v)), "text in UTF-8 without control characters")
		} else if n := utf8.RuneCountInString(v); n > maxText {
			fault(field, fmt.Sprintf("%d characters", n), fmt.Sprintf("at most %d", maxText))
		}
	}
	text("name", s.Name)
	for _, id := range sorted(s.Changes) {
		c, at := s.Changes[id], "rules."+plainName(id)
		rule, ok := Find(id)
		if !ok {
			fault(at, "unknown rule", ids())
			continue
		}
		text(at+".reason", c.Reason)
		if strings.TrimSpace(c.Reason) == "" {
			fault(at+".reason", "empty", "why the house does otherwise")
		}
		if c.Off == (c.Min != nil || c.Max != nil || len(c.Layers) > 0) {
			fault(at, "nothing to change", `"off": true, or a limit`)
			if c.Off {
				faults[len(faults)-1].(*project.Fault).Found = "off and with a limit"
			}
		}
		number := func(at string, l Limits) (ok bool) {
			ok = true
			for _, end := range [2]struct {
				name string
				v    *float64
			}{{"min_", l.Min}, {"max_", l.Max}} {
				if end.v != nil && !(math.Abs(*end.v) <= 1e6) { // beyond any room, and NaN
					fault(at+"."+end.name+string(rule.Unit), strconv.FormatFloat(*end.v, 'g', -1, 64), "-1000000 to 1000000")
					ok = false
				}
			}
			return ok
		}
		ordered := func(at string, l Limits) {
			if l.Min != nil && l.Max != nil && *l.Min > *l.Max {
				fault(at, fmt.Sprintf("a least of %g above a most of %g", *l.Min, *l.Max), "least no greater than most")
			}
		}
		if number(at, c.Limits()) {
			ordered(at, s.Limits(&rule))
		}
		if len(c.Layers) > 0 && !byLayer(id) {
			fault(at+".layers", "limits by layer", "limits of the whole rule")
			continue
		}
		for _, layer := range sorted(c.Layers) {
			l, at := c.Layers[layer], at+".layers."+plainName(string(layer))
			switch {
			case !isLayer(layer):
				fault(at, "unknown layer", layerNames())
			case l == Limits{}:
				fault(at, "nothing to change", "a limit")
			case number(at, l):
				ordered(at, s.Elevation(layer).Accepted.Limits)
			}
		}
	}
	return errors.Join(faults...)
}

func sorted[K ~string, V any](m map[K]V) []K {
	keys := make([]K, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// Encode returns the bytes of s's file: indented JSON, rules in alphabetical
// order, a line end after the last. The same standard gives the same bytes. Encode
// refuses what Validate refuses, with the same error.
func (s Standard) Encode() ([]byte, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	rules, lowest := map[string]map[string]any{}, 1
	for id, c := range s.Changes {
		rule, _ := Find(id)
		ends := func(m map[string]any, l Limits) map[string]any {
			if l.Min != nil {
				m["min_"+string(rule.Unit)] = *l.Min
			}
			if l.Max != nil {
				m["max_"+string(rule.Unit)] = *l.Max
			}
			return m
		}
		m := ends(map[string]any{"reason": c.Reason}, c.Limits())
		if c.Off {
			m["off"] = true
		}
		if len(c.Layers) > 0 {
			layers := map[Layer]any{}
			for layer, l := range c.Layers {
				layers[layer] = ends(map[string]any{}, l)
			}
			m["layers"], lowest = layers, 2
		}
		if !inVersion1(id) {
			lowest = 2
		}
		rules[id] = m
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(struct {
		Format  string                    `json:"format"`
		Version int                       `json:"version"`
		Name    string                    `json:"name"`
		Rules   map[string]map[string]any `json:"rules"`
	}{format, lowest, s.Name, rules})
	return b.Bytes(), err
}

// DecodeStandard reads a house standard from the bytes of a file; name is the
// file's name for messages. The error joins a *project.Fault for each thing
// wrong; unknown and doubled fields are refused. Limits are named with the unit
// of their rule: "max_deg".
func DecodeStandard(data []byte, name string) (Standard, error) {
	s, faults := decodeStandard(data)
	if len(faults) == 0 {
		faults = project.Faults(s.Validate())
	}
	if len(faults) == 0 {
		return s, nil
	}
	joined := make([]error, len(faults))
	for i, f := range faults {
		f.File = name
		joined[i] = f
	}
	return Standard{}, errors.Join(joined...)
}

func decodeStandard(data []byte) (s Standard, faults []*project.Fault) {
	fault := func(field, found, allowed string) {
		faults = append(faults, &project.Fault{Field: field, Found: found, Allowed: allowed})
	}
	if len(data) > MaxSize {
		fault("", "a file of over 1 MiB", "at most 1 MiB")
		return s, faults
	}
	if !utf8.Valid(data) {
		fault("", "bytes that are no text", "text in UTF-8")
		return s, faults
	}
	root, ok := members(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), "", fault)
	if !ok {
		return s, faults
	}
	var kind string
	var v int
	if raw, found := root.get("format"); !found || json.Unmarshal(raw, &kind) != nil || kind != format {
		fault("format", words(raw), strconv.Quote(format))
		return s, faults
	}
	if raw, found := root.get("version"); !found || json.Unmarshal(raw, &v) != nil || v < 1 || v > version {
		fault("version", words(raw), "1 or 2")
		return s, faults
	}
	root.only("", []string{"format", "version", "name", "rules"}, fault)
	root.fill("name", "name", "a text", &s.Name, fault)
	raw, found := root.get("rules")
	if !found {
		fault("rules", "missing", "an object")
		return s, faults
	}
	rules, ok := members(raw, "rules", fault)
	if !ok {
		return s, faults
	}
	rules.only("rules.", nil, fault)
	s.Changes = map[string]Change{}
	for _, r := range rules {
		at := "rules." + plainName(r.name)
		rule, known := Find(r.name)
		if was, retired := retiredRules[r.name]; retired {
			if v != 1 {
				fault(at, "a rule that is no more", was.now)
				continue
			}
			rule, known = was.Rule, true
		}
		if !known {
			fault(at, "unknown rule", ids())
			continue
		}
		fields, ok := members(r.value, at, fault)
		if !ok {
			continue
		}
		ends := endFields(rule.Unit)
		if v >= 2 && byLayer(rule.ID) {
			ends = append(ends, "layers")
		}
		fields.only(at+".", append([]string{"off"}, append(ends, "reason")...), fault)
		var c Change
		fields.fill("reason", at+".reason", "a text", &c.Reason, fault)
		if _, found := fields.get("off"); found {
			fields.fill("off", at+".off", "true or false", &c.Off, fault)
		}
		l := fields.limits(at, rule.Unit, fault)
		c.Min, c.Max = l.Min, l.Max
		if raw, found := fields.get("layers"); found && v >= 2 && byLayer(rule.ID) {
			c.Layers = decodeLayers(raw, at+".layers", rule.Unit, fault)
		}
		s.Changes[r.name] = c
	}
	if len(faults) == 0 && v == 1 {
		s.lift()
	}
	if len(s.Changes) == 0 {
		s.Changes = nil
	}
	return s, faults
}

// decodeLayers reads limits by layer.
func decodeLayers(data []byte, at string, of Unit, fault func(field, found, allowed string)) map[Layer]Limits {
	all, ok := members(data, at, fault)
	if !ok {
		return nil
	}
	all.only(at+".", nil, fault)
	out := map[Layer]Limits{}
	for _, m := range all {
		at := at + "." + plainName(m.name)
		if !isLayer(Layer(m.name)) {
			fault(at, "unknown layer", layerNames())
			continue
		}
		if fields, ok := members(m.value, at, fault); ok {
			fields.only(at+".", endFields(of), fault)
			out[Layer(m.name)] = fields.limits(at, of, fault)
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

func layerNames() string {
	var names []string
	for _, l := range Layers() {
		names = append(names, string(l))
	}
	return strings.Join(names, ", ")
}

// endFields names the ends of limits in a unit.
func endFields(of Unit) []string { return []string{"min_" + string(of), "max_" + string(of)} }

// limits reads the ends of limits.
func (o object) limits(at string, of Unit, fault func(field, found, allowed string)) (l Limits) {
	names := endFields(of)
	for i, to := range [2]**float64{&l.Min, &l.Max} {
		if _, found := o.get(names[i]); found {
			*to = new(float64)
			o.fill(names[i], at+"."+names[i], "a number", *to, fault)
		}
	}
	return l
}

// object is a JSON object: its members in order, doubled ones too.
type object []struct {
	name  string
	value json.RawMessage
}

// members splits the object in data into its members.
func members(data []byte, field string, fault func(field, found, allowed string)) (object, bool) {
	var whole json.RawMessage
	if err := json.Unmarshal(data, &whole); err != nil {
		at := len(data)
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) && !strings.HasPrefix(syntax.Error(), "unexpected end") {
			at = min(max(int(syntax.Offset)-1, 0), len(data))
		}
		before := data[:at]
		line := bytes.Count(before, []byte("\n")) + 1
		column := utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:]) + 1
		fault(fmt.Sprintf("line %d column %d", line, column), strings.TrimPrefix(err.Error(), "json: "), "JSON")
		return nil, false
	}
	d := json.NewDecoder(bytes.NewReader(data))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		fault(field, words(data), "an object")
		return nil, false
	}
	var out object
	for d.More() {
		t, err := d.Token()
		name, _ := t.(string)
		var value json.RawMessage
		if err == nil {
			err = d.Decode(&value)
		}
		if err != nil {
			fault(field, err.Error(), "JSON")
			return nil, false
		}
		out = append(out, struct {
			name  string
			value json.RawMessage
		}{name, value})
	}
	return out, true
}

// get returns the first member of that name.
func (o object) get(name string) (json.RawMessage, bool) {
	for _, m := range o {
		if m.name == name {
			return m.value, true
		}
	}
	return nil, false
}

// only faults doubled members and, unless known is nil, unknown ones.
func (o object) only(prefix string, known []string, fault func(field, found, allowed string)) {
	seen := map[string]bool{}
	for _, m := range o {
		if known != nil && !slices.Contains(known, m.name) {
			fault(prefix+plainName(m.name), "unknown field", strings.Join(known, ", "))
		} else if seen[m.name] {
			fault(prefix+plainName(m.name), "field given twice", "once")
		}
		seen[m.name] = true
	}
}

// fill sets to from the member of that name.
func (o object) fill(name, field, kind string, to any, fault func(field, found, allowed string)) {
	raw, ok := o.get(name)
	// null would leave to as it is.
	if !ok || string(raw) == "null" || json.Unmarshal(raw, to) != nil {
		fault(field, words(raw), kind)
	}
}

// words says what a JSON value is, for a message of one line.
func words(raw []byte) string {
	raw = bytes.TrimSpace(raw)
	switch {
	case len(raw) == 0:
		return "missing"
	case raw[0] == '{':
		return "an object"
	case raw[0] == '[':
		return "a list"
	}
	return cut(string(raw))
}

// cut returns s short enough for a message.
func cut(s string) string {
	if len(s) > 60 {
		s = strings.ToValidUTF8(s[:60], "") + "…"
	}
	return s
}

// plainName returns a name as it can stand in a path of one line.
func plainName(name string) string {
	quoted := strconv.Quote(cut(name))
	if quoted == `"`+name+`"` && name != "" && !strings.ContainsAny(name, ". []") {
		return name
	}
	return quoted
}

// ReadStandard reads the house standard in the file at path. Errors of the
// content are those of DecodeStandard, under the file's base name; errors of the
// disk wrap fs errors.
func ReadStandard(path string) (Standard, error) {
	data, err := disk.Read(path, MaxSize)
	if err != nil {
		return Standard{}, err
	}
	return DecodeStandard(data, filepath.Base(path))
}

// WriteStandard writes s to the file at path as disk.Replace does.
func WriteStandard(path string, s Standard) error {
	data, err := s.Encode()
	if err != nil {
		return err
	}
	return disk.Replace(path, data)
}
