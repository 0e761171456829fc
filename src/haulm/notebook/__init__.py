"""The garden's one file, and garden.toml, its readable form."""
