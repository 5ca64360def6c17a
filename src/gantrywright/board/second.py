"""A second opinion on chatter, as the page tells it: sentences and pictures of every job."""

from typing import Any

from gantrywright.board.looks import plain
from gantrywright.pictures.cut_second import second_pictures
from gantrywright.results.jobs import Second
from gantrywright.study import second_words
from gantrywright.study.study import Study


def second_told(study: Study, found: dict[str, Second]) -> dict[str, Any]:
    """By job; empty where nothing could be looked at.

    Args:
        study: With lobes.
        found: By job.
    """
    return {
        name: {
            "words": second_words.second(study, one),
            "pictures": [plain(picture) for picture in second_pictures(study, one)],
        }
        for name, one in found.items()
    }
