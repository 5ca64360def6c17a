/**
 * Parts of the page that come after it: the view of the machine and the pictures bring their own libraries and are fetched
 * when the sheet already stands. A part that cannot be had says so in its place; the rest of the sheet works.
 */
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";

const panels = import.meta.glob<{ MachinePanel: ComponentType }>("./machine/panel.tsx");
const pictures = import.meta.glob<{ Pictures: ComponentType<{ stage: string }> }>("./picture.tsx");

function useLate<M>(files: Record<string, () => Promise<M>>): { module: M | null; trouble: string } {
  const [held, hold] = useState<{ module: M | null; trouble: string }>({ module: null, trouble: "" });
  useEffect(() => {
    const fetchIt = Object.values(files)[0];
    if (!fetchIt) return hold({ module: null, trouble: "this build does not hold it" });
    fetchIt().then(
      (module) => hold({ module, trouble: "" }),
      (trouble: Error) => hold({ module: null, trouble: trouble.message }),
    );
  }, []);
  return held;
}

export function Machine() {
  const { module, trouble } = useLate(panels);
  if (module) return <module.MachinePanel />;
  return <p class="hint late">{trouble ? `The view of the machine could not be loaded: ${trouble}.` : "Fetching the view of the machine …"}</p>;
}

export function StagePictures({ stage }: { stage: string }) {
  const { module, trouble } = useLate(pictures);
  if (module) return <module.Pictures stage={stage} />;
  return trouble ? <p class="hint late">The pictures could not be loaded: {trouble}.</p> : null;
}
