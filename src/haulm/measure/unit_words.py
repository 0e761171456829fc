"""The words a grower may write for a unit, each with the one unit it stands for.

A closed list: a word outside it is a fault, never a guess. Words that mean different sizes in
different countries are listed as doubtful and refused until the grower says which is meant.
"""

from collections.abc import Mapping

BASE: Mapping[str, str] = {
    "length": "meter",
    "area": "meter**2",
    "mass": "kilogram",
    "volume": "liter",
    "temperature": "degree_Celsius",
    "rain": "millimeter",
    "duration": "minute",
    "weeks": "week",
    "years": "year",
    "days": "day",
    "day length": "hour",
    "degree-days": "delta_degree_Celsius*day",
    "yield": "kilogram/meter**2",
}

NAMED: Mapping[str, str] = {
    "length": "a length",
    "area": "an area",
    "mass": "a weight",
    "volume": "a volume",
    "temperature": "a temperature",
    "rain": "a depth of rain",
    "duration": "a length of time",
    "weeks": "a number of weeks",
    "years": "a number of years",
    "days": "a number of days",
    "day length": "a day's length",
    "degree-days": "a sum of degree-days",
    "yield": "a yield",
}

EXAMPLE: Mapping[str, str] = {
    "length": "1.2 m, 15 cm or 4 ft 6 in",
    "area": "5.8 m² or 62 sq ft",
    "mass": "2.5 kg, 400 g or 5 lb 8 oz",
    "volume": "60 l or 16 US gal",
    "temperature": "−2.2 °C or 28 °F",
    "rain": "12 mm or 0.5 in",
    "duration": "45 min or 1.5 h",
    "weeks": "6 weeks or 40 days",
    "years": "4 years",
    "days": "30 days or 4 weeks",
    "day length": "13.5 h",
    "degree-days": "480 °C d or 864 °F d",
    "yield": "2.2 kg/m² or 0.45 lb/sq ft",
}

_LENGTH_WORDS: Mapping[str, str] = {
    "meter": "m metre metres meter meters",
    "centimeter": "cm centimetre centimetres centimeter centimeters",
    "millimeter": "mm millimetre millimetres millimeter millimeters",
    "decimeter": "dm",
    "kilometer": "km kilometre kilometres kilometer kilometers",
    "inch": "in inch inches \" ″ ” ''",
    "foot": "ft foot feet ' ′ ’",
    "yard": "yd yard yards",
}

_WORDS: Mapping[str, Mapping[str, str]] = {
    "length": _LENGTH_WORDS,
    "rain": {
        "millimeter": "mm millimetre millimetres millimeter millimeters l/m² l/m2",
        "centimeter": "cm centimetre centimetres centimeter centimeters",
        "inch": 'in inch inches " ″ ”',
    },
    "area": {
        "meter**2": "m² m2 m^2 sqm sq_m square_metre square_metres square_meter square_meters",
        "centimeter**2": "cm² cm2 cm^2",
        "are": "are ares",
        "hectare": "ha hectare hectares",
        "foot**2": "ft² ft2 ft^2 sqft sq_ft square_foot square_feet",
        "inch**2": "in² in2 in^2 sq_in square_inch square_inches",
        "yard**2": "yd² yd2 yd^2 sq_yd square_yard square_yards",
        "acre": "acre acres",
    },
    "mass": {
        "kilogram": "kg kilo kilos kilogram kilograms kilogramme kilogrammes",
        "gram": "g gram grams gramme grammes",
        "milligram": "mg milligram milligrams",
        "tonne": "t tonne tonnes",
        "pound": "lb lbs pound pounds",
        "ounce": "oz ounce ounces",
    },
    "volume": {
        "liter": "l litre litres liter liters",
        "centiliter": "cl",
        "milliliter": "ml millilitre millilitres milliliter milliliters",
        "hectoliter": "hl",
        "meter**3": "m³ m3 m^3 cubic_metre cubic_metres cubic_meter cubic_meters",
        "centimeter**3": "cm³ cm3 cm^3",
        "foot**3": "ft³ ft3 ft^3 cu_ft cubic_foot cubic_feet",
        "yard**3": "yd³ yd3 yd^3 cu_yd cubic_yard cubic_yards",
        "US_liquid_gallon": "us_gal us_gallon us_gallons",
        "US_liquid_quart": "us_qt us_quart us_quarts",
        "US_pint": "us_pt us_pint us_pints",
        "imperial_gallon": "imp_gal imperial_gallon imperial_gallons",
        "imperial_quart": "imp_qt imperial_quart imperial_quarts",
        "imperial_pint": "imp_pt imperial_pint imperial_pints",
    },
    "temperature": {
        "degree_Celsius": "°c c ℃ degc deg_c celsius centigrade",
        "degree_Fahrenheit": "°f f ℉ degf deg_f fahrenheit",
        "kelvin": "k kelvin",
    },
    "duration": {
        "minute": "min mins minute minutes",
        "hour": "h hr hrs hour hours",
        "second": "s sec secs second seconds",
    },
    "weeks": {"week": "week weeks", "day": "d day days"},
    "years": {"year": "year years"},
    "days": {"day": "d day days", "week": "week weeks"},
    "day length": {"hour": "h hr hrs hour hours", "minute": "min mins minute minutes"},
    "degree-days": {
        "delta_degree_Celsius*day": "°c_d °c_day °c_days degree-days degree_days",
        "delta_degree_Fahrenheit*day": "°f_d °f_day °f_days",
    },
    "yield": {
        "kilogram/meter**2": "kg/m² kg/m2 kg/sqm",
        "gram/meter**2": "g/m² g/m2 g/sqm",
        "pound/foot**2": "lb/sq_ft lb/sqft lb/ft² lb/ft2",
        "ounce/foot**2": "oz/sq_ft oz/sqft oz/ft² oz/ft2",
    },
}

UNITS: Mapping[str, Mapping[str, str]] = {
    quantity: {
        word.replace("_", " "): unit for unit, words in table.items() for word in words.split()
    }
    for quantity, table in _WORDS.items()
}
"""For each quantity, every accepted word in small letters and its unit."""

_LIQUID = "A US and an imperial one differ by a fifth: write US {word} or imp {word}, or litres."
DOUBTFUL: Mapping[str, str] = {
    **{
        word: _LIQUID.format(word=short)
        for short, words in {
            "gal": "gal gallon gallons",
            "qt": "qt quart quarts",
            "pt": "pt pint pints",
        }.items()
        for word in words.split()
    },
    **dict.fromkeys(
        ("ton", "tons"), "Tons differ between countries: write kilograms, tonnes (t) or pounds."
    ),
    **dict.fromkeys(
        ("cup", "cups", "fl oz", "bushel", "bushels", "bu"),
        "It differs between countries: write litres or kilograms.",
    ),
}
"""Words refused because they name different sizes in different countries, and what to write."""
