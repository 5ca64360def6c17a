/** Two texts line by line: what only one of them has, with a few lines around. */

export interface DiffLine {
  of: "both" | "mine" | "theirs" | "gap";
  text: string;
}

const AROUND = 2;

export function diffOf(mine: string, theirs: string): DiffLine[] {
  return shortened(aligned(mine.split("\n"), theirs.split("\n")));
}

/** Longest common run of lines, after the equal lines at both ends are set aside. */
function aligned(a: string[], b: string[]): DiffLine[] {
  let start = 0;
  while (start < a.length && start < b.length && a[start] === b[start]) start++;
  let end = 0;
  while (end < a.length - start && end < b.length - start && a[a.length - 1 - end] === b[b.length - 1 - end]) end++;
  const both = (text: string): DiffLine => ({ of: "both", text });
  return [...a.slice(0, start).map(both), ...between(a.slice(start, a.length - end), b.slice(start, b.length - end)), ...a.slice(a.length - end).map(both)];
}

function between(a: string[], b: string[]): DiffLine[] {
  // longest[i][j]: common lines of a from i and b from j
  const longest = Array.from({ length: a.length + 1 }, () => new Uint32Array(b.length + 1));
  for (let i = a.length - 1; i >= 0; i--)
    for (let j = b.length - 1; j >= 0; j--)
      longest[i][j] = a[i] === b[j] ? longest[i + 1][j + 1] + 1 : Math.max(longest[i + 1][j], longest[i][j + 1]);
  const lines: DiffLine[] = [];
  let [i, j] = [0, 0];
  while (i < a.length || j < b.length) {
    if (i < a.length && j < b.length && a[i] === b[j]) lines.push({ of: "both", text: a[(j++, i++)] });
    else if (j >= b.length || (i < a.length && longest[i + 1][j] >= longest[i][j + 1])) lines.push({ of: "mine", text: a[i++] });
    else lines.push({ of: "theirs", text: b[j++] });
  }
  return lines;
}

function shortened(lines: DiffLine[]): DiffLine[] {
  const near = lines.map((_, at) => lines.slice(Math.max(0, at - AROUND), at + AROUND + 1).some((l) => l.of !== "both"));
  const kept: DiffLine[] = [];
  lines.forEach((line, at) => {
    if (near[at]) kept.push(line);
    else if (kept.at(-1)?.of !== "gap") kept.push({ of: "gap", text: "" });
  });
  return kept;
}
