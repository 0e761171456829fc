"""The plan record only: plantings, lots, shortages and reasons; no behaviour."""
