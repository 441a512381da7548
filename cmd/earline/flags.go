// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/solve"
)

// value is a flag that is read as soon as it is given, so that what cannot be read
// is never passed over. It implements pflag.Value.
type value[T any] struct {
	to   *T
	text string // as typed, or the default
	kind string // what help calls it
	read func(string) (T, error)
}

// Set implements pflag.Value.
func (v *value[T]) Set(text string) (err error) {
	read, err := v.read(text)
	if err != nil {
		return err
	}
	*v.to, v.text = read, text
	return nil
}

// String implements pflag.Value.
func (v *value[T]) String() string { return v.text }

// Type implements pflag.Value.
func (v *value[T]) Type() string { return v.kind }

// addFlag adds a flag that read reads. def is its default as it would be typed; empty
// is the zero T.
func addFlag[T any](c *cobra.Command, to *T, name, kind, def, usage string, read func(string) (T, error)) {
	addShortFlag(c, to, name, "", kind, def, usage, read)
}

// addShortFlag is addFlag for one with a letter as well.
func addShortFlag[T any](c *cobra.Command, to *T, name, letter, kind, def, usage string, read func(string) (T, error)) {
	v := &value[T]{to: to, kind: kind, read: read}
	if def != "" {
		if err := v.Set(def); err != nil {
			panic("earline: default of --" + name + ": " + err.Error())
		}
	}
	c.Flags().VarP(v, name, letter, usage)
}

// found returns the error of a value: what was found, what is allowed.
func found(text, allowed string) error {
	const most = 60 // characters of a line that is to be read
	if r := []rune(text); len(r) > most {
		text = string(r[:most]) + "…"
	}
	return &unit.ParseError{Found: strconv.Quote(text), Allowed: allowed}
}

// lengthIn reads a length from lo to hi, with its unit or in metres.
func lengthIn(lo, hi unit.Length) func(string) (unit.Length, error) {
	return func(text string) (unit.Length, error) {
		l, err := unit.ParseLength(text, unit.Metre)
		if err == nil && !(l >= lo && l <= hi) {
			err = found(text, short(lo)+" to "+short(hi))
		}
		return l, err
	}
}

// short writes a limit as people say it.
func short(l unit.Length) string {
	if l < 1 {
		return fmt.Sprintf("%g cm", float64(l*1000)/10)
	}
	return fmt.Sprintf("%g m", float64(l))
}

// levelUnder reads a difference of levels above 0 and up to most, in dB.
func levelUnder(most float64) func(string) (float64, error) {
	return func(text string) (float64, error) {
		number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "dB"))
		v, err := strconv.ParseFloat(number, 64)
		if err != nil || !(v > 0 && v <= most) {
			return 0, found(text, fmt.Sprintf("above 0, up to %g dB", most))
		}
		return v, nil
	}
}

// anyLength reads a length whose limits are those of the question it is for.
func anyLength(text string) (unit.Length, error) { return unit.ParseLength(text, unit.Metre) }

// anyText takes a text whose limits are those of the question it is for.
func anyText(text string) (string, error) { return text, nil }

// notZero reads as read does, but refuses 0, by which the questions understand
// their own default.
func notZero[T comparable](read func(string) (T, error), allowed string) func(string) (T, error) {
	return func(text string) (T, error) {
		var zero T
		v, err := read(text)
		if err == nil && v == zero {
			err = found(text, allowed)
		}
		return v, err
	}
}

// count reads a whole number; its limits are those of the question.
func count(text string) (int, error) {
	const digits = 6 // beyond any count of things in a room
	s := strings.TrimSpace(text)
	n, err := strconv.ParseUint(s, 10, 31)
	if err != nil || len(s) > digits {
		return 0, found(text, "a whole number, such as 6")
	}
	return int(n), nil
}

// oneOf reads one of a few words.
func oneOf(words ...string) func(string) (string, error) {
	return func(text string) (string, error) {
		if !slices.Contains(words, text) {
			last := len(words) - 1
			return "", found(text, strings.Join(words[:last], ", ")+" or "+words[last])
		}
		return text, nil
	}
}

// octave reads the middle of an octave in hertz and returns its index.
func octave(text string) (int, error) {
	all := project.Octaves()
	for i, hz := range all {
		if s := fmt.Sprintf("%g", hz); text == s {
			return i, nil
		}
	}
	return 0, found(text, strings.Join(octaveNames(), ", ")+" Hz")
}

func octaveNames() (names []string) {
	for _, hz := range project.Octaves() {
		names = append(names, fmt.Sprintf("%g", hz))
	}
	return names
}

// pixels is the size of a picture.
type pixels struct{ w, h int }

// size reads WIDTHxHEIGHT in pixels.
func size(text string) (pixels, error) {
	const (
		least, most = 16, 8192
		area        = 16 << 20 // pixels in all: with four samples each they take under a gigabyte
	)
	refused := found(text, fmt.Sprintf("WIDTHxHEIGHT, each %d to %d pixels and no more than 4096x4096 in all, such as 1280x800", least, most))
	a, b, ok := cutTimes(text)
	if !ok {
		return pixels{}, refused
	}
	w, err1 := count(a)
	h, err2 := count(b)
	if err1 != nil || err2 != nil || min(w, h) < least || max(w, h) > most || w*h > area {
		return pixels{}, refused
	}
	return pixels{w, h}, nil
}

// grid reads PITCHxPITCH.
func grid(text string) (solve.Grid, error) {
	a, b, ok := cutTimes(text)
	if !ok {
		return solve.Grid{}, found(text, "PITCHxPITCH, such as 60cmx60cm")
	}
	// Closer than 5 cm no ceiling is built, and the places would fill the memory.
	pitch := lengthIn(5*unit.Centimetre, 10*unit.Metre)
	x, err := pitch(a)
	if err != nil {
		return solve.Grid{}, err
	}
	y, err := pitch(b)
	return solve.Grid{PitchX: x, PitchY: y}, err
}

// cutTimes cuts text at the sign for times between two measures.
func cutTimes(text string) (a, b string, ok bool) {
	a, b, ok = strings.Cut(strings.ReplaceAll(strings.ToLower(text), "×", "x"), "x")
	return strings.TrimSpace(a), strings.TrimSpace(b), ok && !strings.Contains(b, "x")
}

// needs refuses flags that mean nothing without another one: what is passed over in
// silence misleads.
func needs(c *cobra.Command, other string, flags ...string) error {
	for _, name := range flags {
		if c.Flags().Changed(name) && !c.Flags().Changed(other) {
			return refuse("--"+name, "no --"+other, "together with --"+other)
		}
	}
	return nil
}
