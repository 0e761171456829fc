"""The season: the diary, what it says of ground and store, and what the year teaches."""
