// SPDX-License-Identifier: MIT

package file

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"earline/geometry/unit"
	"earline/project"
)

// Format is the first field of a file that Encode writes. The second is the lowest
// version that has all that is in it; Version is the highest.
const (
	Format  = "earline"
	Version = 2
)

// MaxSize is the size in bytes beyond which a file is refused unread, and not
// written. The largest design that Validate accepts fits in it.
const MaxSize = 48 << 20

// maxValues is how many values and field names a file may have. The largest
// design has two thirds of it; a file made of nothing else would take gigabytes.
const maxValues = 2_000_000

// maxFaults is how many faults are listed before the rest are only counted.
const maxFaults = 100

// document is the file, in the order of its fields.
type document struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
	project.Design
}

// Decode reads a design from the bytes of a file; name is the file's name for
// messages. The error joins a *project.Fault for each thing wrong. On error the
// design is nil.
func Decode(data []byte, name string) (*project.Design, error) {
	return decode(data, name, Version, migrations)
}

func decode(data []byte, name string, version int, steps []migration) (*project.Design, error) {
	r, err := decodeRecovery(data, name, version, steps)
	return r.Design, err
}

// decodeRecovery is decode, with what a recovery copy says more. On error there is
// no design.
func decodeRecovery(data []byte, name string, version int, steps []migration) (Recovery, error) {
	if len(data) > MaxSize {
		return Recovery{}, tooLarge(name)
	}
	root, fault := parse(data)
	root, r := takeRecovery(root)
	if fault == nil {
		root, fault = migrate(root, version, steps)
	}
	if fault != nil {
		fault.File = name
		return r, fault
	}
	var doc document
	b := builder{file: name}
	b.build(reflect.ValueOf(&doc).Elem(), root, "")
	if b.more == 0 && len(b.faults) == 0 {
		for _, f := range project.Faults(doc.Design.Validate()) {
			b.add(f.Field, f.Found, f.Allowed)
		}
		for _, f := range doc.Design.SharedIDs() {
			b.add(f.Field, f.Found, f.Allowed)
		}
		for _, f := range doc.Design.GoneMeasured() {
			b.add(f.Field, f.Found, f.Allowed)
		}
		for _, f := range doc.Design.GoneViewpoints() {
			b.add(f.Field, f.Found, f.Allowed)
		}
		if f := knownSystems(&doc.Design); f != nil {
			b.add(f.Field, f.Found, f.Allowed)
		}
	}
	if len(b.faults) > 0 {
		if b.more > 0 {
			b.faults = append(b.faults, &project.Fault{File: name, Found: fmt.Sprintf("%d faults more", b.more)})
		}
		return r, errors.Join(b.faults...)
	}
	for i := range doc.Design.Variants {
		doc.Design.Variants[i].Identify()
	}
	doc.Design.Identify()
	r.Design = &doc.Design
	return r, nil
}

// tooLarge is the fault of a file of more than MaxSize.
func tooLarge(name string) *project.Fault {
	const size = MaxSize >> 20
	return &project.Fault{File: name, Found: fmt.Sprintf("a file of over %d MiB", size), Allowed: fmt.Sprintf("at most %d MiB", size)}
}

// builder fills Go values from nodes and gathers what does not fit.
type builder struct {
	file   string
	faults []error
	more   int
}

func (b *builder) add(field, found, allowed string) {
	if len(b.faults) >= maxFaults {
		b.more++
		return
	}
	b.faults = append(b.faults, &project.Fault{File: b.file, Field: field, Found: found, Allowed: allowed})
}

