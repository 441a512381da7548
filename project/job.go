// SPDX-License-Identifier: MIT

package project

// Job is what stands in the title block of a drawing.
type Job struct {
	Reference string `json:"reference,omitempty"`
	Revision  string `json:"revision,omitempty"`
	RevisedOn string `json:"revised_on,omitempty"` // a day, "2026-11-29"
}
