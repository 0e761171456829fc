import re
from pathlib import Path

from one_food_page import DAY, GARDEN, PAGE, ROOT, written
from pages import kept
from shell import Haulm

README = ROOT / "README.md"
BLOCK = re.compile(r"(?<=<!-- worked result -->\n).*(?=<!-- end of worked result -->)", re.DOTALL)


def test_the_page_that_follows_one_food_is_what_the_plan_says() -> None:
    """Every figure of docs/one-food.md is the plan's own; HAULM_WRITE_PAGES=1 writes it anew."""
    page = written()
    assert kept(PAGE, page) == page


def test_the_worked_result_of_the_readme_is_what_haulm_answers(
    haulm: Haulm, tmp_path: Path
) -> None:
    """Whoever follows the README's example sees what it shows."""
    book = tmp_path / "quill-yard.haulm"
    haulm("import", GARDEN, book)
    haulm("plan", book, "--on", DAY)
    answer = haulm("why", "garlic-1", book).out.partition("\nThe figures it was reckoned")[0]
    block = f"""
Why a planting is as it is, from a small invented garden that grows one food:

```
$ haulm import {GARDEN.relative_to(ROOT)} quill-yard.haulm
$ haulm plan quill-yard.haulm --on {DAY}
$ haulm why garlic-1 quill-yard.haulm
{answer}```

Then come the figures it was reckoned with, each with what it rests on. A bed, a store, a lot, a
line of the table, a week and what is to be bought are asked about in the same way.

"""
    text = README.read_text(encoding="utf-8")
    (shown,) = BLOCK.findall(kept(README, BLOCK.sub(lambda _: block, text)))
    assert shown == block
