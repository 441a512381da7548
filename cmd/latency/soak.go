// SPDX-License-Identifier: MIT

//go:build latency

package main

import (
	"fmt"
	"time"
)

// soak edits for so long, ten times a second, and prints every half minute what the
// program has resident.
func soak(program string, long time.Duration) error {
	d, err := newDisplay()
	if err != nil {
		return err
	}
	defer d.close()
	w, err := d.open(program)
	if err != nil {
		return err
	}
	defer w.close()
	if _, err := w.untilRoom(); err != nil {
		return err
	}
	d.settle(pictureArea)
	fmt.Printf("%s: at the start %s\n", program, w.memory())
	if err := d.toField(); err != nil {
		return err
	}
	key := time.NewTicker(time.Second / 10)
	defer key.Stop()
	report := time.NewTicker(30 * time.Second)
	defer report.Stop()
	begin := time.Now()
	for n := 0; ; {
		select {
		case <-key.C:
			if time.Since(begin) > long {
				return nil
			}
			d.key(d.code(upOrDown(n)))
			n++
		case <-report.C:
			fmt.Printf("%s: after %.0f s and %d edits %s\n", program, time.Since(begin).Seconds(), n, w.memory())
		}
	}
}
