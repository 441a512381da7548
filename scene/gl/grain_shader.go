// SPDX-License-Identifier: MIT

package gl

// decodeColor is the sRGB curve: see scene.RGB.Linear. At a vertex it costs nothing that
// can be measured.
const decodeColor = `
vec3 decode(vec3 c) {
	return mix(c / 12.92, pow((c + 0.055) / 1.055, vec3(2.4)), greaterThan(c, vec3(0.04045)));
}`

// showLight shows light, which is far brighter beside a lamp than a display can show, so
// that 5 is white (E. Reinhard and others, "Photographic tone reproduction for digital
// images", 2002, equation 4, from memory). It begins as a straight line: a curve with the
// foot of a film's makes black of all dark walls. A root stands for the display's curve: it
// is nowhere more than 0.04 of white from that of IEC 61966-2-1.
const showLight = `
vec3 shown(vec3 light) {
	vec3 x = light / 0.6;
	return sqrt(x * (x * 0.04 + 1.0) / (x + 1.0));
}`

// A picture at rest shows what things are made of. While the camera moves, the plain
// program draws the same colours without it.
const grainVertex = `
layout(location = 0) in vec3 VertexPosition;
layout(location = 1) in vec3 VertexLight;
layout(location = 2) in vec3 VertexColor;
layout(location = 3) in vec3 VertexFacing;
layout(location = 4) in float VertexMaterial;
uniform mat4 Matrix;
out vec3 Place;
out vec3 Facing;
out vec3 Light;
out vec3 Albedo;
flat out int Made;
` + decodeColor + `
void main() {
	Place = VertexPosition;
	Facing = VertexFacing;
	Light = VertexLight;
	Albedo = decode(VertexColor);
	Made = int(VertexMaterial + 0.5);
	gl_Position = Matrix * vec4(VertexPosition, 1.0);
}`

// materialStride is what an axis of the grain counts beside a kind in VertexMaterial.
const materialStride = 16

