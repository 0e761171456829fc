"""The printed sources that many checks name."""

FAO_56 = (
    "Allen, Pereira, Raes, Smith, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56, "
    "FAO, Rome 1998"
)
EXAMPLES_QUOTED = "as public test files quote it"
MAINE_CHART = (
    "Planting Chart for the Home Vegetable Garden, University of Maine Cooperative Extension, "
    "rev. L. B. Stack"
)
HARRINGTON = (
    "J. F. Harrington, Soil temperature conditions for vegetable seed germination, Oregon State "
    "University Extension 2013, reviewed 2024"
)
HARRINGTON_MINGES = (
    "Harrington and Minges, Vegetable Seed Germination, California Agricultural Extension mimeo "
    "leaflet 1954"
)
