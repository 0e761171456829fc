"""Claims about stretches of a bed's area over time."""

from haulm.planting.records import PatchWish
from haulm.planting.stretches import fewest_stretches


def wish(name: str, area_m2: float, from_week: int = 0, until_week: int = 9) -> PatchWish:
    """Wish for ground, at 15 cm."""
    return PatchWish(name, area_m2, 0.15, 0.13, 0.075, from_week, until_week)


def test_patches_keep_within_swaths_where_they_can() -> None:
    """Three patches of 3 m² go one into each swath of 4 m², none across two."""
    plainest, *_ = fewest_stretches(12.0, [wish(name, 3.0) for name in "abc"], [4.0, 8.0])
    starts = sorted(start for stretches in plainest.values() for start, _ in stretches)
    assert starts == [0.0, 4.0, 8.0]


def test_a_patch_larger_than_a_swath_lies_across_them() -> None:
    """A patch larger than a swath is not split for it."""
    for placing in fewest_stretches(12.0, [wish("a", 9.0), wish("b", 3.0)], [4.0, 8.0]):
        assert [len(stretches) for stretches in placing.values()] == [1, 1]


def test_the_ways_differ_and_split_equally_few() -> None:
    """All ways that are kept split as few patches as any, and no two are the same."""
    wishes = [wish("a", 3.0, 0, 9), wish("b", 3.0, 2, 5), wish("c", 4.0, 4, 12)]
    ways = fewest_stretches(10.0, wishes)
    assert len({sum(map(len, way.values())) for way in ways}) == 1
    assert all(one != other for n, one in enumerate(ways) for other in ways[:n])


def test_a_patch_fills_the_widest_gap_first_when_it_must_be_split() -> None:
    """What fits no gap whole takes all of the widest one and the rest of the next."""
    around = [wish("a", 3.0, 0, 5), wish("b", 2.0, 0, 20), wish("c", 5.0, 0, 5)]
    (way, *_) = fewest_stretches(10.0, [*around, wish("late", 7.0, 5, 9)])
    sizes = [end - start for start, end in way["late"]]
    assert sum(sizes) == 7.0
    assert len(sizes) <= 2
