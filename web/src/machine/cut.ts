/** A section: the plane, and the lines round what it cuts. */
import { BufferAttribute, type BufferGeometry, Matrix4, Plane, Vector3 } from "three";

export interface Cut {
  axis: "x" | "y" | "z";
  /** m */
  at: number;
  /** Which side stays: 1 where the axis is less than `at`, -1 where it is more. */
  keeps: 1 | -1;
}

export function planeOf(cut: Cut): Plane {
  const normal = new Vector3();
  normal[cut.axis] = -cut.keeps;
  return new Plane(normal, cut.keeps * cut.at);
}

/** Pieces of line where a plane cuts faces that stand at a place, two points each, in the machine. */
export function cutLines(faces: BufferGeometry, place: Matrix4, plane: Plane, into: number[]): void {
  const own = plane.clone().applyMatrix4(place.clone().invert());
  const at = faces.attributes.position;
  const index = faces.index;
  const height = new Float64Array(at.count);
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < at.count; i++) {
    const h = own.normal.x * at.getX(i) + own.normal.y * at.getY(i) + own.normal.z * at.getZ(i) + own.constant;
    height[i] = h === 0 ? 1e-12 : h;
    low = Math.min(low, height[i]);
    high = Math.max(high, height[i]);
  }
  if (low > 0 || high < 0) return;
  const count = index ? index.count : at.count;
  const p = new Vector3();
  const q = new Vector3();
  for (let i = 0; i < count; i += 3) {
    for (let k = 0; k < 3; k++) {
      const a = index ? index.getX(i + k) : i + k;
      const b = index ? index.getX(i + ((k + 1) % 3)) : i + ((k + 1) % 3);
      if (height[a] > 0 === height[b] > 0) continue;
      const part = height[a] / (height[a] - height[b]);
      p.fromBufferAttribute(at, a).lerp(q.fromBufferAttribute(at, b), part).applyMatrix4(place);
      into.push(p.x, p.y, p.z);
    }
  }
}

export const pointsOf = (numbers: number[]): BufferAttribute => new BufferAttribute(new Float32Array(numbers), 3);
