/** Something fetched for a component: asked for again when its key changes, the old answer shown until the new one is there. */
import { useEffect, useState } from "preact/hooks";
import { get } from "./api";
import { online } from "./state";

export interface Fetched<T> {
  data: T | null;
  trouble: string;
  /** The answer in hand belongs to an earlier key. */
  old: boolean;
}

/** `url` null asks for nothing. `key` is whatever the answer depends on besides the address. */
export function useFetched<T>(url: string | null, key: string): Fetched<T> {
  const [held, hold] = useState<{ url: string | null; key: string; data: T | null; trouble: string }>({
    url: null,
    key: "",
    data: null,
    trouble: "",
  });
  const connected = online.value;
  useEffect(() => {
    if (url === null) return;
    const abort = new AbortController();
    get<T>(url, abort.signal).then(
      (data) => hold({ url, key, data, trouble: "" }),
      (trouble: Error) => {
        if (!abort.signal.aborted) hold((was) => ({ url, key, data: was.url === url ? was.data : null, trouble: trouble.message }));
      },
    );
    return () => abort.abort();
  }, [url, key, connected]);
  if (url === null) return { data: null, trouble: "", old: false };
  if (held.url !== url) return { data: null, trouble: "", old: true };
  return { data: held.data, trouble: held.trouble, old: held.key !== key };
}
