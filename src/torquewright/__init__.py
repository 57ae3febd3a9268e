"""Torquewright checks a mechanical service procedure before anyone picks up a wrench."""

__version__ = "0.1.0"
