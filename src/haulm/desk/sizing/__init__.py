"""Land: how much ground a table takes, and what less would feed."""
