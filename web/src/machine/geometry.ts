/** Faces and ink edges of a unit shape: x along from -0.5 to 0.5, sections in metres. Long pieces have stations so that they can bend. */
import { BoxGeometry, BufferGeometry, CylinderGeometry, EdgesGeometry, ExtrudeGeometry, Path, Shape as Outline, Vector2 } from "three";
import type { Shape } from "../contract";

/** Steps along the first axis: as many as the program tells stations for, and one. */
export const STEPS = 8;
/** Faces that meet at less than this angle are one round face: no ink between them, degrees. */
const CREASE = 28;
const ROUND = 28;

export interface Drawn {
  faces: BufferGeometry;
  edges: BufferGeometry;
}

export function drawn(shape: Shape): Drawn {
  const faces = facesOf(shape);
  return { faces, edges: new EdgesGeometry(faces, CREASE) };
}

function facesOf(shape: Shape): BufferGeometry {
  if (shape.kind === "box") return new BoxGeometry(1, 1, 1, STEPS, 1, 1);
  if (shape.kind === "cylinder") {
    const made = new CylinderGeometry(0.5, 0.5, 1, ROUND, STEPS);
    made.rotateZ(-Math.PI / 2);
    return made;
  }
  const [outer, ...openings] = shape.rings ?? [];
  const outline = new Outline(points(outer ?? []));
  for (const ring of openings) outline.holes.push(new Path(points(ring)));
  const made = new ExtrudeGeometry(outline, { depth: 1, steps: STEPS, bevelEnabled: false, curveSegments: 1 });
  // drawn in x, y and pushed along z: the section's (y, z) become y and z, the push becomes x
  made.translate(0, 0, -0.5);
  const place = made.attributes.position;
  const normal = made.attributes.normal;
  for (const each of [place, normal]) {
    for (let i = 0; i < each.count; i++) each.setXYZ(i, each.getZ(i), each.getX(i), each.getY(i));
    each.needsUpdate = true;
  }
  return made;
}

const points = (ring: [number, number][]): Vector2[] => ring.map(([y, z]) => new Vector2(y, z));
