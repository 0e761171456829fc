"""The water in a patch of soil, day by day, as FAO-56 reckons it."""
