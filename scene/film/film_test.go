// SPDX-License-Identifier: MIT

package film_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/png"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"earline/scene/film"
)

// picture returns a gradient with a bright block that moves.
func picture(w, h, at int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetRGBA(x, y, color.RGBA{uint8(20 + 60*x/w), uint8(15 + 80*y/h), uint8(30 + 20*x/w), 255})
			if x/4 == at && y > h/2 {
				m.SetRGBA(x, y, color.RGBA{240, 200, 150, 255})
			}
		}
	}
	return m
}

// frame is a picture of an animation and how long it lasts, seconds.
type frame struct {
	m    image.Image
	long float64
}

// animated takes an animated PNG apart by the rules of the PNG Specification, third
// edition (W3C 2025), clauses 5 and 11.3.6: chunks and checksums, control before data,
// sequence numbers from 0 without a gap.
func animated(data []byte) ([]frame, error) {
	if !bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")) {
		return nil, errors.New("no PNG")
	}
	var out []frame
	var head, still, body []byte
	var fc []byte
	frames, sequence, ended := -1, uint32(0), false
	one := func(kind string, body []byte) []byte {
		b := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
		b = append(append(b, kind...), body...)
		return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
	}
	flush := func() error {
		if fc == nil {
			return nil
		}
		w, h := binary.BigEndian.Uint32(fc[4:]), binary.BigEndian.Uint32(fc[8:])
		ihdr := slices.Clone(head)
		binary.BigEndian.PutUint32(ihdr, w)
		binary.BigEndian.PutUint32(ihdr[4:], h)
		b := append([]byte("\x89PNG\r\n\x1a\n"), one("IHDR", ihdr)...)
		b = append(append(b, one("IDAT", body)...), one("IEND", nil)...)
		m, err := png.Decode(bytes.NewReader(b))
		if err != nil {
			return err
		}
		out = append(out, frame{m, float64(binary.BigEndian.Uint16(fc[20:])) / float64(binary.BigEndian.Uint16(fc[22:]))})
		return nil
	}
	for data = data[8:]; len(data) >= 12; {
		n := int(binary.BigEndian.Uint32(data))
		kind, b := string(data[4:8]), data[8:8+n]
		if crc32.ChecksumIEEE(data[4:8+n]) != binary.BigEndian.Uint32(data[8+n:]) {
			return nil, errors.New("checksum of " + kind)
		}
		data = data[12+n:]
		switch kind {
		case "IHDR":
			head = b
		case "acTL":
			if still != nil {
				return nil, errors.New("acTL behind IDAT")
			}
			frames = int(binary.BigEndian.Uint32(b))
		case "fcTL", "fdAT":
			if binary.BigEndian.Uint32(b) != sequence {
				return nil, errors.New("out of sequence")
			}
			sequence++
			if kind == "fdAT" {
				body = append(body, b[4:]...)
				break
			}
			if err := flush(); err != nil {
				return nil, err
			}
			fc, body = b, nil
		case "IDAT":
			still, body = b, append(body, b...)
		case "IEND":
			ended = true
		}
	}
	if err := flush(); err != nil {
		return nil, err
	}
	if !ended || frames != len(out) || len(data) > 0 {
		return nil, errors.New("not whole")
	}
	return out, nil
}

// What is added is shown again, for as long; what knows no animation shows the first
// picture.
func TestAnAnimatedPNGShowsWhatWasAdded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.SliceOfN(rapid.IntRange(0, 3), 1, 12).Draw(t, "places")
		fps := rapid.IntRange(1, 60).Draw(t, "fps")
		f, err := film.New(".png", fps)
		if err != nil {
			t.Fatal(err)
		}
		for _, at := range places {
			if err := f.Add(picture(24, 16, at)); err != nil {
				t.Fatal(err)
			}
		}
		data, err := f.Data()
		if err != nil {
			t.Fatal(err)
		}
		all, err := animated(data)
		if err != nil {
			t.Fatal(err)
		}
		for i, at := range places {
			s := (float64(i) + 0.5) / float64(fps)
			for _, shown := range all {
				if s -= shown.long; s < 0 {
					if !same(shown.m, picture(24, 16, at), 0) {
						t.Fatalf("picture %d of %v is another", i, places)
					}
					break
				}
			}
			if s >= 0 {
				t.Fatalf("it ends before picture %d", i)
			}
		}
		first, err := png.Decode(bytes.NewReader(data))
		if err != nil || !same(first, picture(24, 16, places[0]), 0) {
			t.Fatalf("without animation: %v", err)
		}
	})
}

