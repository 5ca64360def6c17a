"""Overlap of boxes against brute force: clouds of points, and outlines cut by a geometry library."""

import numpy as np
from shapely import Polygon, affinity, box

from gantrywright.theory.boxes import Boxes, deepest, overlap


def random_boxes(random: np.random.Generator, count: int, flat: bool) -> Boxes:
    axes = []
    for angle in random.uniform(0, np.pi, count):
        turn = np.array([[np.cos(angle), np.sin(angle), 0], [-np.sin(angle), np.cos(angle), 0], [0, 0, 1.0]])
        axes.append(turn if flat else np.linalg.qr(random.normal(size=(3, 3)))[0])
    centres = random.uniform(-1, 1, (count, 3)) * (1, 1, 0 if flat else 1)
    return Boxes(centres, np.array(axes), random.uniform(0.2, 1.5, (count, 3)), np.zeros(count))


def cloud(boxes: Boxes, row: int) -> np.ndarray:
    steps = np.linspace(-0.5, 0.5, 13)
    points = np.stack(np.meshgrid(steps, steps, steps, indexing="ij"), axis=-1).reshape(-1, 3)
    return boxes.centres[row] + (points * boxes.sizes[row]) @ boxes.axes[row]


def inside(points: np.ndarray, boxes: Boxes, row: int) -> np.ndarray:
    local = (points - boxes.centres[row]) @ boxes.axes[row].T
    return np.all(np.abs(local) <= boxes.sizes[row] / 2, axis=1)


def test_points_of_one_box_inside_the_other_mean_overlap() -> None:
    random = np.random.default_rng(5)
    a, b = random_boxes(random, 300, False), random_boxes(random, 300, False)
    depth = overlap(a, b, np.zeros((300, 1, 3)))[:, 0]
    seen = np.array([inside(cloud(a, i), b, i).any() or inside(cloud(b, i), a, i).any() for i in range(300)])
    assert np.all(depth[seen] >= 0)
    # where the cloud sees nothing an overlap is at most a little thicker than the gaps of the cloud
    assert np.all(depth[~seen] < 0.13 * 1.5)
    assert 50 < seen.sum() < 250


def outline(boxes: Boxes, row: int) -> Polygon:
    x, y, _ = boxes.sizes[row] / 2
    angle = np.degrees(np.arctan2(boxes.axes[row, 0, 1], boxes.axes[row, 0, 0]))
    return affinity.translate(affinity.rotate(box(-x, -y, x, y), angle, origin=(0, 0)), *boxes.centres[row, :2])


def test_flat_boxes_meet_where_their_outlines_do() -> None:
    random = np.random.default_rng(6)
    a, b = random_boxes(random, 200, True), random_boxes(random, 200, True)
    depth = overlap(a, b, np.zeros((200, 1, 3)))[:, 0]
    for i in range(200):
        distance = outline(a, i).distance(outline(b, i))
        assert (depth[i] >= 0) == (distance == 0)
        if distance > 0:  # a miss is never called wider than it is
            assert -depth[i] <= distance + 1e-9


def test_deepest_place_of_a_sweep_matches_a_fine_walk() -> None:
    random = np.random.default_rng(7)
    a, b = random_boxes(random, 40, False), random_boxes(random, 40, False)
    movements = random.normal(size=(40, 2, 3))
    low, high = np.array([-0.5, -0.4]), np.array([0.5, 0.6])
    depth, where = deepest(a, b, movements=movements, low=low, high=high)
    grids = np.meshgrid(np.linspace(-0.5, 0.5, 81), np.linspace(-0.4, 0.6, 81))
    fine = np.stack(grids, axis=-1).reshape(-1, 2)
    walked = overlap(a, b, np.einsum("pa,nac->npc", fine, movements)).max(axis=1)
    assert np.all(depth >= walked - 1e-9)
    assert np.all(depth[depth > 0] <= walked[depth > 0] + 0.03)  # one step of the walk
    at = overlap(a, b, np.einsum("na,nac->nc", where, movements)[:, None, :])[:, 0]
    np.testing.assert_allclose(at[depth > 0], depth[depth > 0], atol=1e-9)
