// SPDX-License-Identifier: MIT

package viewing

import "math"

// Report is a Result as data.
type Report struct {
	Shapes    []ShapeReport `json:"shapes"`
	Best      int           `json:"best_row"` // 0 where there are not two to choose from
	Because   string        `json:"best_because"`
	Beyond    []string      `json:"beyond"`
	Distances []AskedReport `json:"distances"`
}

// ShapeReport is a shape of picture as all seats see it.
type ShapeReport struct {
	Shape string       `json:"shape"`
	Seats []SeenReport `json:"seats"`
}

// SeenReport is a Seen. What only an eye in front of the picture sees is null behind it.
type SeenReport struct {
	Row     int      `json:"row"`
	Seat    int      `json:"seat"`
	Across  *float64 `json:"across_deg"`
	Top     *float64 `json:"to_top_deg"`
	Middle  *float64 `json:"to_middle_deg"`
	Turn    *float64 `json:"head_turn_deg"`
	Aside   *float64 `json:"off_axis_deg"`
	Heights *float64 `json:"distance_heights"`
	Hidden  float64  `json:"hidden_share"`
	By      string   `json:"hidden_by"`
}

// AskedReport is an Asked.
type AskedReport struct {
	What   string           `json:"asked"`
	Whom   string           `json:"of"`
	Source string           `json:"source"`
	Shapes []DistanceReport `json:"shapes"`
}

// DistanceReport is from where to where a shape is to be seen; null is no limit, and both
// are null where it is not asked of the shape.
type DistanceReport struct {
	Shape string   `json:"shape"`
	From  *float64 `json:"from_m"`
	To    *float64 `json:"to_m"`
}

// Report returns r as data.
func (r *Result) Report() Report {
	out := Report{Shapes: []ShapeReport{}, Because: r.Because, Beyond: []string{}, Distances: []AskedReport{}}
	if r.Best >= 0 {
		out.Best = r.Rows[r.Best].Row
	}
	for k := range r.Picture.Shapes {
		shape := ShapeReport{Shape: r.Picture.Shapes[k].Called, Seats: []SeenReport{}}
		for i := range r.Seats {
			s := &r.Seats[i].Shapes[k]
			shape.Seats = append(shape.Seats, SeenReport{r.Seats[i].Row, r.Seats[i].Number, finite(s.Across), finite(s.Top), finite(s.Middle),
				finite(s.Turn), finite(s.Aside), finite(s.Heights), s.Hidden, s.By})
		}
		out.Shapes = append(out.Shapes, shape)
	}
	for _, b := range r.Beyond {
		out.Beyond = append(out.Beyond, b.Text)
	}
	for _, a := range r.Distances() {
		asked := AskedReport{a.What, a.Whom, a.Source, []DistanceReport{}}
		for k, s := range a.Spans {
			asked.Shapes = append(asked.Shapes, DistanceReport{r.Picture.Shapes[k].Called, finite(s.From), finite(s.To)})
		}
		out.Distances = append(out.Distances, asked)
	}
	return out
}

// finite returns a pointer to v, nil for what is no number.
func finite(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}
