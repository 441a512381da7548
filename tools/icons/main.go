// SPDX-License-Identifier: MIT

// Command icons draws an SVG in the sizes that desktops want:
//
//	icons SVG NAME.png SIZE   one picture of SIZE x SIZE pixels
//	icons SVG NAME.ico        the sizes that Windows asks for, in one file
package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strconv"

	"github.com/fyne-io/oksvg"
	"github.com/srwiley/rasterx"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "icons:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) < 2 {
		return errors.New("allowed: SVG NAME.png SIZE, or SVG NAME.ico")
	}
	svg, err := os.ReadFile(args[0])
	if err != nil {
		return err
	}
	var icon []byte
	switch ext := filepath.Ext(args[1]); {
	case ext == ".png" && len(args) == 3:
		size, err := strconv.Atoi(args[2])
		if err != nil || size < 1 || size > 1024 {
			return fmt.Errorf("found a size of %q, allowed: 1 to 1024 pixels", args[2])
		}
		icon, err = drawn(svg, size)
		if err != nil {
			return err
		}
	case ext == ".ico" && len(args) == 2:
		if icon, err = windows(svg); err != nil {
			return err
		}
	default:
		return errors.New("allowed: SVG NAME.png SIZE, or SVG NAME.ico")
	}
	return os.WriteFile(args[1], icon, 0o644)
}

// drawn returns the SVG as a PNG of size x size pixels.
func drawn(svg []byte, size int) ([]byte, error) {
	icon, err := oksvg.ReadIconStream(bytes.NewReader(svg), oksvg.StrictErrorMode)
	if err != nil {
		return nil, err
	}
	icon.SetTarget(0, 0, float64(size), float64(size))
	for i := range icon.SVGPaths { // whose lines the library leaves as wide as they are
		icon.SVGPaths[i].LineWidth *= float64(size) / icon.ViewBox.W
	}
	img := image.NewRGBA(image.Rect(0, 0, size, size))
	scanner := rasterx.NewScannerGV(size, size, img, img.Bounds())
	icon.Draw(rasterx.NewDasher(size, size, scanner), 1)
	var b bytes.Buffer
	err = (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, img)
	return b.Bytes(), err
}

// windows returns the SVG as an icon of Windows: a header of 6 bytes, 16 bytes for each
// size, then the PNGs (Microsoft, "The format of icon resources"; PNG since Vista).
func windows(svg []byte) ([]byte, error) {
	sizes := []int{16, 20, 24, 32, 40, 48, 64, 256} // at 100 % to 200 % scale, and large
	var head, body bytes.Buffer
	word := func(values ...uint16) { _ = binary.Write(&head, binary.LittleEndian, values) }
	long := func(values ...uint32) { _ = binary.Write(&head, binary.LittleEndian, values) }
	word(0, 1, uint16(len(sizes)))
	for _, size := range sizes {
		picture, err := drawn(svg, size)
		if err != nil {
			return nil, err
		}
		head.Write([]byte{byte(size), byte(size), 0, 0}) // 256 is written as 0
		word(1, 32)                                      // planes, bits a pixel
		long(uint32(len(picture)), uint32(6+16*len(sizes)+body.Len()))
		body.Write(picture)
	}
	return append(head.Bytes(), body.Bytes()...), nil
}
