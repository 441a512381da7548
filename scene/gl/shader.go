// SPDX-License-Identifier: MIT

package gl

// Names of the programs registered with g3n.
const (
	litProgram      = "earline-lit"
	facingProgram   = "earline-facing"
	bakedProgram    = "earline-baked"
	grainProgram    = "earline-grain"
	starProgram     = "earline-star"
	plainProgram    = "earline-plain"
	dashedProgram   = "earline-dashed"
	backdropProgram = "earline-backdrop"
)

// lightAttribute is the name of the light that a mesh brings, in bakedVertex.
const lightAttribute = "VertexLight"

// Vertices come in the picture world, so a normal needs no matrix.
//
// Light comes from a pale sky and a warm floor, and one soft key light that
// wraps a little round the edge; a surface that turns away brightens faintly,
// and what is far gets a little less, so that depth reads. Light adds up where
// numbers are proportional to power, so colours are squared before and rooted
// after: a display's curve, near enough, for two cheap instructions. All of it
// is worked out at the vertices: our faces are flat or finely divided, and a
// large picture has a hundred times as many pixels.
const litVertex = `
layout(location = 0) in vec3 VertexPosition;
layout(location = 1) in vec3 VertexNormal;
layout(location = 2) in vec3 VertexColor;
uniform mat4 Matrix;
uniform vec4 Eye; // a point, or with w = 0 the direction to a far eye
uniform vec3 Key;
out vec3 Front;
#ifndef FACING
out vec3 Back;
#endif
vec3 shade(vec3 n, float gain, float rim) {
	float key = max(dot(n, Key) * 0.75 + 0.25, 0.0);
	vec3 light = mix(vec3(0.38, 0.36, 0.33), vec3(0.60, 0.63, 0.68), n.y * 0.5 + 0.5)
		+ vec3(0.62, 0.60, 0.56) * (key * key);
	return sqrt(VertexColor * VertexColor * light * gain + rim);
}
void main() {
	vec3 toEye = Eye.xyz - Eye.w * VertexPosition;
	float far2 = dot(toEye, toEye);
	float gain = 1.0 / (1.0 + 0.0020 * far2);
	float away = 1.0 - abs(dot(VertexNormal, toEye)) * inversesqrt(max(far2, 1e-12));
	float rim = 0.035 * away * away * away * away;
	Front = shade(VertexNormal, gain, rim);
#ifndef FACING
	Back = shade(-VertexNormal, gain, rim);
#endif
	gl_Position = Matrix * vec4(VertexPosition, 1.0);
}`

const litFragment = `
precision highp float;
in vec3 Front;
in vec3 Back;
uniform float Alpha;
out vec4 FragColor;
void main() { FragColor = vec4(gl_FrontFacing ? Front : Back, Alpha); }`

// facingVertex and facingFragment are the same for meshes of which only the
// front is ever drawn: half the light to work out.
const (
	facingVertex   = "#define FACING\n" + litVertex
	facingFragment = `
precision highp float;
in vec3 Front;
uniform float Alpha;
out vec4 FragColor;
void main() { FragColor = vec4(Front, Alpha); }`
)

// A mesh that brings its light needs no lamp of ours.
const (
	bakedVertex = `
layout(location = 0) in vec3 VertexPosition;
layout(location = 1) in vec3 VertexLight;
layout(location = 2) in vec3 VertexColor;
uniform mat4 Matrix;
out vec3 Light;
` + decodeColor + `
void main() {
	Light = decode(VertexColor) * VertexLight;
	gl_Position = Matrix * vec4(VertexPosition, 1.0);
}`
	bakedFragment = `
precision highp float;
in vec3 Light;
uniform float Alpha;
out vec4 FragColor;
` + showLight + `
void main() { FragColor = vec4(shown(Light), Alpha); }`
)

const plainVertex = `
layout(location = 0) in vec3 VertexPosition;
layout(location = 2) in vec3 VertexColor;
uniform mat4 Matrix;
out vec3 Color;
void main() {
	Color = VertexColor;
	gl_Position = Matrix * vec4(VertexPosition, 1.0);
}`

const plainFragment = `
precision highp float;
in vec3 Color;
uniform float Alpha;
out vec4 FragColor;
void main() { FragColor = vec4(Color, Alpha); }`

// A dashed line is one segment, and broken here: as many pieces each as long as a dash
// would be most of all that an edit throws away.
const dashedVertex = `
layout(location = 0) in vec3 VertexPosition;
layout(location = 1) in vec2 VertexTexcoord;
layout(location = 2) in vec3 VertexColor;
uniform mat4 Matrix;
out vec3 Color;
out vec2 Dash; // dashes so far, share drawn
void main() {
	Color = VertexColor;
	Dash = VertexTexcoord;
	gl_Position = Matrix * vec4(VertexPosition, 1.0);
}`

const dashedFragment = `
precision highp float;
in vec3 Color;
in vec2 Dash;
uniform float Alpha;
out vec4 FragColor;
void main() {
	if (fract(Dash.x) > Dash.y) discard;
	FragColor = vec4(Color, Alpha);
}`

// One triangle over the whole picture at the farthest depth, so that only what
// nothing covers is shaded.
const backdropVertex = `
layout(location = 0) in vec3 VertexPosition;
layout(location = 2) in vec3 VertexColor;
uniform vec4 Part; // scale and shift of what is drawn of the picture
out vec3 Color;
void main() {
	Color = VertexColor;
	gl_Position = vec4(VertexPosition.xy * Part.xy + Part.zw, 1.0, 1.0);
}`

// A dark gradient over 800 rows has fewer steps than rows and shows them as
// bands; noise of one step hides them (interleaved gradient noise: J. Jimenez,
// "Next generation post processing in Call of Duty", SIGGRAPH 2014, from
// memory).
const backdropFragment = `
precision highp float;
in vec3 Color;
out vec4 FragColor;
void main() {
	float noise = fract(52.9829189 * fract(dot(gl_FragCoord.xy, vec2(0.06711056, 0.00583715))));
	FragColor = vec4(Color + (noise - 0.5) / 255.0, 1.0);
}`
