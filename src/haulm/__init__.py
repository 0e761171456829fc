"""haulm plans a food garden round the year, from what a household eats to the printed bed sheet."""

from importlib.metadata import version

__version__ = version("haulm")
