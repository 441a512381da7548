// SPDX-License-Identifier: MIT

package file

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"earline/project"
)

// RecoveryPath returns where in dir the recovery copy of the document at
// docPath lives: unsaved work that outlives a crash. Two documents of one name
// in different folders have different copies. docPath is empty for a document
// that was never saved.
func RecoveryPath(dir, docPath string) string {
	if docPath == "" {
		return filepath.Join(dir, "unsaved.recovery.earline")
	}
	if abs, err := filepath.Abs(docPath); err == nil {
		docPath = abs
	}
	sum := sha256.Sum256([]byte(docPath))
	base := strings.TrimSuffix(filepath.Base(docPath), ".earline")
	return filepath.Join(dir, fmt.Sprintf("%s.%x.recovery.earline", base, sum[:4]))
}

// WriteRecovery writes the recovery copy of d, as Write does. It makes dir,
// readable by the user alone, if there is none.
func WriteRecovery(dir, docPath string, d *project.Design) error {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	return Write(RecoveryPath(dir, docPath), d)
}

// ReadRecovery returns the recovery copy of the document at docPath; ok is
// false when there is none.
func ReadRecovery(dir, docPath string) (d *project.Design, ok bool, err error) {
	d, err = Read(RecoveryPath(dir, docPath))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, false, nil
	}
	return d, err == nil, err
}

// RemoveRecovery removes the recovery copy, once the document is saved or its
// changes are given up. It is no error if there is none.
func RemoveRecovery(dir, docPath string) error {
	err := os.Remove(RecoveryPath(dir, docPath))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
