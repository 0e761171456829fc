"""Readers of weather records: plain daily files and the public station formats."""
