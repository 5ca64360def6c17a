/** What this browser remembers of how the page is looked at; nothing of the machine. */
import { signal } from "@preact/signals";

function remembered(key: string, fallback: boolean): boolean {
  try {
    return (localStorage.getItem(key) ?? String(fallback)) === "true";
  } catch {
    return fallback; // storage may be closed to the page
  }
}

function remember(key: string, value: boolean): void {
  try {
    localStorage.setItem(key, String(value));
  } catch {
    // then it is for this visit only
  }
}

/** Larger letters and targets, for the shop. */
export const large = signal(remembered("large", false));
/** Single keys (1 to 9, ?) do something; some speech and switch software needs them off. */
export const singleKeys = signal(remembered("single-keys", true));

export function setLarge(on: boolean): void {
  large.value = on;
  remember("large", on);
}

export function setSingleKeys(on: boolean): void {
  singleKeys.value = on;
  remember("single-keys", on);
}
