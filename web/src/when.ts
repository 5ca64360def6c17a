/** Moments as a person would say them. */
const clock = new Intl.DateTimeFormat(undefined, { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
const day = new Intl.DateTimeFormat(undefined, { day: "numeric", month: "short", year: "numeric" });

/** "14:05" today, else the day with it; a text that is no moment is left as it is. */
export function whenInWords(text: string, now: Date = new Date()): string {
  const at = new Date(text);
  if (!text || Number.isNaN(at.getTime())) return text;
  return at.toDateString() === now.toDateString() ? `today ${clock.format(at)}` : `${day.format(at)} ${clock.format(at)}`;
}
