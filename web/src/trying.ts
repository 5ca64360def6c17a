/** Whether the program is still trying remedies: it sends them in parcels, and after the last one there is only silence. */
import { computed, effect, signal } from "@preact/signals";
import { remedied, state } from "./state";

/** Longer than the program works on one parcel. */
export const QUIET_MS = 20_000;

const lately = signal(false);
let quiet: ReturnType<typeof setTimeout> | undefined;
effect(() => {
  clearTimeout(quiet);
  if (!remedied.value || remedied.value === "/") return;
  lately.value = true;
  quiet = setTimeout(() => (lately.value = false), QUIET_MS);
});

export const trying = computed(() => {
  const how = state.value?.settled.state;
  return how === "pending" || (how === "done" && lately.value);
});
