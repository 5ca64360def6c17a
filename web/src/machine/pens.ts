/** The pens: flat faces with a little shade, ink lines, hatched cuts, the outline of what is chosen. Colours are those of the screen. */
import {
  BackSide, Color, CustomBlending, DoubleSide, DstAlphaFactor, MaxEquation, OneFactor, OneMinusDstAlphaFactor, ShaderMaterial, type Texture, Vector2,
  Vector3, ZeroFactor,
} from "three";
import { CHOSEN, INK } from "../color";
import { STANDING, type Stations } from "./bend";

/** Shared by all pieces. */
export type Common = {
  /** Dots of the screen to a pixel of the page. */
  uDots: { value: number };
  /** How far ink goes before the faces that it lies on, of half the depth. */
  uInkBefore: { value: number };
};
export const common = (): Common => ({ uDots: { value: 1 }, uInkBefore: { value: INK_BEFORE } });
/** Beyond what the slope of the faces asks for, which they give way by. */
export const INK_BEFORE = 1.4e-5;

/** A colour as the screen shows it: no conversion lies between this and the paper. */
export function screen(hex: string): Vector3 {
  const c = new Color(hex).getRGB({ r: 0, g: 0, b: 0 }, "srgb");
  return new Vector3(c.r, c.g, c.b);
}

const [DARK, LIGHT, PALE] = [INK, "#c3cfda", "#7f9bb5"].map(screen);

const FACE_VERTEX = `
${STANDING}
uniform float uBefore;
varying vec3 vTurned;
#include <clipping_planes_pars_vertex>
void main() {
  vec4 mvPosition = viewMatrix * vec4(standing(position), 1.0);
  gl_Position = projectionMatrix * mvPosition;
  gl_Position.z -= uBefore;
  vTurned = normalMatrix * normal;
  #include <clipping_planes_vertex>
}`;

const FACE_FRAGMENT = `
uniform vec3 uColor;
uniform float uAlpha;
varying vec3 vTurned;
#include <clipping_planes_pars_fragment>
void main() {
  #include <clipping_planes_fragment>
  float light = max(0.0, dot(normalize(vTurned), normalize(vec3(-0.45, 0.62, 0.72))));
  gl_FragColor = vec4(uColor * (0.79 + 0.21 * light), uAlpha);
}`;

/** What is round lies in a bore of the same size, both drawn with flat sides: it goes before by this share of half the depth. */
const ROUND_BEFORE = 8e-6;

export function faceMaterial(of: Stations, round: boolean): ShaderMaterial {
  return new ShaderMaterial({
    uniforms: { ...of, uColor: { value: new Vector3(1, 1, 1) }, uAlpha: { value: 1 }, uBefore: { value: round ? ROUND_BEFORE : 0 } },
    vertexShader: FACE_VERTEX,
    fragmentShader: FACE_FRAGMENT,
    clipping: true,
    polygonOffset: true,
    polygonOffsetFactor: 1.5,
    polygonOffsetUnits: 2,
  });
}

/**
 * The inside of a face is seen only through a cut: it is drawn as the cut, flat and hatched. There the drawing gets no alpha, which
 * tells the ink to stay away: lines that lie behind a cut are not seen.
 */
const INSIDE_FRAGMENT = `
uniform vec3 uColor;
uniform vec3 uInk;
uniform float uHatch;
uniform float uDots;
#include <clipping_planes_pars_fragment>
void main() {
  #include <clipping_planes_fragment>
  float line = mod(gl_FragCoord.x + uHatch * gl_FragCoord.y, 7.0 * uDots);
  gl_FragColor = vec4(mix(uInk, mix(vec3(1.0), uColor, 0.75), line < uDots ? 0.45 : 1.0), 0.0);
}`;

export function insideMaterial(of: Stations, shared: Common, face: ShaderMaterial, id: number): ShaderMaterial {
  const { uColor, uBefore } = face.uniforms;
  return new ShaderMaterial({
    uniforms: { ...of, ...shared, uColor, uBefore, uInk: { value: DARK }, uHatch: { value: id % 2 ? 1 : -1 } },
    vertexShader: FACE_VERTEX,
    fragmentShader: INSIDE_FRAGMENT,
    clipping: true,
    side: BackSide,
    // two sheets on each other share a face: the cut one is seen
    polygonOffset: true,
    polygonOffsetFactor: 0,
    polygonOffsetUnits: -8,
  });
}

/** A space, not a thing: one sees through it. */
export function thin(face: ShaderMaterial, ink: ShaderMaterial): void {
  face.transparent = ink.transparent = true; // drawn last
  face.depthWrite = false;
  face.uniforms.uAlpha.value = 0.07;
}

