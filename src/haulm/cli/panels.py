"""The verbs in the order of the year's work, under headings, for whoever asks for help."""

from collections.abc import Mapping

import typer

PANELS: Mapping[str, tuple[str, ...]] = {
    "The garden": ("import", "export", "check", "climate", "weather", "need", "crops", "rows"),
    "The plan": ("plan", "pin", "note", "rotation", "land", "money", "nourish", "sheets"),
    "Why, and when": ("why", "worth", "decide", "succession", "follow", "winter"),
    "How sure it is": ("forecast", "certainty", "replay", "drought", "split"),
    "The season": (
        "lookout",
        "week",
        "water",
        "away",
        "diary",
        "ledger",
        "learn",
        "seed",
        "review",
    ),
    "The notebook and its pages": ("serve", "phones", "handover", "backup", "restore", "rescue"),
}
"""Every verb under the heading that its help stands under."""

HEADING = {verb: heading for heading, verbs in PANELS.items() for verb in verbs}
ORDER = {verb: number for number, verb in enumerate(HEADING)}


def in_panels(app: typer.Typer) -> typer.Typer:
    """Put every verb of an app under its heading, in order.

    Raises
    ------
    KeyError
        When a verb has no heading.
    """
    for group in app.registered_groups:
        if isinstance(group.name, str):
            group.rich_help_panel = HEADING[group.name]
        elif group.typer_instance is not None:
            app.registered_commands.extend(group.typer_instance.registered_commands)
    app.registered_groups = [g for g in app.registered_groups if isinstance(g.name, str)]
    for command in app.registered_commands:
        command.rich_help_panel = HEADING[_name(command)]
    app.registered_commands.sort(key=lambda command: ORDER[_name(command)])
    return app


def _name(command: typer.models.CommandInfo) -> str:
    return command.name or str(getattr(command.callback, "__name__", ""))
