// SPDX-License-Identifier: MIT

package gl

// decodeColor is the sRGB curve: see scene.RGB.Linear. At a vertex it costs nothing that
// can be measured.
const decodeColor = `
vec3 decode(vec3 c) {
	return mix(c / 12.92, pow((c + 0.055) / 1.055, vec3(2.4)), greaterThan(c, vec3(0.04045)));
}`

// filmCurve shows light, which is far brighter beside a lamp than a display can show: a
// curve like that of film leads it to white (J. Hejl and R. Burgess-Dawson, "Filmic
// tonemapping for real-time rendering", 2010, from memory: it has the display's curve in it).
const filmCurve = `
vec3 film(vec3 light) {
	vec3 x = max(light - 0.004, 0.0);
	return x * (6.2 * x + 0.5) / (x * (6.2 * x + 1.7) + 0.06);
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
// less light than the mean mirrors as much less: it is shut in. Nothing is mirrored where
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
` + filmCurve + `
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
// part is noise whose finest step is size metres, by strength, as far as a pixel shows it.
float part(vec3 p, float size, float strength) {
	float k = strength * (1.0 - smoothstep(0.5, 1.0, foot / size));
	return k > 0.0 ? k * noise(p) : 0.0;
}
// crease is dark lines of that kind.
float crease(vec3 p, float size, float strength) {
	float k = strength * (1.0 - smoothstep(0.35, 0.7, foot / size));
	return k > 0.0 ? k * (0.37 - (1.0 - smoothstep(0.0, 0.30, abs(noise(p))))) : 0.0;
}

float cloth(vec3 n) {
	vec3 a = abs(n);
	float most = max(a.x, max(a.y, a.z));
	vec2 at = a.x == most ? Place.zy : a.y == most ? Place.xz : Place.xy;
	float tone = part(Place / 0.11, 0.11, 0.035) + part(Place / 0.012, 0.012, 0.06);
	float flatly = smoothstep(0.90, 0.98, most); // on what is round, threads would make rings
	if (flatly > 0.0) {
		float threads = part(vec3(at.x / 0.30, at.y / 0.012, 3.5), 0.012, 0.075) + part(vec3(at.x / 0.012, at.y / 0.30, 7.5), 0.012, 0.075)
			+ part(vec3(at.x / 0.05, at.y / 0.0035, 11.5), 0.0035, 0.11) + part(vec3(at.x / 0.0035, at.y / 0.05, 15.5), 0.0035, 0.11);
		float weave = 0.20 * (1.0 - smoothstep(0.25, 0.5, foot / 0.0022));
		if (weave > 0.0) threads += weave * sin(at.x * 2856.0) * sin(at.y * 2856.0);
		tone += flatly * threads;
	}
	return tone;
}
float carpet() {
	return part(Place / 0.45, 0.45, 0.035) + part(Place / 0.055, 0.055, 0.06) + part(Place / 0.018, 0.018, 0.13)
		+ part(Place / 0.0065, 0.0065, 0.26) + part(Place / 0.0022, 0.0022, 0.20);
}
float timber(vec3 g) { // g.x along the grain
	vec3 bent = g + vec3(0.0, 0.02, 0.013) * noise(g * vec3(0.9, 2.5, 2.5));
	float rings = noise(bent * vec3(0.45, 7.0, 7.0) + 40.0) * 4.5;
	float tone = 0.09 * sin(6.2832 * rings) * (1.0 - smoothstep(0.5, 1.0, foot / 0.02));
	return tone + part(bent * vec3(0.8, 16.0, 16.0), 0.06, 0.12) + part(bent * vec3(2.2, 75.0, 75.0), 0.013, 0.13)
		+ part(g * vec3(5.0, 290.0, 290.0), 0.0034, 0.13) + part(g * vec3(22.0, 900.0, 900.0), 0.0011, 0.11);
}
float hide() {
	return part(Place / 0.16, 0.16, 0.04) + part(Place / 0.045, 0.045, 0.03) + crease(Place / 0.028, 0.012, 0.02)
		+ crease(Place / 0.0075, 0.0038, 0.075) + part(Place / 0.0025, 0.0025, 0.08);
}
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
	vec3 g = axis == 0 ? Place.xyz : axis == 1 ? Place.yzx : Place.zxy;
	vec3 own = Albedo;
	float soft = 0.0, straight = 0.0, rough = 1.0, shine = 0.0; // of what mirrors
	vec3 tint = vec3(1.0);
	if (kind == 1) own *= 1.0 + cloth(n);
	else if (kind == 2) own *= 1.0 + carpet();
	else if (kind == 3) own *= 1.0 + timber(g) * vec3(0.85, 1.0, 1.15);
	else if (kind == 4) {
		own *= 1.0 + hide();
		float k = 0.05 * (1.0 - smoothstep(0.25, 0.6, foot / 0.006));
		vec3 p = Place / 0.006;
		if (k > 0.0) n = normalize(n + k * vec3(noise(p), noise(p + 31.3), noise(p + 57.7)));
		p = Place / 0.05;
		n = normalize(n + 0.03 * vec3(noise(p), noise(p + 31.3), noise(p + 57.7)));
		straight = 0.035; soft = 3.1; rough = 0.55; shine = 1.0;
	} else if (kind == 5) own *= 1.0 + part(Place / 0.30, 0.30, 0.010) + part(Place / 0.004, 0.004, 0.025);
	else if (kind == 6) {
		own *= 1.0 + part(g * vec3(9.0, 800.0, 800.0), 0.00125, 0.16) + part(g * vec3(4.0, 200.0, 200.0), 0.005, 0.06);
		straight = 1.0; soft = 1.3; rough = 0.3; shine = 0.7;
		tint = Albedo;
	} else if (kind == 7) { straight = 0.04; soft = 0.4; rough = 0.1; shine = 1.0; }
	vec3 light = own * Light;
	if (shine > 0.0 && Mean > 0.0) {
		vec3 eye = normalize(Eye.xyz - Eye.w * Place);
		float in1 = clamp(dot(n, eye), 0.0, 1.0);
		float share = shine * (straight + (max(1.0 - rough, straight) - straight) * pow(1.0 - in1, 5.0));
		float open = min(bright(Light) / Mean, 1.0);
		light = light * (1.0 - share) + share * open * tint * about(reflect(-eye, n), soft);
	}
	FragColor = vec4(film(light), Alpha);
}`
