// SPDX-License-Identifier: MIT

// Package wave answers what sound does at low frequencies in a room of any
// outline, with a flat or sloped ceiling and with rigid blocks such as platforms
// in it: it solves the wave equation on a grid, step by step in time.
//
// Scheme. Seven points, leapfrog, second order in space and time (standard
// rectilinear; Botteldooren, JASA 98 (1995) 3302), with spacings hx, hy, hz that
// fit the room's extent exactly and the time step at the limit of stability,
// c dt = 1/sqrt(1/hx^2 + 1/hy^2 + 1/hz^2). Pressures sit on the corners of cells,
// and a cell stands for the air that it holds: f, its volume as a share of a full
// cell, is cut out exactly, whatever walls, ceilings and blocks do in it, so that
// nothing is moved onto the grid. Each point stands for the air of the cells around
// it: with V the sum of f/8 over its eight cells, A that of f/4 over the four cells
// along the edge to a neighbour, and g the admittance of the surfaces near it,
//
//	V (p+ - 2 p + p-) = sum over neighbours (c dt/h)^2 A (pn - p) - G (p+ - p-)
//	G = c dt/2 (sum of g times area)/(hx hy hz)
//
// where each piece of surface is shared out to the eight corners of its cell, the
// more the nearer. For full cells this is, on a flat wall, an edge and a corner, the
// frequency-independent boundary of Kowalczyk and van Walstijn (IEEE Trans. ASLP 19
// (2011) 34), and for every other union of cells the finite-volume form of it
// (Bilbao, Hamilton, Botts and Savioja, IEEE/ACM Trans. ASLP 24 (2016) 161). It is
// stable since each cell alone is, however little air it holds: no cell is too
// small, and the time step is always the same.
//
// A cell that holds the share f between two planes has the right volume and the
// right face areas along the wall; that its air is spread over its full depth costs
// an error of the third order, since p hardly changes towards a hard wall, and the
// sharing out makes that of a soft one right to the same order: seen from the last
// plane, the layer of air f h before a wall of admittance g has the admittance g + j
// k f h (1 - g^2), and so has the cell. The error of a response falls with the square
// of the spacing, with slanted walls and sloped ceilings as well (2.1 in the test).
// A solid thinner than a cell or two would leave points in common on its both sides:
// one of its cells is shut and its air given to the next (keepApart). This looks
// along the axes: a wall thinner than two cells that stands aslant in the room still
// lets some sound through.
//
// Edges. Round the edge of a solid the flow grows as r^(-1/3), which no grid of this
// kind follows; the error falls with the 4/3rd power of the spacing only. The air of
// the four cells there is thinned so that the flow farther away is right: see
// thinned. It moves modes by less than a thousandth where it leaves air out, and
// takes the error below 60 Hz to a quarter.
//
// Half the grid. At the limit of stability the weight of p itself, 2 V minus the
// sum over neighbours, is 0 at every point of every union of cells (a cell gives
// each of its corners V = f/8, A = f/4 along each of three edges, and the squares
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
//
// Errors, from 20 to 120 Hz on the usual grid of 120 mm outside dips of 12 dB, in the
// tests: boxes of absorption 0.1 to 0.8 within 0.2 dB rms of the exact sum over
// complex eigenfunctions; at 0.02, where peaks are narrower than the dispersion moves
// them, 0.9 dB; L rooms with a decay time of 0.6 s within 0.2 dB rms of an exact mode
// matching, wherever their walls fall, their modes within 0.05 %. Doubt estimates the
// error for a room at hand.
package wave
