/** Puts the page up. */
import { effect } from "@preact/signals";
import { render } from "preact";
import { onKey } from "./keys";
import { failed, live, page } from "./live";
import { large } from "./settings";
import { Sheet } from "./sheet";
import { Start } from "./start";
import { fileOf, stage, state } from "./state";
import "./style.css";

declare global {
  interface Window {
    /** For tests: look, do not write. `views` holds the views of the machine that stand on the page. */
    __board: { readonly views: unknown[]; readonly state: typeof state };
  }
}
window.__board = { views: [], state };

function Page() {
  if (page.value === "start") return <Start />;
  // Another file is another sheet: no field, drawing or half-typed text of the one before stays in it.
  if (page.value === "board" && state.value) return <Sheet key={fileOf(state.value)} />;
  return (
    <main class="sheet start">
      <h1>Drawing board</h1>
      <p role="status">{page.value === "failed" ? `! ${failed.value}` : "Fetching the machine …"}</p>
    </main>
  );
}

const fromAddress = (): void => {
  const id = decodeURIComponent(location.hash.slice(1));
  if (id) stage.value = id;
};
fromAddress();
addEventListener("hashchange", fromAddress);
addEventListener("keydown", onKey);
effect(() => {
  document.documentElement.classList.toggle("large", large.value);
});
effect(() => {
  const title = state.value?.title.title;
  document.title = title ? `${title} – drawing board` : "Drawing board";
});
live();
render(<Page />, document.getElementById("board")!);
