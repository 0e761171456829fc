"""Beds: outlines, cover, sun, what grew where and which ground disease has closed."""
