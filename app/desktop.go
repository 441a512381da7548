// SPDX-License-Identifier: MIT

package app

import (
	"context"

	"earline/app/portal"
	"earline/app/theme"
)

// joinDesktop looks for the user's desktop in the background: its file chooser takes the
// place of our own, and its wishes about colours are followed. The window does without
// where there is none. leave ends it.
func (w *Window) joinDesktop() (leave func()) {
	ctx, stop := context.WithCancel(context.Background())
	go func() {
		d, disconnect, err := portal.Connect()
		if err != nil {
			return
		}
		defer disconnect()
		w.cfg.Post(func() { w.ask.Desktop = d })
		d.Follow(ctx, func(a portal.Appearance) {
			w.cfg.Post(func() {
				w.wish(theme.Wishes{Contrast: a.Contrast, Light: a.Scheme == portal.LightScheme})
			})
		})
		<-ctx.Done() // the chooser stays, also of a desktop that says nothing of colours
	}()
	return stop
}
