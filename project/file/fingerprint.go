// SPDX-License-Identifier: MIT

package file

import (
	"crypto/sha256"
	"fmt"

	"earline/project"
)

// Fingerprint returns what tells the file of d from every other, short enough to be
// read out: four groups of four hexadecimal digits of the SHA-256 of its bytes.
func Fingerprint(d *project.Design) (string, error) {
	data, err := Encode(d)
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(data)
	return fmt.Sprintf("%x %x %x %x", sum[0:2], sum[2:4], sum[4:6], sum[6:8]), nil
}
