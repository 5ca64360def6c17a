"""From a path of the machine file, of a check or of a share to the pieces that show it."""

from gantrywright.scene.pieces import Scene

COLLECTIONS = ("member", "plate", "item", "foot")
"""Words that stand in the file between a body and its part, but not in the name of the part."""
BETWEEN = " + "
"""In the name of a joint that touching made."""
TABLES = {"blocks": "block", "alignment": "rail"}
"""Tables of an axis that speak of all parts of another name."""
INSIDE = ("supply", "controller")
"""Their parts sit in the cabinet."""
WORK = ("job", "purpose")
"""What they speak of is the work: where its piece is drawn that piece, else the room for all work."""
GROUP = 2
"""Words of the shortest path that is looked for above one that is not drawn: a body or an axis alone says too little."""


def pieces_of(scene: Scene, path: str) -> tuple[int, ...]:
    """Indices of the pieces that show what a path speaks of; empty where nothing of it is drawn.

    The part itself; else everything below it; of a joint its marks and the two parts that it holds together; else what lies nearest above it. What
    follows the path in brackets or after ``@`` is left out.

    Example:
        ``axis.x.drive.main (whirl)`` is the screw, ``axis.x.blocks.preload`` every block of X, ``gantry.beam + gantry.upright-left`` both.
    """
    wanted = path.partition(" (")[0].partition("@")[0].strip()
    for joint in scene.joints:
        if joint.part == wanted:
            return (*_at(scene, wanted), *_both(scene, joint.between))
    if BETWEEN in wanted:
        return (*_at(scene, wanted), *_both(scene, tuple(wanted.split(BETWEEN))))
    wanted = _as_drawn(wanted)
    if wanted.split(".")[0] in INSIDE:
        return _at(scene, "cabinet")
    if wanted.split(".")[0] in WORK:
        return _at(scene, ".".join(wanted.split(".")[:GROUP])) or tuple(
            n for n, piece in enumerate(scene.pieces) if piece.kind == "work"
        )
    found = _at(scene, wanted)
    while not found and wanted.count(".") >= GROUP:
        wanted = wanted.rpartition(".")[0]
        found = _at(scene, wanted)
    return found or _at(scene, wanted.rpartition(".")[0] if wanted.count(".") == 1 and not wanted.startswith("axis.") else "")


def _both(scene: Scene, parts: tuple[str, ...]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(number for part in parts for number in pieces_of(scene, part)))


def _at(scene: Scene, path: str) -> tuple[int, ...]:
    """The pieces of a part, else of all that lies below it."""
    if not path:
        return ()
    own = tuple(n for n, piece in enumerate(scene.pieces) if piece.part == path)
    below = f"{path}."
    return own or tuple(n for n, piece in enumerate(scene.pieces) if piece.part.startswith(below) and piece.kind != "joint")


def _as_drawn(path: str) -> str:
    """A path of the file as the placed part is called: ``gantry.member.beam`` is ``gantry.beam``, ``axis.x.blocks`` every block."""
    words = path.split(".")
    if len(words) > GROUP and words[1] in COLLECTIONS:
        del words[1]
    if len(words) > GROUP and words[0] == "axis":
        words[2] = TABLES.get(words[2], words[2])
    if words[-1].endswith("_stiffness"):
        words[-1] = words[-1].removesuffix("_stiffness")
    return ".".join(words)
