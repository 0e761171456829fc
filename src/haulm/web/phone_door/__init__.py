"""The door for phones: a listener of its own in the household's network, with keys of its own."""
