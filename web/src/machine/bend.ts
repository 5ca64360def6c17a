/**
 * How the structure carries a piece: stations along its first axis with a shift and a turn; between them both run evenly. All of it
 * happens where the points are drawn, so that a mode can swing on a tablet.
 */
import { Vector3 } from "three";

export const MOST_STATIONS = 9;

/** Uniforms of the shader; a type and not an interface, so that it is also a plain table of uniforms. */
export type Stations = {
  uCount: { value: number };
  uAlong: { value: number[] };
  uShift: { value: Vector3[] };
  uTurn: { value: Vector3[] };
  /** How many times larger it is drawn; shared by all pieces. */
  uTimes: { value: number };
};

export function stations(times: { value: number }): Stations {
  return {
    uCount: { value: 0 },
    uAlong: { value: new Array(MOST_STATIONS).fill(0) },
    uShift: { value: Array.from({ length: MOST_STATIONS }, () => new Vector3()) },
    uTurn: { value: Array.from({ length: MOST_STATIONS }, () => new Vector3()) },
    uTimes: times,
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

/** Shift of a point at `own` of a piece (unit shape), `arm` away from its axis: what the shader below does, for what is drawn beside it. */
export function carriedBy(of: Stations, own: number, arm: Vector3): Vector3 {
  const count = of.uCount.value;
  if (count === 0) return new Vector3();
  const shift = of.uShift.value[0].clone();
  const turn = of.uTurn.value[0].clone();
  for (let i = 1; i < count; i++) {
    const [from, to] = [of.uAlong.value[i - 1], of.uAlong.value[i]];
    if (own < from) break;
    const part = Math.min(1, (own - from) / Math.max(to - from, 1e-6));
    shift.lerpVectors(of.uShift.value[i - 1], of.uShift.value[i], part);
    turn.lerpVectors(of.uTurn.value[i - 1], of.uTurn.value[i], part);
  }
  return shift.add(turn.cross(arm)).multiplyScalar(of.uTimes.value);
}

/** GLSL: `standing(own)` is the place in the machine of a point of the unit shape. */
export const STANDING = `
uniform int uCount;
uniform float uAlong[${MOST_STATIONS}];
uniform vec3 uShift[${MOST_STATIONS}];
uniform vec3 uTurn[${MOST_STATIONS}];
uniform float uTimes;
vec3 standing(vec3 own) {
  vec3 place = (modelMatrix * vec4(own, 1.0)).xyz;
  if (uCount == 0) return place;
  vec3 arm = place - (modelMatrix * vec4(own.x, 0.0, 0.0, 1.0)).xyz;
  vec3 shift = uShift[0], turn = uTurn[0];
  for (int i = 1; i < ${MOST_STATIONS}; i++) {
    if (i >= uCount || own.x < uAlong[i - 1]) break;
    float part = min(1.0, (own.x - uAlong[i - 1]) / max(uAlong[i] - uAlong[i - 1], 1e-6));
    shift = mix(uShift[i - 1], uShift[i], part);
    turn = mix(uTurn[i - 1], uTurn[i], part);
  }
  return place + uTimes * (shift + cross(turn, arm));
}
`;
