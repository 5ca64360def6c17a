/**
 * What a box holds while somebody types in it. The text is theirs until it is written: an answer to something else never
 * overwrites it, a refusal keeps it so that it can be corrected, Escape gives the written text back.
 */
import { computed, signal } from "@preact/signals";

export interface Ways {
  /** Write the text; rejects with a sentence where it is refused. */
  write(text: string): Promise<unknown>;
  /** The text in hand changed and differs from what is written: show what it would give. */
  look(text: string): void;
  /** Nothing is in hand any more. */
  lookAway(): void;
}

export class Typing {
  readonly text;
  /** As the file has it. */
  readonly written;
  /** Why the text was refused. */
  readonly trouble = signal("");
  /** What the text lacks so far, while it is typed; no refusal yet. */
  readonly hint = signal("");
  readonly sending = signal(false);
  /** It was sent and no answer came: it is not written yet. */
  readonly lost = signal(false);
  readonly dirty;
  private refused: string | null = null;
  private underway: string | null = null;
  private answered: Promise<void> = Promise.resolve();

  constructor(
    written: string,
    private readonly ways: Ways,
  ) {
    this.text = signal(written);
    this.written = signal(written);
    this.dirty = computed(() => this.text.value !== this.written.value);
  }

  input(text: string): void {
    this.text.value = text;
    this.hint.value = "";
    if (text !== this.refused) this.trouble.value = "";
    if (this.dirty.value) this.ways.look(text);
    else this.ways.lookAway();
  }

  /**
   * Enter, or the box is left. One change for one text: a text that was refused is not sent again by leaving.
   *
   * @param again Enter was pressed: a refused text is sent again, since what stood in its way may be gone.
   */
  async commit(again = false): Promise<void> {
    const text = this.text.value;
    if (!this.dirty.value || (text === this.refused && !again) || text === this.underway) return;
    this.answered = this.send(text);
    return this.answered;
  }

  /** Whether what is in hand is in no file, once what was sent has its answer. */
  async unwritten(): Promise<boolean> {
    await this.answered;
    return this.dirty.value;
  }

  private async send(text: string): Promise<void> {
    this.underway = text;
    this.sending.value = true;
    try {
      await this.ways.write(text);
      this.written.value = text;
      this.refused = null;
      this.lost.value = false;
      if (this.text.value === text) {
        this.trouble.value = "";
        this.hint.value = "";
        this.ways.lookAway();
      }
    } catch (trouble) {
      // Without an answer there is no refusal: the same text may be sent again.
      this.lost.value = (trouble as { status?: number }).status === 0;
      this.refused = this.lost.value ? null : text;
      if (this.text.value === text) this.trouble.value = this.lost.value ? "" : (trouble as Error).message;
      this.ways.lookAway();
    } finally {
      this.underway = null;
      this.sending.value = false;
    }
  }

  /** Give the written text back. */
  escape(): void {
    this.text.value = this.written.value;
    this.trouble.value = "";
    this.hint.value = "";
    this.refused = null;
    this.lost.value = false;
    this.ways.lookAway();
  }

  /** The file has this text now. */
  served(written: string): void {
    const untouched = !this.dirty.value;
    this.written.value = written;
    if (untouched) this.text.value = written;
  }
}
