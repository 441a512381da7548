// SPDX-License-Identifier: MIT

package film

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/png"
)

// animation is an animated PNG: the chunks of ordinary ones, the first as it is and those
// after it as frame data. Pictures that are alike are one that lasts.
type animation struct {
	fps      int
	out      bytes.Buffer
	last     *image.RGBA
	delay    int // where the delay of the last frame stands in out
	lasts    int // pictures
	frames   uint32
	sequence uint32
	encoder  png.Encoder
}

// The parts of a PNG: its signature, and around the data of a chunk its length, type and
// checksum.
const (
	signature = "\x89PNG\r\n\x1a\n"
	around    = 12
	control   = len(signature) + 13 + around // where the chunk acTL begins, behind IHDR
)

func newPNG(fps int) *animation {
	return &animation{fps: fps, encoder: png.Encoder{CompressionLevel: png.DefaultCompression, BufferPool: new(pool)}}
}

// pool keeps the encoder's memory from picture to picture.
type pool struct{ b *png.EncoderBuffer }

func (p *pool) Get() *png.EncoderBuffer  { return p.b }
func (p *pool) Put(b *png.EncoderBuffer) { p.b = b }

// Add implements Film.
func (a *animation) Add(m *image.RGBA) error {
	const longest = 65535 // a delay has 16 bits
	if a.last != nil && a.last.Rect.Size() != m.Rect.Size() {
		return errors.New("film: a picture of another size")
	}
	if a.last != nil && a.lasts < longest && alike(a.last, m) {
		a.lasts++
		a.wait()
		return nil
	}
	var b bytes.Buffer
	if err := a.encoder.Encode(&b, m); err != nil {
		return err
	}
	if a.out.Len()+b.Len() > MostBytes {
		return ErrTooLarge
	}
	a.put(b.Bytes(), m.Rect.Size())
	a.last, a.lasts = copied(a.last, m), 1
	return nil
}

// put appends a picture that is encoded by itself.
func (a *animation) put(data []byte, size image.Point) {
	first := a.frames == 0
	if first {
		a.out.Write(data[:control]) // with IHDR
		a.chunk("acTL", make([]byte, 8))
	}
	var fc [26]byte
	binary.BigEndian.PutUint32(fc[0:], a.number())
	binary.BigEndian.PutUint32(fc[4:], uint32(size.X))
	binary.BigEndian.PutUint32(fc[8:], uint32(size.Y)) // at 0, 0
	binary.BigEndian.PutUint16(fc[20:], 1)
	binary.BigEndian.PutUint16(fc[22:], uint16(a.fps))
	a.delay = a.out.Len()
	a.chunk("fcTL", fc[:]) // dispose of nothing, replace everything
	for at := control; at+around <= len(data); {
		n := int(binary.BigEndian.Uint32(data[at:]))
		kind, body := string(data[at+4:at+8]), data[at+8:at+8+n]
		at += around + n
		if kind != "IDAT" {
			continue
		}
		if first {
			a.chunk("IDAT", body)
		} else {
			a.chunk("fdAT", append(binary.BigEndian.AppendUint32(nil, a.number()), body...))
		}
	}
	a.frames++
}

// number counts the chunks that are numbered.
func (a *animation) number() uint32 {
	a.sequence++
	return a.sequence - 1
}

func (a *animation) chunk(kind string, body []byte) {
	_ = binary.Write(&a.out, binary.BigEndian, uint32(len(body))) // a Buffer takes everything
	a.out.WriteString(kind)
	a.out.Write(body)
	_ = binary.Write(&a.out, binary.BigEndian, sum(kind, body))
}

// sum is the checksum of a chunk.
func sum(kind string, body []byte) uint32 {
	return crc32.Update(crc32.ChecksumIEEE([]byte(kind)), crc32.IEEETable, body)
}

// change alters the body of the chunk that begins at so many bytes.
func (a *animation) change(at int, alter func(body []byte)) {
	all := a.out.Bytes()[at:]
	n := int(binary.BigEndian.Uint32(all))
	body := all[8 : 8+n]
	alter(body)
	binary.BigEndian.PutUint32(all[8+n:], sum(string(all[4:8]), body))
}

// wait writes how long the last frame lasts.
func (a *animation) wait() {
	a.change(a.delay, func(body []byte) { binary.BigEndian.PutUint16(body[20:], uint16(a.lasts)) })
}

// Data implements Film. The animation plays once; the first picture is what a program
// shows that knows no animation.
func (a *animation) Data() ([]byte, error) {
	if a.frames == 0 {
		return nil, errors.New("film: no picture")
	}
	const once = 1
	a.change(control, func(body []byte) {
		binary.BigEndian.PutUint32(body[0:], a.frames)
		binary.BigEndian.PutUint32(body[4:], once)
	})
	a.chunk("IEND", nil)
	return a.out.Bytes(), nil
}
