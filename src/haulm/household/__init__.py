"""Eaters, what they eat week by week, and the hours they can give."""
