"""What is wrong with a file that is not TOML, in the words of who wrote it: the line, what it lacks, what to write instead."""

import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass

NO_MACHINE = "is no machine file: it has neither headings such as [machine] nor lines such as format = 1"
LONGEST = 90
"""Characters of a line that are repeated in a message."""
_HEADING = re.compile(r"\s*\[{1,2}[\w.\"' -]+\]{0,2}\s*(#.*)?\Z")
_KEY = re.compile(r"\s*[\w.-]+\s*=")
_CURLY = str.maketrans({"“": '"', "”": '"', "„": '"', "«": '"', "»": '"', "‘": "'", "’": "'"})


@dataclass(frozen=True, slots=True)
class Broken:
    """The place where reading stopped."""

    lines: list[str]
    number: int
    """Of the line, from 1."""
    column: int
    """Index of the character in the line."""
    message: str

    @property
    def written(self) -> str:
        """The line without the blanks around it."""
        return self.lines[self.number - 1].strip()

    @property
    def key(self) -> str:
        """What stands before the first =."""
        return self.written.partition("=")[0].strip()

    @property
    def value(self) -> str:
        """What stands after it, without a comment."""
        return bare(self.written).partition("=")[2].strip()


def explained(message: str, text: str) -> tuple[int, str]:
    """Line and words of a syntax error; tomllib puts the place at the end of its message."""
    lines = text.split("\n")
    if not _is_meant(lines):
        return 0, NO_MACHINE
    words, _, place = message.partition(" (at ")
    found = re.match(r"line (\d+), column (\d+)", place)
    last = max((at for at, line in enumerate(lines, 1) if line.strip()), default=1)
    number, column = (int(found[1]), int(found[2]) - 1) if found else (last, len(lines[last - 1]))
    broken = Broken(lines, number, column, words)
    for rule in RULES:
        told = rule(broken)
        if told is not None:
            return told
    return number, f"cannot be read as TOML: {_shown(broken.written)}; {words[:1].lower()}{words[1:]}"


def bare(line: str) -> str:
    """A line without the comment at its end; a # between quotes is none."""
    quote = ""
    for at, letter in enumerate(line):
        if letter == "#" and not quote:
            return line[:at].rstrip()
        if letter in "\"'" and quote in ("", letter):
            quote = "" if quote else letter
    return line


def _is_meant(lines: list[str]) -> bool:
    """Whether the text was meant as TOML: it has a heading, or most of its lines start with a key and an =."""
    said = [line for line in lines if line.strip() and not line.lstrip().startswith("#")]
    keys = sum(1 for line in said if _KEY.match(line))
    return any(_HEADING.match(line) for line in said) or 2 * keys >= len(said)


Told = tuple[int, str] | None


def _twice(broken: Broken) -> Told:
    if not re.search("overwrite|declare|mutate|duplicate", broken.message, re.IGNORECASE):
        return None
    inline = re.search(r"key '(.+)'", broken.message)
    name = inline[1] if inline else broken.key if "=" in broken.written else bare(broken.written)
    before = broken.lines[: broken.number - 1]
    same = re.compile(rf"{re.escape(name)}\s*(=|#|\Z)")
    earlier = [at for at, line in enumerate(before, 1) if same.match(line.strip())]
    return broken.number, f"{name} stands twice{f', first in line {earlier[-1]}' if earlier else ''}; keep one of them"


def _inch(broken: Broken) -> Told:
    if not re.search(r'\d""', broken.written):
        return None
    return (
        broken.number,
        f"an inch mark cannot stand inside double quotes: {_shown(broken.written)}; it stands inside single quotes: '24\"'",
    )


def _curly(broken: Broken) -> Told:
    straight = broken.written.translate(_CURLY)
    if straight == broken.written:
        return None
    return _say(broken, "quotes must be straight, not curly", straight)


def _blank(broken: Broken) -> Told:
    line = broken.lines[broken.number - 1]
    at = line[broken.column : broken.column + 1]
    if at.isspace() and at not in " \t\n":
        return _say(
            broken, "a blank in this line is none that TOML knows (copied from a web page, perhaps)", line.replace(at, " ").strip()
        )
    if at and not at.isprintable() and at not in "\t\n" and broken.message.startswith("Illegal"):
        return broken.number, f"character {broken.column + 1} of this line cannot be printed; delete it and write it anew"
    return None


