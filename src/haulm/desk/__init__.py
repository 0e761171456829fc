"""What a person can ask for; the only conductor, and the only one that writes."""
