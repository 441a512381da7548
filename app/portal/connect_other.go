// SPDX-License-Identifier: MIT

//go:build !(linux || freebsd || netbsd || openbsd)

package portal

import "errors"

// Connect returns an error: this system has no desktop portal.
func Connect() (*Desktop, func(), error) { return nil, nil, errors.New("no desktop portal here") }
