"""Run the command line as ``python -m haulm``."""

from haulm.cli.main import run

run()
