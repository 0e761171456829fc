"""Many seasons of one plan: what comes of it in good years and bad."""
