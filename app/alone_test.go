// SPDX-License-Identifier: MIT

package app

import "testing"

// The bar of the client view stood under the tour and the entrance.
func TestTheTourIsShownWithoutABar(t *testing.T) {
	for _, id := range []string{"view.tour", "view.entrance"} {
		q := new(queue)
		w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
		runID(t, w, "view.client")
		if !w.client.object.Visible() {
			t.Fatal("the client view has no bar")
		}
		runID(t, w, id)
		q.Until(t, w.room.Alone)
		if w.client.object.Visible() {
			t.Errorf("%s: there is a bar under it", id)
		}
		runID(t, w, "view.back")
		if w.room.Alone() || !w.client.object.Visible() {
			t.Errorf("%s: the client view did not come back with its bar", id)
		}
	}
}
