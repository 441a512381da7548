// SPDX-License-Identifier: MIT

package air

// Density returns the density of dry air at StandardPressure and the temperature in
// degrees Celsius, kg/m3: that of an ideal gas, p/(R T) with R = 287.05 J/(kg K), the
// constant of the International Standard Atmosphere (ISO 2533:1975; from memory).
// Damp air is lighter by at most 1 % up to 25 degrees. It must be above absolute zero.
func Density(celsius float64) float64 {
	const gas = 287.05 // J/(kg K)
	return 1000 * StandardPressure / (gas * (celsius + 273.15))
}