const INK_VERTEX = `
${STANDING}
attribute vec3 sideA;
attribute vec3 sideB;
attribute float sharp;
uniform float uPress;
uniform float uInkBefore;
varying float vPress;
#include <clipping_planes_pars_vertex>
void main() {
  vec4 mvPosition = viewMatrix * vec4(standing(position), 1.0);
  gl_Position = projectionMatrix * mvPosition;
  gl_Position.z -= uInkBefore;
  // one of the two faces is seen and the other is not: here the piece ends for the eye
  bool brim = (normalMatrix * sideA).z * (normalMatrix * sideB).z <= 0.0;
  vPress = brim ? max(uPress, 0.7) : uPress;
  if (sharp == 0.0 && !brim) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
  #include <clipping_planes_vertex>
}`;

const INK_FRAGMENT = `
uniform vec3 uInk;
uniform vec3 uColor;
varying float vPress;
#include <clipping_planes_pars_fragment>
void main() {
  #include <clipping_planes_fragment>
  gl_FragColor = vec4(mix(0.88 * uColor, uInk, vPress), 1.0);
}`;

/**
 * @param face The pen of the faces that the lines lie on.
 * @param press How hard the pen presses, 0 to 1; shared by all pieces of a shape.
 */
export function inkMaterial(of: Stations, shared: Common, face: ShaderMaterial, press: { value: number }): ShaderMaterial {
  return new ShaderMaterial({
    uniforms: { ...of, ...shared, uInk: { value: DARK }, uColor: face.uniforms.uColor, uPress: press },
    vertexShader: INK_VERTEX,
    fragmentShader: INK_FRAGMENT,
    clipping: true,
    blending: CustomBlending,
    blendSrc: DstAlphaFactor,
    blendDst: OneMinusDstAlphaFactor,
    blendSrcAlpha: ZeroFactor,
    blendDstAlpha: OneFactor,
  });
}

/** Ink that is seen on a colour of a face, or round a space. */
export function inkOn(what: Vector3 | "space"): Vector3 {
  if (what === "space") return PALE;
  return 0.3 * what.x + 0.59 * what.y + 0.11 * what.z < 0.42 ? LIGHT : DARK;
}

/** After a cut: gives the whole drawing its alpha back. */
export function opaqueMaterial(): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: "void main() { gl_Position = vec4(position.xy, 0.0, 1.0); }",
    fragmentShader: "void main() { gl_FragColor = vec4(1.0); }",
    depthTest: false,
    depthWrite: false,
    blending: CustomBlending,
    blendSrc: ZeroFactor,
    blendDst: OneFactor,
    blendSrcAlpha: OneFactor,
    blendDstAlpha: ZeroFactor,
  });
}

/** For the lines round what is cut: a hair before the cut itself. */
export function cutMaterial(): ShaderMaterial {
  return new ShaderMaterial({
    uniforms: { uInk: { value: screen(INK) } },
    vertexShader: "void main() { gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); gl_Position.z -= 2e-5; }",
    fragmentShader: "uniform vec3 uInk; void main() { gl_FragColor = vec4(uInk, 1.0); }",
  });
}

/** Fills the figure of a piece: from it the outline is found. Two parts have a colour each, so that one before the other keeps its outline. */
export function figureMaterial(of: Stations, second: boolean): ShaderMaterial {
  return new ShaderMaterial({
    uniforms: { ...of, uFill: { value: second ? new Vector2(0, 1) : new Vector2(1, 0) } },
    vertexShader: `${STANDING}
#include <clipping_planes_pars_vertex>
void main() {
  vec4 mvPosition = viewMatrix * vec4(standing(position), 1.0);
  gl_Position = projectionMatrix * mvPosition;
  #include <clipping_planes_vertex>
}`,
    fragmentShader: `
uniform vec2 uFill;
#include <clipping_planes_pars_fragment>
void main() {
  #include <clipping_planes_fragment>
  gl_FragColor = vec4(uFill, 0.0, 1.0);
}`,
    clipping: true,
    side: DoubleSide,
    blending: CustomBlending,
    blendEquation: MaxEquation,
    blendSrc: OneFactor,
    blendDst: OneFactor,
    depthTest: false,
  });
}

/** Draws the outline of a filled figure over everything. */
export function outlineMaterial(figure: Texture): ShaderMaterial {
  return new ShaderMaterial({
    uniforms: { uFigure: { value: figure }, uStep: { value: new Vector2(1, 1) }, uInk: { value: screen(CHOSEN) } },
    vertexShader: "varying vec2 vAt; void main() { vAt = uv; gl_Position = vec4(position.xy, 0.0, 1.0); }",
    fragmentShader: `
uniform sampler2D uFigure;
uniform vec2 uStep;
uniform vec3 uInk;
varying vec2 vAt;
void main() {
  vec2 most = vec2(0.0), least = vec2(1.0);
  for (int i = 0; i < 12; i++) {
    float turn = 6.2831853 * float(i) / 12.0;
    vec2 found = texture2D(uFigure, vAt + uStep * vec2(cos(turn), sin(turn))).rg;
    most = max(most, found);
    least = min(least, found);
  }
  vec2 brim = most - least;
  gl_FragColor = vec4(uInk, max(brim.r, brim.g));
}`,
    transparent: true,
    depthTest: false,
    depthWrite: false,
  });
}
