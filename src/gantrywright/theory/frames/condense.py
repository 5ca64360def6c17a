"""One group after the other put on what carries it, all poses at once, by the gives of both and of the contacts between them.

Forces f in the contacts and rigid motions r of the new group solve
    M f - Rc r = X P,   Rc^T f = R^T P,
M the give of both sides and of the contacts as these see it, Rc their stretches under rigid motions, X those under loads P while the
group is held at one node. So r = (Rc^T M^-1 Rc)^-1 Y P with Y = R^T - Rc^T M^-1 X, and the give under P becomes
    F - X^T M^-1 X + Y^T (Rc^T M^-1 Rc)^-1 Y.
Exact: nothing is left out but what no later contact and no load touches.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import Array
from gantrywright.theory.frames.contacts import Contacts
from gantrywright.theory.frames.frame import PER_NODE, Numbers
from gantrywright.theory.frames.groups import LooseGroup, Piece, freedoms

HELD = 1e-7
"""A rigid motion that stretches the contacts by less than this part of what the others do is free; sound guides stay above 1e-3."""


@dataclass(frozen=True, slots=True)
class Below:
    """What has been put together so far, at g poses of it; c loads for each of the l poses still to come of the other axes."""

    ports: Numbers
    """Nodes that later contacts touch, shape (p,)."""
    give: Array
    """Shape (g, 6 p, 6 p)."""
    loads: Array
    """Motion of the ports under the loads, shape (g, 6 p, l c)."""
    own: Array
    """Motion of the loaded places under the loads, shape (g, l, c, c)."""


@dataclass(frozen=True, slots=True)
class Loads:
    """Loads at the nodes of one piece, c of each pose of all axes."""

    rows: Numbers
    """Freedoms of the piece's ports that they load, shape (f,)."""
    on: Array
    """Loads on these, shape (poses or 1, f, c)."""
    local: Array
    """Give of the loaded places inside their elements, shape (poses or 1, c, c)."""


def begin(piece: Piece, loads: Loads, keep: Numbers, poses: int) -> Below:
    """What stands on the ground, before anything is put on it."""
    columns = _columns(loads.on, (1, 1), poses)
    moved = piece.give[:, loads.rows] @ columns
    kept, rows = _kept(piece.ports, keep)
    own = _each(columns, moved[:, :, loads.rows], poses) + _blocks(loads.local, (1, 1), poses)
    return Below(kept, piece.give[None, rows[:, None], rows], moved[0][:, rows], own[0])


def attach(below: Below, piece: Piece, contacts: Contacts, loads: Loads, crossed: Array | None, keep: Numbers) -> Below:
    """Put a piece on what is below it by the contacts of one axis.

    Args:
        below: So far, g poses.
        piece: Groups that come on top.
        contacts: Between them, q poses.
        loads: On the piece.
        crossed: Stretch of the contacts under the loads by what elements give inside that hold both, shape (poses, k, c); None: nil.
        keep: Nodes that later contacts touch.

    Raises:
        LooseGroup: The contacts leave the piece free.
    """
    lead, count = (len(below.give), contacts.poses), loads.on.shape[-1]
    later = below.own.shape[1] // lead[1]
    carrier, top = contacts.on(below.ports), contacts.on(piece.ports)
    rigid = top @ piece.free
    _must_hold(contacts.axis, rigid, piece)
    seen, bent = carrier @ below.give[:, None], top @ piece.give
    met = seen @ _turned(carrier) + bent @ _turned(top) + contacts.give
    (high, high_rows), (low, low_rows) = _kept(piece.ports, keep), _kept(below.ports, keep)
    on = _columns(loads.on, lead, later)
    of_loads = np.swapaxes(below.loads.reshape(lead[0], -1, lead[1], later * count), 1, 2)
    under = carrier @ of_loads + bent[..., loads.rows] @ on
    if crossed is not None:
        under = under + _columns(crossed, lead, later)

    # X and R^T, columns: ports of the piece, ports below, loads
    held = _beside((bent[..., high_rows], seen[..., low_rows], under), lead)
    nil = np.zeros((piece.free.shape[-1], len(low_rows)))
    loose = _beside((piece.free[high_rows].T, nil, piece.free[loads.rows].T @ on), lead)
    solved = np.linalg.solve(
        np.broadcast_to(met, (*lead, *met.shape[-2:])), np.concatenate((_beside((rigid,), lead), held), axis=-1)
    )
    free = rigid.shape[-1]
    stiff = _turned(rigid) @ solved[..., :free]
    loose = loose - _turned(rigid) @ solved[..., free:]
    ask = np.concatenate((held, loose), axis=-2)
    answer = np.concatenate((-solved[..., free:], np.linalg.solve(stiff, loose)), axis=-2)

    size, split = len(high_rows) + len(low_rows), len(high_rows)
    told = _turned(ask[..., :size]) @ answer  # rows: ports; columns: ports, loads
    told[..., :split, :split] += piece.give[high_rows[:, None], high_rows]
    told[..., split:, split:size] += below.give[:, None, low_rows[:, None], low_rows]
    told[..., :split, size:] += piece.give[high_rows[:, None], loads.rows] @ on
    told[..., split:, size:] += of_loads[..., low_rows, :]
    own = _each(ask[..., size:], answer[..., size:], later) + below.own.reshape(*lead, later, count, count)
    own = own + _each(on, piece.give[loads.rows[:, None], loads.rows] @ on, later) + _blocks(loads.local, lead, later)
    poses = lead[0] * lead[1]
    told, own = told.reshape(poses, *told.shape[2:]), own.reshape(poses, later, count, count)
    return Below(np.concatenate((high, low)), told[..., :size], told[..., size:], own)


