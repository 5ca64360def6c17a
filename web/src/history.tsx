/** Steps that can be taken back, states that were kept, copies that the program made; and a file that changed outside. */
import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { decideOutside, forget, keep, redo, rename, restore, undo } from "./api";
import type { History as Told, KeptRow, Outside, State } from "./contract";
import { Dialog } from "./dialog";
import { diffOf } from "./diff";
import { useFetched } from "./fetched";
import { Waiting } from "./marks";
import { attempt } from "./said";
import { compareWith, keepsKey, openStage, state } from "./state";
import { whenInWords } from "./when";

export function UndoButtons() {
  const s = state.value!;
  return (
    <>
      <button type="button" disabled={s.undo === null} onClick={() => attempt(`Undone: ${s.undo}`, undo)} title="Ctrl+Z">
        Undo {s.undo !== null && <span class="step">{s.undo}</span>}
      </button>
      <button type="button" disabled={s.redo === null} onClick={() => attempt(`Done again: ${s.redo}`, redo)} title="Ctrl+Y">
        Redo {s.redo !== null && <span class="step">{s.redo}</span>}
      </button>
    </>
  );
}

export function HistoryWindow({ onClose }: { onClose: () => void }) {
  const { data, trouble } = useFetched<Told>("/api/history", keepsKey.value);
  return (
    <Dialog title="History" onClose={onClose} wide>
      <KeepForm />
      {!data ? <Waiting trouble={trouble} what="the history" /> : <Lists told={data} onClose={onClose} />}
    </Dialog>
  );
}

export function KeepForm() {
  const name = useSignal("");
  const note = useSignal("");
  return (
    <form
      class="keep"
      onSubmit={async (e) => {
        e.preventDefault();
        // the name is the program's: one that another state has gets a number
        const kept = (next: State) => `Kept as “${next.keeps[0]?.name ?? name.value}”`;
        if (await attempt(kept, () => keep(name.value.trim(), note.value.trim()))) {
          name.value = "";
          note.value = "";
        }
      }}
    >
      <label>
        Keep this state as
        <input required value={name.value} onInput={(e) => (name.value = e.currentTarget.value)} autocomplete="off" />
      </label>
      <label>
        Note
        <input value={note.value} onInput={(e) => (note.value = e.currentTarget.value)} autocomplete="off" />
      </label>
      <button type="submit">Keep</button>
    </form>
  );
}

function Lists({ told, onClose }: { told: Told; onClose: () => void }) {
  const leaving = useSignal<KeptRow | null>(null);
  const naming = useSignal(0);
  const title = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (document.activeElement === document.body) title.current?.focus(); // the row that had the focus was forgotten
  }, [told.kept.length]);
  const bring = (words: string, id: number | string) => attempt(`Brought back: ${words}`, () => restore(id));
  return (
    <div class="history">
      {leaving.value && <ForgetWindow one={leaving.value} onClose={() => (leaving.value = null)} />}
      <section aria-labelledby="kept-title">
        <h3 id="kept-title" tabIndex={-1} ref={title}>Kept states</h3>
        {told.kept.length === 0 && <p class="hint">None yet. A kept state is what later changes are shown against.</p>}
        <ul class="plain">
          {told.kept.map((k) => (
            <li key={k.id} class="kept">
              {naming.value === k.id ? <RenameForm one={k} onClose={() => (naming.value = 0)} /> : <strong>{k.name}</strong>}{" "}
              <span class="hint">{whenInWords(k.when)}</span>
              {k.id === state.value!.kept?.id && <span class="hint"> · changes are told against it</span>}
              {k.note && <p>{k.note}</p>}
              <div class="buttons">
                <button type="button" onClick={() => bring(k.name, k.id)}>
                  Bring back<span class="unseen"> {k.name}</span>
                </button>
                <button
                  type="button"
                  onClick={() => {
                    compareWith.value = `kept:${k.id}`;
                    openStage("compare");
                    onClose();
                  }}
                >
                  Compare<span class="unseen"> with {k.name}</span>
                </button>
                <button type="button" class="quiet" aria-expanded={naming.value === k.id} onClick={() => (naming.value = naming.value === k.id ? 0 : k.id)}>
                  Rename<span class="unseen"> {k.name}</span>
                </button>
                <button type="button" class="quiet" onClick={() => (leaving.value = k)}>
                  Forget<span class="unseen"> {k.name}</span>
                </button>
              </div>
            </li>
          ))}
        </ul>
      </section>
      <section aria-labelledby="steps-title">
        <h3 id="steps-title">Steps</h3>
        <div class="buttons">
          <UndoButtons />
        </div>
        <ol class="plain steps">
          {told.steps.map((step) => (
            <li key={step.id} class={step.undone ? "undone" : ""}>
              <StepRow step={step} bring={bring} onClose={onClose} />
            </li>
          ))}
        </ol>
      </section>
      <section aria-labelledby="backups-title">
        <h3 id="backups-title">Copies made by the program</h3>
        {told.backups.length === 0 && <p class="hint">None were needed.</p>}
        <ul class="plain">
          {told.backups.map((b) => (
            <li key={b.id}>
              {whenInWords(b.when)} <span class="hint">{b.label ?? b.note ?? ""}</span>{" "}
              <button type="button" onClick={() => bring(`the copy of ${whenInWords(b.when)}`, b.id)}>
                Bring back<span class="unseen"> the copy of {whenInWords(b.when)}</span>
              </button>
            </li>
          ))}
        </ul>
      </section>
    </div>
  );
}

