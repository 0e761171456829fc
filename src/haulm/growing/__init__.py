"""A kind at a site: sowing windows, timing, yield with its spread, labour."""
