// SPDX-License-Identifier: MIT

package layout

import (
	"context"

	"earline/project"
)

// First is Plan without the other plans.
func First(ctx context.Context, d *project.Design, w Wish) (*Proposal, error) {
	if err := w.fill(d); err != nil {
		return nil, err
	}
	o, err := planOne(ctx, d, w)
	if err != nil {
		return nil, err
	}
	return &Proposal{Proposal: *o.Proposal, Options: []Option{*o}}, nil
}
