// SPDX-License-Identifier: MIT

package chart

import (
	"fmt"
	"image/color"
)

// look is how a series is drawn.
type seriesStyle struct {
	ink    int // of the ink, 0 for the faint one
	dash   Dash
	width  float64 // points
	symbol int     // of points: circle, square, triangle ...
	bar    int     // number among the bars; -1 for none
}

// looks gives each series its ink, pattern and sign, in their order.
func (c *Chart) seriesStyles() []seriesStyle {
	out := make([]seriesStyle, len(c.Series))
	ink, dash, sign, bar := 0, Solid, 0, 0
	for i := range c.Series {
		s := &c.Series[i]
		l := seriesStyle{ink: s.Ink, dash: s.Dash, width: 1.6, bar: -1}
		if s.Heavy {
			l.width = 2.4
		}
		if s.Quiet {
			l.width = 1
		}
		if l.ink <= 0 && !s.Quiet {
			ink++
			l.ink = ink
		}
		if l.dash == Auto || l.dash > DashDotted {
			l.dash = Solid
			if (s.Kind == Line || s.Kind == Steps) && !s.Quiet {
				l.dash = dash
				if dash++; dash > DashDotted {
					dash = Solid
				}
			}
		}
		if s.Kind == Points || s.Kind == Stems {
			l.symbol = sign
			sign++
		}
		if s.Kind == Bars {
			l.bar = bar
			bar++
		}
		out[i] = l
	}
	return out
}

// color returns the ink of l in a style.
func (l seriesStyle) color(s *Style) color.NRGBA {
	if l.ink <= 0 {
		return s.Faint
	}
	return s.ink(l.ink)
}

// entry is a line of the legend.
type legendEntry struct {
	text   string
	series int // -1 for none
	band   int // -1 for none
	x, y   float64
	width  float64 // of the text
}

// shown is how many entries a legend has at most; the rest is counted.
const maxEntries = 8

// entries returns what the legend says: what is heavy first, then the others in
// their order, then groups of quiet ones, then bands.
func (c *Chart) legendEntries() []legendEntry {
	var out []legendEntry
	add := func(heavy bool) {
		for i := range c.Series {
			if s := &c.Series[i]; s.Name != "" && !s.Quiet && s.Heavy == heavy {
				out = append(out, legendEntry{text: s.Name, series: i, band: -1})
			}
		}
	}
	add(true)
	add(false)
	groups := map[string]int{} // to their entries
	counts := map[string]int{}
	for i := range c.Series {
		s := &c.Series[i]
		if !s.Quiet || s.Name == "" && s.Group == "" {
			continue
		}
		if s.Group == "" {
			out = append(out, legendEntry{text: s.Name, series: i, band: -1})
			continue
		}
		if _, ok := groups[s.Group]; !ok {
			groups[s.Group] = len(out)
			out = append(out, legendEntry{series: i, band: -1})
		}
		counts[s.Group]++
	}
	for g, at := range groups {
		out[at].text = fmt.Sprintf("%d %s", counts[g], g)
		if counts[g] == 1 && c.Series[out[at].series].Name != "" {
			out[at].text = c.Series[out[at].series].Name
		}
	}
	for i := range c.Bands {
		if c.Bands[i].Label != "" {
			out = append(out, legendEntry{text: c.Bands[i].Label, series: -1, band: i})
		}
	}
	return out
}

// rest returns the entry that stands for those left out.
func (c *Chart) remainder(left []legendEntry) legendEntry {
	word := ""
	for i, e := range left {
		g := ""
		if e.series >= 0 {
			g = c.Series[e.series].Group
		}
		if i > 0 && g != word {
			g = ""
		}
		word = g
		if g == "" {
			break
		}
	}
	if word == "" {
		word = "more"
	}
	return legendEntry{text: fmt.Sprintf("+%d %s", len(left), word), series: -1, band: -1}
}

// cut keeps n of the entries, the last of which counts the others. Bands are
// kept: they are what the curves are judged by.
func (c *Chart) truncateEntries(all []legendEntry, n int) []legendEntry {
	if len(all) <= n {
		return all
	}
	var lines, bands []legendEntry
	for _, e := range all {
		if e.band >= 0 {
			bands = append(bands, e)
		} else {
			lines = append(lines, e)
		}
	}
	if keep := n - 1 - len(bands); keep > 0 {
		out := append(append([]legendEntry{}, lines[:keep]...), c.remainder(lines[keep:]))
		return append(out, bands...)
	}
	if n < 1 {
		return nil
	}
	return append(append([]legendEntry{}, all[:n-1]...), c.remainder(all[n-1:]))
}

// layLegend places the legend beside the field on wide papers, else over it, and
// returns where the field's part of the paper begins and ends.
func (d *Layout) placeLegend(left, right, top, bottom float64) (newTop, newRight float64) {
	k := d.k
	all := d.chart.legendEntries()
	if len(all) == 0 || len(all) == 1 && d.chart.Title != "" && all[0].band < 0 && all[0].text == d.chart.Title {
		return top, right
	}
	gap := (sampleLength + 6) * k
	fit := func(e legendEntry, room float64) legendEntry {
		e.text = shorten(e.text, room, d.width)
		e.width = d.width(e.text)
		return e
	}
	if w, h := right-left, bottom-top; w >= 640*k && w >= 2*h || w >= 1000*k {
		rows := int((h - rowHeight*k) / (rowHeight * k))
		list := d.chart.truncateEntries(all, min(maxEntries, max(rows, 1)))
		widest := 0.0
		for i := range list {
			list[i] = fit(list[i], 0.2*w)
			widest = max(widest, list[i].width)
		}
		x := right - gap - widest
		for i := range list {
			list[i].x, list[i].y = x, top+float64(i+1)*rowHeight*k // below the lane
		}
		d.legend = list
		return top, x - 6*k
	}
	// Over it: one line, two where the paper is high enough.
	rows := 1
	if bottom-top > 200*k {
		rows = 2
	}
	for n := min(maxEntries, len(all)); n > 0; n-- {
		for _, share := range []float64{0.4, 0.28, 0.2} { // rather short names than few
			list := d.chart.truncateEntries(all, n)
			x, row := left, 0
			for i := range list {
				list[i] = fit(list[i], share*(right-left))
				wide := gap + list[i].width
				if list[i].series < 0 && list[i].band < 0 {
					wide = list[i].width
				}
				if x+wide > right && x > left {
					x, row = left, row+1
				}
				list[i].x, list[i].y = x, top+float64(row)*rowHeight*k
				x += wide + 12*k
			}
			if row < rows || n == 1 {
				d.legend = list
				return top + float64(row+1)*rowHeight*k + 2*k, right
			}
		}
	}
	return top, right
}
