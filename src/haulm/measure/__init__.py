"""Units at the edges, weeks and dates, findings and errors; knows nothing of gardens."""
