"""The parts of garden.toml that hold a household's own kinds and figures, as typed."""

from haulm.catalogue.own_pace import Work
from haulm.notebook.declaring import Part, key
from haulm.notebook.values import Number, Quantity, Text


class OwnKindPart(Part):
    """[[own_kind]]: a kind of your own, like another in all that you do not say otherwise."""

    id: Text = key("The crop, a stroke, and a short word for the kind.", "garlic/grandmothers")
    like: Text = key("The kind that it is like; another of your own may do.", "garlic/hard-necked")
    name: Text = key("What it is called.", "grandmother's garlic")


class OwnFigurePart(Part):
    """[[own_figure]]: a figure of your own, in place of the catalogue's."""

    of: Text = key(
        "The kind, food, family or disease that it is a figure of.", "garlic/hard-necked"
    )
    figure: Text = key("Which figure, by its name.", "stand.spacing_offset_m")
    value: Quantity = key("Your value, with its unit.", "15 cm")
    low: Quantity | None = key(
        "The lowest of eight years in ten; with the highest, or neither.", "12 cm", default=None
    )
    high: Quantity | None = key("The highest of eight years in ten.", "18 cm", default=None)
    note: Text | None = key(
        "What it rests on, in your words.", "what the string says", default=None
    )


class OwnPacePart(Part):
    """[[own_pace]]: how long you take for a sort of work, against the catalogue's minutes."""

    work: Work = key(
        "The sort of work; all stands for each that has no pace of its own.", "picking"
    )
    times: Number = key("Your minutes as a multiple of the catalogue's.", 1.3)
    note: Text | None = key("What it rests on, in your words.", "a summer's clock", default=None)