function RenameForm({ one, onClose }: { one: KeptRow; onClose: () => void }) {
  const name = useSignal(one.name);
  const box = useRef<HTMLInputElement>(null);
  useEffect(() => box.current!.select(), []);
  const nameNow = (next: State) => next.keeps.find((k) => k.id === one.id)?.name ?? name.value;
  return (
    <form
      class="rename"
      onSubmit={async (e) => {
        e.preventDefault();
        if (await attempt((next) => `“${one.name}” is “${nameNow(next)}” now`, () => rename(one.id, name.value.trim()))) onClose();
      }}
      onKeyDown={(e) => {
        if (e.key !== "Escape") return;
        e.preventDefault();
        e.stopPropagation();
        onClose();
      }}
    >
      <input
        ref={box}
        required
        maxLength={80}
        aria-label={`New name of ${one.name}`}
        value={name.value}
        autocomplete="off"
        onInput={(e) => (name.value = e.currentTarget.value)}
      />
      <button type="submit">Rename</button>
    </form>
  );
}

/** A step opens to the two states beside it: to be looked at beside the machine of now, or brought back. */
function StepRow({ step, bring, onClose }: { step: Told["steps"][number]; bring: (words: string, id: string) => unknown; onClose: () => void }) {
  const sides = [
    ["before it", `before:${step.id}`],
    ["after it", `step:${step.id}`],
  ] as const;
  return (
    <details>
      <summary>
        {step.label} <span class="hint">{whenInWords(step.when)}</span>
        {step.undone && <span class="hint"> undone</span>}
      </summary>
      <div class="buttons">
        {sides.map(([side, id]) => (
          <span class="buttons" key={id}>
            <button
              type="button"
              onClick={() => {
                compareWith.value = id;
                openStage("compare");
                onClose();
              }}
            >
              Compare with {side}
              <span class="unseen">: {step.label}</span>
            </button>
            <button type="button" class="quiet" onClick={() => void bring(`the state ${side}: ${step.label}`, id)}>
              Bring back {side}
              <span class="unseen">: {step.label}</span>
            </button>
          </span>
        ))}
      </div>
    </details>
  );
}

