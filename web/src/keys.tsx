/** Keys of the page. All of them only shorten what buttons do; the list is on the page. */
import { signal } from "@preact/signals";
import { redo, undo } from "./api";
import { Dialog } from "./dialog";
import { page } from "./live";
import { attempt } from "./said";
import { setSingleKeys, singleKeys } from "./settings";
import { back, choose, chosen, opened, openStage, stages, state } from "./state";

export const keysShown = signal(false);

const KEYS: [keys: string, words: string][] = [
  ["Ctrl + Z", "Undo, outside of text boxes (inside one, it is the box's own)"],
  ["Ctrl + Y, Ctrl + Shift + Z", "Redo"],
  ["Enter", "In a field: write what was typed"],
  ["Esc", "In a field: give the written text back. Elsewhere: close what is open, let the chosen part go"],
  ["1 … 9", "Open that stage of the work"],
  ["?", "This list"],
  ["Arrow keys", "On the drawing: turn the machine; with Shift push it"],
  ["+, −, Home", "On the drawing: nearer, farther, all on the paper"],
  ["F, B, L, R, T, I", "On the drawing: from the front, back, left, right, top, isometric"],
  ["X, Y, Z", "On the drawing: move that axis on; with Shift back"],
];

export function KeysWindow() {
  return (
    <Dialog title="Keys" onClose={() => (keysShown.value = false)}>
      <table class="rows keys">
        <tbody>
          {KEYS.map(([keys, words]) => (
            <tr key={keys}>
              <th scope="row">
                <kbd>{keys}</kbd>
              </th>
              <td class="words">{words}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <label class="switch">
        <input type="checkbox" checked={singleKeys.value} onChange={(e) => setSingleKeys(e.currentTarget.checked)} />
        Single keys (1 to 9, ?) do something
      </label>
    </Dialog>
  );
}

/** The key event is for a box in which somebody types. */
export function inTextBox(target: EventTarget | null): boolean {
  const at = target as HTMLElement | null;
  if (!at?.matches) return false;
  return at.matches("textarea, select, [contenteditable], input:not([type=checkbox]):not([type=radio]):not([type=range]):not([type=button])");
}

export function onKey(e: KeyboardEvent): void {
  if (e.defaultPrevented || page.value !== "board" || document.querySelector("dialog[open]")) return;
  const typing = inTextBox(e.target);
  if ((e.ctrlKey || e.metaKey) && !e.altKey && !typing) {
    const key = e.key.toLowerCase();
    const s = state.value;
    if (key === "z" && !e.shiftKey) {
      e.preventDefault();
      if (s?.undo != null) void attempt(`Undone: ${s.undo}`, undo);
    } else if (key === "y" || (key === "z" && e.shiftKey)) {
      e.preventDefault();
      if (s?.redo != null) void attempt(`Done again: ${s.redo}`, redo);
    }
    return;
  }
  if (typing || e.ctrlKey || e.metaKey || e.altKey) return;
  if (e.key === "Escape") {
    if (opened.value.length > 0) back();
    else if (chosen.value) choose("");
  } else if (singleKeys.value && e.key === "?") {
    keysShown.value = true;
  } else if (singleKeys.value && /^[1-9]$/.test(e.key)) {
    const to = stages.value[Number(e.key) - 1];
    if (to) openStage(to.id);
  }
}
