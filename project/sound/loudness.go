// SPDX-License-Identifier: MIT

package sound

import "fmt"

// Sentence says how long the room may be listened to at its levels.
func (l Loudness) Sentence() string {
	return fmt.Sprintf("Hearing: %s a day at %.0f dB is a full dose, %s at the peaks of one channel (%.0f dB), %s with all at their peaks (%.0f dB).",
		span(l.ReferenceMinutes), l.Reference, span(l.PeakMinutes), l.Peak, span(l.AllMinutes), l.All)
}

// span writes minutes as people say them.
func span(minutes float64) string {
	switch {
	case minutes < 1:
		return fmt.Sprintf("%.0f s", 60*minutes)
	case minutes < 100:
		return fmt.Sprintf("%.0f min", minutes)
	}
	return fmt.Sprintf("%.0f h", minutes/60)
}
