/**
 * Materials whose points move with the structure: each piece has stations along its first axis with a shift and a turn; between
 * them both run evenly. All of it happens where the points are drawn, so that a mode can swing on a tablet.
 */
import { Color, LineBasicMaterial, type Material, MeshLambertMaterial, Vector3 } from "three";

export const MOST_STATIONS = 9;

export interface Stations {
  uCount: { value: number };
  uAlong: { value: number[] };
  uShift: { value: Vector3[] };
  uTurn: { value: Vector3[] };
  uScale: { value: number };
}

export function stations(scale: { value: number }): Stations {
  return {
    uCount: { value: 0 },
    uAlong: { value: new Array(MOST_STATIONS).fill(0) },
    uShift: { value: Array.from({ length: MOST_STATIONS }, () => new Vector3()) },
    uTurn: { value: Array.from({ length: MOST_STATIONS }, () => new Vector3()) },
    uScale: scale,
  };
}

/** Take the motion of one piece; none lets it stand. */
export function setStations(into: Stations, rows: readonly (readonly number[])[]): void {
  const kept = rows.length <= MOST_STATIONS ? rows : thinned(rows);
  into.uCount.value = kept.length;
  kept.forEach(([t, sx, sy, sz, rx, ry, rz], i) => {
    into.uAlong.value[i] = t;
    into.uShift.value[i].set(sx, sy, sz);
    into.uTurn.value[i].set(rx, ry, rz);
  });
}

function thinned(rows: readonly (readonly number[])[]): (readonly number[])[] {
  return Array.from({ length: MOST_STATIONS }, (_, i) => rows[Math.round((i * (rows.length - 1)) / (MOST_STATIONS - 1))]);
}

const HEAD = `
uniform int uCount;
uniform float uAlong[${MOST_STATIONS}];
uniform vec3 uShift[${MOST_STATIONS}];
uniform vec3 uTurn[${MOST_STATIONS}];
uniform float uScale;
vec3 carried(vec3 own, vec3 place, vec3 middle) {
  if (uCount == 0) return place;
  vec3 shift = uShift[0], turn = uTurn[0];
  for (int i = 1; i < ${MOST_STATIONS}; i++) {
    if (i >= uCount) break;
    float part = clamp((own.x - uAlong[i - 1]) / max(uAlong[i] - uAlong[i - 1], 1e-6), 0.0, 1.0);
    if (own.x >= uAlong[i - 1]) { shift = mix(uShift[i - 1], uShift[i], part); turn = mix(uTurn[i - 1], uTurn[i], part); }
  }
  return place + uScale * (shift + cross(turn, place - middle));
}
`;

const PLACE = `
vec4 inMachine = modelMatrix * vec4(transformed, 1.0);
vec3 onAxis = (modelMatrix * vec4(transformed.x, 0.0, 0.0, 1.0)).xyz;
inMachine.xyz = carried(transformed, inMachine.xyz, onAxis);
vec4 mvPosition = viewMatrix * inMachine;
gl_Position = projectionMatrix * mvPosition;
`;

function bends<M extends Material>(material: M, of: Stations, more?: (fragment: string) => string): M {
  material.onBeforeCompile = (shader) => {
    Object.assign(shader.uniforms, of);
    shader.vertexShader = HEAD + shader.vertexShader.replace("#include <project_vertex>", PLACE);
    if (more) shader.fragmentShader = more(shader.fragmentShader);
  };
  return material;
}

/** What a section plane lays bare is drawn flat, like a cut on a drawing. */
const CUT = new Color("#b9b4a4");

export function faceMaterial(of: Stations): MeshLambertMaterial {
  const made = new MeshLambertMaterial({ side: 2, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
  const flat = `if (!gl_FrontFacing) gl_FragColor = vec4(${CUT.r.toFixed(4)}, ${CUT.g.toFixed(4)}, ${CUT.b.toFixed(4)}, 1.0);\n#include <colorspace_fragment>`;
  return bends(made, of, (fragment) => fragment.replace("#include <colorspace_fragment>", flat));
}

export function edgeMaterial(of: Stations): LineBasicMaterial {
  return bends(new LineBasicMaterial({ color: "#23292b", transparent: true, opacity: 0.72 }), of);
}
