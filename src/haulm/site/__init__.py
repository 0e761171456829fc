"""The place: weather records, frost odds, warmth, day length and drawn weather."""
