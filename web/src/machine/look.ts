/** How the drawing is looked at: kept while the page stands, whatever is edited. */
import { signal } from "@preact/signals";
import type { Way } from "./eye";
import type { Cut } from "./cut";

export type Drawer = "view" | "parts" | "axes" | "cut" | "colour" | "motion";

/** The drawer of controls that is open; "" for none. */
export const drawer = signal<Drawer | "">("view");
/** The standard view that is shown; "" once turned away from it. */
export const way = signal<Way | "">("isometric");
/** Names of bodies that are not shown. */
export const hidden = signal<ReadonlySet<string>>(new Set());
/** Path of the part that is shown alone; "" for all. */
export const alone = signal("");
/** The section; null for none. */
export const cut = signal<Cut | null>(null);
/** Steps above or below the usual enlargement of a motion. */
export const larger = signal(0);
/** The motion stands still where it is largest. */
export const still = signal(false);

/** Another machine: nothing that is hidden, cut or shown of the last one holds. */
export function lookAnew(): void {
  hidden.value = new Set();
  alone.value = "";
  cut.value = null;
  larger.value = 0;
}

export function hide(body: string, away: boolean): void {
  const next = new Set(hidden.value);
  if (away) next.add(body);
  else next.delete(body);
  hidden.value = next;
}
