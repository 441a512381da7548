// SPDX-License-Identifier: MIT

package ask

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/driver"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/portal"
	"earline/app/words"
)

// Chooser asks for a file; *portal.Desktop is one. Choose may take as long as the user
// does, and is not called on the UI goroutine.
type Chooser interface {
	Choose(context.Context, portal.File) (path string, err error)
}

var _ Chooser = (*portal.Desktop)(nil)

// kinds are what files of an extension are called.
var kinds = map[string]string{
	".earline":       "Rooms",
	".earline-rules": "House standards",
	".csv":           "Tables",
	".obj":           "Meshes and plans",
	".png":           "Pictures",
	".svg":           "Drawings",
	".dxf":           "Drawings",
	".glb":           "3D models",
	".pdf":           "Documents",
}

// choose asks with the desktop's chooser, and with here where there is none or it fails.
// Meanwhile the window waits, and can give up.
func (a *Asker) choose(f portal.File, then func(path string), here func()) {
	if a.Desktop == nil {
		here()
		return
	}
	f.Folder, f.Parent, f.Kind = a.folder(), a.handle(), kinds[f.Ext]
	if f.Kind == "" {
		f.Kind = strings.ToUpper(strings.TrimPrefix(f.Ext, "."))
	}
	ctx, cancel := context.WithCancel(context.Background())
	wait := dialog.NewCustomWithoutButtons(words.Of(f.Title), widget.NewLabel(words.Of("Choose in the dialog of the desktop.")), a.window)
	wait.SetButtons([]fyne.CanvasObject{field.NewButton("Cancel", wait.Hide)})
	a.show(wait, 360, 120, wait.Hide, nil, cancel)
	desktop, post := a.Desktop, a.Post
	go func() {
		path, err := desktop.Choose(ctx, f)
		post(func() {
			gaveUp := ctx.Err() != nil
			wait.Hide()
			switch {
			case gaveUp:
			case err == nil:
				then(path)
			case errors.Is(err, portal.ErrElsewhere):
				a.Report("This file cannot be used", err)
			case !errors.Is(err, portal.ErrCancelled):
				here()
			}
		})
	}()
}

// handle returns the window as the desktop knows it, so that its dialogs lie over it;
// empty where that cannot be told.
func (a *Asker) handle() string {
	var h string
	if native, ok := a.window.(driver.NativeWindow); ok {
		native.RunNative(func(context any) {
			if c, ok := context.(driver.X11WindowContext); ok && c.WindowHandle != 0 {
				h = fmt.Sprintf("x11:%x", c.WindowHandle)
			}
		})
	}
	return h
}
