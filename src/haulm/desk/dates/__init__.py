"""Dates beside a plan: successions, what follows on, what stands through winter."""
