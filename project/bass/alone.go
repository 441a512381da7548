// SPDX-License-Identifier: MIT

package bass

// Alone returns what subwoofer i of st does by itself at every seat, tuned as it is.
func (st *Study) Alone(i int) (*Response, error) {
	t := *st.Transfer
	t.Sources, t.P = 1, st.Transfer.Source(i)
	return Combine(&t, st.Plan.Subs[i:i+1])
}

// Edges returns the edges of the third of an octave about mid, hertz.
func Edges(mid float64) (lo, hi float64) { return edges(mid) }