// Every pattern is made of the place in the room alone, so that it has no seam, repeats
// nowhere and needs no coordinates; it only lightens and darkens, as much as it darkens
// elsewhere, and goes as it gets finer than a pixel. So the mean colour stays, and nothing
// shimmers. The sizes and strengths are our own taste.
//
// What mirrors shows scene.Around, as if all that is seen were on the walls of the room
// (S. Lagarde and A. Zanuttini, "Local image-based lighting with parallax-corrected
// cubemaps", 2012, from memory), by as much as C. Schlick's share says ("An inexpensive BRDF
// model for physically-based rendering", 1994, equation 15, from memory). A place that gets
// less light than the mean mirrors less, by the square: it is shut in. Nothing is mirrored where
// it is truly hidden, and no surface is seen in another.
const grainFragment = "#define STRIDE 16 // as materialStride\n" + `
precision highp float;
in vec3 Place;
in vec3 Facing;
in vec3 Light;
in vec3 Albedo;
flat in int Made;
uniform float Alpha;
uniform vec4 Eye; // a point, or with w = 0 the direction to a far eye
uniform samplerCube Around;
uniform vec3 AroundAt;
uniform vec3 AroundLo;
uniform vec3 AroundHi;
uniform float Mean; // luminance of all around; 0 mirrors nothing
out vec4 FragColor;
` + showLight + `
float foot; // metres that a pixel covers

float lattice(ivec3 p) {
	uint h = uint(p.x) * 0x8da6b343u ^ uint(p.y) * 0xd8163841u ^ uint(p.z) * 0xcb1ab31fu;
	h ^= h >> 15; h *= 0x2c1b3c6du; h ^= h >> 12; h *= 0x297a2d39u; h ^= h >> 15;
	return float(h >> 8) / 8388608.0 - 1.0;
}
// noise is from -1 to 1 and changes over a step of 1.
float noise(vec3 p) {
	vec3 c = floor(p);
	ivec3 i = ivec3(c);
	vec3 f = p - c;
	f = f * f * (3.0 - 2.0 * f);
	vec4 near = vec4(lattice(i), lattice(i + ivec3(1, 0, 0)), lattice(i + ivec3(0, 1, 0)), lattice(i + ivec3(1, 1, 0)));
	vec4 far = vec4(lattice(i + ivec3(0, 0, 1)), lattice(i + ivec3(1, 0, 1)), lattice(i + ivec3(0, 1, 1)), lattice(i + ivec3(1, 1, 1)));
	vec4 z = mix(near, far, f.z);
	vec2 y = mix(z.xy, z.zw, f.y);
	return mix(y.x, y.y, f.x);
}
// finer is from 1 to 0 as steps of that size, metres, get finer than a pixel.
float finer(float size) { return 1.0 - smoothstep(0.5, 1.0, foot / size); }

// A material is made of layers of noise, coarse ones first, so that one ends with what a
// pixel shows. Each has a strength, a size in metres, how many times longer that is along
// the grain, or along the threads, and what it does.
const int CLOTH = 1, TIMBER = 3, LEATHER = 4, METAL = 6, LACQUER = 7; // as scene.Material
const int TONE = 0, CREASE = 1, UP = 2, ACROSS = 3, RINGS = 4, BEND = 5;
struct layer { float strength, size, longer; int does; };
const layer layers[27] = layer[27](
	layer(0.0, 1.0, 1.0, TONE), // of what has none
	layer(0.035, 0.11, 1.0, TONE), layer(0.06, 0.012, 1.0, TONE), // cloth
	layer(0.055, 0.012, 25.0, UP), layer(0.055, 0.012, 25.0, ACROSS), layer(0.11, 0.0035, 14.0, UP), layer(0.11, 0.0035, 14.0, ACROSS),
	layer(0.042, 0.45, 1.0, TONE), layer(0.072, 0.055, 1.0, TONE), layer(0.155, 0.018, 1.0, TONE), layer(0.31, 0.0065, 1.0, TONE), layer(0.24, 0.0022, 1.0, TONE), // carpet
	layer(0.09, 0.143, 15.0, RINGS), layer(0.015, 0.4, 2.8, BEND), // timber: the rings of the tree, and what they bend
	layer(0.12, 0.062, 20.0, TONE), layer(0.13, 0.0133, 34.0, TONE), layer(0.13, 0.0034, 58.0, TONE), layer(0.11, 0.0011, 41.0, TONE),
	layer(0.04, 0.16, 1.0, TONE), layer(0.03, 0.045, 1.0, TONE), layer(0.02, 0.028, 1.0, CREASE), layer(0.075, 0.0075, 1.0, CREASE), layer(0.08, 0.0025, 1.0, TONE), // leather
	layer(0.01, 0.30, 1.0, TONE), layer(0.025, 0.004, 1.0, TONE), // paint
	layer(0.06, 0.005, 50.0, TONE), layer(0.16, 0.00125, 90.0, TONE)); // metal
const int first[8] = int[8](0, 1, 7, 12, 18, 23, 25, 0); // of each kind
const int last[8] = int[8](0, 6, 11, 17, 22, 24, 26, 0);

// about returns the light from a direction, the softer the higher the step.
vec3 about(vec3 way, float soft) {
	way = mix(way, vec3(1e-4), lessThan(abs(way), vec3(1e-4)));
	vec3 far = max((AroundHi - Place) / way, (AroundLo - Place) / way);
	float d = max(min(far.x, min(far.y, far.z)), 0.0);
	return textureLod(Around, Place + way * d - AroundAt, soft).rgb;
}
float bright(vec3 c) { return dot(c, vec3(0.2126, 0.7152, 0.0722)); }

void main() {
	foot = max(length(dFdx(Place)), length(dFdy(Place)));
	vec3 n = normalize(gl_FrontFacing ? Facing : -Facing);
	int kind = Made % STRIDE, axis = Made / STRIDE;
	if (kind > LACQUER) kind = 0;
	vec3 g = kind != TIMBER && kind != METAL || axis == 0 ? Place.xyz : axis == 1 ? Place.yzx : Place.zxy;
	// Threads run in the surface; g.x is along the grain.
	vec2 across = vec2(dot(Place.xz, vec2(-n.z, n.x)) * inversesqrt(max(dot(n.xz, n.xz), 1e-6)), Place.y);
	vec3 flatly = vec3(abs(n.y) > 0.7 ? Place.xz : across, 3.5);
	float bend = max(length(dFdx(n)), length(dFdy(n))) / foot; // a metre; of what is flat 0
	float threads = 1.0 - smoothstep(0.3, 2.0, bend); // on what is round they would make rings
	float tone = kind == CLOTH ? 0.20 * threads * (1.0 - smoothstep(0.25, 0.5, foot / 0.0022)) * sin(flatly.x * 2856.0) * sin(flatly.y * 2856.0) : 0.0;
	float height = 0.0; // of the surface, metres
	// Software that draws takes both ways of an if, and a loop once at least: so all noise is
	// in one place.
	int i = first[kind], end = last[kind];
	bool more;
	do {
		layer o = layers[i];
		float k = o.strength * finer(o.size);
		vec3 at = g;
		if (o.does == UP) at = flatly;
		if (o.does == ACROSS) at = flatly.yxz;
		if (o.does == UP || o.does == ACROSS) k *= threads;
		float v = noise(at / vec3(o.size * o.longer, o.size, o.size) + 17.3 * float(i));
		if (o.does == RINGS) tone += k * sin(28.3 * v);
		if (o.does == BEND) g.yz += o.strength * vec2(v, 0.7 * v);
		if (o.does == CREASE) v = 0.37 - (1.0 - smoothstep(0.0, 0.30, abs(v)));
		if (o.does <= ACROSS) {
			tone += k * v;
			height += (o.does == CREASE ? 0.06 : 0.22) * o.strength * v * o.size * (1.0 - smoothstep(0.06, 0.22, foot / o.size)); // a glint finer than a pixel would be snow
		}
		more = i < end && (o.does > ACROSS || k > 0.0);
		i++;
	} while (more);
	vec3 own = Albedo * (1.0 + tone * (kind == TIMBER ? vec3(0.85, 1.0, 1.15) : vec3(1.0)));
	if (kind == LEATHER) { // tilted as its height changes (M. Mikkelsen, "Bump mapping unparametrized surfaces on the GPU", 2010, from memory)
		vec3 px = dFdx(Place), py = dFdy(Place), u = cross(py, n), v = cross(n, px);
		float area = dot(px, u);
		n = normalize((abs(area) + 1e-12) * n - sign(area) * (dFdx(height) * u + dFdy(height) * v));
	}
	float soft = 0.0, straight = 0.0, rough = 1.0, shine = 0.0; // of what mirrors
	vec3 tint = vec3(1.0);
	if (kind == LEATHER) { straight = 0.035; soft = 3.1; rough = 0.6; shine = 0.6; }
	if (kind == METAL) { straight = 1.0; soft = 2.6; rough = 0.5; shine = 0.4; tint = Albedo; }
	if (kind == LACQUER) { straight = 0.04; soft = 1.2; rough = 0.3; shine = 0.6; }
	vec3 light = own * Light;
	if (shine > 0.0 && Mean > 0.0) {
		vec3 eye = normalize(Eye.xyz - Eye.w * Place);
		float straightOn = clamp(dot(n, eye), 0.0, 1.0);
		float share = shine * (straight + (max(1.0 - rough, straight) - straight) * pow(1.0 - straightOn, 5.0));
		float open = min(bright(Light) / Mean, 1.0);
		light = light * (1.0 - share) + share * open * open * tint * about(reflect(-eye, n), soft);
	}
	FragColor = vec4(shown(light), Alpha);
}`
