"""The look-out on the command line: asked by chosen rules and fleece, which are kept if wanted."""

from pathlib import Path

from haulm.desk.garden.opening import open_garden
from haulm.season.blight_rules import BlightBy
from haulm.season.watch_records import WatchMeans
from shell import Haulm


def test_rules_and_fleece_are_asked_by_once_and_kept_when_wanted(
    haulm: Haulm, planned: Path
) -> None:
    """Without --keep the garden is as it was; with it they count from then on, and what is not
    named again stays.
    """
    by = ("--blight", "hutton", "--blight", "irish", "--fleece", "2 m x 10 m")
    assert haulm("lookout", planned, *by).code == 0
    assert open_garden(planned).garden.watch == WatchMeans()
    assert haulm("lookout", planned, *by, "--keep").code == 0
    kept = WatchMeans((BlightBy.HUTTON, BlightBy.IRISH), 20.0)
    assert open_garden(planned).garden.watch == kept
    assert haulm("lookout", planned, "--fleece", "0", "--keep").code == 0
    assert open_garden(planned).garden.watch == WatchMeans(kept.blight, 0.0)


def test_what_cannot_be_gone_by_is_refused_in_words(haulm: Haulm, planned: Path) -> None:
    """A piece without a size, and a rule that warns of nothing, are refused, with what to do."""
    assert "a roll" in haulm("lookout", planned, "--fleece", "a roll").err
    for keep in ((), ("--keep",)):
        alone = haulm("lookout", planned, "--blight", "wallin", *keep)
        assert (alone.code, "warns of nothing alone" in alone.err) == (1, True)
