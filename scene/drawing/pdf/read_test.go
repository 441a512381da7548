// SPDX-License-Identifier: MIT

package pdf_test

import (
	"fmt"
	"image"
	_ "image/png"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"earline/scene/drawing"
	"earline/scene/drawing/drawingtest"
)

// kept writes sheets to a file and returns its name.
func kept(t testing.TB, sheets []drawing.Sheet) string {
	t.Helper()
	doc, _ := written(t, info, sheets)
	name := filepath.Join(t.TempDir(), "sheets.pdf")
	if err := os.WriteFile(name, doc, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// What poppler and qpdf read: pages of the right size, fonts that are contained, words
// of every language, title and dates, no errors.
func TestReadByOthers(t *testing.T) {
	sheets := drawingtest.Sheets()
	name := kept(t, sheets)
	drawingtest.Run(t, "qpdf", "--check", name)

	about := drawingtest.Run(t, "pdfinfo", "-l", "99", name)
	for i, s := range sheets {
		// PDF counts in points of 1/72 inch; pdfinfo prints two decimals.
		var w, h float64
		_, rest, ok := strings.Cut(about, fmt.Sprintf("Page %4d size:", i+1))
		if !ok {
			t.Fatalf("no page %d in\n%s", i+1, about)
		}
		if _, err := fmt.Sscanf(rest, "%f x %f pts", &w, &h); err != nil {
			t.Fatal(err)
		}
		if math.Abs(w-s.Paper.Width*72/25.4) > 0.006 || math.Abs(h-s.Paper.Height*72/25.4) > 0.006 {
			t.Errorf("%s is %v by %v points", s.Paper.Name, w, h)
		}
	}
	for _, want := range []string{"Set-out Łódź", "Earline", "Sun Nov 29 08:00:00 2026"} {
		if !strings.Contains(about, want) {
			t.Errorf("%q is not in\n%s", want, about)
		}
	}

	fonts := strings.Split(strings.TrimSpace(drawingtest.Run(t, "pdffonts", name)), "\n")[2:]
	if len(fonts) != 2 {
		t.Errorf("%d fonts, want regular and bold", len(fonts))
	}
	for _, f := range fonts {
		// emb sub uni: contained, cut down, and known by character.
		if !strings.Contains(f, "yes yes yes") || len(f) < 8 || f[6] != '+' {
			t.Errorf("font %s", f)
		}
	}

	words := drawingtest.Run(t, "pdftotext", name, "-")
	for _, want := range []string{drawingtest.Signs, "Plan A3 (Кино)", `upright (\) 90°`, "3000 ± 5"} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not in\n%s", want, words)
		}
	}

	bare := drawingtest.Run(t, "qpdf", "--qdf", "--object-streams=disable", name, "-")
	for what, n := range map[string]int{"/Type /OCG": 5, "/Subtype /Link": 4} {
		if got := strings.Count(bare, what); got < n {
			t.Errorf("%d of %s, want %d: a layer for each name, and links", got, what, n)
		}
	}
	// A bookmark and a link lead to the top of each page, however high the others are.
	dest := regexp.MustCompile(`/Dest \[\s+\d+ 0 R\s+/XYZ\s+0\s+([0-9.]+)`)
	tops := map[string]int{}
	for _, m := range dest.FindAllStringSubmatch(bare, -1) {
		tops[m[1]]++
	}
	for _, s := range sheets {
		if top := fmt.Sprintf("%.2f", s.Paper.Height*72/25.4); tops[top] != 2 {
			t.Errorf("%d lead to the top of a page %s points high: %v", tops[top], top, tops)
		}
	}
}

// A metre measures a metre: the bar on each page, at its scale, in the picture that
// poppler makes of it.
func TestTrueToScale(t *testing.T) {
	sheets := drawingtest.Sheets()
	name := kept(t, sheets)
	dpi := 300.0
	for i, s := range sheets {
		if i > 1 {
			break // the other papers, at the same scales
		}
		to := filepath.Join(t.TempDir(), "page")
		drawingtest.Run(t, "pdftoppm", "-r", fmt.Sprint(dpi), "-f", fmt.Sprint(i+1), "-l", fmt.Sprint(i+1), "-singlefile", "-gray", "-png", name, to)
		f, err := os.Open(to + ".png")
		if err != nil {
			t.Fatal(err)
		}
		page, _, err := image.Decode(f)
		if err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		v := s.Views[0]
		middle := v.OnPaper(drawing.Pt(500, 50))
		y := int(middle.Y / 25.4 * dpi)
		dark := 0.0
		for x := int(20 / 25.4 * dpi); x < int(middle.X/25.4*dpi)*2; x++ {
			r, _, _, _ := page.At(x, y).RGBA()
			dark += 1 - float64(r)/0xffff
		}
		want := 1000 * v.Scale / 25.4 * dpi
		if math.Abs(dark-want) > 0.005*want {
			t.Errorf("at 1:%.0f a metre is %.1f px, want %.1f", 1/v.Scale, dark, want)
		}
	}
}

// Every rune that is drawn comes out of the document again, whichever font has it, and
// those that none has are named: they are never boxes that nobody noticed.
func TestEveryRuneIsThereOrNamed(t *testing.T) {
	face := drawing.NewTypeface(nil)
	var have, lack []rune
	for r := '!'; r < 0x2700; r++ {
		if face.Has(r) {
			have = append(have, r)
		}
	}
	lack = []rune("日本語😀")
	s := drawing.Sheet{Number: "1", Title: "Runes 日😀", Paper: drawing.Papers()[1]}
	const row = 40
	for i := 0; i < len(have); i += row {
		s.Marks.Add(drawing.Text{Ink: ink, At: drawing.Pt(10, 10+float64(i)/row*6), Text: string(have[i:min(i+row, len(have))]), Size: 4})
	}
	s.Marks.Add(drawing.Text{Ink: ink, At: drawing.Pt(10, 400), Text: "⌀ ⅓ 2" + string(lack), Size: 4, Bold: true})
	_, lacking := written(t, info, []drawing.Sheet{s})
	if string(lacking) != "日本語😀" {
		t.Errorf("named as lacking: %q", string(lacking))
	}
	words := drawingtest.Run(t, "pdftotext", kept(t, []drawing.Sheet{s}), "-")
	for _, r := range have {
		if !unicode.IsSpace(r) && !strings.ContainsRune(words, r) {
			t.Errorf("%q %U does not come out", r, r)
		}
	}
	if !strings.Contains(words, "Ø 1/3 2????") {
		t.Errorf("what stands in is not in %q", words)
	}
}