def _quote(broken: Broken) -> Told:
    if broken.message.startswith("Unterminated string") and '"""' in "".join(broken.lines):
        at = max(at for at, line in enumerate(broken.lines, 1) if '"""' in line)
        return at, f'a text that was opened with """ is not closed: {_shown(broken.lines[at - 1].strip())}'
    if "'" in broken.message and broken.message.startswith('Expected "\'"'):
        at = max((at for at, line in enumerate(broken.lines, 1) if bare(line).count("'") % 2), default=broken.number)
        broken = Broken(broken.lines, at, 0, broken.message)
    opened = re.fullmatch(r"""([^"'=]*=\s*)(["'])([^"']*?)(\s*#.*)?""", broken.written)
    if opened:
        return _say(
            broken, "a quote was opened and not closed", f"{opened[1]}{opened[2]}{opened[3].rstrip()}{opened[2]}{opened[4] or ''}"
        )
    closed = re.fullmatch(r"""([\w.-]+\s*=\s*)([^"'\[{\s][^"']*)(["'])(\s*#.*)?""", broken.written)
    if closed:
        return _say(broken, "a quote was closed and not opened", f"{closed[1]}{closed[3]}{closed[2]}{closed[3]}{closed[4] or ''}")
    if "'\\n'" in broken.message or bare(broken.written).count('"') % 2:
        return _say(broken, "a quote was opened and not closed; every text has a quote at both ends", "")
    return None


def _backslash(broken: Broken) -> Told:
    if "\\" not in broken.written or not re.search("escape|hex|backslash", broken.message, re.IGNORECASE):
        return None
    return _say(broken, "a backslash inside double quotes must be written twice", re.sub(r"\\+", r"\\\\", broken.written))


def _comment(broken: Broken) -> Told:
    found = re.search(r"(\A|\s)(//|;)\s*", broken.written)
    if not found or found.start() > broken.column + 1 or '"' in broken.written[found.end() :]:
        return None
    return _say(
        broken, "a comment starts with #", f"{broken.written[: found.start()]}{found[1]}# {broken.written[found.end() :]}".strip()
    )


def _heading(broken: Broken) -> Told:
    name = bare(broken.written)
    if not name.startswith("[") or "=" in name:
        return None
    inside = name.strip("[] ")
    if not inside:
        return _say(broken, "a heading needs a name between its brackets", "")
    many = name.startswith("[[")
    hyphened = re.sub(r"\s+", "-", inside)
    better = f"[[{hyphened}]]" if many else f"[{hyphened}]"
    missing = not name.endswith("]]" if many else "]")
    words = "the bracket of a heading is not closed" if missing else "a name in a heading is one word"
    return _say(broken, words, better)


def _equals(broken: Broken) -> Told:
    if "'='" not in broken.message:
        return None
    name = bare(broken.written)
    colon = re.fullmatch(r"([\w.-]+)\s*:\s*(.+)", name)
    if colon:
        return _say(broken, "between a key and its value stands =, not a colon", f"{colon[1]} = {_quoted(colon[2])}")
    if "=" in name:
        if re.fullmatch(r"[\w.-]+(\s+[\w.-]+)+", broken.key):
            return _say(broken, "a key is one word", f"{'_'.join(broken.key.split())} = {_quoted(broken.value)}")
        if re.fullmatch(r"[\w.-]+", broken.key):
            return _say(broken, "inside { } every key has an = and a value, and a comma stands between them", "")
        return _say(broken, "before the = stands a key, of letters, digits, - and _ only", "")
    key, _, value = name.partition(" ")
    if not value:
        return _say(broken, "this line has no = and no value", "")
    return _say(broken, "the = between key and value is missing", f"{key} = {_quoted(value.strip())}")


def _empty(broken: Broken) -> Told:
    if "=" not in bare(broken.written) or broken.value:
        return None
    name = broken.key or "key"
    return (
        broken.number,
        f'{name} has no value: {_shown(broken.written)}; write a value such as {name} = "..." or take the line out',
    )


