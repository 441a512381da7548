// SPDX-License-Identifier: MIT

package portal

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"path/filepath"

	"github.com/godbus/dbus/v5"
)

// File says which file to ask for.
type File struct {
	Title  string
	Accept string // text of the button
	// Parent is the window that the chooser belongs to, "x11:1a00007" or empty.
	Parent string
	// Folder is where the chooser begins, Name the name that a new file has at first.
	Folder, Name string
	// Kind is what files with the extension Ext are called.
	Kind, Ext string
	// Also are further extensions that are shown.
	Also []string
	// Save asks for a file to write; the desktop asks by itself before one is replaced.
	Save bool
}

// Choose asks for a file with the desktop's own chooser and returns its path. It returns
// ErrCancelled when the user chose nothing or ctx ended, and another error when there is
// no such chooser or it failed.
func (d *Desktop) Choose(ctx context.Context, f File) (string, error) {
	method := chooser + ".OpenFile"
	if f.Save {
		method = chooser + ".SaveFile"
	}
	results, err := d.ask(ctx, method, f.options(), f.Parent, f.Title)
	if err != nil {
		return "", err
	}
	var uris []string
	if err := results["uris"].Store(&uris); err != nil || len(uris) != 1 {
		return "", fmt.Errorf("the desktop's file chooser: found %d files, allowed: one", len(uris))
	}
	return path(uris[0])
}

// filter is what the chooser shows, as D-Bus has it: (sa(us)).
type filter struct {
	Name     string
	Patterns []pattern
}

type pattern struct {
	Kind    uint32 // 0 is a pattern of names
	Pattern string
}

// options returns the options of the request.
func (f File) options() map[string]dbus.Variant {
	only := filter{f.Kind, []pattern{{0, "*" + f.Ext}}}
	for _, ext := range f.Also {
		only.Patterns = append(only.Patterns, pattern{0, "*" + ext})
	}
	o := map[string]dbus.Variant{
		"modal":          dbus.MakeVariant(true),
		"accept_label":   dbus.MakeVariant(f.Accept),
		"filters":        dbus.MakeVariant([]filter{only}),
		"current_filter": dbus.MakeVariant(only),
	}
	if f.Folder != "" {
		o["current_folder"] = dbus.MakeVariant(append([]byte(f.Folder), 0))
	}
	if f.Save && f.Name != "" {
		o["current_name"] = dbus.MakeVariant(f.Name)
	}
	return o
}

// ErrElsewhere says that the chosen file is not on this computer.
var ErrElsewhere = errors.New("the file is not on this computer")

// path returns the path of a URI.
func path(uri string) (string, error) {
	u, err := url.Parse(uri)
	if err != nil || u.Scheme != "file" || u.Host != "" && u.Host != "localhost" || !filepath.IsAbs(u.Path) {
		return "", fmt.Errorf("%q: %w", uri, ErrElsewhere)
	}
	return u.Path, nil
}