def _turned(array: Array) -> Array:
    return np.swapaxes(array, -1, -2)


def _columns(each: Array, lead: tuple[int, int], later: int) -> Array:
    """What belongs to every pose, (poses or 1, n, c), as columns: (g or 1, q or 1, n, l c)."""
    if len(each) == 1:
        return np.tile(each[None], (1, 1, 1, later))
    sorted_out = np.swapaxes(each.reshape(*lead, later, *each.shape[1:]), 2, 3)
    return sorted_out.reshape(*lead, each.shape[1], -1)


def _blocks(each: Array, lead: tuple[int, int], later: int) -> Array:
    """What belongs to every pose, (poses or 1, c, c), as (g or 1, q or 1, l or 1, c, c)."""
    return each[None, None] if len(each) == 1 else each.reshape(*lead, later, *each.shape[1:])


def _each(left: Array, right: Array, later: int) -> Array:
    """Products left^T right of the columns of every later pose with themselves alone, (..., n, l c): (..., l, c, c)."""
    both = (part.reshape(*part.shape[:-1], later, part.shape[-1] // later) for part in (left, right))
    first, second = (np.swapaxes(part, -3, -2) for part in both)
    told: Array = _turned(first) @ second
    return told


def _beside(parts: tuple[Array, ...], lead: tuple[int, int]) -> Array:
    return np.concatenate([np.broadcast_to(part, (*lead, *part.shape[-2:])) for part in parts], axis=-1)


def _kept(ports: Numbers, keep: Numbers) -> tuple[Numbers, Numbers]:
    """Ports that are still needed, and their freedoms."""
    there = np.isin(ports, keep)
    return ports[there], freedoms(np.flatnonzero(there))


def _must_hold(axis: str, rigid: Array, piece: Piece) -> None:
    """Refuse contacts that do not resist every rigid motion of a piece."""
    turns = np.arange(rigid.shape[-1]) % PER_NODE > 2
    reach = np.sqrt((rigid[..., turns] ** 2).mean()) / np.sqrt((rigid[..., ~turns] ** 2).mean() + 1e-300)
    scaled = rigid / np.where(turns, max(reach, 1e-9), 1.0)
    _, sizes, ways = np.linalg.svd(scaled)
    if rigid.shape[-2] < rigid.shape[-1]:
        raise LooseGroup(axis, piece.free @ ways[0, -1])
    worst = int(np.argmin(sizes[:, -1] / sizes[:, 0]))
    if sizes[worst, -1] < HELD * sizes[worst, 0]:
        raise LooseGroup(axis, piece.free @ (ways[worst, -1] / np.where(turns, max(reach, 1e-9), 1.0)))
