"""Figures of one kind standing in for those nobody has of another."""

import shutil
from importlib.resources import as_file, files
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.loader import read_catalogue
from haulm.catalogue.placed import Placed, parse_placed
from haulm.catalogue.standing_in import fill_from_kin
from haulm.measure.errors import FaultsFoundError
from stated import stated


def kinds(text: str) -> dict[str, Placed]:
    """Read the kinds of a text, each under its own name."""
    return {f"crop/{name}": table for name, table in parse_placed(text, "crop.toml").items()}


def told(text: str) -> list[str]:
    """Give what is found wrong with who stands in for whom."""
    return [str(finding) for finding in fill_from_kin(kinds(text))[1]]


def test_what_a_kind_gives_itself_goes_before_what_it_borrows() -> None:
    """A leek's own root depth stands; the rest is the onion's, and said to be."""
    filled, findings = fill_from_kin(
        kinds(
            """
[onion.water]
rooting_m = { value = 0.3 }
kc_end = { value = 0.75 }
[leek.water]
stands_in = "crop/onion"
rooting_m = { value = 0.4 }
"""
        )
    )
    water = filled["crop/leek"]["water"]
    assert not findings
    assert water == {"rooting_m": {"value": 0.4}, "kc_end": {"value": 0.75}}
    assert water["rooting_m"].whose == ""
    assert water["kc_end"].whose == "crop/onion"
    assert filled["crop/onion"]["water"]["kc_end"].whose == ""
    assert str(water.key_places["kc_end"]) == "crop.toml, line 4"


def test_a_chain_leads_to_the_kind_whose_figure_it_is() -> None:
    """Garlic borrows of the leek what the leek borrows of the onion: it is the onion's."""
    filled, findings = fill_from_kin(
        kinds(
            """
[onion.water]
kc_end = { value = 0.75 }
[leek.water]
stands_in = "crop/onion"
kc_middle = { value = 1 }
[garlic.water]
stands_in = "crop/leek"
"""
        )
    )
    water = filled["crop/garlic"]["water"]
    assert not findings
    assert water["kc_end"].whose == "crop/onion"
    assert water["kc_middle"].whose == "crop/leek"


def test_a_table_within_a_borrowed_one_may_borrow_in_its_turn() -> None:
    """What a lender has borrowed deeper down comes along."""
    filled, findings = fill_from_kin(
        kinds(
            """
[onion.methods.direct]
germination = { value = 0.7 }
[leek.methods.direct]
stands_in = "crop/onion"
[garlic.methods]
stands_in = "crop/leek"
"""
        )
    )
    assert not findings
    assert filled["crop/garlic"]["methods"]["direct"]["germination"].whose == "crop/onion"


RING = """
[a.water]
stands_in = "crop/b"
[b.water]
stands_in = "crop/c"
[c.water]
stands_in = "crop/a"
"""


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ('[a.water]\nstands_in = "crop/a"\n', "in a ring: crop/a → crop/a"),
        (
            RING,
            "in a ring: crop/a → crop/b → crop/c → crop/a",
        ),
        ('[onion.water]\n[a.water]\nstands_in = "crop/onoin"\n', "Did you mean crop/onion or"),
        ('[b.stand]\n[a.water]\nstands_in = "crop/b"\n', "crop/b has no water to lend"),
        ("[a.water]\nstands_in = 7\n", "“7” is no kind"),
    ],
)
def test_a_ring_or_an_unknown_lender_is_refused_with_its_line(text: str, what: str) -> None:
    """Kinds that stand in for one another in a ring give no figure, and a name must be known."""
    lines = told(text)
    assert any(what in line and "(crop.toml, line " in line for line in lines)


@settings(max_examples=100, deadline=None)
@given(lenders=st.lists(st.integers(-1, 5), min_size=1, max_size=6))
def test_each_kind_ends_at_an_owner_or_in_a_fault(lenders: list[int]) -> None:
    """However kinds lend, a figure has one owner, found by hand, or the ring is told."""
    text = "".join(
        f"[k{n}.water]\n" + (f'stands_in = "crop/k{to}"\n' if to >= 0 else "kc = { value = 1 }\n")
        for n, to in enumerate(lenders)
    )
    filled, findings = fill_from_kin(kinds(text))
    for n in range(len(lenders)):
        seen, at = [n], lenders[n]
        while 0 <= at < len(lenders) and at not in seen:
            seen.append(at)
            at = lenders[at]
        water = filled[f"crop/k{n}"]["water"]
        if at == -1:
            assert water["kc"].whose == ("" if len(seen) == 1 else f"crop/k{seen[-1]}")
        else:
            assert "kc" not in water
            assert findings


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Copy the shipped files, to be altered."""
    with as_file(files("haulm.catalogue") / "data") as shipped:
        return Path(shutil.copytree(shipped, tmp_path / "data"))


def test_a_whole_catalogue_lends_across_its_files(folder: Path) -> None:
    """A radish that takes the turnip's water has its figures, and each says whose it is."""
    path = folder / "crops" / "radish.toml"
    before, _, after = path.read_text(encoding="utf-8").partition("[shared.water]")
    rest = after[after.index("\n[") :]
    path.write_text(f'{before}[shared.water]\nstands_in = "turnip/early"\n{rest}', encoding="utf-8")
    catalogue = read_catalogue(folder)
    lent = stated(catalogue.kinds["radish/summer"].water.kc_end)
    assert lent.borrowed_from == "turnip/early"
    assert lent.value == stated(catalogue.kinds["turnip/early"].water.kc_end).value
    path.write_text(path.read_text(encoding="utf-8").replace("turnip/early", "turnip/eerly"))
    with pytest.raises(FaultsFoundError, match=r"radish/summer, water, stands_in \(radish.toml"):
        read_catalogue(folder)
