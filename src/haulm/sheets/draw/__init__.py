"""The hand that draws: ink, type, hatches and the edge of time, for page and paper alike."""
