// SPDX-License-Identifier: MIT

// Package field holds what a way of computing sound in a room hands to those
// who judge it: the pressure that each source makes at each receiver.
package field

import "slices"

// Transfer is the complex pressure at each receiver for each source alone, at
// each frequency, relative to the pressure that the same source makes in the
// free field at 1 m. The time factor is exp(+j omega t): a later arrival turns
// the phase towards minus. The reference carries no travel time, so in the free
// field at distance r the value is exp(-j omega r / c) / r.
type Transfer struct {
	Sources, Receivers int
	// Frequencies are in hertz, ascending.
	Frequencies []float64
	// P holds [source][receiver][frequency], flat.
	P []complex128
	// Remarks say, for display, how far the values can be trusted and why.
	Remarks []string
}

// New returns a Transfer full of zeros. The frequencies are copied.
func New(sources, receivers int, frequencies []float64) *Transfer {
	return &Transfer{
		Sources: sources, Receivers: receivers, Frequencies: slices.Clone(frequencies),
		P: make([]complex128, sources*receivers*len(frequencies)),
	}
}

// At returns the pressure of one source at one receiver at one frequency, by
// index. It panics when an index is out of range.
func (t *Transfer) At(source, receiver, frequency int) complex128 {
	return t.Row(source, receiver)[frequency]
}

// Row returns the pressures of one source at one receiver, one for each
// frequency. The slice belongs to t. It panics when an index is out of range.
func (t *Transfer) Row(source, receiver int) []complex128 {
	if source < 0 || source >= t.Sources || receiver < 0 || receiver >= t.Receivers {
		panic("field: source or receiver out of range")
	}
	n := len(t.Frequencies)
	i := (source*t.Receivers + receiver) * n
	return t.P[i : i+n : i+n]
}

// Source returns the pressures of one source, [receiver][frequency] flat. The
// slice belongs to t. It panics when the index is out of range.
func (t *Transfer) Source(source int) []complex128 {
	n := t.Receivers * len(t.Frequencies)
	return t.P[source*n : (source+1)*n : (source+1)*n]
}
