"""One module for each step, the oldest first."""
