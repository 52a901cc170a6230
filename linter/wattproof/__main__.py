"""Lets `python -m wattproof` do what `wattproof` does."""

from wattproof.cli.main import main

main()
