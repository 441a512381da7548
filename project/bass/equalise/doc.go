// SPDX-License-Identifier: MIT

// Package equalise finds the few filters that all subwoofers get alike and that bring the
// response at the seats nearest a target: cuts first, boosts only where they are asked for
// and serve every seat. It takes responses of any origin, computed or measured.
//
// A filter that all subwoofers have changes every seat by the same dB: how the seats
// differ among themselves it leaves exactly as it was.
package equalise
