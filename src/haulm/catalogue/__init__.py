"""Crops, kinds and the foods they give: data files, their sources and the loader."""
