"""Names of keys and tables in the words of the trade."""

from gantrywright.intake.fields.places import words

LABELS = {
    "accel": "acceleration", "across": "across, from the middle of its carrier", "across_pitch": "pitch across", "at": "place", "by": "measured to",
    "bottom": "lower end", "class": "strength class", "cross": "section of the crosses", "cross_members": "number of crosses",
    "cutter": "cutter", "each_drive": "a sensor for each drive", "ends": "ends", "faces": "state of the faces", "face": "on which face",
    "fill": "filled with", "first_hole": "first hole", "from": "from", "grip_at": "grip along the axis", "grip_on": "grip screwed to",
    "height": "height", "into": "screwed into", "joined_at": "butt joints", "leg": "section of the legs", "legs": "number of legs",
    "made": "made by", "motor_end": "motor at the end", "nose_below": "collet face below the mount", "on": "sits on", "outlet": "outlet",
    "owned": "already there", "part": "part", "per_rail": "blocks per rail", "rapid": "rapid speed", "remaining": "rating that is left",
    "rise_time": "rise time of the acceleration", "runs": "runs", "seats": "seats screwed to", "section": "section", "set": "set voltage",
    "share": "share of cutting time", "show": "units", "side": "section of the sides", "slot": "full slot", "spacing": "spacing of the blocks",
    "stance": "uprights, middle to middle", "stand_off": "bore axis from the face", "start": "start of the rail", "state": "how far it is",
    "stick_out": "stick-out", "stops": "travel end to stop", "stretcher": "section of the stretchers", "times": "factor on its stiffness",
    "top": "upper end", "travel_per_turn": "travel per turn", "turns": "what turns", "up": "section's height points", "use": "takes part",
    "way": "direction of cutting", "with": "instrument", "work_area": "work area",
    "zero": "machine's zero", "middle": "middle plane",
}  # fmt: skip
"""Where a key's own name does not say it."""

TABLES = {
    "alignment": "alignment of rails", "block": "single block", "blocks": "guide blocks", "bolts": "bolts", "cable_chain": "cable chain",
    "counterweight": "counterweight", "device": "device", "drive": "drive", "feet": "feet", "fix": "screws", "foot": "foot", "hold_down": "hold-down",
    "holes": "holes", "home": "home switch", "item": "added part", "job": "job", "joint": "joint", "layers": "table layer", "load": "load",
    "machine": "machine: name and conventions", "measured": "measurement", "member": "bar", "mount": "mount", "openings": "opening", "outlet": "wall outlet",
    "part": "own part", "plate": "plate", "purpose": "what it is for", "rail": "rail", "reduction": "reduction", "repeat": "copies",
    "site": "where it stands", "skins": "skins", "slide": "bought slide", "tool": "cutter in the spindle", "top": "table top", "webs": "webs", "work": "workpiece",
}  # fmt: skip
"""What the tables of the file are called."""

PLURAL = {
    "rail": "rails",
    "drive": "drives",
    "block": "single blocks",
    "member": "bars",
    "plate": "plates",
    "item": "added parts",
    "foot": "feet",
    "job": "kinds of cut",
    "joint": "joints",
    "supply": "supplies",
    "cable": "cables",
    "measured": "measurements",
    "part": "own parts",
    "outlet": "wall outlets",
    "load": "other loads",
    "device": "devices",
    "layers": "table layers",
}
"""What collections of them are called."""


def label(key: str) -> str:
    """A key in words.

    Example:
        >>> label("per_rail"), label("pulse_rate")
        ('blocks per rail', 'pulse rate')
    """
    return LABELS.get(key, words(key))


def called(table: str) -> str:
    """A table of the file in words, one of it."""
    return TABLES.get(table, words(table))


def capital(text: str) -> str:
    """With a capital first letter."""
    return text[:1].upper() + text[1:]


def title(path: str) -> str:
    """The name of a table of the file.

    Example:
        >>> title("axis.x.rail.upper"), title("axis.x.drive.main.motor"), title("bed.member.left-side")
        ('X rail, upper', 'X drive: motor', 'Bed, left side')
    """
    parts = path.split(".")
    if path == "":
        return "Machine file"
    if len(parts) == 1 and path in PLURAL:
        return capital(PLURAL[path])
    if parts[0] == "axis" and len(parts) > 1:
        return _of_axis(parts)
    if parts[0] in ("job", "supply", "joint", "cable", "measured", "part", "material") and len(parts) > 1:
        return capital(_named(called(parts[0]), [words(parts[1]), *map(called, parts[2:])]))
    if len(parts) > 2 and parts[1] in ("member", "plate", "item", "foot", "outlet", "load", "device"):
        head = called(parts[1]) if parts[0] in ("site", "cabinet") else called(parts[0])
        return capital(
            _named(head, ["all " + PLURAL.get(parts[1], parts[1]) if parts[2] == "each" else words(parts[2]), *_after(parts[3:])])
        )
    if len(parts) == 2 and parts[1] in PLURAL:
        return capital(_named(called(parts[0]), [PLURAL[parts[1]]]))
    return capital(_named(called(parts[0]), _after(parts[1:])))


def _of_axis(parts: list[str]) -> str:
    axis = "all axes" if parts[1] == "each" else f"{parts[1].upper()}"
    if len(parts) == 2:
        return capital(axis) if parts[1] == "each" else f"{axis} axis"
    group = parts[2]
    if group not in ("rail", "drive", "block"):
        return _named(f"{axis} {called(group)}", _after(parts[3:]))
    if len(parts) == 3:
        return f"{axis} {PLURAL[group]}"
    if parts[3] == "each":
        return _colon(f"All {axis} {PLURAL[group]}", parts[4:])
    name = "" if parts[3] == "main" else f", {words(parts[3])}"
    return _colon(f"{axis} {called(group)}{name}", parts[4:])


def _colon(head: str, rest: list[str]) -> str:
    return f"{head}: {', '.join(_after(rest))}" if rest else head


def _after(rest: list[str]) -> list[str]:
    """Tables below a table: a list by its plural, one of it by its number; a part that is used is nobody's own."""
    named: list[str] = []
    for at, part in enumerate(rest):
        if part.isdecimal() and named:
            named[-1] = f"{called(rest[at - 1])} {part}"
        else:
            named.append("part" if part == "part" else PLURAL[part] if part == "layers" else called(part))
    return named


def _named(head: str, rest: list[str]) -> str:
    return ", ".join([head, *rest])
