/** What the real board answered about a demo (see fixtures/make.py). */
import type { Field, FieldGroup, State } from "../src/contract";
import board from "./fixtures/board.json";

const told = board as unknown as { state: State; after: State; fields: Record<string, FieldGroup> };

export const boardState = (more: Partial<State> = {}): State => ({ ...structuredClone(told.state), ...more });
export const stateAfter = (more: Partial<State> = {}): State => ({ ...structuredClone(told.after), ...more });

export function field(path: string, more: Partial<Field> = {}): Field {
  const found = Object.values(told.fields).flatMap((group) => group.fields).find((f) => f.path === path);
  if (!found) throw new Error(`the fixture has no field ${path}`);
  return { ...found, ...more };
}
