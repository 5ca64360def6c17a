"""Lines of keys, whatever TOML allows."""

import tomllib

from hypothesis import given
from hypothesis import strategies as st

from gantrywright.intake.lines import lines_of

TEXT = '''\
a = 1 # one
"b c" = """
x = 3
"""
[t]
d.e = { f = "# }", g = [1,
  2, "]"] }
'h' = \'\'\'
[no]
\'\'\'
[[many]]
i = 2026-01-01
[[many]]
i = 1
[t.u.v]
w = "\\"#"
'''


def test_tables_keys_strings_and_lists_over_lines() -> None:
    assert tomllib.loads(TEXT)["t"]["h"] == "[no]\n"
    assert lines_of(TEXT) == {
        "a": 1, "b c": 2, "t": 5, "t.d": 6, "t.d.e": 6, "t.h": 8, "many": 11, "many.1": 11, "many.1.i": 12, "many.2": 13, "many.2.i": 14,
        "t.u": 15, "t.u.v": 15, "t.u.v.w": 16,
    }  # fmt: skip


@given(st.text(alphabet="ab=.[]{}\"'#\n\\ ,1-", max_size=60))
def test_whatever_tomllib_reads_gets_lines(text: str) -> None:
    try:
        tree = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    lines = lines_of(text)
    assert set(tree) == {path for path in lines if path in tree}
    assert all(1 <= line <= text.count("\n") + 1 for line in lines.values())
