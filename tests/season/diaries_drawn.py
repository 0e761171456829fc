"""Diaries of the larder drawn entry by entry: some late, some put right, some taken back."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from haulm.season.records import Amount, Entry, EntryKind, Measured, Purpose, StoreCount
from season.diary_by_hand import entry

K = EntryKind
FIRST_DAY = date(2022, 1, 1)
LAST_DAY = date(2027, 2, 14)
KINDS = (K.PUT_BY, K.EATEN, K.GIVEN, K.THROWN, K.COUNTED, K.SET, K.SOWN, K.WORKED)


@st.composite
def one_entry(draw: st.DrawFn, where: tuple[dict[str, str], ...], named: list[Entry]) -> Entry:
    """Draw an entry of a food in store, of any of five years; it may name a lot there is."""
    kind = draw(st.sampled_from(KINDS))
    # Whole numbers are drawn sooner, and days that many entries share tell most.
    days = draw(st.integers(0, (LAST_DAY - FIRST_DAY).days // 7)) * 7
    measured = draw(st.sampled_from((Measured.KG, Measured.PIECES)))
    amount = Amount(draw(st.integers(0, 60)) / 4, measured)
    said: dict[str, Any] = {**draw(st.sampled_from(where)), "amount": amount}
    if kind is K.PUT_BY:
        said["purpose"] = draw(st.sampled_from((None, Purpose.PLANT, Purpose.GIVE)))
    elif kind is K.COUNTED:
        said["count"] = StoreCount(amount.number, draw(st.integers(0, 12)) / 2)
    elif named and draw(st.integers(0, 5)) == 0:
        said["lot"] = draw(st.sampled_from(named)).id
    return entry(kind, FIRST_DAY + timedelta(days=days), **said)


@st.composite
def comings(draw: st.DrawFn, where: tuple[dict[str, str], ...]) -> list[list[Entry]]:
    """Draw what comes to a diary, parcel by parcel: new entries, of any day, and what is put right.

    What is put right may tell of another day, or another thing; it may itself be put right.
    """
    written: list[Entry] = []
    parcels = []
    for _ in range(draw(st.integers(1, 5))):
        parcel = []
        for _ in range(draw(st.integers(1, 8))):
            one = draw(one_entry(where, [said for said in written if said.kind is K.PUT_BY]))
            does = draw(st.sampled_from(("new", "new", "new", "put right", "taken back")))
            if written and does != "new":
                earlier = draw(st.sampled_from(written))
                one = replace(one, replaces=earlier.id)
                if does == "taken back":
                    one = replace(
                        earlier,
                        id=one.id,
                        written_at=one.written_at,
                        replaces=earlier.id,
                        taken_back=True,
                    )
            parcel.append(one)
            written.append(one)
        parcels.append(parcel)
    return parcels
