// SPDX-License-Identifier: MIT

// Package figure turns what the analyses of sound find into charts and into
// sheets over the floor: how long the room rings, how far the seats lie apart,
// what arrives after the direct sound, what the subwoofers do at every seat. It
// judges nothing. Its functions are safe from any goroutine.
package figure
