// SPDX-License-Identifier: MIT

// Package portal asks the desktop for what it does for all programs alike: its own file
// chooser, and how it wants windows to look. It speaks to the XDG Desktop Portal
// (https://flatpak.github.io/xdg-desktop-portal/docs) over the session bus, which Linux
// and BSD desktops have. It knows no toolkit; safe from any goroutine.
package portal

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync/atomic"
	"time"

	"github.com/godbus/dbus/v5"
)

// Names of the portal on the bus.
const (
	service  = "org.freedesktop.portal.Desktop"
	object   = dbus.ObjectPath("/org/freedesktop/portal/desktop")
	chooser  = "org.freedesktop.portal.FileChooser"
	request  = "org.freedesktop.portal.Request"
	settings = "org.freedesktop.portal.Settings"
)

// startWait is how long the bus may take to say whether there is a portal, which it
// starts if need be. How long the user takes to choose is not limited.
const startWait = 5 * time.Second

// ErrCancelled says that the user chose nothing.
var ErrCancelled = errors.New("nothing was chosen")

// errGone says that the portal ended before it answered.
var errGone = errors.New("the desktop portal has ended")

// Desktop is the user's desktop.
type Desktop struct {
	bus   *dbus.Conn
	asked atomic.Uint64
}

// New returns the desktop behind a connection to its session bus, on which Hello was
// said. The connection stays its owner's to close.
func New(bus *dbus.Conn) *Desktop { return &Desktop{bus: bus} }

// present returns nil where there is a portal. One that runs already need not be one
// that the bus can start.
func (d *Desktop) present(ctx context.Context) error {
	ctx, stop := context.WithTimeout(ctx, startWait)
	defer stop()
	var runs bool
	if err := d.bus.BusObject().CallWithContext(ctx, "org.freedesktop.DBus.NameHasOwner", 0, service).Store(&runs); err != nil || runs {
		return err
	}
	return d.bus.BusObject().CallWithContext(ctx, "org.freedesktop.DBus.StartServiceByName", 0, service, uint32(0)).Err
}

// ask calls a method of the portal that answers by a signal, once the user has done
// something. args come before the options. When ctx ends the portal is told to close its
// dialog.
func (d *Desktop) ask(ctx context.Context, method string, options map[string]dbus.Variant, args ...any) (map[string]dbus.Variant, error) {
	if err := d.present(ctx); err != nil {
		return nil, err
	}
	token := fmt.Sprintf("earline%d", d.asked.Add(1))
	options["handle_token"] = dbus.MakeVariant(token)
	handle, err := d.handle(token)
	if err != nil {
		return nil, err
	}
	signals := make(chan *dbus.Signal, 16)
	d.bus.Signal(signals)
	defer d.bus.RemoveSignal(signals)
	answers := []dbus.MatchOption{dbus.WithMatchInterface(request), dbus.WithMatchMember("Response"), dbus.WithMatchObjectPath(handle)}
	owners := []dbus.MatchOption{dbus.WithMatchInterface("org.freedesktop.DBus"), dbus.WithMatchMember("NameOwnerChanged"), dbus.WithMatchArg(0, service)}
	// Before the call: the answer must not come first.
	for _, m := range [][]dbus.MatchOption{answers, owners} {
		if err := d.bus.AddMatchSignalContext(ctx, m...); err != nil {
			return nil, err
		}
		defer func() { _ = d.bus.RemoveMatchSignal(m...) }()
	}
	portal := d.bus.Object(service, object)
	var got dbus.ObjectPath
	if err := portal.CallWithContext(ctx, method, 0, append(args, options)...).Store(&got); err != nil {
		if ctx.Err() != nil {
			d.bus.Object(service, handle).Go(request+".Close", dbus.FlagNoReplyExpected, nil)
			return nil, ErrCancelled
		}
		return nil, err
	}
	if got != handle {
		return nil, fmt.Errorf("the desktop portal answers at %s, allowed: %s", got, handle)
	}
	for {
		select {
		case <-ctx.Done():
			d.bus.Object(service, handle).Go(request+".Close", dbus.FlagNoReplyExpected, nil)
			return nil, ErrCancelled
		case s, ok := <-signals:
			if !ok {
				return nil, errGone
			}
			var name, was, is string
			switch {
			case s.Path == handle && s.Name == request+".Response":
				return response(s.Body)
			case s.Name == "org.freedesktop.DBus.NameOwnerChanged" &&
				dbus.Store(s.Body, &name, &was, &is) == nil && name == service && is == "":
				return nil, errGone
			}
		}
	}
}

// handle returns where the portal answers a request with that token, as its manual
// (Request) says, so that one can listen before one asks.
func (d *Desktop) handle(token string) (dbus.ObjectPath, error) {
	for _, n := range d.bus.Names() {
		if sender, ok := strings.CutPrefix(n, ":"); ok {
			return object + dbus.ObjectPath("/request/"+strings.ReplaceAll(sender, ".", "_")+"/"+token), nil
		}
	}
	return "", errors.New("the session bus gave no name")
}

// response reads the answer to a request: 0 is done, 1 is given up by the user.
func response(body []any) (map[string]dbus.Variant, error) {
	var code uint32
	var results map[string]dbus.Variant
	if err := dbus.Store(body, &code, &results); err != nil {
		return nil, fmt.Errorf("the desktop portal's answer: %w", err)
	}
	switch code {
	case 0:
		return results, nil
	case 1:
		return nil, ErrCancelled
	}
	return nil, fmt.Errorf("the desktop portal's answer: found %d, allowed: 0 or 1", code)
}
