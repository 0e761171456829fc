"""On which line each key of a file stands."""

import tomllib
from collections.abc import Iterator, Mapping
from importlib.resources import files

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.lines import Path, key_lines
from haulm.catalogue.placed import Placed, parse_placed

HARD = """# "no = key" in a comment
plain = 1   # "another"
"quo.ted # [x]" = "a ] } # ' \\" text"
'li"teral' = 'C:\\'
dotted.name . "in three" = true
long = \"\"\"
not = "a key"
[nor.a.table]
ends with quotes \\\\ \"\"\"\"\"
raw = '''
also = 'no key'
'' ''''
list = [ # a comment ] }
  1, [ 2, "]" ],
  { deep = [ "}", { inner = 1979-05-27 07:32:00Z } ], more = {} },
]

[ a . "b c" ]
under = 07:32:00
[[a.many]]
one = 1
[a.many.inner]
two = -1.5e3
[[a.many]]
[a.many.inner]
"" = inf
[a]
late = 1
"""


def ways(value: object, way: Path = ()) -> Iterator[Path]:
    """Walk every key and every entry of what the standard library reads."""
    if isinstance(value, Mapping):
        for key, entry in value.items():
            yield (*way, key)
            yield from ways(entry, (*way, key))
    elif isinstance(value, list):
        for number, entry in enumerate(value):
            yield (*way, number)
            yield from ways(entry, (*way, number))


WORDS = st.text(max_size=8)
PLAIN = st.one_of(
    st.booleans(), st.integers(-9, 9), st.floats(allow_nan=False), WORDS, st.datetimes(), st.dates()
)
VALUES = st.recursive(
    PLAIN, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3)
)


@settings(max_examples=150, deadline=None)
@given(table=st.dictionaries(WORDS, VALUES, max_size=4))
def test_every_key_has_a_line_and_nothing_else_has(table: dict[str, object]) -> None:
    """Whatever a file holds, the very keys that the standard library reads have lines."""
    text = tomli_w.dumps(table)
    lines = key_lines(text)
    assert set(lines) == set(ways(tomllib.loads(text)))
    assert all(1 <= line <= text.count("\n") + 1 for line in lines.values())


@settings(max_examples=60, deadline=None)
@given(
    before=st.lists(st.sampled_from(["", "# a note", "  "]), max_size=6), number=st.integers(0, 9)
)
def test_a_line_moves_down_with_what_is_written_above_it(before: list[str], number: int) -> None:
    """Blank lines and comments above a key put it as many lines lower."""
    text = "\n".join([*before, "[shared.stand]", f"depth_m = {{ value = {number} }}"])
    lines = key_lines(text)
    assert lines["shared", "stand"] == len(before) + 1
    assert lines["shared", "stand", "depth_m", "value"] == len(before) + 2


def test_the_hardest_file_is_read_as_the_standard_library_reads_it() -> None:
    """Strings that look like keys, dates with blanks and arrays of tables lead no one astray."""
    assert set(key_lines(HARD)) == set(ways(tomllib.loads(HARD)))


@pytest.mark.parametrize(
    ("way", "line"),
    [
        (("plain",), 2),
        (("quo.ted # [x]",), 3),
        (("dotted", "name", "in three"), 5),
        (("long",), 6),
        (("list", 1, 1), 14),
        (("list", 2, "deep", 1, "inner"), 15),
        (("a", "b c", "under"), 19),
        (("a", "many", 0, "one"), 21),
        (("a", "many", 1), 24),
        (("a", "many", 1, "inner", ""), 26),
        (("a", "late"), 28),
        (("a",), 27),
    ],
)
def test_a_key_is_found_on_its_line(way: Path, line: int) -> None:
    """Each key of a file of hard cases stands where an editor shows it."""
    assert key_lines(HARD)[way] == line


def test_every_key_of_the_catalogue_stands_on_the_line_it_is_told_to() -> None:
    """The line told for a key of the shipped files is one on which that key is written."""
    for file in (files("haulm.catalogue") / "data" / "crops").iterdir():
        text = file.read_text(encoding="utf-8")
        written = text.splitlines()
        for way, line in key_lines(text).items():
            assert str(way[-1]) in written[line - 1] or isinstance(way[-1], int)


def test_a_placed_table_is_the_table_itself() -> None:
    """Tables with places hold exactly what the standard library reads."""
    placed = parse_placed(HARD, "hard.toml")
    assert placed == tomllib.loads(HARD)
    assert isinstance(placed["a"], Placed)
    assert str(placed["a"].key_places["late"]) == "hard.toml, line 28"
