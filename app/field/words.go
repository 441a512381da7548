// SPDX-License-Identifier: MIT

package field

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"earline/geometry/unit"
	"earline/project"
)

// OneLine returns err as one line in words for the window: the first of several.
func OneLine(err error) string {
	var many interface{ Unwrap() []error }
	if errors.As(err, &many) && len(many.Unwrap()) > 0 {
		err = many.Unwrap()[0]
	}
	var unread *unit.ParseError
	if errors.As(err, &unread) {
		if unread.Found == `""` {
			return "Nothing is written. Possible: " + unread.Allowed
		}
		return unread.Found + " cannot be read. Possible: " + unread.Allowed
	}
	var fault *project.Fault
	if errors.As(err, &fault) {
		words := fault.Found + " is not possible here"
		if fault.Found == `""` {
			words = "Nothing is written"
		}
		if fault.Allowed != "" {
			words += ". Possible: " + listed.ReplaceAllStringFunc(fault.Allowed, entryNumber)
		}
		return words
	}
	line, _, _ := strings.Cut(err.Error(), "\n")
	return line
}

// listed matches an entry of a list as the file names it, counted from 0.
var listed = regexp.MustCompile(`(loudspeaker)s\[(\d+)\]`)

// entryNumber names such an entry as people count.
func entryNumber(path string) string {
	m := listed.FindStringSubmatch(path)
	n, _ := strconv.Atoi(m[2])
	return fmt.Sprintf("%s %d", m[1], n+1)
}

// Number reads a number, or a sum, before suffix.
func Number(text, suffix string) (float64, error) {
	return unit.ParseNumber(strings.TrimSuffix(strings.TrimSpace(text), strings.TrimSpace(suffix)))
}

// Whole reads a whole number, or a sum that comes to one.
func Whole(text string) (int, error) {
	v, err := unit.ParseNumber(text)
	if err != nil || v != float64(int(v)) {
		return 0, &unit.ParseError{Found: fmt.Sprintf("%q", text), Allowed: "a whole number"}
	}
	return int(v), nil
}

// Plain returns err without the path of the field, which the reader has before the eyes.
func Plain(err error) error {
	faults := project.Faults(err)
	if len(faults) == 0 {
		return err
	}
	f := *faults[0]
	f.File, f.Field = "", ""
	return &f
}
