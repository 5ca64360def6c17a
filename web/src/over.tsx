/** Another window opened another machine: what this one showed before, and what was typed for it and is written nowhere. */
import { open } from "./api";
import { attempt } from "./said";
import { changedOver, state } from "./state";

export function ChangedOver() {
  const over = changedOver.value;
  const s = state.value;
  if (!over || !s) return null;
  const nameOf = (file: string): string => file.slice(file.lastIndexOf("/") + 1);
  const back = { path: `${over.from.folder}/${over.from.name}` };
  return (
    <div class="line-bad" role="alert">
      ! Another window opened {s.file.name}; this one shows it too, in place of {over.from.name}.
      {over.unwritten.length > 0 && (
        <ul aria-label="Typed and not written">
          {over.unwritten.map((u) => (
            <li key={u.file + u.label}>
              Typed for {nameOf(u.file)} and written nowhere: {u.label} <strong>{u.text || "emptied"}</strong>
            </li>
          ))}
        </ul>
      )}
      <button type="button" onClick={() => attempt(`Opened ${over.from.name}`, () => open(back))}>
        Open {over.from.name} again
      </button>
      <button type="button" class="quiet" onClick={() => (changedOver.value = null)}>
        Close
      </button>
    </div>
  );
}
