"""Several years at once: which family stands in which bed in which year, and what rests break."""
