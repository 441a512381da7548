// SPDX-License-Identifier: MIT

package file_test

import (
	"bytes"
	"testing"

	"earline/assets"
	"earline/project"
	"earline/project/file"
)

// TestIDsAreKeptFromVersion2On: a room without anything new opens in an old Earline
// as it did; one with something new keeps the ids that things hang on.
func TestIDsAreKeptFromVersion2On(t *testing.T) {
	d, err := file.Decode(assets.Start(), "start")
	if err != nil {
		t.Fatal(err)
	}
	if d.Seating.Rows[0].ID != "r1" || d.Speakers[0].ID != "s1" {
		t.Errorf("read: row %q, loudspeaker %q", d.Seating.Rows[0].ID, d.Speakers[0].ID)
	}
	old, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(old, []byte(`"id": "r1"`)) || !bytes.Contains(old, []byte(`"version": 1`)) {
		t.Error("a room without anything new is no version 1 without ids")
	}

	d.Criteria.Code = project.IRC
	d.Seating.Rows[0].ID = "r7"
	data, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	again, err := file.Decode(data, "again")
	if err != nil {
		t.Fatal(err)
	}
	if again.Seating.Rows[0].ID != "r7" || !bytes.Contains(data, []byte(`"id": "s1"`)) {
		t.Errorf("version 2 lost its ids: row %q", again.Seating.Rows[0].ID)
	}

	d.Criteria.Code = ""
	d.Seating.Rows[0].ID = "front-row" // somebody chose it, so it is something new
	if data, err = file.Encode(d); err != nil || !bytes.Contains(data, []byte(`"id": "front-row"`)) {
		t.Errorf("a chosen id was not written (%v)", err)
	}
}
