"""Diseases of the soil that the diary says were seen in beds."""

from collections.abc import Collection, Iterable, Mapping

from haulm.ground.records import DiseaseFound
from haulm.season.records import Entry, EntryKind
from haulm.season.troubles import soil_disease


def found_in_beds(
    entries: Iterable[Entry], diseases: Collection[str]
) -> Mapping[str, tuple[DiseaseFound, ...]]:
    """Give, by bed, the diseases that were seen there and the calendar year of each.

    Parameters
    ----------
    entries
        The entries that hold.
    diseases
        Ids of the diseases that have a clock; a word that names none of them closes no ground.
    """
    seen: dict[str, dict[DiseaseFound, None]] = {}
    for entry in entries:
        about = entry.about
        disease = soil_disease(about.trouble or "")
        if entry.kind is EntryKind.TROUBLE and about.bed and disease in diseases:
            seen.setdefault(about.bed, {})[DiseaseFound(disease, entry.day.year)] = None
    return {bed: tuple(found) for bed, found in seen.items()}
