// SPDX-License-Identifier: MIT

package solve

import (
	"earline/project"
	"earline/project/sight"
)

// People says for which people, besides the sitters of the design, a solver works.
type People struct {
	// Everyone asks that nobody of Range is blocked. The design's margin is asked
	// for the set sitters alone, with it or without: the range is of people who
	// sit anywhere, reclined by any angle, and hardly ever all at their worst.
	Everyone bool
	// Range is those people; the zero value is sight.WholeRange.
	Range sight.RangeOptions
}

// fill sets a missing range and returns what is wrong with a given one.
func (p *People) fill() error {
	if p.Range == (sight.RangeOptions{}) {
		p.Range = sight.WholeRange()
	}
	return p.Range.Check()
}

// probe returns a probe for the range, or nil without Everyone.
func (p *People) probe(d *project.Design) (*sight.RangeProbe, error) {
	if !p.Everyone {
		return nil, nil
	}
	return sight.NewRangeProbe(d, p.Range)
}

// whom says for whom a solver works.
func (p *People) whom() string {
	if !p.Everyone {
		return "every seat"
	}
	return "everyone from " + p.Range.Words()
}

// about is the word before a number that is only an estimate for the range, to
// 50 mm: what is needed beyond a limit.
func (p *People) about() string {
	if !p.Everyone {
		return ""
	}
	return "about "
}
