"""Show seed in hand on a terminal."""

from haulm.cli.show import line, table
from haulm.desk.season.seed import PacketTold, SeedTold
from haulm.season.seed_age import SeedVerdict


def packets(found: SeedTold) -> None:
    """Show what each packet is worth, and what the plan wants beside it."""
    if not found.packets:
        line("No seed is told in the garden: [[stock]] in garden.toml has kind, units and year.")
    else:
        heads = (
            "",
            "packet",
            ">units",
            ">left",
            ">from",
            ">lives",
            ">8 in 10",
            "test",
            "what to do",
        )
        table(heads, (_row(one) for one in found.packets))
    for one in found.packets:
        if one.now and one.now.verdict is SeedVerdict.TEST and not one.used_up:
            line(f"Packet {one.number}: lay ten or twenty on damp paper, kept warm, and count.")
    for wanted in found.lines:
        if wanted.unit != "seed":
            continue
        name = found.names.get(wanted.kind, wanted.kind)
        buy = f"buy {wanted.to_buy}" if wanted.to_buy else "none to buy"
        line(
            f"{name}, {wanted.year}: {wanted.needed:.0f} fresh seeds wanted for {wanted.plants}"
            f" plants, {wanted.in_hand:.0f} in hand by what they are worth; {buy}."
        )


def _row(one: PacketTold) -> tuple[str, ...]:
    now, trial = one.now, one.stock.tried
    share = "not known" if now is None or now.share is None else f"{now.share:.0%}"
    spread = ""
    if now is not None and now.low is not None and now.high is not None:
        spread = f"{now.low:.0%} to {now.high:.0%}"
    what = "keep" if now is None else now.verdict.value
    if now is not None and now.verdict is SeedVerdict.SOW_THICKER:
        what = f"sow {now.thicker:.1f} times as thick"
    if one.used_up:
        what = "used up by the plans"
    return (
        f"{one.number}",
        one.name,
        f"{one.stock.units:.0f} {one.unit}s",
        f"{one.left:.0f}",
        f"{one.stock.year}",
        share if one.unit == "seed" else "",
        spread,
        f"{trial.sprouted} of {trial.of}, {trial.on.isoformat()}" if trial else "",
        what,
    )
