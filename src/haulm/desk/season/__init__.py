"""The season: the diary, the books of the larder, this week."""