// build sets v, whose type is one that the document is made of, to n, which
// stands at path.
func (b *builder) build(v reflect.Value, n node, path string) {
	if u, ok := v.Addr().Interface().(*unit.Length); ok {
		b.length(u, n, path)
		return
	}
	switch v.Kind() {
	case reflect.Pointer: // what may be known or not
		v.Set(reflect.New(v.Type().Elem()))
		b.build(v.Elem(), n, path)
	case reflect.Struct:
		b.object(v, n, path)
	case reflect.Slice:
		list, ok := n.value.([]node)
		if !ok {
			b.add(path, n.words(), "a list")
			return
		}
		if len(list) == 0 {
			return // nil, whether it was left out or empty
		}
		const longest = 10_000 // far beyond the limits of Validate, whose words are better
		if len(list) > longest {
			b.add(path, fmt.Sprintf("%d entries", len(list)), fmt.Sprintf("at most %d", longest))
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), len(list), len(list)))
		for i, e := range list {
			b.build(v.Index(i), e, fmt.Sprintf("%s[%d]", path, i))
		}
	case reflect.String:
		if s, ok := n.value.(string); ok {
			v.SetString(s)
		} else {
			b.add(path, n.words(), "a text")
		}
	case reflect.Bool:
		if t, ok := n.value.(bool); ok {
			v.SetBool(t)
		} else {
			b.add(path, n.words(), "true or false")
		}
	case reflect.Int:
		number, _ := n.value.(json.Number)
		if i, err := strconv.Atoi(number.String()); err == nil {
			v.SetInt(int64(i))
		} else {
			b.add(path, n.words(), "a whole number")
		}
	case reflect.Float64:
		number, _ := n.value.(json.Number)
		if f, err := number.Float64(); err == nil && !math.IsInf(f, 0) {
			v.SetFloat(f)
		} else {
			b.add(path, n.words(), "a number")
		}
	default:
		b.add(path, n.words(), "nothing") // no field of a Design is of such a type
	}
}

func (b *builder) length(v *unit.Length, n node, path string) {
	var err error
	switch value := n.value.(type) {
	case json.Number:
		err = v.UnmarshalJSON([]byte(value))
	case string:
		*v, err = unit.ParseLength(value, 0)
	default:
		b.add(path, n.words(), "a number of metres, or a length such as \"2400 mm\" or \"7' 10 1/2\\\"\"")
		return
	}
	var p *unit.ParseError
	if errors.As(err, &p) {
		b.add(path, p.Found, p.Allowed)
	} else if err != nil {
		b.add(path, n.words(), err.Error())
	}
}

func (b *builder) object(v reflect.Value, n node, path string) {
	members, ok := n.value.([]member)
	if !ok {
		b.add(path, n.words(), "an object")
		return
	}
	fields := fieldsOf(v)
	prefix := path
	if path != "" {
		prefix += "."
	}
	seen := map[string]bool{}
	for _, m := range members {
		i := slices.IndexFunc(fields, func(f field) bool { return f.name == m.name })
		switch {
		case i < 0:
			names := make([]string, len(fields))
			for k, f := range fields {
				names[k] = f.name
			}
			b.add(prefix+plainName(m.name), "unknown field", strings.Join(names, ", "))
		case seen[m.name]:
			b.add(prefix+m.name, "field given twice", "once")
		default:
			b.build(fields[i].value, m.value, prefix+m.name)
		}
		seen[m.name] = true
	}
	for _, f := range fields {
		if f.required && !seen[f.name] {
			b.add(prefix+f.name, "missing", kindWords(f.value))
		}
	}
}

// field is a field of an object of the file.
type field struct {
	name     string
	required bool // not left out when zero
	value    reflect.Value
}

// fieldsOf returns the fields of the struct v in the order of the file, those
// of an embedded struct as its own.
func fieldsOf(v reflect.Value) []field {
	var fields []field
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.Anonymous {
			fields = append(fields, fieldsOf(v.Field(i))...)
			continue
		}
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		fields = append(fields, field{name, !strings.Contains(options, "omit"), v.Field(i)})
	}
	return fields
}

func kindWords(v reflect.Value) string {
	if v.Type() == reflect.TypeFor[unit.Length]() {
		return "a length"
	}
	switch v.Kind() {
	case reflect.Struct:
		return "an object"
	case reflect.Slice:
		return "a list"
	case reflect.Bool:
		return "true or false"
	case reflect.Int:
		return "a whole number"
	case reflect.Float64:
		return "a number"
	}
	return "a text"
}

// plainName returns a field name as it can stand in a path of one line.
func plainName(name string) string {
	quoted := strconv.Quote(cut(name))
	if quoted == `"`+name+`"` && name != "" && !strings.ContainsAny(name, ". []") {
		return name
	}
	return quoted
}