// same reports whether no channel of two pictures differs by more than that.
func same(a, b image.Image, most int) bool {
	if a.Bounds().Size() != b.Bounds().Size() {
		return false
	}
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			r0, g0, b0, _ := a.At(x, y).RGBA()
			r1, g1, b1, _ := b.At(x, y).RGBA()
			for _, d := range []int{int(r0>>8) - int(r1>>8), int(g0>>8) - int(g1>>8), int(b0>>8) - int(b1>>8)} {
				if d > most || d < -most {
					return false
				}
			}
		}
	}
	return true
}

// A GIF is read by others as it was written: every picture, near enough in 256 colours,
// and over the whole as long as it is to be.
func TestAGIFShowsWhatWasAdded(t *testing.T) {
	for _, fps := range []int{7, 12, 20, 25, 60} {
		f, err := film.New(".gif", fps)
		if err != nil {
			t.Fatal(err)
		}
		places := []int{0, 1, 1, 1, 2, 0, 0, 5, 6, 7, 8, 9}
		for _, at := range places {
			if err := f.Add(picture(160, 90, at)); err != nil {
				t.Fatal(err)
			}
		}
		data, err := f.Data()
		if err != nil {
			t.Fatal(err)
		}
		g, err := gif.DecodeAll(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		whole := 0
		for _, d := range g.Delay {
			whole += d
		}
		if want := 100 * float64(len(places)) / float64(fps); math.Abs(float64(whole)-want) > 1 {
			t.Errorf("%d pictures at %d a second last %d hundredths", len(places), fps, whole)
		}
		shown := []int{0, 1, 2, 0, 5, 6, 7, 8, 9}
		if len(g.Image) != len(shown) {
			t.Fatalf("%d pictures, want %d", len(g.Image), len(shown))
		}
		for i, at := range shown {
			if !same(g.Image[i], picture(160, 90, at), 9) {
				t.Errorf("picture %d is not as it was", i)
			}
		}
	}
}

// One colour, or fewer than a palette holds, are kept to what six bits tell apart.
func TestAGIFOfFewColours(t *testing.T) {
	m := image.NewRGBA(image.Rect(0, 0, 5, 4))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	f, _ := film.New(".gif", 10)
	if err := f.Add(m); err != nil {
		t.Fatal(err)
	}
	data, err := f.Data()
	if err != nil {
		t.Fatal(err)
	}
	g, err := gif.DecodeAll(bytes.NewReader(data))
	if err != nil || !same(g.Image[0], m, 0) {
		t.Errorf("white comes back as %v (%v)", g.Image[0].At(0, 0), err)
	}
}

func TestFilmsThatCannotBe(t *testing.T) {
	if _, err := film.New(".avi", 25); err == nil {
		t.Error("another ending is taken")
	}
	for _, ending := range []string{".png", ".gif"} {
		f, _ := film.New(ending, 25)
		if _, err := f.Data(); err == nil {
			t.Errorf("%s: a film of no picture", ending)
		}
		f, _ = film.New(ending, 25)
		if err := f.Add(picture(8, 8, 0)); err != nil {
			t.Fatal(err)
		}
		if err := f.Add(picture(9, 8, 0)); err == nil {
			t.Errorf("%s: a picture of another size is taken", ending)
		}
	}
}

func TestNamesSortAsThePicturesRun(t *testing.T) {
	for _, n := range []int{1, 9999, 12345} {
		var names []string
		for i := 0; i < n; i += max(n/50, 1) {
			names = append(names, film.Name("tour", i, n))
		}
		if !slices.IsSorted(names) {
			t.Errorf("%d pictures: %v", n, names)
		}
	}
	if got := film.Name("tour", 0, 20); got != "tour-0001.png" {
		t.Error(got)
	}
}
