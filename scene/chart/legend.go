// SPDX-License-Identifier: MIT

package chart

import "fmt"

// legendEntry is a line of the legend: a series, a group of them, a band, or the
// count of what is left out.
type legendEntry struct {
	text   string
	series int // -1 for none
	band   int // -1 for none
	x, y   float64
	width  float64 // of the text
}

// maxEntries is how many entries a legend has at most; the last one counts the
// rest.
const maxEntries = 8

// legendEntries returns what the legend says: heavy series first, then the others
// in their order, then groups of quiet ones, then bands.
func (c *Chart) legendEntries() []legendEntry {
	var out []legendEntry
	for _, heavy := range []bool{true, false} {
		for i := range c.Series {
			if s := &c.Series[i]; s.Name != "" && !s.Quiet && s.Heavy == heavy {
				out = append(out, legendEntry{text: s.Name, series: i, band: -1})
			}
		}
	}
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

// remainder returns the entry that counts those left out, by the name of their
// group where they share one: "+12 seats".
func (c *Chart) remainder(left []legendEntry) legendEntry {
	group := ""
	for i, e := range left {
		g := ""
		if e.series >= 0 {
			g = c.Series[e.series].Group
		}
		if g == "" || i > 0 && g != group {
			group = ""
			break
		}
		group = g
	}
	if group == "" {
		group = "more"
	}
	return legendEntry{text: fmt.Sprintf("+%d %s", len(left), group), series: -1, band: -1}
}

// truncateEntries keeps n of the entries, the last of which counts the others.
// Bands are kept: they are what the curves are judged by.
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

// placeLegend places the legend beside the field on wide papers, else above it,
// and returns the top and the right edge of what is left for the field.
func (d *Layout) placeLegend(left, right, top, bottom float64) (newTop, newRight float64) {
	all := d.chart.legendEntries()
	if len(all) == 0 || len(all) == 1 && d.chart.Title != "" && all[0].band < 0 && all[0].text == d.chart.Title {
		return top, right
	}
	if w, h := right-left, bottom-top; w >= 640*d.k && w >= 2*h || w >= 1000*d.k {
		return top, d.placeLegendBeside(all, left, right, top, bottom)
	}
	return d.placeLegendAbove(all, left, right, top, bottom), right
}

// legendGap returns the room that the sample before an entry takes.
func (d *Layout) legendGap() float64 { return (sampleLength + 6) * d.k }

// fit shortens an entry to room and measures it.
func (d *Layout) fit(e legendEntry, room float64) legendEntry {
	e.text = shorten(e.text, room, d.width)
	e.width = d.width(e.text)
	return e
}

// placeLegendBeside puts one entry under the other and returns where the field
// must end.
func (d *Layout) placeLegendBeside(all []legendEntry, left, right, top, bottom float64) (newRight float64) {
	row := rowHeight * d.k
	rows := int((bottom - top - row) / row)
	list := d.chart.truncateEntries(all, min(maxEntries, max(rows, 1)))
	widest := 0.0
	for i := range list {
		list[i] = d.fit(list[i], 0.2*(right-left))
		widest = max(widest, list[i].width)
	}
	x := right - d.legendGap() - widest
	for i := range list {
		list[i].x, list[i].y = x, top+float64(i+1)*row // below the lowest row of top labels
	}
	d.legend = list
	return x - 6*d.k
}

// placeLegendAbove puts the entries in a row, in two where the paper is high, and
// returns where the field must begin. Names are shortened before entries are left
// out.
func (d *Layout) placeLegendAbove(all []legendEntry, left, right, top, bottom float64) (newTop float64) {
	k := d.k
	rows := 1
	if bottom-top > 200*k {
		rows = 2
	}
	for n := min(maxEntries, len(all)); n > 0; n-- {
		for _, share := range []float64{0.4, 0.28, 0.2} {
			list := d.chart.truncateEntries(all, n)
			x, row := left, 0
			for i := range list {
				list[i] = d.fit(list[i], share*(right-left))
				width := d.legendGap() + list[i].width
				if list[i].series < 0 && list[i].band < 0 {
					width = list[i].width
				}
				if x+width > right && x > left {
					x, row = left, row+1
				}
				list[i].x, list[i].y = x, top+float64(row)*rowHeight*k
				x += width + 12*k
			}
			if row < rows || n == 1 {
				d.legend = list
				return top + float64(row+1)*rowHeight*k + 2*k
			}
		}
	}
	return top
}
