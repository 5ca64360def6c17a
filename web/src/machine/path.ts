/** The path of a program as a line; dragging the time along it sends nothing to the graphics hardware. */
import { BufferAttribute, BufferGeometry, DynamicDrawUsage, Line, LineBasicMaterial } from "three";
import { ACCENT } from "../color";

export class Toolpath {
  readonly line = new Line(new BufferGeometry(), new LineBasicMaterial({ color: ACCENT }));
  private times = new Float32Array();
  /** Points that the buffer holds. */
  private room = 0;

  constructor() {
    this.line.frustumCulled = false;
    this.line.visible = false;
    this.line.raycast = () => {}; // its threshold would take every click
  }

  /** Four numbers a point: x, y, z in m, time in s, rising. The buffer grows only when it must. */
  set(xyzt: Float32Array): void {
    const count = Math.floor(xyzt.length / 4);
    if (count > this.room) {
      this.line.geometry.dispose();
      this.room = Math.ceil(1.25 * count);
      const place = new BufferAttribute(new Float32Array(3 * this.room), 3).setUsage(DynamicDrawUsage);
      this.line.geometry = new BufferGeometry().setAttribute("position", place);
    }
    this.times = new Float32Array(count);
    if (this.room > 0) {
      const place = this.line.geometry.attributes.position as BufferAttribute;
      for (let i = 0; i < count; i++) {
        place.setXYZ(i, xyzt[4 * i], xyzt[4 * i + 1], xyzt[4 * i + 2]);
        this.times[i] = xyzt[4 * i + 3];
      }
      place.clearUpdateRanges();
      place.addUpdateRange(0, 3 * count);
      place.needsUpdate = true;
    }
    this.line.visible = count > 1;
    this.until(Number.POSITIVE_INFINITY);
  }

  /** Show what lies before a time, s. */
  until(time: number): void {
    this.line.geometry.setDrawRange(0, upTo(this.times, time));
  }

  dispose(): void {
    this.line.removeFromParent();
    this.line.geometry.dispose();
    this.line.material.dispose();
  }
}

/** How many of rising times are not after a time. */
export function upTo(times: ArrayLike<number>, time: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle] <= time) low = middle + 1;
    else high = middle;
  }
  return low;
}
