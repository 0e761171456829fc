"""What the household eats: needs, measures, nourishment, gaps."""
