"""The pages: a door to the desk for a browser on the grower's own machine."""
