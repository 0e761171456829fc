"""A first garden: from three answers to a table and beds."""
