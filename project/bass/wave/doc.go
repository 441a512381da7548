// SPDX-License-Identifier: MIT

// Package wave answers what sound does at low frequencies in a room of any
// outline, with a flat or sloped ceiling and with rigid blocks such as platforms
// in it: it solves the wave equation on a grid, step by step in time.
//
// Scheme. Seven points, leapfrog, second order in space and time (standard
// rectilinear; Botteldooren, JASA 98 (1995) 3302), with spacings hx, hy, hz that
// fit the room's extent exactly and the time step at the limit of stability,
// c dt = 1/sqrt(1/hx^2 + 1/hy^2 + 1/hz^2). The room is the union of the cells
// whose middle lies in it; pressures sit on the corners of cells, so walls pass
// through grid points. Each point stands for the air of the cells around it: with
// V its share of a full cell, A the share of the face between it and a neighbour,
// and g the admittance of the surfaces it touches,
//
//	V (p+ - 2 p + p-) = sum over neighbours (c dt/h)^2 A (pn - p) - G (p+ - p-)
//	G = c dt/(2 h) g (area of surface at the point)/h^2
//
// which on a flat wall, an edge and a corner is the frequency-independent
// boundary of Kowalczyk and van Walstijn (IEEE Trans. ASLP 19 (2011) 34), and for
// every other union of cells the finite-volume form of it (Bilbao, Hamilton,
// Botts and Savioja, IEEE/ACM Trans. ASLP 24 (2016) 161), stable since each cell
// alone is. Walls that do not run along the grid become stairs; their admittance
// is scaled by the cosine to the normal so that the area is right.
//
// Half the grid. At the limit of stability the weight of p itself, 2 V minus the
// sum over neighbours, is 0 at every point of every union of cells (a cell gives
// each of its corners V = 1/8, A = 1/4 along each of three edges, and the squares
// of the Courant numbers add up to 1). A point at one time then depends only on
// its neighbours at the time before, and the points whose indices and time add up
// to an even number never meet the others: the grid holds two complete solutions.
// Only one is computed, in place: half the memory and half the work for the same
// pressures, at every second time of each point.
//
// Dispersion. Waves along an axis run slow, by (k h)^2/24 (1 - (c dt/h)^2): at 10
// points a wavelength 1.1 %, at twice that 0.27 %; along the diagonal of a cubic
// cell not at all. Results are read at a frequency lower by half of that, so that
// modes lie within 0.55 % of their place at the highest frequency, and within a
// quarter of that an octave below.
package wave
