// SPDX-License-Identifier: MIT

// Package air is what sound goes through: how fast it goes and how much of it is
// lost on the way, by ISO 9613-1:1993.
package air

import "math"

// StandardPressure is the reference pressure of ISO 9613-1:1993, kPa: exact by
// definition. A design gives no pressure, so this is used.
const StandardPressure = 101.325

// Speed20 is the speed of sound in air at 20 degrees Celsius, metres a second
// (ISO 9613-1:1993, Annex A).
const Speed20 = 343.2

// Speed returns the speed of sound in air at the temperature in degrees Celsius,
// metres a second: 343.2 sqrt(T/293.15) with T in kelvin (ISO 9613-1:1993,
// Annex A). It is 0 at and below absolute zero.
func Speed(celsius float64) float64 {
	return Speed20 * math.Sqrt(max(0, celsius+273.15)/293.15)
}

// Attenuation returns what air takes from a pure tone of frequency f, hertz, dB
// a metre, at t degrees Celsius, relative humidity rh in per cent and pressure
// kPa: ISO 9613-1:1993, equations 3 to 5 and B.2, B.3. The standard states 10 %
// accuracy for -20 to 50 degrees, below 200 kPa, a molar concentration of water
// vapour of 0.05 to 5 %, and 4e-4 to 10 Hz/Pa (above 40 Hz at sea level).
func Attenuation(f, t, rh, pressure float64) float64 {
	const (
		t0     = 293.15 // K, reference temperature
		triple = 273.16 // K, triple point of water
	)
	kelvin := t + 273.15
	p := pressure / StandardPressure
	saturation := math.Pow(10, -6.8346*math.Pow(triple/kelvin, 1.261)+4.6151)
	h := rh * saturation / p // molar concentration of water vapour, per cent
	rel := kelvin / t0
	oxygen := p * (24 + 4.04e4*h*(0.02+h)/(0.391+h))
	nitrogen := p / math.Sqrt(rel) * (9 + 280*h*math.Exp(-4.170*(math.Pow(rel, -1./3)-1)))
	return 8.686 * f * f * (1.84e-11/p*math.Sqrt(rel) + math.Pow(rel, -2.5)*
		(0.01275*math.Exp(-2239.1/kelvin)/(oxygen+f*f/oxygen)+
			0.1068*math.Exp(-3352.0/kelvin)/(nitrogen+f*f/nitrogen)))
}

// EnergyAttenuation returns the coefficient m, 1/m, by which the energy of sound
// falls, from an attenuation in dB a metre: m = alpha / (10 lg e) (ISO 354:2003,
// 8.1.2.1).
func EnergyAttenuation(alpha float64) float64 { return alpha / (10 * math.Log10E) }
