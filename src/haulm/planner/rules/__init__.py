"""One module per rule of the plan, each with its name and its garden sentence."""