def _bracket(broken: Broken) -> Told:
    is_list = broken.message.startswith("Unclosed array")
    is_next = bool(_HEADING.match(broken.written)) and broken.number > 1  # the list has swallowed a heading
    is_list = is_list or (is_next and broken.message.startswith("Invalid value"))
    in_table = broken.message.startswith("Unclosed inline table") or "initial character for a key" in broken.message
    if not is_list and not in_table:
        return None
    kind, start, end = ("list", "[", "]") if is_list else ("table", "{", "}")
    at = next(
        (at for at in range(broken.number, 0, -1) if re.search(rf"=.*{re.escape(start)}", broken.lines[at - 1])), broken.number
    )
    line = broken.lines[broken.number - 1]
    before, rest = line[: broken.column], bare(line[broken.column :]).strip()
    if rest.startswith(end) and before.rstrip().endswith(","):
        return _say(broken, f"no comma may stand before the closing {end}", f"{before.rstrip()[:-1]} {rest}".strip())
    if end in rest and not is_next and (is_list or start in before):
        return _say(broken, f"a comma is missing before {_shown(rest)}", f"{before.rstrip()}, {rest}".strip())
    if in_table and start not in before:
        return None
    opened = Broken(broken.lines, at, 0, broken.message)
    whole = "" if is_list else ", in the same line"
    return _say(
        opened,
        f"the bracket {start} of a {kind} is not closed; close it with {end}{whole}",
        f"{bare(opened.written).rstrip(', ')} {end}",
    )


def _value(broken: Broken) -> Told:
    value = broken.value
    if not re.match(r"[\w-]+(\.[\w-]+)*\s*=", broken.written) or not value:
        return None
    if value.lower() in ("true", "false", "yes", "no"):
        return _say(
            broken,
            "yes and no are written true and false",
            f"{broken.key} = {'true' if value.lower() in ('true', 'yes') else 'false'}",
        )
    if value[-1] in ",;":
        return _say(broken, f"nothing may follow a value, not even {value[-1]}", f"{broken.key} = {_quoted(value[:-1].strip())}")
    if value[0] in "=,":
        return _say(broken, f"a second {value[0]} before the value" if value[0] == "=" else "a comma before the value", "")
    if value[0] in "[{":
        return _say(broken, "something follows the closing bracket, or a text in it has no quotes", "")
    if value[0] in "\"'":
        return _say(
            broken, "something follows the closing quote; it belongs inside, or not there", f"{broken.key} = {_quoted(value)}"
        )
    return _say(broken, "a value with letters, a unit or more than one number needs quotes", f"{broken.key} = {_quoted(value)}")


def _statement(broken: Broken) -> Told:
    if not broken.message.startswith("Invalid statement"):
        return None
    return _say(broken, "neither a heading [table] nor key = value; a comment starts with #", "")


RULES: tuple[Callable[[Broken], Told], ...] = (
    _twice, _blank, _inch, _curly, _backslash, _comment, _quote, _bracket, _heading, _empty, _equals, _value, _statement,
)  # fmt: skip
"""Asked in turn; the first that knows the mistake tells it."""


def _quoted(value: str) -> str:
    """A value as it can stand: as it is, or else inside quotes."""
    if _reads(f"x = {value}") or value[:1] in ("[", "{", "=", ","):
        return value
    inner = value.replace('"', "") if value.startswith('"') else value.replace("'", "") if value.startswith("'") else value
    return f"'{inner}'" if '"' in inner else f'"{inner}"'


def _say(broken: Broken, words: str, better: str) -> tuple[int, str]:
    """The words, the line as it is, and what to write: only if that can be read."""
    advice = f"; write {better}" if better and len(better) <= LONGEST and better != broken.written and _reads(better) else ""
    return broken.number, f"{words}: {_shown(broken.written)}{advice}"


def _shown(line: str) -> str:
    return line if len(line) <= LONGEST else f"{line[:LONGEST].rstrip()} ..."


def _reads(text: str) -> bool:
    try:
        tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        return False
    return True
