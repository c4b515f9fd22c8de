"""Plans training blocks and camps for a small mixed track-and-field squad."""

__version__ = "0.1.0"
