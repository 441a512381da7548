// SPDX-License-Identifier: MIT

// Package film keeps pictures one after another: as numbered PNG files, as an animated
// PNG (PNG Specification, third edition, W3C 2025) or as a GIF.
//
//	f, err := film.New(".png", 25)
//	f.Add(picture)        // one for each 25th of a second
//	data, err := f.Data() // of the whole file, however many there are
package film

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"strconv"
)

// MostBytes is how large the file of a Film may become.
const MostBytes = 1 << 30

// ErrTooLarge is of a film that would become larger than MostBytes.
var ErrTooLarge = errors.New("the film is larger than 1 GiB: take fewer pixels or fewer pictures a second")

// Film is an animated picture that grows picture by picture.
type Film interface {
	// Add adds a picture of the size of the first.
	Add(*image.RGBA) error
	// Data returns the file, whole with what was added. The film has then ended.
	Data() ([]byte, error)
}

// New returns an empty film for a file with that ending, .png or .gif, at so many
// pictures a second, 1 to 100.
func New(ending string, fps int) (Film, error) {
	switch ending {
	case ".png":
		return newPNG(fps), nil
	case ".gif":
		return newGIF(fps), nil
	}
	return nil, fmt.Errorf("a film ending in %q, allowed: .png, .gif", ending)
}

// Name returns the name of the file of picture i, counted from 0, of n: NAME-0001.png.
// The names sort as the pictures run.
func Name(name string, i, n int) string {
	const least = 4
	return fmt.Sprintf("%s-%0*d.png", name, max(len(strconv.Itoa(n)), least), i+1)
}

// alike reports whether two pictures show the same.
func alike(a, b *image.RGBA) bool {
	if a.Rect.Size() != b.Rect.Size() {
		return false
	}
	for y := range a.Rect.Dy() {
		if !bytes.Equal(line(a, y), line(b, y)) {
			return false
		}
	}
	return true
}

// line returns the pixels of line y, counted from the top.
func line(m *image.RGBA, y int) []byte {
	at := y * m.Stride
	return m.Pix[at : at+4*m.Rect.Dx()]
}

// copied returns a copy of m in the place of into, where that has its size.
func copied(into, m *image.RGBA) *image.RGBA {
	if into == nil || into.Rect.Size() != m.Rect.Size() {
		into = image.NewRGBA(image.Rect(0, 0, m.Rect.Dx(), m.Rect.Dy()))
	}
	for y := range m.Rect.Dy() {
		copy(line(into, y), line(m, y))
	}
	return into
}
