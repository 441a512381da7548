// SPDX-License-Identifier: MIT

package film

import (
	"bytes"
	"compress/lzw"
	"errors"
	"image"
	"math"
)

// gifFilm is a GIF (CompuServe, version 89a), each picture with 256 colours of its own.
// Pictures that are alike are one that lasts.
type gifFilm struct {
	fps   int
	out   bytes.Buffer
	last  *image.RGBA
	delay int // where the delay of the last picture stands in out
	since int // the picture, counted from 0, that it shows first
	count int // pictures so far
}

func newGIF(fps int) *gifFilm { return &gifFilm{fps: fps} }

// hundredths returns when picture i begins: a GIF counts in hundredths of a second, so that
// not every rate can be kept from picture to picture, but over the whole it is.
func (f *gifFilm) hundredths(i int) int { return int(math.Round(100 * float64(i) / float64(f.fps))) }

// Add implements Film.
func (f *gifFilm) Add(m *image.RGBA) error {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	const most = 65535 // sizes and delays have 16 bits
	switch {
	case w > most || h > most:
		return errors.New("film: a picture too large for a GIF")
	case f.last == nil:
		f.out.WriteString("GIF89a")
		f.out.Write([]byte{byte(w), byte(w >> 8), byte(h), byte(h >> 8), 0x70, 0, 0}) // no palette for all
	case f.last.Rect.Size() != m.Rect.Size():
		return errors.New("film: a picture of another size")
	}
	f.count++
	if f.last != nil {
		lasts := f.hundredths(f.count) - f.hundredths(f.since)
		if lasts <= most && alike(f.last, m) {
			f.wait(lasts)
			return nil
		}
	}
	f.since = f.count - 1
	p := paletteOf(m)
	f.out.Write([]byte{0x21, 0xf9, 4, 0})
	f.delay = f.out.Len()
	f.out.Write([]byte{0, 0, 0, 0})
	f.wait(f.hundredths(f.count) - f.hundredths(f.since))
	f.out.Write([]byte{0x2c, 0, 0, 0, 0, byte(w), byte(w >> 8), byte(h), byte(h >> 8), 0x87}) // with a palette of 256
	f.out.Write(p.table())
	f.out.WriteByte(8) // bits of a code, at least
	blocks := &blocks{to: &f.out}
	z := lzw.NewWriter(blocks, lzw.LSB, 8)
	if _, err := z.Write(p.dithered(m)); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	blocks.close()
	if f.out.Len() > MostBytes {
		return ErrTooLarge
	}
	f.last = copied(f.last, m)
	return nil
}

// wait writes how long the last picture lasts, hundredths of a second.
func (f *gifFilm) wait(lasts int) {
	b := f.out.Bytes()[f.delay:]
	b[0], b[1] = byte(lasts), byte(lasts>>8)
}

// Data implements Film. The film plays once.
func (f *gifFilm) Data() ([]byte, error) {
	if f.last == nil {
		return nil, errors.New("film: no picture")
	}
	f.out.WriteByte(0x3b)
	return f.out.Bytes(), nil
}

// blocks cuts what is written into the blocks of a GIF, each with its length before it.
type blocks struct {
	to  *bytes.Buffer
	has []byte
}

func (b *blocks) Write(p []byte) (int, error) {
	const most = 255
	for _, c := range p {
		if b.has = append(b.has, c); len(b.has) == most {
			b.flush()
		}
	}
	return len(p), nil
}

func (b *blocks) flush() {
	b.to.WriteByte(byte(len(b.has)))
	b.to.Write(b.has)
	b.has = b.has[:0]
}

// close writes what is left, and the empty block that ends a picture.
func (b *blocks) close() {
	if len(b.has) > 0 {
		b.flush()
	}
	b.to.WriteByte(0)
}
