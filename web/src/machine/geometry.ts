/**
 * Faces and ink of a unit shape: x along from -0.5 to 0.5, sections in metres; cut into steps where it is to bend.
 * Ink lies where faces meet at an angle; along round faces it lies where they turn away from the eye, which the pen decides.
 */
import { BoxGeometry, BufferAttribute, BufferGeometry, CylinderGeometry, ExtrudeGeometry, Path, Shape as Outline, Vector2 } from "three";
import type { Shape } from "../contract";

/** Steps along the first axis: the stations that the program tells of a piece that bends, less one. */
export const STEPS = 8;
/** Faces that meet at less than this are one round face; at less than the second they are one flat face (cosines). */
const ROUND_FACE = Math.cos((28 * Math.PI) / 180);
const FLAT_FACE = Math.cos((0.6 * Math.PI) / 180);
/** Sides of a drawn cylinder. */
const SIDES = 28;
/** Points nearer than this are one. */
const SAME = 1e-6;

export interface Drawn {
  faces: BufferGeometry;
  /** Segments with the normals of both faces, `sideA` and `sideB`, and `sharp`: 1 where the faces meet at an angle. */
  ink: BufferGeometry;
  /** Ink lines to a metre of the outline: where they are many the pen presses less. */
  dense: number;
}

/**
 * @param steps Along the first axis: one for what stands straight, `STEPS` for what bends.
 */
export function drawn(shape: Shape, steps = 1): Drawn {
  const faces = facesOf(shape, steps);
  return { faces, ink: inkOf(faces), dense: density(shape) };
}

function density(shape: Shape): number {
  const outer = shape.rings?.[0];
  if (!outer) return 0;
  const [ys, zs] = [outer.map((p) => p[0]), outer.map((p) => p[1])];
  const round = 2 * (Math.max(...ys) - Math.min(...ys) + Math.max(...zs) - Math.min(...zs));
  const corners = outer.filter((at, i) => {
    const [before, after] = [outer[(i + outer.length - 1) % outer.length], outer[(i + 1) % outer.length]];
    const turn = Math.atan2(after[1] - at[1], after[0] - at[0]) - Math.atan2(at[1] - before[1], at[0] - before[0]);
    return Math.cos(turn) < ROUND_FACE;
  });
  return round > 0 ? corners.length / round : 0;
}

function facesOf(shape: Shape, steps: number): BufferGeometry {
  if (shape.kind === "box") return new BoxGeometry(1, 1, 1, steps, 1, 1);
  if (shape.kind === "cylinder") {
    const made = new CylinderGeometry(0.5, 0.5, 1, SIDES, steps);
    made.rotateZ(-Math.PI / 2);
    return made;
  }
  const [outer, ...openings] = shape.rings ?? [];
  const outline = new Outline(points(outer ?? []));
  for (const ring of openings) outline.holes.push(new Path(points(ring)));
  const made = new ExtrudeGeometry(outline, { depth: 1, steps, bevelEnabled: false, curveSegments: 1 });
  // made in x, y and pushed along z: the section becomes y and z, the push becomes x
  made.translate(0, 0, -0.5);
  for (const each of [made.attributes.position, made.attributes.normal]) {
    for (let i = 0; i < each.count; i++) each.setXYZ(i, each.getZ(i), each.getX(i), each.getY(i));
  }
  made.deleteAttribute("uv");
  return made;
}

const points = (ring: [number, number][]): Vector2[] => ring.map(([y, z]) => new Vector2(y, z));

interface Edge {
  ends: [number, number];
  normals: number[][];
}

/** The edges of faces that ink may lie on: none within a flat face. */
export function inkOf(faces: BufferGeometry): BufferGeometry {
  const { places, edges } = edgesOf(faces);
  const position: number[] = [];
  const sideA: number[] = [];
  const sideB: number[] = [];
  const sharp: number[] = [];
  for (const { ends, normals } of edges) {
    const [a, b] = normals;
    const along = normals.length === 2 ? a[0] * b[0] + a[1] * b[1] + a[2] * b[2] : -1;
    if (along > FLAT_FACE) continue;
    for (const end of ends) {
      position.push(...places[end]);
      sideA.push(...a);
      sideB.push(...(b ?? a));
      sharp.push(along > ROUND_FACE ? 0 : 1);
    }
  }
  const made = new BufferGeometry();
  for (const [name, numbers] of Object.entries({ position, sideA, sideB })) {
    made.setAttribute(name, new BufferAttribute(new Float32Array(numbers), 3));
  }
  made.setAttribute("sharp", new BufferAttribute(new Float32Array(sharp), 1));
  return made;
}

/** Edges between merged points, each with the normals of the triangles that share it. */
function edgesOf(faces: BufferGeometry): { places: number[][]; edges: Iterable<Edge> } {
  const place = faces.attributes.position;
  const index = faces.index;
  const known = new Map<string, number>();
  const places: number[][] = [];
  const merged = Array.from({ length: place.count }, (_, i) => {
    const at = [place.getX(i), place.getY(i), place.getZ(i)];
    const key = at.map((v) => Math.round(v / SAME)).join();
    const found = known.get(key);
    if (found !== undefined) return found;
    known.set(key, places.length);
    return places.push(at) - 1;
  });
  const edges = new Map<number, Edge>();
  const count = index ? index.count : place.count;
  for (let i = 0; i < count; i += 3) {
    const corners = [0, 1, 2].map((k) => merged[index ? index.getX(i + k) : i + k]);
    const normal = normalOf(corners.map((c) => places[c]));
    if (!normal) continue;
    for (let k = 0; k < 3; k++) {
      const [a, b] = [corners[k], corners[(k + 1) % 3]];
      const key = Math.min(a, b) * places.length + Math.max(a, b);
      const edge = edges.get(key);
      if (edge) edge.normals.push(normal);
      else edges.set(key, { ends: [a, b], normals: [normal] });
    }
  }
  return { places, edges: edges.values() };
}

/** Of a triangle; null where it has no area. */
function normalOf([a, b, c]: number[][]): number[] | null {
  const u = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const v = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const long = Math.hypot(...n);
  return long > 1e-14 ? n.map((k) => k / long) : null;
}
