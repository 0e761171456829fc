import os

from one_food_page import PAGE, written


def test_the_page_that_follows_one_food_is_what_the_plan_says() -> None:
    """Every figure of docs/one-food.md is the plan's own; HAULM_WRITE_PAGES=1 writes it anew."""
    page = written()
    if os.environ.get("HAULM_WRITE_PAGES"):
        PAGE.write_text(page, encoding="utf-8")
    assert PAGE.read_text(encoding="utf-8") == page
