/** A window over the sheet: focus stays inside, Escape and the close button end it, focus goes back where it was. */
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";

interface Props {
  title: string;
  onClose: () => void;
  /** Wider than a few sentences need: for two columns, or as wide as the page. */
  wide?: boolean | "most";
  children: ComponentChildren;
}

export function Dialog({ title, onClose, wide, children }: Props) {
  const box = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const dialog = box.current!;
    const back = document.activeElement as HTMLElement | null;
    dialog.showModal();
    return () => {
      dialog.close();
      back?.focus?.();
    };
  }, []);
  return (
    <dialog
      ref={box}
      class={wide ? `window wide ${wide === true ? "" : wide}` : "window"}
      aria-labelledby={id}
      onCancel={(e) => {
        e.preventDefault();
        onClose();
      }}
      onClick={(e) => e.target === box.current && onClose()}
    >
      <div class="window-in">
        <div class="window-head">
          <h2 id={id}>{title}</h2>
          <button type="button" class="quiet" onClick={onClose}>
            Close
          </button>
        </div>
        {children}
      </div>
    </dialog>
  );
}
