// SPDX-License-Identifier: MIT

package session

import (
	"context"
	"slices"

	"earline/project/bass"
	"earline/project/blend"
)

// Blend returns how the subwoofers add up with a loudspeaker of the present design, by
// index, as Answer.Get does; with the centre where that is no main. A stale one is of the
// same loudspeaker.
func (s *Session) Blend(speaker int) (*blend.Answer, State) {
	d := s.Design()
	mains := blend.Mains(d)
	if !slices.Contains(mains, speaker) {
		speaker = -1
	}
	a, state := s.Known.blended.get(BlendKey{d, speaker}, !s.Dragging())
	if state == Stale && s.Known.blended.last.Key.Main != speaker {
		return nil, Missing
	}
	return a, state
}

// BlendErr returns why the last Blend failed.
func (s *Session) BlendErr() error { return s.Known.blended.Err() }

// BlendProgress returns how far the work on Blend is, as Answer.Progress does.
func (s *Session) BlendProgress() (share float64, ok bool) { return s.Known.blended.Progress() }

// CancelBlend ends the work on Blend.
func (s *Session) CancelBlend() { s.Known.blended.Cancel() }

// answer works b out with all mains: each pays or gains by one delay of the subwoofers.
// What the store keeps of them serves the next answer.
func (b BlendKey) answer(ctx context.Context, store *bass.Store, tell func(float64)) (*blend.Answer, error) {
	st, err := blend.Of(ctx, store, b.Design, blend.Mains(b.Design), tell)
	if err != nil {
		return nil, err
	}
	i, _ := st.Index(b.Main) // the centre for none
	return st.Answer(i), nil
}
