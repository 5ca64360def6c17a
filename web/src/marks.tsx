/** Small marks that several parts of the sheet use. */
import type { ComponentChildren } from "preact";
import { STATE } from "./color";
import type { Status } from "./contract";
import { openField, openFigure } from "./state";

/** A status as sign and word; the colour only helps. */
export function StatusMark({ status, short = false }: { status: Status; short?: boolean }) {
  const mark = STATE[status];
  return (
    <span class={`mark mark-${status}`}>
      <span class="sign" aria-hidden="true">
        {mark.sign}
      </span>
      <span class={short ? "unseen" : "word"}>{mark.word}</span>
    </span>
  );
}

/** A path that may be broken at its dots and dashes, so that a narrow column need not cut a word. */
export function Path({ text }: { text: string }) {
  const parts = text.split(/(?<=[._-])/);
  return (
    <>
      {parts.map((part, i) => (
        <span key={i}>
          {part}
          <wbr />
        </span>
      ))}
    </>
  );
}

/** Opens a figure: formula, inputs, source. */
export function FigureLink({ path, children }: { path: string; children: ComponentChildren }) {
  return (
    <button type="button" class="link" onClick={() => openFigure(path)}>
      {children}
    </button>
  );
}

/** Goes to the field or table at a path of the machine file. */
export function FieldLink({ path, children }: { path: string; children?: ComponentChildren }) {
  return (
    <button type="button" class="link path" onClick={() => openField(path)}>
      {children ?? <Path text={path} />}
    </button>
  );
}

/** Something that is still being fetched, or could not be. */
export function Waiting({ trouble, what }: { trouble: string; what: string }) {
  return trouble ? <p class="bad">! {trouble}</p> : <p class="hint">Fetching {what} …</p>;
}
