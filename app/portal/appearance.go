// SPDX-License-Identifier: MIT

package portal

import (
	"context"

	"github.com/godbus/dbus/v5"
)

// Appearance is how the desktop wants windows to look.
type Appearance struct {
	Scheme   Scheme
	Contrast bool // more contrast is wanted
}

// Scheme is which colours are wanted.
type Scheme uint32

// The schemes, as the portal numbers them.
const (
	AnyScheme Scheme = iota
	DarkScheme
	LightScheme
)

const appearance = "org.freedesktop.appearance"

// Appearance returns what the desktop wants now. What it does not say stays zero.
func (d *Desktop) Appearance(ctx context.Context) (Appearance, error) {
	if err := d.present(ctx); err != nil {
		return Appearance{}, err
	}
	var a Appearance
	scheme, err := d.setting(ctx, "color-scheme")
	if err != nil {
		return Appearance{}, err
	}
	if scheme <= uint32(LightScheme) {
		a.Scheme = Scheme(scheme)
	}
	contrast, _ := d.setting(ctx, "contrast") // which older desktops do not have
	a.Contrast = contrast == 1
	return a, nil
}

// setting reads a number of the desktop's appearance. The method is the older one, which
// every version has; it wraps the value once more.
func (d *Desktop) setting(ctx context.Context, key string) (uint32, error) {
	var v dbus.Variant
	err := d.bus.Object(service, object).CallWithContext(ctx, settings+".Read", 0, appearance, key).Store(&v)
	if err != nil {
		return 0, err
	}
	for {
		inner, ok := v.Value().(dbus.Variant)
		if !ok {
			break
		}
		v = inner
	}
	var n uint32
	err = v.Store(&n)
	return n, err
}

// Follow calls tell with the appearance now, and again whenever it changes, until ctx
// ends or the bus is gone. It returns at once when there is no portal.
func (d *Desktop) Follow(ctx context.Context, tell func(Appearance)) {
	signals := make(chan *dbus.Signal, 16)
	d.bus.Signal(signals)
	defer d.bus.RemoveSignal(signals)
	if d.bus.AddMatchSignalContext(ctx, dbus.WithMatchInterface(settings), dbus.WithMatchMember("SettingChanged"), dbus.WithMatchArg(0, appearance)) != nil {
		return
	}
	a, err := d.Appearance(ctx)
	if err != nil {
		return
	}
	tell(a)
	for {
		select {
		case <-ctx.Done():
			return
		case s, ok := <-signals:
			if !ok {
				return
			}
			if s.Name == settings+".SettingChanged" {
				if now, err := d.Appearance(ctx); err == nil && now != a {
					a = now
					tell(a)
				}
			}
		}
	}
}
