// SPDX-License-Identifier: MIT

package bass

import (
	"encoding/json"

	"earline/project"
	"earline/project/bass/filter"
	"earline/project/table"
)

// Convention says how the coefficients of a Biquads table are meant: processors differ in
// the sign of a1 and a2.
const Convention = "y[n] = b0 x[n] + b1 x[n-1] + b2 x[n-2] - a1 y[n-1] - a2 y[n-2]"

// outputs returns the names of what the filters of d are for, in their order.
func outputs(d *project.Design) []string {
	var out []string
	for _, f := range d.Equalisation.Filters {
		name := "all subwoofers"
		for _, l := range d.Speakers {
			if f.Of != project.AllSubwoofers && l.ID == f.Of {
				name = l.Name()
			}
		}
		out = append(out, name)
	}
	return out
}

// FilterTable returns the filters of d as a list, as they are typed into a processor.
func FilterTable(d *project.Design) []byte {
	t := table.Table{Header: []string{"output", "filter", "kind", "hz", "gain_db", "q"}}
	number := map[string]int{}
	for i, name := range outputs(d) {
		f := d.Equalisation.Filters[i]
		number[name]++
		t.Add(table.Text(name), table.Number(float64(number[name]), 0), table.Text(string(f.Kind)),
			table.Number(f.Frequency, 1), table.Number(f.Gain, 1), table.Number(f.Q, 2))
	}
	return t.CSV()
}

// Biquads are the filters of a design as the sections that a processor runs.
type Biquads struct {
	Format     string   `json:"format"` // always "earline-biquads"
	Version    int      `json:"version"`
	Name       string   `json:"name"`
	Rate       float64  `json:"sample_rate_hz"`
	Convention string   `json:"convention"`
	Sections   []Biquad `json:"sections"`
}

// Biquad is a section of an output, with the filter that it is.
type Biquad struct {
	Output    string             `json:"output"`
	Kind      project.FilterKind `json:"kind"`
	Frequency float64            `json:"hz"`
	Gain      float64            `json:"gain_db"`
	Q         float64            `json:"q"`
	B0        float64            `json:"b0"`
	B1        float64            `json:"b1"`
	B2        float64            `json:"b2"`
	A1        float64            `json:"a1"`
	A2        float64            `json:"a2"`
}

// BiquadsOf returns the filters of d at a sample rate in hertz. For errors see filter.New.
func BiquadsOf(d *project.Design, rate float64) (*Biquads, error) {
	out := &Biquads{Format: "earline-biquads", Version: 1, Name: d.Name, Rate: rate, Convention: Convention, Sections: []Biquad{}}
	for i, name := range outputs(d) {
		f := d.Equalisation.Filters[i]
		b, err := filter.New(f, rate)
		if err != nil {
			return nil, err
		}
		out.Sections = append(out.Sections, Biquad{name, f.Kind, f.Frequency, f.Gain, f.Q, b.B0, b.B1, b.B2, b.A1, b.A2})
	}
	return out, nil
}

// CSV returns b as a table, each line with its sample rate and convention, so that one
// copied alone can still be told.
func (b *Biquads) CSV() []byte {
	const digits = 16 // after the point: all that a coefficient near 2 has
	t := table.Table{Header: []string{"output", "kind", "hz", "gain_db", "q", "b0", "b1", "b2", "a1", "a2", "sample_rate_hz", "convention"}}
	for _, s := range b.Sections {
		cells := []table.Cell{table.Text(s.Output), table.Text(string(s.Kind)), table.Number(s.Frequency, 1), table.Number(s.Gain, 1), table.Number(s.Q, 2)}
		for _, c := range []float64{s.B0, s.B1, s.B2, s.A1, s.A2} {
			cells = append(cells, table.Number(c, digits))
		}
		t.Add(append(cells, table.Number(b.Rate, 0), table.Text(b.Convention))...)
	}
	return t.CSV()
}

// JSON returns b as a document.
func (b *Biquads) JSON() ([]byte, error) {
	data, err := json.MarshalIndent(b, "", " ")
	return append(data, '\n'), err
}
