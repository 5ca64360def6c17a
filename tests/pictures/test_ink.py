"""Where words stand in a picture."""

from gantrywright.pictures.ink import Box, free_place

ROOM = Box(0.0, 0.0, 400.0, 200.0)


def test_words_stand_farther_off_rather_than_over_a_line() -> None:
    near = [(x, y) for x in range(120, 290, 8) for y in (85.0, 100.0, 115.0)]
    place = free_place(200.0, 100.0, "the job, 3 mm", ROOM, [], near)
    assert place is not None
    assert not [at for at in near if place.left < at[0] < place.right and place.top < at[1] < place.bottom]
    beside = free_place(200.0, 100.0, "the job, 3 mm", ROOM, [])
    assert beside is not None
    assert abs(place.top - 100.0) > abs(beside.top - 100.0)
