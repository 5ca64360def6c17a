/** Pictures of two machines, fetched when they are looked at: they bring the library of the charts. */
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";

interface Props {
  /** Pictures that the comparison lists. */
  ids: string[];
  /** "kept:ID" or "file:NAME". */
  against: string;
}

export function ComparedPictures(props: Props) {
  const [held, hold] = useState<{ Drawn: ComponentType<Props> | null; trouble: string }>({ Drawn: null, trouble: "" });
  useEffect(() => {
    import("./compared-drawn").then(
      (module) => hold({ Drawn: module.ComparedDrawn, trouble: "" }),
      (trouble: Error) => hold({ Drawn: null, trouble: trouble.message }),
    );
  }, []);
  if (held.Drawn) return <held.Drawn {...props} />;
  return held.trouble ? <p class="hint late">The pictures could not be loaded: {held.trouble}.</p> : null;
}
