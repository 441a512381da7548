// SPDX-License-Identifier: MIT

package air

import (
	"testing"

	"earline/geometry/geomtest"
)

// The standard atmosphere at sea level, 15 degrees: 1.225 kg/m3 (ISO 2533:1975, from
// memory); 20 degrees: 1.204.
func TestDensity(t *testing.T) {
	geomtest.Within(t, "at 15 degrees", Density(15), 1.225, 5e-4)
	geomtest.Within(t, "at 20 degrees", Density(20), 1.204, 5e-4)
}
