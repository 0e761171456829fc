"""How sure a plan is: lived through many seasons, planned for a certainty."""