function ForgetWindow({ one, onClose }: { one: KeptRow; onClose: () => void }) {
  return (
    <Dialog title={`Forget “${one.name}”?`} onClose={onClose}>
      <p>
        It can no longer be compared with or told against. The machine file and the steps to undo stay as they are, and its text stays among the
        copies.
      </p>
      <div class="buttons">
        <button type="button" onClick={onClose}>
          Keep it
        </button>
        <button type="button" onClick={() => attempt(`Forgotten: ${one.name}`, () => forget(one.id)).then(onClose)}>
          Forget it
        </button>
      </div>
    </Dialog>
  );
}

const STAYS = "Take theirs: the text of this page stays in the history as a step. Keep mine: the other text stays in the history as a copy.";

const TAKEN = {
  theirs: "Took the file as it is on the disk; the text of this page stays in the history as a step",
  mine: "Kept the file of this page; the other text stays in the history as a copy",
};

const take = (which: "theirs" | "mine"): Promise<boolean> => attempt(TAKEN[which], () => decideOutside(which));

/** Ways out of a file that makes no machine, beside mending it in place. */
export function WaysBack() {
  const s = state.value!;
  if (!s.whole && s.undo === null) return null;
  return (
    <div class="buttons">
      {s.whole && (
        <button type="button" onClick={() => attempt("Back to the last whole text; the other one stays in the history as a step", () => decideOutside("whole"))}>
          Keep mine: the last whole text
        </button>
      )}
      {s.undo !== null && (
        <button type="button" onClick={() => attempt(`Undone: ${s.undo}`, undo)}>
          Undo: {s.undo}
        </button>
      )}
      <span class="hint">Or mend it in the file: once it is saved there, it can be taken as theirs.</span>
    </div>
  );
}

/** The file on the disk is not the one of this page: neither is lost, whichever is taken. */
export function OutsideLine() {
  const s = state.value!;
  const shown = useSignal(false);
  if (s.disk === "same") return null;
  if (s.disk === "unwritable")
    return (
      <div class="line-bad" role="alert">
        ! {s.file.name} cannot be written. What you change here is shown but not in the file; see whether the disk is full or the file locked.
      </div>
    );
  if (s.disk === "gone")
    return (
      <div class="line-bad" role="alert">
        ! {s.file.name} is no longer in its folder. The next change writes it again.
        <button type="button" onClick={() => attempt("Written again", () => decideOutside("mine"))}>
          Write it now
        </button>
      </div>
    );
  return (
    <div class="line-bad" role="alert">
      ! {s.file.name} was changed by another program.
      <button type="button" onClick={() => (shown.value = true)}>
        Show both
      </button>
      <button type="button" onClick={() => take("theirs")}>
        Take theirs
      </button>
      <button type="button" onClick={() => take("mine")}>
        Keep mine
      </button>
      <span class="hint">{STAYS}</span>
      {shown.value && <BothWindow onClose={() => (shown.value = false)} />}
    </div>
  );
}

function BothWindow({ onClose }: { onClose: () => void }) {
  const s = state.value!;
  const { data, trouble } = useFetched<Outside>("/api/outside", `${s.boot}/${s.rev}`);
  return (
    <Dialog title="Both texts of the file" onClose={onClose} wide>
      <p class="hint">{STAYS}</p>
      {!data ? <Waiting trouble={trouble} what="both texts" /> : <Diff told={data} />}
      <div class="buttons">
        <button type="button" onClick={() => take("theirs").then(onClose)}>
          Take theirs
        </button>
        <button type="button" onClick={() => take("mine").then(onClose)}>
          Keep mine
        </button>
      </div>
    </Dialog>
  );
}

function Diff({ told }: { told: Outside }) {
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Lines that differ">
      <table class="diff">
        <thead>
          <tr>
            <th scope="col">whose</th>
            <th scope="col">line</th>
          </tr>
        </thead>
        <tbody>
          {diffOf(told.mine, told.theirs).map((d, i) => (
            <tr key={i} class={`diff-${d.of}`}>
              <td>{d.of === "mine" ? "− mine" : d.of === "theirs" ? "+ theirs" : d.of === "gap" ? "…" : ""}</td>
              <td>
                <code>{d.text}</code>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
