// SPDX-License-Identifier: MIT

// Package follow moves along what hangs on the shell of a room, or is centred in
// it, when the shell changes: loudspeakers, lamps, doors, windows and treatments go with
// their walls and their ceiling, and what was centred stays centred.
package follow
