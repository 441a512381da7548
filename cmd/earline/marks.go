// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"os"
	"time"
)

// marksFile names the file to which the window writes when each step of showing a
// change was done: nanoseconds since 1970, and the step. For cmd/latency.
const marksFile = "EARLINE_MARKS"

// marks returns the writer of marks; nil where none are asked for. UI goroutine only.
func marks() (func(step string), error) {
	name := os.Getenv(marksFile)
	if name == "" {
		return nil, nil
	}
	f, err := os.Create(name)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", marksFile, err)
	}
	return func(step string) { fmt.Fprintln(f, time.Now().UnixNano(), step) }, nil // closed by the end
}
