"""One runner for every published or independently derived check value: the blocks of ``tests/values/*.toml``."""

import importlib
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from gantrywright.base import errors

HERE = Path(__file__).parent
VALUES = [
    (path.name, value) for path in sorted(HERE.glob("*.toml")) for value in tomllib.loads(path.read_text("utf-8")).get("value", [])
]


def call(block: dict[str, Any]) -> Any:
    module, name = block["function"].split(":")
    return getattr(importlib.import_module(module), name)(**block["inputs"])


def pick(result: Any, part: Any) -> Any:
    if part is None:
        return result
    return result[part] if isinstance(part, int) else getattr(result, part)


@pytest.mark.parametrize("block", [v for _, v in VALUES], ids=[f"{f}:{v['id']}" for f, v in VALUES])
def test_published_value(block: dict[str, Any]) -> None:
    assert block["source"], "a check value says where it is from"
    if "error" in block:
        with pytest.raises(getattr(errors, block["error"])):
            call(block)
        return
    got = np.asarray(pick(call(block), block.get("part")), dtype=float) * block.get("scale", 1.0)
    tolerance = {"rtol": block.get("rel_tol", 0.0), "atol": block.get("abs_tol", 0.0)}
    assert tolerance["rtol"] or tolerance["atol"] or block.get("exact"), "a check value states its tolerance"
    np.testing.assert_allclose(got, np.asarray(block["expected"], dtype=float), **tolerance, err_msg=block["source"])


def test_ids_are_not_used_twice() -> None:
    ids = [value["id"] for _, value in VALUES]
    assert len(ids) == len(set(ids))
