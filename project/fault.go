// SPDX-License-Identifier: MIT

package project

import (
	"errors"
	"strings"
)

// Fault is one reason why a design cannot be used: one line that says where,
// what was found and what is allowed.
type Fault struct {
	File string // empty for a design that is in no file
	// Field is the path of the field as the file names it, list entries counted
	// from 0: "seating.rows[1].riser_m". For text that is no JSON it is the
	// place, "line 3 column 14".
	Field   string
	Found   string
	Allowed string // may be empty
}

// Error returns "FILE: FIELD: FOUND, allowed: ALLOWED", without what is empty.
func (f *Fault) Error() string {
	var b strings.Builder
	for _, s := range []string{f.File, f.Field} {
		if s != "" {
			b.WriteString(s)
			b.WriteString(": ")
		}
	}
	b.WriteString(f.Found)
	if f.Allowed != "" {
		b.WriteString(", allowed: ")
		b.WriteString(f.Allowed)
	}
	return b.String()
}

// Faults returns every Fault in the tree of err, in order.
func Faults(err error) []*Fault {
	var f *Fault
	switch e := err.(type) {
	case nil:
		return nil
	case *Fault:
		return []*Fault{e}
	case interface{ Unwrap() []error }:
		var all []*Fault
		for _, sub := range e.Unwrap() {
			all = append(all, Faults(sub)...)
		}
		return all
	}
	if errors.As(err, &f) {
		return []*Fault{f}
	}
	return nil
}
