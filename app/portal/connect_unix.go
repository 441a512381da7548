// SPDX-License-Identifier: MIT

//go:build linux || freebsd || netbsd || openbsd

package portal

import "github.com/godbus/dbus/v5"

// Connect returns the desktop of the session bus, and how to leave it. Where there is no
// bus none is started.
func Connect() (*Desktop, func(), error) {
	bus, err := dbus.SessionBusPrivateNoAutoStartup()
	if err != nil {
		return nil, nil, err
	}
	leave := func() { _ = bus.Close() }
	if err := bus.Auth(nil); err != nil {
		leave()
		return nil, nil, err
	}
	if err := bus.Hello(); err != nil {
		leave()
		return nil, nil, err
	}
	return New(bus), leave, nil
}
