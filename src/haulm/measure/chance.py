"""Figures of chance that several rooms need."""

from statistics import NormalDist

DECILE = NormalDist().inv_cdf(0.9)
"""The standard normal deviate that one value in ten lies above."""
